"""Cooling: flow, air and frost in each loop, how hot its coolant gets, and warmth in the cold."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from swapwright.assess.context import Context, Rule, Subject
from swapwright.assess.cooling_loop import (
    CHARGER,
    CHARGING,
    CLIMB,
    CONTINUOUS,
    DRIVE_PARTS,
    HIGHWAY,
    SHEDDING,
    Loop,
    cooled,
    loops,
    makes_heat,
)
from swapwright.assess.rules.compare import asks_for, compare, compare_each
from swapwright.assess.stages.cooling_rating import rated_coolant
from swapwright.assess.stages.warming import NOT_HEATED
from swapwright.base.errors import Missing
from swapwright.base.finding import Finding
from swapwright.build.car import Car
from swapwright.build.circuit.model import slug
from swapwright.standards.cooling import LEAST_MEASURED_SHARE
from swapwright.standards.margins import NO_BAND, TEMPERATURE_BAND

Wanted = Callable[[Context, Loop], bool]

SHED, PARTS, BY_AIR = "cooling.every_part", "cooling.loop[].parts", "cooling.by_air"
SHED_SOURCES = ("cooling-path-practice",)
NO_LOOP = "the file has no coolant loop"
LIMITS = ("inverter-coolant-typical", "incropera-2007-ch11")
MORE_COOLING = "A larger radiator or a stronger fan, more flow, or less of the heat: cooling.loop's radiator need says how much radiator it takes."


def each_loop(wanted: Wanted) -> Callable[[Context], tuple[Subject, ...]]:
    """Return what lists the loops a rule is about."""

    def over(context: Context) -> tuple[Subject, ...]:
        return tuple(
            Subject(f"{loop.name} loop", loop.slug, loop.path, loop.entry)
            for loop in loops(context.car)
            if wanted(context, loop)
        )

    return over


def every(context: Context, loop: Loop) -> bool:
    """Tell that a rule is about every loop."""
    return True


def with_any(*parts: str) -> Wanted:
    """Return a test that a loop runs through one of these; one that does not say may."""

    def wanted(context: Context, loop: Loop) -> bool:
        entry = loop.entry("parts")
        return entry not in context.car.counts or any(
            part in parts for part in loop.parts(context.car)
        )

    return wanted


def heated(state: str, *asked: str) -> Wanted:
    """Return a test that something heats a loop in a state the car is asked to be in."""

    def wanted(context: Context, loop: Loop) -> bool:
        if asked and not any(context.car.has(path) for path in asked):
            return False
        entry = loop.entry("parts")
        return entry not in context.car.counts or any(
            makes_heat(part, state) for part in loop.parts(context.car)
        )

    return wanted


def gives(*entries: str) -> Wanted:
    """Return a test that the file gives each of these entries of a loop."""

    def wanted(context: Context, loop: Loop) -> bool:
        return all(context.car.has(loop.entry(entry)) for entry in entries)

    return wanted


def rated(context: Context) -> tuple[Subject, ...]:
    """Return the parts of the drive in each loop; of one that does not say its parts, the loop."""
    found = []
    for loop in loops(context.car):
        if loop.entry("parts") not in context.car.counts:
            names = {"came": loop.figure(f"hottest_{CONTINUOUS}")}
            found.append(Subject(f"{loop.name} loop", loop.slug, loop.path, names.__getitem__))
            continue
        for part in dict.fromkeys(loop.parts(context.car)):
            if part in DRIVE_PARTS:
                names = {
                    "came": loop.figure(f"into_{slug(part)}_{CONTINUOUS}"),
                    "left": loop.figure(f"lasting_{slug(part)}"),
                    "rated_coolant": rated_coolant(part),
                }
                words = f"{part}, {loop.name} loop"
                found.append(Subject(words, slug(part), SHEDDING[part], names.__getitem__))
    return tuple(found)


def _lasting(rule: Rule) -> Rule:
    """Return a rule that is met only where what lasts of the rating is known."""
    one_by_one = rule.judge_one
    assert one_by_one is not None

    def judge_one(context: Context, each: Subject) -> Iterable[Finding]:
        for finding in one_by_one(context, each):
            if finding.verdict == "met":
                context.value(each.resolve(":left"))
            yield finding

    return replace(rule, judge_one=judge_one)


def is_heated(car: Car) -> bool:
    """Tell whether a pack has a heater."""
    return car.texts.get("pack.heating", NOT_HEATED) != NOT_HEATED


def shedding(context: Context) -> tuple[Subject, ...]:
    """Return the parts of a car that must shed their heat; every car has, or lacks, a drive."""
    return tuple(
        Subject(part, part, path)
        for part, path in SHEDDING.items()
        if path in ("drive.motor", "drive.inverter") or context.car.has(path)
    )


def _judge_shed(context: Context, each: Subject) -> Iterable[Finding]:
    car = context.car
    in_air = each.slug in car.words(BY_AIR) if BY_AIR in car.counts else False
    if not in_air and each.slug not in cooled(car):
        raise Missing(PARTS, BY_AIR)
    yield Finding(
        rule=SHED,
        subject=each.path,
        verdict="met",
        text=f"The {each.name} sheds its heat into {'the air, by the file' if in_air else 'a coolant loop'}.",
        sources=SHED_SOURCES,
    )


RULES: tuple[Rule, ...] = (
    Rule(
        id=SHED,
        subject="cooling.loop",
        worst="fix",
        sources=SHED_SOURCES,
        remedy="Put the part into a loop, or see by its data sheet that air is enough for it and put it on the list of cooling.by_air.",
        over=shedding,
        judge_one=_judge_shed,
    ),
    compare_each(
        "cooling.air_bleed",
        each_loop(every),
        subject="cooling.loop",
        value=":air_bleeds",
        limit=":high_points",
        sense="at_least",
        outside="fix",
        inside_text="Every high point of the loop has a bleed.",
        outside_text="The loop has a high point without a bleed: air gathers there, the flow stops, and what it cools gives up its power on the first hill.",
        remedy="Fit a bleed at each high point, or lay the hose so that it rises all the way to the header tank; then fill it and bleed it with the pump running.",
        sources=("coolant-air-bleed-practice",),
        skip_reason=NO_LOOP,
        watch=NO_BAND,
    ),
    compare_each(
        "cooling.flow",
        each_loop(with_any(*DRIVE_PARTS)),
        subject="cooling.loop",
        value="cooling.{slug}.flow",
        limit=":min_flow",
        sense="at_least",
        outside="fix",
        inside_text="The drive gets the flow it asks for.",
        outside_text="The drive gets less coolant than it asks for: hot spots form in its plates before the coolant itself is hot.",
        remedy="Bleed the loop first; then a stronger pump, a wider or shorter hose, fewer elbows.",
        sources=("coolant-flow-typical",),
        skip_reason="no coolant loop runs through the drive",
    ),
    compare_each(
        "cooling.flow_measured",
        each_loop(gives("flow", "pump.flow")),
        subject="cooling.loop",
        value="cooling.{slug}.flow_share",
        limit=LEAST_MEASURED_SHARE,
        sense="at_least",
        outside="watch",
        inside_text="The flow measured is near what pump, hoses and parts make of it.",
        outside_text="The flow measured is well below what pump, hoses and parts make of it.",
        remedy="Look for air, a kinked or soft hose, a blocked part, and a pump that turns the wrong way round or gets too little voltage.",
        sources=("coolant-flow-deviation",),
        skip_reason="no loop has both a measured flow and its pump's data",
        watch=NO_BAND,
    ),
    compare_each(
        "cooling.coolant_hot",
        each_loop(heated(CLIMB, "goals.climb.grade", "goals.climb.at", "goals.climb.for")),
        subject="cooling.loop",
        value="cooling.{slug}.climb_end",
        limit=":max_temperature",
        sense="at_most",
        outside="fix",
        inside_text="On a hot day the coolant stays within its limit to the top of the goal's climb.",
        outside_text="On a hot day the coolant passes its limit on the goal's climb: what it cools gives up its power on the hill.",
        remedy=MORE_COOLING,
        sources=LIMITS,
        skip_reason="no climb is asked for, or no loop takes its heat",
        watch=TEMPERATURE_BAND,
    ),
    compare_each(
        "cooling.coolant_hot_highway",
        each_loop(heated(HIGHWAY)),
        subject="cooling.loop",
        value=f"cooling.{{slug}}.hottest_{HIGHWAY}",
        limit=":max_temperature",
        sense="at_most",
        outside="fix",
        inside_text="On a hot day the coolant stays within its limit on the highway.",
        outside_text="On a hot day the coolant passes its limit in plain highway driving: what it cools gives up its power.",
        remedy=MORE_COOLING,
        sources=LIMITS,
        skip_reason="no coolant loop takes the drive's heat",
        watch=TEMPERATURE_BAND,
    ),
    compare_each(
        "cooling.coolant_hot_continuous",
        each_loop(heated(CONTINUOUS)),
        subject="cooling.loop",
        value=f"cooling.{{slug}}.hottest_{CONTINUOUS}",
        limit=":max_temperature",
        sense="at_most",
        outside="watch",
        inside_text="On a hot day the loop sheds the heat of continuous power.",
        outside_text="On a hot day the loop does not shed the heat of continuous power within its limit: less is held for good than the data sheets say.",
        remedy=MORE_COOLING,
        sources=LIMITS,
        skip_reason="no coolant loop takes the drive's heat",
        watch=NO_BAND,
    ),
    compare_each(
        "cooling.coolant_hot_charging",
        each_loop(heated(CHARGING)),
        subject="cooling.loop",
        value=f"cooling.{{slug}}.hottest_{CHARGING}",
        limit=":max_temperature",
        sense="at_most",
        outside="fix",
        inside_text="On a hot day the coolant stays within its limit while the car charges.",
        outside_text="On a hot day the coolant passes its limit while the car charges.",
        remedy="Let pump and fan run while charging, a larger radiator, or charge more slowly on hot days.",
        sources=LIMITS,
        skip_reason=f"no coolant loop runs through {CHARGER}, converter or pack",
        watch=TEMPERATURE_BAND,
    ),
    _lasting(
        compare_each(
            "cooling.rating",
            rated,
            subject="cooling.loop",
            value=":came",
            limit=":rated_coolant",
            sense="at_most",
            outside="watch",
            inside_text="On a hot day the coolant comes no hotter at continuous power than the continuous rating was given at.",
            outside_text="On a hot day the coolant comes hotter at continuous power than the continuous rating was given at: less than the sheet says is held for good, as its lasting power tells.",
            remedy="Let the coolant meet this part sooner behind the radiator, or fit a larger radiator; or count on the lasting power alone.",
            sources=("inverter-coolant-typical", "iec-60034-1-ambient"),
            skip_reason="no coolant loop runs through the drive",
            watch=NO_BAND,
            rests_on=(":left",),
        ),
    ),
    compare_each(
        "cooling.plate_hot",
        each_loop(gives("plate_resistance")),
        subject="cooling.loop",
        value="cooling.{slug}.plate",
        limit="drive.inverter.max_temperature",
        sense="at_most",
        outside="watch",
        inside_text="The inverter's plate stays within its limit at continuous power on a hot day.",
        outside_text="The inverter's plate passes its limit at continuous power on a hot day, whatever the coolant's own limit.",
        remedy="Let the coolant meet the inverter first behind the radiator, more flow, or a larger radiator.",
        sources=("inverter-temperature-typical", "incropera-2007-ch3"),
        skip_reason="no loop gives the thermal resistance of the inverter's plate",
        watch=TEMPERATURE_BAND,
    ),
    compare_each(
        "cooling.freeze",
        each_loop(every),
        subject="cooling.loop",
        value="cooling.{slug}.freezes",
        limit="conditions.cold_day",
        sense="at_most",
        outside="fix",
        inside_text="The coolant stays liquid on the cold day.",
        outside_text="The coolant freezes on the cold day: ice stops the flow and splits housings, and coolant then meets live parts.",
        remedy="More antifreeze, checked with a refractometer; a loop that holds plain water is drained before the frost.",
        sources=("ashrae-2001-glycols",),
        skip_reason=NO_LOOP,
        watch=TEMPERATURE_BAND,
    ),
    compare(
        "cooling.pack_heater",
        subject="pack.heater_power",
        value="cooling.pack_warmest",
        limit="pack.cell.min_charge_temperature",
        sense="at_least",
        outside="fix",
        inside_text="On a cold day the heater brings the pack to where it may be charged.",
        outside_text="On a cold day the heater never brings the pack to where it may be charged: its boxes lose the heat as fast as it comes.",
        remedy="A stronger heater, or lag the boxes; until then charge only after driving, or indoors.",
        sources=("part-data-sheet", "incropera-2007-ch5"),
        applies=is_heated,
        skip_reason="nothing is said to heat the pack",
        watch=TEMPERATURE_BAND,
    ),
    compare(
        "cooling.cabin_heater",
        subject="auxiliaries.heater",
        value="auxiliaries.heater",
        limit="cooling.cabin_heat",
        sense="at_least",
        outside="watch",
        inside_text="The heater the cold range counts on keeps the cabin warm on a cold day.",
        outside_text="The heater the cold range counts on does not keep the cabin warm on a cold day: who turns it up goes less far, and a small heater clears the screen late.",
        remedy="Count on a stronger heater, warm the cabin at the socket before setting off, or give cooling.cabin.conductance if the cabin is better lagged.",
        sources=("cabin-loss-typical", "heater-typical"),
        applies=asks_for("auxiliaries.heater"),
        skip_reason="no heater is counted on",
        watch=NO_BAND,
    ),
)
