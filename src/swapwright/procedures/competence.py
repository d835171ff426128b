"""What somebody may do on a day, by the competences on record, and why not more."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType

from swapwright.procedures.step import Level
from swapwright.records.people import Competence, Person
from swapwright.standards.competence import LEVELS, stage

_LEVEL: Mapping[str, Level] = MappingProxyType(
    {"aware": "aware", "isolation": "isolation", "live": "live"}
)


@dataclass(frozen=True)
class Standing:
    """The highest level somebody has on a day, None for none, and what no longer counts, and why.

    ``until`` is the last day (ISO) of the competence it rests on; empty where it has no end.
    """

    level: Level | None
    until: str
    lapsed: tuple[str, ...]

    def covers(self, level: Level) -> bool:
        """Tell whether it is enough for a step that asks for a level."""
        return self.level is not None and LEVELS.index(self.level) >= LEVELS.index(level)


def standing(person: Person, on: date) -> Standing:
    """Return what somebody may do on a day; the day a competence ends on still counts.

    Somebody who has left may do nothing.
    """
    if person.has_left:
        return Standing(None, "", ("has left the shop",))
    lapsed = []
    best: Competence | None = None
    for each in person.competences:
        why = _why_not(each, on)
        if why:
            lapsed.append(f"{each.level}: {why}")
        elif best is None or _rank(each) > _rank(best):
            best = each
    if best is None:
        return Standing(None, "", tuple(lapsed))
    return Standing(_LEVEL[best.level], best.until, tuple(lapsed))


def _rank(each: Competence) -> tuple[int, bool, str]:
    """Order by level, then by how long it holds: one without an end the longest."""
    return LEVELS.index(each.level), not each.until, each.until


def _why_not(each: Competence, on: date) -> str:
    """Return why a competence does not count on a day; empty where it does."""
    if each.level not in LEVELS:
        return "no level there is"
    if each.withdrawn:
        return f"withdrawn: {each.withdrawn}"
    if date.fromisoformat(each.since) > on:
        return f"from {each.since} only"
    if each.until and date.fromisoformat(each.until) < on:
        return f"ended on {each.until}"
    found = stage(each.scheme, each.scheme_level)
    if found is not None and LEVELS.index(found.level) < LEVELS.index(each.level):
        return f"{each.scheme}, stage {each.scheme_level}, does not reach that far"
    return ""
