"""The folder of cars the workbench opens, each build file at work once."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable
from datetime import date
from pathlib import Path

from swapwright.base.errors import InputError, Problem
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.desk import Desk
from swapwright.jobs.shelf import folder_of

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,79}")
_DEVICES = frozenset(
    ("con", "prn", "aux", "nul", *(f"{kind}{at}" for kind in ("com", "lpt") for at in range(10)))
)
"""What some systems take for a device whatever the ending: no new file is called so."""


class Garage:
    """The build files of one folder by name; a name is a file's without its ending."""

    def __init__(
        self, folder: Path, catalogue: Catalogue, today: Callable[[], date] = date.today
    ) -> None:
        """Take a folder that is there; its files are looked up at every call."""
        self.folder = folder
        self.catalogue = catalogue
        self.today = today
        self._desks: dict[str, Desk] = {}
        self._lock = threading.Lock()

    def names(self) -> tuple[str, ...]:
        """Return the names of the cars, sorted.

        A file whose name no address can carry is out, and so is a link that leads out of the
        folder: what is changed here lies here.
        """
        found = (path for path in _listed(self.folder) if path.suffix == ".toml")
        named = (path for path in found if is_car_name(path.stem))
        return tuple(sorted(path.stem for path in named if self._is_here(path)))

    def passed_over(self) -> tuple[str, ...]:
        """Return the build files that are not opened for their names, sorted."""
        found = (path for path in _listed(self.folder) if path.suffix == ".toml")
        return tuple(sorted(path.name for path in found if not is_car_name(path.stem)))

    def desk(self, name: str) -> Desk | None:
        """Return the desk of a car, None where there is no such car.

        A car at work stays at its desk when its file is taken away: it can be written anew.
        """
        if not is_car_name(name):
            return None
        path = self.path(name)
        if not self._lies_here(path):
            return None
        with self._lock:
            if name not in self._desks:
                # Where upper and lower case are one, a car would come to two desks.
                is_spelt_so = path.name in (each.name for each in _listed(self.folder))
                if not (is_spelt_so and self._is_here(path)):
                    return None
                self._desks[name] = Desk(path, self.catalogue, self.today)
            return self._desks[name]

    def path(self, name: str) -> Path:
        """Return the path of a car's file, there or not; raise InputError for what is no name."""
        if not is_car_name(name):
            raise InputError(
                Problem(
                    str(self.folder),
                    "",
                    "not a name for a car's file",
                    given=name[:80],
                    allowed="letters, digits, dashes and underscores, up to 80",
                )
            )
        return self.folder / f"{name}.toml"

    def free_name(self, wanted: str) -> str:
        """Return a name no car has yet, as near to the one wanted as can be.

        Nor one that differs in upper and lower case alone, or is a device elsewhere: a folder is
        carried from one system to another.
        """
        plain = re.sub(r"[^A-Za-z0-9_-]+", "-", wanted[:200]).strip("-_")[:60] or "car"
        name, number = plain, 2
        files = (each for each in _listed(self.folder) if each.suffix.lower() == ".toml")
        taken = _DEVICES.union(each.stem.lower() for each in files)
        while name.lower() in taken or self._was_there(name):
            name, number = f"{plain}-{number}", number + 1
        return name

    def _is_here(self, path: Path) -> bool:
        try:
            return path.is_file() and self._lies_here(path)
        except OSError:
            return False

    def _lies_here(self, path: Path) -> bool:
        """Tell whether a path, there or not, stays within the folder; a link may lead out."""
        try:
            return path.resolve().parent == self.folder.resolve()
        except (OSError, RuntimeError):  # a link that leads to itself
            return False

    def _was_there(self, name: str) -> bool:
        """Tell whether anything of a car of this name is left: its file, its desk, its revisions.

        A new car never comes into what was another one's.
        """
        path = self.path(name)
        return path.exists() or path.is_symlink() or name in self._desks or folder_of(path).exists()


def _listed(folder: Path) -> tuple[Path, ...]:
    """Return what lies in a folder; nothing where it cannot be looked into."""
    try:
        return tuple(folder.iterdir())
    except OSError:
        return ()


def is_car_name(name: str) -> bool:
    """Tell whether a text may name a car: no separators, no dots, nothing that leads elsewhere."""
    return _NAME.fullmatch(name) is not None
