"""The temperatures of a coolant loop: settled, along its parts, on the climb, and at its limit."""

from __future__ import annotations

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook, Source
from swapwright.assess.cooling_loop import (
    CHARGING,
    CLIMB,
    CONTINUOUS,
    DRIVE_PARTS,
    HIGHWAY,
    PACK,
    RADIATOR,
    STATES,
    Loop,
    heat_of,
    makes_heat,
)
from swapwright.assess.stages.cooling_rating import coolant_into, part_ratings
from swapwright.base.errors import Missing
from swapwright.build.circuit.model import slug
from swapwright.physics.cooling.heat import (
    ambient_at_limit,
    capacity_rate,
    conductance_needed,
    coolant_after,
    coolant_hot,
    coolant_rise,
    heat_at_limit,
    loop_heat_capacity,
    one_stream_effectiveness,
    plate_temperature,
    power_at_heat,
)
from swapwright.standards.cooling import COOLANT_LIMIT, METAL_SPECIFIC_HEAT

HOT_DAY = "conditions.hot_day"
INVERTER = "inverter"
ALONG = (CONTINUOUS, CLIMB, CHARGING)
"""States in which the coolant is followed from part to part."""


def loop_heat(book: FigureBook, loop: Loop) -> None:
    """Write what a loop carries away and how hot its coolant gets in every state of the car."""
    _assume_limit(book, loop)
    _radiator(book, loop)
    try:
        parts = _in_turn(loop.parts(book.car))
    except Missing as missing:
        for state in STATES:
            book.note_missing(loop.figure(f"hottest_{state}"), missing)
        for figure in ("climb_end", "plate"):
            book.note_missing(loop.figure(figure), missing)
        return
    for state, label in STATES.items():
        hot = [part for part in parts if makes_heat(part, state)]
        if hot:
            settled(book, loop, hot, state, label)
    if any(makes_heat(part, CLIMB) for part in parts):
        _climb(book, loop, parts)
    _limits(book, loop, parts)
    part_ratings(book, loop, parts)
    if INVERTER in parts:
        _plate(book, loop)
    else:
        book.note_missing(loop.figure("plate"), Missing(loop.entry("parts")))


def _in_turn(parts: tuple[str, ...]) -> tuple[str, ...]:
    """Return the parts in the order coolant meets them behind the radiator."""
    if RADIATOR not in parts:
        return parts
    first = parts.index(RADIATOR) + 1
    return (*parts[first:], *parts[:first])


def _assume_limit(book: FigureBook, loop: Loop) -> None:
    """Take an inverter's limit where the file gives none; cells bear less and have no typical."""
    limit = loop.entry("max_temperature")
    if book.has(limit) or loop.entry("parts") not in book.car.counts:
        return
    if PACK not in loop.parts(book.car):
        book.assume(limit, COOLANT_LIMIT.si, COOLANT_LIMIT.unit, COOLANT_LIMIT.ref)


def _asked_flow(book: FigureBook, loop: Loop) -> None:
    """Raise Missing where a loop has less flow than its parts ask for.

    Radiator and plates are entered as what they give at that flow. With less they give less, which
    no entry says, so a temperature worked out of them would be too low.
    """
    if book.number(loop.figure("flow")) < book.number(loop.entry("min_flow")):
        raise Missing(
            reason=f"the {loop.name} loop has less flow than its parts ask for, and what radiator "
            "and plates give at so little is not known"
        )


def carried(loop: Loop) -> dict[str, Source]:
    """Return what a loop's radiator and coolant carry, by the names formulas have for it."""
    return {
        "effectiveness": loop.figure("effectiveness"),
        "capacity_rate": loop.figure("capacity_rate"),
    }


def _radiator(book: FigureBook, loop: Loop) -> None:
    book.make(
        capacity_rate,
        loop.figure("capacity_rate"),
        label=f"heat the coolant carries for each degree, {loop.name} loop",
        density=loop.figure("density"),
        specific_heat=loop.figure("specific_heat"),
        flow=loop.figure("flow"),
    )
    with book.attempt(loop.figure("effectiveness")):
        _asked_flow(book, loop)
        book.make(
            one_stream_effectiveness,
            loop.figure("effectiveness"),
            label=f"share of the heat it could give that the radiator gives, {loop.name} loop",
            conductance=loop.entry("radiator.conductance"),
            capacity_rate=loop.figure("capacity_rate"),
        )
    book.make_from(
        heat_at_limit,
        loop.figure("heat_allowed"),
        f"heat the {loop.name} loop sheds at its limit, hot day",
        {
            "max_temperature": loop.entry("max_temperature"),
            "ambient": HOT_DAY,
            **carried(loop),
        },
    )


def settled(book: FigureBook, loop: Loop, hot: list[str], state: str, label: str) -> None:
    """Write heat and temperatures of one state, settled on the hot day."""
    words = f"{loop.name} loop, {label}"
    heat = loop.figure(f"heat_{state}")
    with book.attempt(heat):
        rows: list[tuple[str, Source, float]] = [
            (part, heat_of(book, part, state), 1.0) for part in hot
        ]
        book.total(heat, f"heat into the coolant, {words}", "W", rows, "power")
    hottest = loop.figure(f"hottest_{state}")
    book.make_from(
        coolant_hot,
        hottest,
        f"hottest coolant, {words}, hot day",
        {"ambient": HOT_DAY, "heat": heat, **carried(loop)},
    )
    book.make(
        coolant_rise,
        loop.figure(f"rise_{state}"),
        label=f"fall of the coolant in the radiator, {words}",
        heat=heat,
        capacity_rate=loop.figure("capacity_rate"),
    )
    before: list[tuple[str, Source, float]] = [
        ("hottest", hottest, 1.0),
        ("fall in the radiator", loop.figure(f"rise_{state}"), -1.0),
    ]
    coolest = loop.figure(f"coolest_{state}")
    book.total(coolest, f"coolant behind the radiator, {words}", "K", before, "temperature")
    if state in ALONG:
        _along(book, loop, hot, state, words)


def _along(book: FigureBook, loop: Loop, hot: list[str], state: str, words: str) -> None:
    """Write the coolant's temperature behind each part that warms it."""
    last = loop.figure(f"coolest_{state}")
    for part in dict.fromkeys(hot):
        name = f"{slug(part)}_{state}"
        with book.attempt(loop.figure(f"rise_{name}")):
            book.make(
                coolant_rise,
                loop.figure(f"rise_{name}"),
                label=f"rise of the coolant in the {part}, {words}",
                heat=heat_of(book, part, state),
                capacity_rate=loop.figure("capacity_rate"),
            )
        rows: list[tuple[str, Source, float]] = [
            ("coming in", last, 1.0),
            ("rise", loop.figure(f"rise_{name}"), 1.0),
        ]
        last = loop.figure(f"after_{name}")
        book.total(last, f"coolant behind the {part}, {words}", "K", rows, "temperature")


def _climb(book: FigureBook, loop: Loop, parts: tuple[str, ...]) -> None:
    """Write how hot the coolant is at the end of the goal's climb, after highway driving."""
    masses = [
        f"{unit}.{kind}.mass"
        for part in parts
        if part in DRIVE_PARTS
        for unit, kind in (DRIVE_PARTS[part],)
        if book.has(f"{unit}.{kind}.mass")
    ]
    book.total(
        loop.figure("metal"),
        f"mass of the drive's parts in the {loop.name} loop, by their sheets",
        "kg",
        [(path, path, 1.0) for path in masses],
        "mass",
    )
    book.make(
        loop_heat_capacity,
        loop.figure("heat_capacity"),
        label=f"heat the {loop.name} loop takes for each degree it warms",
        volume=loop.entry("volume"),
        density=loop.figure("density"),
        specific_heat=loop.figure("specific_heat"),
        metal_mass=loop.figure("metal"),
        metal_heat=METAL_SPECIFIC_HEAT,
    )
    book.make_from(
        coolant_after,
        loop.figure("climb_end"),
        f"hottest coolant, {loop.name} loop, at the end of the goal's climb, hot day",
        {
            "start": loop.figure(f"hottest_{HIGHWAY}"),
            "settled": loop.figure(f"hottest_{CLIMB}"),
            "heat_capacity": loop.figure("heat_capacity"),
            "time": "goals.climb.for",
            **carried(loop),
        },
    )


def _limits(book: FigureBook, loop: Loop, parts: tuple[str, ...]) -> None:
    """Write where the coolant reaches its limit: air, radiator, power."""
    for state in (CONTINUOUS, CLIMB):
        heat = loop.figure(f"heat_{state}")
        if not any(makes_heat(part, state) for part in parts):
            continue
        words = f"{loop.name} loop, {STATES[state]}"
        limit = loop.entry("max_temperature")
        book.make_from(
            ambient_at_limit,
            loop.figure(f"ambient_limit_{state}"),
            f"warmest air the coolant stays within its limit in, {words}",
            {"max_temperature": limit, "heat": heat, **carried(loop)},
        )
        book.make(
            conductance_needed,
            loop.figure(f"radiator_need_{state}"),
            label=f"heat per degree the radiator needs, {words}, hot day",
            heat=heat,
            max_temperature=limit,
            ambient=HOT_DAY,
            capacity_rate=loop.figure("capacity_rate"),
        )
    units = dict.fromkeys(DRIVE_PARTS[part][0] for part in parts if part in DRIVE_PARTS)
    there = [unit for unit in units if unit in drive_parts.units(book)]
    if not there:
        return
    book.total(
        loop.figure("power"),
        f"continuous power of the drive the {loop.name} loop cools",
        "W",
        [
            (unit, f"{drive_parts.figure_prefix(unit)}.continuous_shaft_power", 1.0)
            for unit in there
        ],
        "power",
    )
    book.make(
        power_at_heat,
        loop.figure("power_allowed"),
        label=f"power whose heat the {loop.name} loop sheds for good, hot day",
        power=loop.figure("power"),
        heat_allowed=loop.figure("heat_allowed"),
        heat=loop.figure(f"heat_{CONTINUOUS}"),
    )


def _plate(book: FigureBook, loop: Loop) -> None:
    """Write how hot the inverter's plate runs, where the file gives its thermal resistance."""
    if not book.has(loop.entry("plate_resistance")):
        return
    came = coolant_into(book, loop, INVERTER)
    with book.attempt(loop.figure("plate")):
        book.make(
            plate_temperature,
            loop.figure("plate"),
            label=f"plate of the inverter, {loop.name} loop, continuous power, hot day",
            coolant_in=came,
            rise=loop.figure(f"rise_{INVERTER}_{CONTINUOUS}"),
            heat=heat_of(book, INVERTER, CONTINUOUS),
            thermal_resistance=loop.entry("plate_resistance"),
        )
