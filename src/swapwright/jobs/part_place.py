"""The places of a car that take a part: what stands there, and how another is put in its place."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from swapwright.base.errors import InputError
from swapwright.build.car import MODULE_CELL, PACK_CELL, Car
from swapwright.build.shape import FIELDS, part_kind, rows_by_path
from swapwright.catalogue.fields import PART_FIELDS
from swapwright.catalogue.read import Catalogue, Part
from swapwright.jobs.merging import value_at

_ROW_NUMBER = re.compile(r"\[\d+\]")
_STAGE_PATHS = frozenset(row.path for row in FIELDS)


@dataclass(frozen=True)
class Standing:
    """What stands at a place: the part's name, empty for one written in full or for none.

    ``overrides`` are the keys of the part the file gives a value of its own, ``kept`` what it says
    of the place rather than of the part. ``is_written`` where the file says anything there itself.
    """

    name: str
    is_written: bool
    is_in_full: bool
    overrides: tuple[str, ...]
    kept: tuple[str, ...]

    @property
    def is_empty(self) -> bool:
        """Tell whether no part stands there."""
        return not self.name and not self.is_in_full


def kind_at(place: str) -> str | None:
    """Return the kind of part a build path takes, None where it takes none."""
    row = rows_by_path().get(_plain(place))
    return None if row is None else part_kind(row)


def is_in(car: Car, place: str) -> bool:
    """Tell whether a car has the rows of the lists a place lies in."""
    rows = re.finditer(r"\[(\d+)\]", place)
    return all(int(row[1]) < car.counts.get(place[: row.start()], 0) for row in rows)


def label_at(place: str) -> str:
    """Return what a place for a part is called, with the number of its row in a list."""
    row = rows_by_path().get(_plain(place))
    if row is None:
        return place
    rows = [str(int(each) + 1) for each in re.findall(r"\[(\d+)\]", place)]
    return " ".join((row.label, *rows))


def part_place(path: str) -> str | None:
    """Return the place of the part a build path is a value of, None where it is of no part.

    What a file says of the place itself, as the poles of a fuse, is no value of the part.
    """
    if _plain(path) in _STAGE_PATHS:
        return None
    above = path.rpartition(".")[0]
    while above:
        if kind_at(above) is not None:
            return above
        above = above.rpartition(".")[0]
    return None


def chosen_at(path: str, car: Car) -> str:
    """Return the path where a part or its value is written: the cell of a module, at the module."""
    is_cell = path == PACK_CELL or path.startswith(f"{PACK_CELL}.")
    if is_cell and car.has(MODULE_CELL):
        return MODULE_CELL + path.removeprefix(PACK_CELL)
    return path


def standing_at(raw: Mapping[str, Any], car: Car, place: str) -> Standing:
    """Return what stands at a place of a car, ``raw`` being its file's content."""
    written = value_at(raw, place)
    name = car.part_names.get(place, "")
    is_in_full = name == place
    if not isinstance(written, Mapping):
        return Standing("" if is_in_full else name, written is not None, is_in_full, (), ())
    own = _part_keys(place)
    keys = [key for key in written if key != "part"]
    return Standing(
        "" if is_in_full else name,
        True,
        is_in_full,
        tuple(key for key in keys if key in own),
        tuple(key for key in keys if key not in own),
    )


def entries_to_put(raw: Mapping[str, Any], place: str, name: str) -> Mapping[str, str | None]:
    """Return the entries that put a part of the catalogue at a place, None to take one out.

    What the file says of the part that stood there goes, for it is that part's; what it says of the
    place stays. The part that stands there already changes nothing.
    """
    written = value_at(raw, place)
    if not isinstance(written, Mapping):
        return {place: name}
    if written.get("part") == name:
        return {}
    own = _part_keys(place)
    gone: dict[str, str | None] = {f"{place}.{key}": None for key in written if key in own}
    return {**gone, f"{place}.part": name}


def part_called(catalogue: Catalogue, place: str, name: str) -> Part:
    """Return the part of a name that may stand at a place; raise InputError, at the place."""
    try:
        return catalogue.get(kind_at(place) or "", name)
    except InputError as error:
        raise InputError(*(replace(each, path=place) for each in error.problems)) from None


def _part_keys(place: str) -> frozenset[str]:
    return frozenset(row.path for row in PART_FIELDS[kind_at(place) or ""])


def _plain(path: str) -> str:
    return _ROW_NUMBER.sub("[]", path)
