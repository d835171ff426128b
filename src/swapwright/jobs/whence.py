"""Where a value comes from, in words, and where a person changes it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from swapwright.base.figure import Value
from swapwright.base.sources import Source, all_sources
from swapwright.jobs.check import Checked
from swapwright.jobs.entry_row import field_of
from swapwright.jobs.merging import text_at
from swapwright.jobs.part_place import chosen_at, label_at

From = Literal["figure", "entered", "part", "assumed", "standard", "measured"]

_ROW = re.compile(r"\[\d+\]")
_NAMES = ("name", "remove", "add", "load")
"""Keys that name a row of a list."""
_READ = ("published", "textbook", "typical-data")
"""Kinds of sources that are a text somebody can have seen."""
_KIND_WORDS: Mapping[str, str] = {
    "published": "",
    "textbook": "textbook",
    "definition": "by definition",
    "common-practice": "common practice of the trade",
    "typical-data": "typical data",
    "assumed": "assumed",
}


@dataclass(frozen=True)
class SourceText:
    """A source as a reader finds it; ``seen`` says in words whether its text was read for this."""

    id: str
    words: str
    kind: str = ""
    seen: str = ""
    note: str = ""


@dataclass(frozen=True)
class Place:
    """Where something is changed: an entry or a place for a part, by its build path.

    ``line`` is its line of the build file, None where the file says nothing there.
    """

    path: str
    label: str
    line: int | None = None
    is_part: bool = False


@dataclass(frozen=True)
class Whence:
    """Where one value comes from: a figure by its id, an entry or a part at its place, a source."""

    origin: From
    words: str = ""
    figure: str = ""
    places: tuple[Place, ...] = ()
    source: SourceText | None = None


def source_text(source_id: str) -> SourceText:
    """Return a source as a reader finds it; the id alone of one nobody keeps."""
    found = all_sources().get(source_id)
    if found is None:
        return SourceText(source_id, source_id)
    parts = (found.title, found.clause, _edition(found))
    seen = ""
    if found.kind in _READ:
        seen = "text seen" if found.seen else "from memory, text not seen"
    words = ", ".join(part for part in parts if part)
    return SourceText(source_id, words, _KIND_WORDS[found.kind], seen, found.note)


def _edition(found: Source) -> str:
    return f"edition {found.edition}" if found.edition and found.kind in _READ else ""


def place_of(checked: Checked, path: str) -> Place:
    """Return where the entry at a build path is changed, with the name of the row it lies in."""
    row, build = field_of(path), checked.opened.build
    if row is None and (whole := path.rpartition("[")[0]) and field_of(whole) is not None:
        return place_of(checked, whole)  # one number of a list, which is one entry
    label = path if row is None else row.label
    named = "" if row is None else _row_name(build.raw, path)
    line = build.line(path) if text_at(build.raw, path) else None
    return Place(chosen_at(path, checked.opened.car), f"{label}, {named}" if named else label, line)


def _row_name(raw: Mapping[str, Any], path: str) -> str:
    """Return what the file calls the row of a list that a path lies in, empty for none."""
    row = path[: path.rfind("]") + 1]
    names = (text_at(raw, f"{row}.{key}") for key in _NAMES)
    return next(filter(None, names), "") if row else ""


class Whences:
    """Tells where the values of one car come from."""

    def __init__(self, checked: Checked) -> None:
        """Take an assessed car."""
        self.checked = checked
        car = checked.opened.car
        self._defaults = {
            (value.ref, value.si): path
            for path, value in car.values.items()
            if value.origin == "default"
        }
        self._parts: dict[str, list[str]] = {}
        for path, name in car.part_names.items():
            self._parts.setdefault(name, []).append(path)

    def of(self, value: Value) -> Whence:
        """Return where a value comes from."""
        if value.origin == "computed":
            is_there = value.ref in self.checked.assessment.figures
            return Whence("figure", figure=value.ref if is_there else "", words=value.ref)
        if value.origin == "entered":
            return Whence("entered", places=(place_of(self.checked, value.ref),))
        if value.origin == "part":
            return self._part(value)
        if value.origin == "default":
            path = self.path_of_default(value)
            places = (place_of(self.checked, path),) if path else ()
            return Whence("assumed", places=places, source=source_text(value.ref))
        return Whence(
            "measured" if value.origin == "measured" else "standard", source=source_text(value.ref)
        )

    def path_of_default(self, value: Value) -> str:
        """Return the build path a default stands at, empty where it stands at none."""
        return self._defaults.get((value.ref, value.si), "")

    def _part(self, value: Value) -> Whence:
        name = _ROW.sub("", value.ref.partition("/")[2])
        car = self.checked.opened.car
        paths = dict.fromkeys(chosen_at(path, car) for path in self._parts.get(name, ()))
        places = tuple(Place(path, label_at(path), is_part=True) for path in paths)
        return Whence("part", words=name or value.ref, places=places)
