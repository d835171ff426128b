"""When equipment falls due, and whether it may be used on a day."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

from swapwright.records.equipment import Item, ItemTest
from swapwright.standards.equipment import SOON, TEST_RULES, Interval

State = Literal[
    "in date",
    "due soon",
    "out of date",
    "never tested",
    "failed its test",
    "not issued",
    "withdrawn",
    "no test asked",
]

USABLE: tuple[State, ...] = ("in date", "due soon", "no test asked")


@dataclass(frozen=True)
class Due:
    """What an item is on a day: its state, the last day it may be used on, and why.

    ``until`` is None where there is no such day. ``sources`` are ids.
    """

    state: State
    until: date | None
    reason: str
    sources: tuple[str, ...] = ()

    @property
    def may_be_used(self) -> bool:
        """Tell whether dates and tests allow its use; the look before use is another matter."""
        return self.state in USABLE


def months_after(day: date, months: int) -> date:
    """Return the same day of a later month; its last day where the month is too short."""
    number = day.year * 12 + day.month - 1 + months
    year, month = number // 12, number % 12 + 1
    return date(year, month, min(day.day, monthrange(year, month)[1]))


def due(item: Item, on: date, rules: Mapping[str, Interval] = TEST_RULES) -> Due:
    """Return what an item is on a day, by a set of rules: the stricter one unless told otherwise.

    A test or an issue dated after that day counts as not there: nothing is in date by what has
    not happened yet.
    """
    rule = rules.get(item.kind)
    sources = () if rule is None else (rule.source,)
    if item.withdrawn:
        return Due("withdrawn", None, f"taken out of use: {item.withdrawn}", sources)
    if rule is None:
        return Due("no test asked", None, "no rule asks for a test of it; look it over before use")
    tests = [each for each in item.tests if each.test == rule.test and _day(each.on) <= on]
    if not tests:
        return Due("never tested", None, f"there is no {rule.test} on record", sources)
    last = max(tests, key=lambda each: (_day(each.on), each.number))
    if not last.is_met:
        return Due("failed its test", None, f"it failed on {last.on}", sources)
    issued = _issued(item, on)
    if rule.on_shelf is not None and issued is None:
        return _unissued(rule, last, on, sources)
    until, reason = _until(rule, tests, last, issued)
    return _by_date(until, reason, on, sources)


def _until(
    rule: Interval, tests: list[ItemTest], last: ItemTest, issued: date | None
) -> tuple[date, str]:
    """Return the last day of use, and what it is counted from."""
    tested = _day(last.on)
    until, reason = months_after(tested, rule.every), f"{rule.every} months from {last.on}"
    if rule.on_shelf is None or issued is None:
        return until, f"{rule.test}: {reason}"
    before = [_day(each.on) for each in tests if each.is_met and _day(each.on) <= issued]
    if not before:
        return _never(issued), f"issued on {issued} before it was tested"
    shelf = months_after(max(before), rule.on_shelf)
    if issued > shelf:
        if tested > issued:
            return until, f"{rule.test}: {reason}, after it was issued too late"
        return _never(issued), f"issued on {issued} by a test older than {rule.on_shelf} months"
    if rule.from_issue and issued > tested:
        return months_after(issued, rule.every), f"{rule.every} months from its issue on {issued}"
    return until, f"{rule.test}: {reason}"


def _never(issued: date) -> date:
    """Return the day an item that must not have been issued was last in date: before that."""
    return date.fromordinal(issued.toordinal() - 1)


def _unissued(rule: Interval, last: ItemTest, on: date, sources: tuple[str, ...]) -> Due:
    shelf = months_after(_day(last.on), rule.on_shelf or 0)
    if on > shelf:
        words = f"the test of {last.on} is too old to issue it by"
        return Due("out of date", shelf, words, sources)
    return Due("not issued", shelf, f"in stock: it can be issued until {shelf}", sources)


def _by_date(until: date, reason: str, on: date, sources: tuple[str, ...]) -> Due:
    if on > until:
        return Due("out of date", until, reason, sources)
    is_soon = (until - on).days <= SOON
    return Due("due soon" if is_soon else "in date", until, reason, sources)


def _issued(item: Item, on: date) -> date | None:
    found = _day(item.issued) if item.issued else None
    return found if found is not None and found <= on else None


def _day(text: str) -> date:
    return date.fromisoformat(text)


def is_inspected(item: Item, on: date) -> bool:
    """Tell whether an item was looked over on a day, and its last look that day found it well."""
    looks = [each for each in item.inspections if each.on == on.isoformat()]
    return bool(looks) and max(looks, key=lambda each: each.number).is_met
