"""Proving the meter, measuring every point twice, proving it again, and the statement at the end.

What a reading should be is kept with the step and told only after the reading has been entered.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Element, slug
from swapwright.procedures.facts import Facts
from swapwright.procedures.points import ABSENT, MeasuringPoint, Opened, gap_sides
from swapwright.procedures.protection import AT_METER, AT_PARTS, PROVING, Protection
from swapwright.procedures.step import Expectation, Quantity, ReadingSpec, Step
from swapwright.procedures.wording import listed, sentence
from swapwright.standards import procedures as table
from swapwright.standards.discharge import ABSENCE_VOLTAGE, ABSENCE_WATCH_TIME

PROVE, MEASURE, AGAIN = "Prove the meter", "Measure", "Measure again"
PROVE_AGAIN, SIGN, AFTER = "Prove the meter again", "Sign", "Short and cover"
DC: Quantity = "dc voltage"
AC: Quantity = "ac voltage"
PHASES = ("U", "V", "W")
PAIRS = (("U", "V"), ("V", "W"), ("W", "U"))
ABSENCE_SOURCES = (table.VERIFY_ORDER, "absence-voltage-practice")
WATCH = "absence-watch-practice"
NOTHING_EXPECTED = "with every source taken away and the wait over nothing should stand here"
AS_READ = (
    "Enter what the meter shows, with its unit, whatever it is. A reading that does not fit is "
    "never refused: it stops the job."
)


@dataclass(frozen=True)
class _Reading:
    """One reading: the tail of its step's id, what it is between, how it is judged."""

    tail: str
    title: str
    points: tuple[str, str]
    about: tuple[str, ...]
    quantity: Quantity
    expected: Expectation
    limit: float | None
    cautions: tuple[str, ...] = ()


def proved(protection: Protection, *, is_again: bool) -> Step:
    """Return the step that proves the meter on a known dc source, before or after."""
    phase = PROVE_AGAIN if is_again else PROVE
    words = "Put both leads on the proving source and enter what the meter shows."
    if is_again:
        words += " The same meter, the same leads, the same range as before: else begin anew."
    else:
        words += " Its dc voltage lies inside the range you will measure with."
    return Step(
        "prove.after" if is_again else "prove.before",
        phase,
        "prove",
        f"{phase} on a known dc source",
        words,
        "A dead lead, a blown fuse or an empty battery shows the same zero as a circuit at rest.",
        needs=(*AT_METER, PROVING),
        ppe=protection.worn_at_parts,
        sources=(table.VERIFY_ORDER, table.PROVE_TESTER),
        reading=ReadingSpec(
            DC,
            "V",
            ("proving source plus", "proving source minus"),
            Expectation(
                ABSENCE_VOLTAGE.si,
                protection.meter_voltage,
                "the dc voltage written on the proving source, within its tolerance",
            ),
        ),
    )


def measured(
    found: Opened,
    points: Iterable[MeasuringPoint],
    phases: Iterable[Element],
    facts: Facts,
    protection: Protection,
) -> tuple[Step, ...]:
    """Return the readings of the first round, then those of the second.

    All dc comes before all ac: a meter left on ac shows next to nothing of dc.
    """
    units = tuple(phases)
    first = [
        _step(reading, protection)
        for reading in (
            *(each for point in points for each in _at_point(found, point)),
            *(each for unit in units for each in _at_phases(unit, DC, "dc")),
            *(each for gap in gap_sides(found.circuit) for each in _at_gap(found, gap, facts)),
            *(each for unit in units for each in _at_phases(unit, AC, "ac")),
        )
    ]
    return (*first, *_repeated(first))


def _absent(
    tail: str,
    title: str,
    points: tuple[str, str],
    about: tuple[str, ...],
    quantity: Quantity = DC,
    cautions: tuple[str, ...] = (),
) -> _Reading:
    expected = Expectation(0.0, ABSENCE_VOLTAGE.si, NOTHING_EXPECTED)
    return _Reading(tail, title, points, about, quantity, expected, ABSENCE_VOLTAGE.si, cautions)


def _at_point(found: Opened, point: MeasuringPoint) -> Iterator[_Reading]:
    """Yield pole to pole and each pole to the chassis; of a bare conductor, to the chassis only."""
    hang = _hang_on(found, point)
    if not point.minus:
        bare = f"conductor of {point.name}"
        yield _absent(
            f"{point.slug}.to_chassis",
            f"{point.name}: conductor to chassis",
            (bare, CHASSIS),
            point.about,
            cautions=hang,
        )
        return
    plus, minus = f"{point.name} plus", f"{point.name} minus"
    yield _absent(
        f"{point.slug}.pole_pole", f"{point.name}: plus to minus", (plus, minus), point.about
    )
    for pole, end in (("plus", plus), ("minus", minus)):
        yield _absent(
            f"{point.slug}.{pole}_chassis",
            f"{point.name}: {pole} to chassis",
            (end, CHASSIS),
            point.about,
            cautions=hang,
        )


def _hang_on(found: Opened, point: MeasuringPoint) -> tuple[str, ...]:
    """Return the caution where a source still stands on one pole through what may have welded."""
    state = found.state_at(point.plus)
    on_one = () if state is None else state.one_pole
    packs = [name for name in on_one if _is_pack(found, name)]
    if not packs:
        return ()
    names = listed(packs)
    return (
        f"One pole may still hang on {names}, through contactors that may have welded: with an "
        "isolation fault elsewhere it is live to the chassis.",
    )


def _is_pack(found: Opened, name: str) -> bool:
    element = found.circuit.by_name.get(name)
    return element is not None and element.kind == model.PACK


def _at_phases(unit: Element, quantity: Quantity, sign: str) -> Iterator[_Reading]:
    """Yield each pair of phases and each phase to the chassis."""
    name, about = slug(unit.name), (unit.name,)
    ends = {phase: f"motor phase {phase} at {unit.name}" for phase in PHASES}
    for one, other in PAIRS:
        yield _absent(
            f"{name}.phase_{one.lower()}_{other.lower()}_{sign}",
            f"{unit.name}: phase {one} to phase {other}, {sign}",
            (ends[one], ends[other]),
            about,
            quantity,
        )
    for phase in PHASES:
        yield _absent(
            f"{name}.phase_{phase.lower()}_chassis_{sign}",
            f"{unit.name}: phase {phase} to chassis, {sign}",
            (ends[phase], CHASSIS),
            about,
            quantity,
        )


def _at_gap(found: Opened, gap: Element, facts: Facts) -> Iterator[_Reading]:
    """Yield both sides of an open gap to the chassis, and across it."""
    sides = {"first": gap.plus, "second": gap.minus}
    ends = {side: f"{side} side of {gap.name}" for side in sides}
    is_live = False
    for side, node in sides.items():
        state = found.state_at(node)
        tail = f"gap.{slug(gap.name)}.{side}_chassis"
        title = f"{gap.name}: {side} side to chassis"
        if state is not None and state.word in ABSENT:
            yield _absent(tail, title, (ends[side], CHASSIS), (gap.name,))
            continue
        is_live = True
        share = 1.0 if state is None else state.driven_span
        yield _live(
            tail,
            title,
            (ends[side], CHASSIS),
            gap,
            share * facts.highest,
            "this side stays joined to its part of the pack, which floats: anything up to that "
            "part's own voltage, by its leaks and by the meter; more comes from another source",
        )
    tail, title = f"gap.{slug(gap.name)}.across", f"{gap.name}: across the open gap"
    points = (ends["first"], ends["second"])
    if not is_live:
        yield _absent(tail, title, points, (gap.name,))
        return
    yield _live(
        tail,
        title,
        points,
        gap,
        facts.highest,
        "the open gap can see the whole pack; no more than that",
    )


def _live(
    tail: str, title: str, points: tuple[str, str], gap: Element, most: float, words: str
) -> _Reading:
    high = max(most * (1.0 + table.VOLTAGE_AGREES.si), ABSENCE_VOLTAGE.si)
    return _Reading(
        tail,
        title,
        points,
        (gap.name,),
        DC,
        Expectation(0.0, high, words),
        None,
        (
            f"A side of {gap.name} stays live: this reading is no proof of absence. Where no probe "
            "reaches its contacts without opening a cover, use its maker's measuring point.",
        ),
    )


def _step(reading: _Reading, protection: Protection) -> Step:
    return Step(
        f"measure.{reading.tail}",
        MEASURE,
        "measure",
        reading.title,
        sentence(f"measure {reading.quantity} from {reading.points[0]} to {reading.points[1]}"),
        AS_READ,
        reading.about,
        needs=AT_METER
        if reading.limit is not None
        else tuple(dict.fromkeys((*AT_PARTS, *AT_METER))),
        ppe=protection.worn_at_parts,
        cautions=reading.cautions,
        sources=ABSENCE_SOURCES,
        reading=ReadingSpec(reading.quantity, "V", reading.points, reading.expected, reading.limit),
    )


def _repeated(steps: Iterable[Step]) -> Iterator[Step]:
    """Yield the second reading of each point of absence, a minute or more later.

    A side that stays live is read once: what floats may rise.
    """
    watch = f"{ABSENCE_WATCH_TIME.si:.0f} s"
    for step in steps:
        if step.reading is not None and step.reading.limit is not None:
            yield replace(
                step,
                id=step.id.replace("measure.", "again.", 1),
                phase=AGAIN,
                title=f"{step.title}, again",
                words=f"{step.words} At least {watch} after the first: it must not have risen.",
                sources=(*step.sources, WATCH),
                reading=replace(step.reading, first=step.id, after=ABSENCE_WATCH_TIME.si),
            )


def statement() -> Step:
    """Return the signature under the statement that absence was verified."""
    return Step(
        "sign.absence",
        SIGN,
        "sign",
        "Absence verified: the statement",
        "Sign that at the points listed, with the meter named, at this time, no reading was above "
        f"{ABSENCE_VOLTAGE.si:.0f} V and none rose. It says nothing of any other point.",
        "It lapses when a lock is lifted, a connector remade, 12 V restored, a charger plugged in, "
        "the wheels turned, the car moved, the person changes, the permit expires or the revision "
        "changes.",
        sources=ABSENCE_SOURCES,
    )


def short_and_cover(found: Opened, protection: Protection) -> tuple[Step, ...]:
    """Return what follows: short what can charge again, cover what stays live beside the work."""
    stores = tuple(store for state in found.absent for store in state.stores)
    if not stores:
        return (cover(protection),)
    short = Step(
        "short",
        AFTER,
        "confirm",
        "Short what can charge again",
        "Capacitors creep up again by themselves. Where you will work on their terminals join both "
        "poles by the maker's method, or read them again before each touch.",
        sentence(f"charge is stored in {listed(stores)}"),
        stores,
        needs=AT_PARTS,
        ppe=protection.worn_at_parts,
        sources=(table.VERIFY_ORDER, table.TREAT_AS_LIVE),
    )
    return (short, cover(protection))


def cover(protection: Protection) -> Step:
    """Return the step that covers what stays live."""
    return Step(
        "cover.neighbours",
        AFTER,
        "confirm",
        "Cover what stays live",
        "Cover or close every part listed as remaining that is near the work. The disconnect stays "
        "open, the covers of the pack stay on.",
        "A pack is never off.",
        needs=AT_PARTS,
        ppe=protection.worn_at_parts,
        sources=(table.VERIFY_ORDER, table.INSIDE),
    )
