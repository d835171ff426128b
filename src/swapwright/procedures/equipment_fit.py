"""Whether the shop's gloves, meter and leads fit this car today: what stops the work, by name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType

from swapwright.base.finding import Verdict
from swapwright.procedures.due import due, is_inspected
from swapwright.procedures.protection import GLOVES as GLOVES_KIND
from swapwright.procedures.protection import LEADS, LEATHER, METER, PROVING, protection
from swapwright.records.equipment import Item
from swapwright.records.record import Json
from swapwright.standards.gloves import BASELINE_CLASS, BASELINE_SOURCE, GLOVE_CLASSES, GLOVES
from swapwright.standards.gloves import SOURCE as GLOVES_SOURCE
from swapwright.standards.meters import METER_CATEGORIES, MIN_METER_VOLTAGE, meets_baseline
from swapwright.standards.procedures import LEAST_PROOF

METER_SOURCES = (MIN_METER_VOLTAGE.ref, "iec-61010-2-033-categories")
NOT_KNOWN = "the car's maximum working voltage is not known: nothing can be chosen for it"
_ORDER = tuple(METER_CATEGORIES)


@dataclass(frozen=True)
class Fit:
    """One judgement of one item for one car on one day; ``item`` is its id, empty for none."""

    kind: str
    item: str
    verdict: Verdict
    text: str
    remedy: str = ""
    sources: tuple[str, ...] = ()


def fit(items: Iterable[Item], highest: float | None, on: date) -> tuple[Fit, ...]:
    """Judge the items taken for a job at a car whose maximum working voltage is ``highest`` V.

    Each is judged by its dates, and gloves, meter, leads and proving unit by the voltage too.
    """
    taken = {each.kind: each for each in items}
    found: list[Fit] = []
    for each in taken.values():
        found += _dates(each, on)
        judge = _BY_VOLTAGE.get(each.kind)
        if judge is not None:
            found += [_unknown(each)] if highest is None else list(judge(each, taken, highest))
    return tuple(found)


def stops(found: Iterable[Fit]) -> tuple[Fit, ...]:
    """Return what stops the work."""
    return tuple(each for each in found if each.verdict == "stop")


def _unknown(item: Item) -> Fit:
    return Fit(item.kind, item.id, "stop", NOT_KNOWN, "Give the file what its findings ask for.")


def _dates(item: Item, on: date) -> Iterable[Fit]:
    state = due(item, on)
    if not state.may_be_used:
        yield Fit(
            item.kind,
            item.id,
            "stop",
            f"{item.name}: {state.state}; {state.reason}",
            "Take another one, in date and tested, or have this one tested.",
            state.sources,
        )
    if item.kind == GLOVES_KIND and not is_inspected(item, on):
        yield Fit(
            item.kind,
            item.id,
            "stop",
            f"{item.name}: not looked over today, or not found well",
            "Look them over and roll them for air before this day's first use.",
            (GLOVES_SOURCE,),
        )


def _gloves(item: Item, taken: Mapping[str, Item], highest: float) -> Iterable[Fit]:
    """Judge the class by its ac figure against the highest dc voltage: the stricter reading."""
    row = GLOVES.get(str(item.data.get("class", "")).removeprefix("class "))
    needed = protection(highest).glove_class
    sources = (GLOVES_SOURCE, BASELINE_SOURCE)
    remedy = f"Take gloves of class {needed} or higher, tested and in date, leather over them."
    if row is None:
        yield Fit(item.kind, item.id, "stop", f"{item.name}: no class is known", remedy, sources)
    elif row.ac.si < highest:
        words = f"{item.name}: class {row.name} covers {row.ac.si:.0f} V by its ac figure, "
        words += f"the car has up to {highest:.4g} V"
        yield Fit(item.kind, item.id, "stop", words, remedy, sources)
    else:
        names = [each.name for each in GLOVE_CLASSES]
        is_thin = names.index(row.name) < names.index(BASELINE_CLASS)
        words = f"{item.name}: class {row.name} covers the car's {highest:.4g} V"
        if is_thin:
            words += f", and is thinner than the class {BASELINE_CLASS} the trade wears"
        yield Fit(item.kind, item.id, "watch" if is_thin else "met", words, remedy, sources)
    if LEATHER not in taken:
        words = f"{item.name}: no leather protectors are taken to go over them"
        yield Fit(LEATHER, "", "stop", words, "Take a pair that fits.", (GLOVES_SOURCE,))


def _meter(item: Item, taken: Mapping[str, Item], highest: float) -> Iterable[Fit]:
    yield from _category(item, highest)
    dc = _number(item, "dc_voltage")
    if dc is None or dc < highest:
        told = "is not known" if dc is None else f"ends at {dc:.4g} V"
        words = f"{item.name}: its dc range {told}, the car has up to {highest:.4g} V"
        yield Fit(item.kind, item.id, "stop", words, _BETTER, METER_SOURCES)


def _leads(item: Item, taken: Mapping[str, Item], highest: float) -> Iterable[Fit]:
    yield from _category(item, highest)
    meter = taken.get(METER)
    if meter is not None and _rank(item) < _rank(meter):
        words = f"{item.name}: rated below the meter {meter.name}"
        yield Fit(item.kind, item.id, "stop", words, _BETTER, METER_SOURCES)


_BETTER = "Take a meter and leads of CAT III 1000 V, the dc range no lower than the car's voltage."


def _category(item: Item, highest: float) -> Iterable[Fit]:
    category, rated = str(item.data.get("category", "")), _number(item, "voltage") or 0.0
    told = f"{item.name}: {category or 'no category'} {rated:.0f} V"
    if not meets_baseline(category, rated) or rated < highest:
        words = f"{told} is too weak for this car: no proof of absence with it"
        yield Fit(item.kind, item.id, "stop", words, _BETTER, METER_SOURCES)
    else:
        yield Fit(item.kind, item.id, "met", f"{told} stands this car's voltage", "", METER_SOURCES)


def _rank(item: Item) -> tuple[int, float]:
    category = str(item.data.get("category", ""))
    rank = _ORDER.index(category) if category in _ORDER else -1
    return rank, _number(item, "voltage") or 0.0


def _proving(item: Item, taken: Mapping[str, Item], highest: float) -> Iterable[Fit]:
    """Judge a proving unit: it has to give dc, inside the meter's range."""
    given, meter = _number(item, "dc_voltage"), taken.get(METER)
    top = None if meter is None else _number(meter, "dc_voltage")
    sources = ("osha-1910.333-prove-the-tester",)
    if given is None or given <= 0.0:
        words = f"{item.name}: it is not known to give dc; a meter is proved on dc"
    elif given <= LEAST_PROOF.si:
        words = f"{item.name}: {given:.4g} V is too near to what absence is looked for at"
    elif top is not None and given > top:
        words = f"{item.name}: it gives more than the meter's range"
    else:
        yield Fit(item.kind, item.id, "met", f"{item.name}: gives {given:.4g} V dc", "", sources)
        return
    remedy = "Take a proving unit that gives dc inside the range used."
    yield Fit(item.kind, item.id, "stop", words, remedy, sources)


def _number(item: Item, key: str) -> float | None:
    found: Json = item.data.get(key)
    is_number = isinstance(found, (int, float)) and not isinstance(found, bool)
    return float(found) if is_number and isinstance(found, (int, float)) else None


_BY_VOLTAGE = MappingProxyType(
    {GLOVES_KIND: _gloves, METER: _meter, LEADS: _leads, PROVING: _proving}
)
