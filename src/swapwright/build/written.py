"""The Build: exactly what a build file says, typed, before any part is looked up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any

from swapwright.base.figure import Value
from swapwright.base.table import Line, Map
from swapwright.build.lines import line_at, lines_of

Entry = Value | str | bool | tuple[Value, ...] | tuple[str, ...] | Line | Map | date


@dataclass(frozen=True)
class PartRef:
    """A part the file uses: its kind and its catalogue name, None for a part without one.

    A part without a name is written in full, or changes the part nested in a named one.
    """

    kind: str
    name: str | None


@dataclass(frozen=True, eq=False)
class Build:
    """One build file as written.

    ``file`` is the name as the person gave it, ``text`` its content, ``raw`` the same as nested
    tables; ``entries`` holds what was read, by build path, ``parts`` the parts by theirs,
    ``counts`` the number of rows of each list.
    """

    file: str
    text: str
    raw: Mapping[str, Any]
    entries: Mapping[str, Entry]
    parts: Mapping[str, PartRef]
    counts: Mapping[str, int]

    @cached_property
    def lines(self) -> Mapping[str, int]:
        """The line of every path in the file."""
        return lines_of(self.text)

    def line(self, path: str) -> int | None:
        """Return the line a path stands on, or the nearest thing above it; None where unknown."""
        return line_at(self.lines, path)
