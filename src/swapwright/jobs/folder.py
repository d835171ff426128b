"""The folder of cars a person works in: there already, or made with copies of other cars."""

from __future__ import annotations

import os
import shutil
from dataclasses import dataclass
from pathlib import Path

from swapwright.base.errors import InputError, Problem

_COPIED = (".toml", ".csv")
"""Endings of what belongs to cars: build files, and the tables they name."""


@dataclass(frozen=True)
class CarFolder:
    """A folder of build files; ``copied`` names those put into it, none where it was there."""

    path: Path
    is_new: bool
    copied: tuple[str, ...] = ()


def car_folder(path: Path, examples: Path | None) -> CarFolder:
    """Return a folder of cars; where there is none make it, with copies of the examples.

    A folder that is there is left as it is. Raises InputError where it is no folder, cannot be
    read or made, or where the folder of examples is none.
    """
    if path.exists():
        if not path.is_dir():
            raise InputError(Problem(str(path), "", "not a folder", allowed="a folder of cars"))
        if not os.access(path, os.R_OK | os.X_OK):
            raise InputError(Problem(str(path), "", "the folder cannot be read"))
        return CarFolder(path, is_new=False)
    if examples is not None and not examples.is_dir():
        raise InputError(Problem(str(examples), "", "there is no such folder of examples"))
    if not path.parent.is_dir():
        raise InputError(Problem(str(path), "", "cannot be made: there is no folder to make it in"))
    return CarFolder(path, is_new=True, copied=_made(path, examples))


def _made(path: Path, examples: Path | None) -> tuple[str, ...]:
    """Make the folder whole or not at all, and return the names of the cars in it."""
    unfinished = path.with_name(f".{path.name}.part")
    try:
        unfinished.mkdir()
        found = [] if examples is None else sorted(examples.iterdir())
        files = [each for each in found if each.suffix in _COPIED and each.is_file()]
        for file in files:
            shutil.copyfile(file, unfinished / file.name)
        unfinished.rename(path)
    except OSError as error:
        shutil.rmtree(unfinished, ignore_errors=True)
        raise InputError(Problem(str(path), "", f"cannot be made: {error.strerror}")) from None
    return tuple(file.stem for file in files if file.suffix == ".toml")
