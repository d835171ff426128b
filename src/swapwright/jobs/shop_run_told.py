"""What a run's page tells of its last reading and of absence, in words."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.jobs.shop import Shop
from swapwright.jobs.shop_history import moment_words, who
from swapwright.procedures.absence import Absence, Condition
from swapwright.procedures.run import MeterUse, Run


@dataclass(frozen=True)
class AbsenceView:
    """Whether absence is verified by a run, where, by whom, with what, when; and its conditions."""

    is_verified: bool
    word: str
    lapsed: str
    conditions: tuple[Condition, ...]
    points: tuple[str, ...]
    by: str
    meter: str
    at: str
    until: str


@dataclass(frozen=True)
class Last:
    """The last reading: what was typed, what it is held to be, what had been expected.

    ``why_not`` says why it does not count for its step though it fits, empty where it does.
    """

    number: int
    title: str
    text: str
    word: str
    words: str
    expected: str
    stops: bool
    again: bool
    why_not: str
    by: str
    at: str
    meter: str


def absence_view(shop: Shop, found: Absence) -> AbsenceView:
    """Return what a run says of absence, in words."""
    return AbsenceView(
        found.is_verified,
        "absence verified" if found.is_verified else "absence not verified",
        found.lapsed,
        found.conditions,
        tuple(" to ".join(each) for each in found.points) if found.is_verified else (),
        who(shop, found.by),
        meter_words(shop, found.meter),
        "" if found.at is None else moment_words(found.at),
        "" if found.until is None else moment_words(found.until),
    )


def item_name(shop: Shop, item: str) -> str:
    """Return a piece of equipment by its name and number, its id where there is none."""
    found = shop.items().get(item)
    return item if found is None else f"{found.name} ({found.serial})"


def meter_words(shop: Shop, use: MeterUse | None) -> str:
    """Return with what was measured, in words."""
    if use is None:
        return ""
    named = [item_name(shop, each) for each in (use.meter, use.leads) if each]
    return ", ".join([*named, *([use.mode] if use.mode else [])])


def last_view(shop: Shop, state: Run) -> Last | None:
    """Return the last reading of a run, None before the first."""
    taken = state.last
    if taken is None:
        return None
    record, judged = taken.record, taken.judgement
    step = state.procedure.step(str(record.body["step"]))
    spec = None if step is None else step.reading
    expected = "" if spec is None or judged is None else spec.expected.words.rstrip(".")
    return Last(
        record.number,
        str(record.body["point"]) if step is None else step.title,
        str(record.body["text"]),
        "kept; type it again with its unit" if judged is None else judged.word,
        "" if judged is None or judged.words.rstrip(".") == expected else judged.words,
        expected,
        judged is not None and judged.stops,
        judged is None,
        "" if judged is None else taken.why_not,
        who(shop, record.by),
        moment_words(record.at),
        meter_words(shop, taken.use),
    )
