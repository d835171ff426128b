"""What a person typed that was not taken, and why: it is never lost, and told where it stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from swapwright.base.errors import Problem
from swapwright.jobs.merging import Conflict


@dataclass(frozen=True)
class Typed:
    """One entry that was not taken."""

    path: str
    text: str
    problems: tuple[Problem, ...]
    conflict: Conflict | None = None


@dataclass(frozen=True)
class TypedRow:
    """A new row of a list that was not taken: what was typed by path, and why.

    The row it would have become may have another number by now: paths are held against each other
    from the number on.
    """

    list_path: str
    texts: Mapping[str, str]
    problems: tuple[Problem, ...]

    def text(self, path: str) -> str:
        """Return what was typed for an entry of the new row."""
        return next((text for each, text in self.texts.items() if _is_same(each, path)), "")

    def problems_at(self, path: str) -> tuple[Problem, ...]:
        """Return what is wrong with an entry of the new row."""
        return tuple(each for each in self.problems if _is_same(each.path, path))

    @property
    def others(self) -> tuple[Problem, ...]:
        """Return what is wrong with the row as a whole."""
        return tuple(
            each
            for each in self.problems
            if not any(_is_same(each.path, path) for path in self.texts)
        )


def _is_same(one: str, other: str) -> bool:
    return one.rpartition("]")[2] == other.rpartition("]")[2]
