"""The sources an assessment rests on, with which of them to look at again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from swapwright.assess.assessment import Assessment
from swapwright.base.sources import Source, all_sources
from swapwright.jobs.grounds import sources_used

OLD_AFTER = 24
"""Months after which an edition is to be confirmed."""


@dataclass(frozen=True)
class UsedSource:
    """A source in use; ``is_old`` where its row was last looked at too long ago."""

    source: Source
    is_old: bool


def used_sources(assessment: Assessment, today: date) -> tuple[UsedSource, ...]:
    """Return the sources an assessment uses, by kind and id."""
    known = all_sources()
    used = [known[each] for each in sources_used(assessment) if each in known]
    used.sort(key=lambda source: (source.kind, source.id))
    return tuple(UsedSource(source, months(source.as_of, today) > OLD_AFTER) for source in used)


def months(start: date, end: date) -> float:
    """Return the months from one day to another, a part of a month by its days."""
    whole = 12 * (end.year - start.year) + end.month - start.month
    return whole + (end.day - start.day) / 31
