"""The 12 V side: converter, battery, orange conduit, and what a crash leaves alive."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from swapwright.assess.context import Context, Rule, Subject
from swapwright.assess.rules.compare import asks_for, compare, compare_each, devices
from swapwright.assess.rules.word import flag, said_rule
from swapwright.assess.stages.low_voltage_battery import COILS
from swapwright.assess.stages.vacuum import BOOSTER, WITH_PUMP
from swapwright.base.errors import Missing
from swapwright.base.finding import Finding
from swapwright.standards.low_voltage import (
    ALIVE_AFTER_CRASH,
    CRASH_SOURCE,
    LEAST_HAZARD_TIME,
    LEAST_NIGHT_TIME,
    LEAST_SET_POINT,
    MOST_SET_POINT,
    VACUUM_PUMP,
)
from swapwright.standards.margins import NO_BAND

SHEET = ("part-data-sheet",)
SET_POINT = ("lv-set-point-practice",)
ALIVE = "lv.alive_after_crash"
CONDUIT = "lv.conduit_colour"

_HARMED = {
    "flooded": "The battery loses water: look at it often.",
    "AGM": "The battery is sealed and loses water that cannot be put back.",
    "gel": "The battery is sealed and dries out: its gel cracks.",
    "LFP": "A lithium battery kept full at so much ages, and its own monitor may cut it off, lamps and all.",
}
"""What a set point too high does to each kind of 12 V battery."""


def _worded_by_kind(rule: Rule) -> Rule:
    """Return the rule of a set point too high with what that does to the car's kind of battery."""
    inner = rule.judge

    def judge(context: Context) -> Iterable[Finding]:
        harm = _HARMED.get(context.car.texts.get("lv.battery.kind", ""), "")
        for finding in inner(context):
            is_met = finding.verdict == "met" or not harm
            yield finding if is_met else replace(finding, text=f"{finding.text} {harm}")

    return replace(rule, judge=judge)


POWER, WORST, RATED = "lv.dcdc_power", "lv.worst_power", "lv.dcdc.power"


def _unless_too_small_cold(rule: Rule, rests_on: str) -> Rule:
    """Return a rule that is not run where the converter is too small however cool it is.

    What is then to do stands at that finding. Where its owner accepted it this one speaks too, for
    who lives with a small converter has not said so of a hot one; and it still asks for what the
    figure it ``rests_on`` lacks.
    """

    def over(context: Context) -> tuple[Subject, ...]:
        is_said = (
            context.has(WORST, RATED, rests_on)
            and context.number(WORST) > context.number(RATED)
            and all(each.rule != POWER for each in context.car.accepted)
        )
        return () if is_said else (Subject("converter", "", rule.subject),)

    def judge_one(context: Context, each: Subject) -> Iterable[Finding]:
        return rule.judge(context)

    return replace(rule, over=over, judge_one=judge_one, skip_reason=f"{POWER} says so already")


CONVERTER = (
    compare(
        POWER,
        subject="lv.dcdc",
        value=WORST,
        limit=RATED,
        sense="at_most",
        outside="fix",
        inside_text="The dc-dc converter carries the 12 V loads in their worst case.",
        outside_text="The 12 V loads take more in their worst case than the dc-dc converter gives: the battery makes up the rest until it is flat.",
        remedy="Fit a converter that carries the worst case at its hottest, with the room over it that the trade gives; or take loads off: lamps with diodes, a screen heater on a timer.",
        sources=SHEET,
        watch=NO_BAND,
    ),
    _unless_too_small_cold(
        compare(
            "lv.dcdc_size",
            subject="lv.dcdc",
            value="lv.size_wanted",
            limit=RATED,
            sense="at_most",
            outside="watch",
            inside_text="The dc-dc converter has the room over its worst case that the trade gives it.",
            outside_text="The dc-dc converter has less room over its worst case than the trade gives it: little is left to charge a low battery or for a load fitted later.",
            remedy="Fit the next larger converter, or keep the loads as they are and add none.",
            sources=("dcdc-size-practice",),
            watch=NO_BAND,
        ),
        "lv.size_wanted",
    ),
    _unless_too_small_cold(
        compare(
            "lv.dcdc_hot",
            subject="lv.dcdc",
            value=WORST,
            limit="lv.hot_power",
            sense="at_most",
            outside="fix",
            inside_text="The dc-dc converter carries the worst case at its hottest too.",
            outside_text="At its hottest the dc-dc converter gives less than the worst case takes.",
            remedy="Move the converter to cooler air, put it in the coolant loop, or fit a larger one.",
            sources=(*SHEET, "dcdc-derating-linear"),
            watch=NO_BAND,
        ),
        "lv.hot_power",
    ),
    compare(
        "lv.set_point_low",
        subject="lv.voltage",
        value="lv.voltage",
        limit=LEAST_SET_POINT,
        sense="at_least",
        outside="watch",
        inside_text="The converter holds the 12 V side high enough to keep its battery charged.",
        outside_text="The converter holds the 12 V side so low that its battery never fills.",
        remedy="Set the converter higher, to what the battery's maker asks for.",
        sources=SET_POINT,
        watch=NO_BAND,
    ),
    _worded_by_kind(
        compare(
            "lv.set_point_high",
            subject="lv.voltage",
            value="lv.voltage",
            limit=MOST_SET_POINT,
            sense="at_most",
            outside="watch",
            inside_text="The converter holds the 12 V side low enough for a battery that is charged all day.",
            outside_text="The converter holds the 12 V side above what a battery bears all day, and lamps burn out.",
            remedy="Set the converter lower, to what the battery's maker asks for. Only 12 V systems are worked out here.",
            sources=SET_POINT,
            watch=NO_BAND,
        )
    ),
    compare(
        "lv.auxiliaries",
        subject="auxiliaries.driving",
        value="auxiliaries.driving",
        limit="lv.draw.day",
        sense="at_least",
        outside="watch",
        inside_text="Range and consumption count at least what the 12 V loads take by day.",
        outside_text="Range and consumption count less for the 12 V side than its loads take by day: the car goes less far than said.",
        remedy="Give auxiliaries.driving what the load list takes from the pack by day, or correct the loads' duty.",
        sources=("owner-entries-agree",),
        watch=NO_BAND,
    ),
    compare(
        "lv.auxiliaries_charging",
        subject="auxiliaries.charging",
        value="auxiliaries.charging",
        limit="lv.draw.charging",
        sense="at_least",
        outside="watch",
        inside_text="Charging counts at least what the 12 V loads take meanwhile.",
        outside_text="Charging counts less for the 12 V side than its loads take meanwhile: it takes longer, and more from the wall, than said.",
        remedy="Give auxiliaries.charging what the load list takes from the pack while charging, or correct the loads' duty.",
        sources=("owner-entries-agree",),
        applies=asks_for("auxiliaries.charging"),
        skip_reason="no charger is named",
        watch=NO_BAND,
    ),
)

BATTERY = (
    compare(
        "lv.parked",
        subject="lv.battery",
        value="lv.parked_time",
        limit="lv.parked",
        sense="at_least",
        outside="fix",
        inside_text="The car stands as long as it must and still wakes.",
        outside_text="Parked as long as it must stand, the 12 V battery no longer wakes the car.",
        remedy="Find what stays awake: a converter left on, or draining backwards through its output, takes a battery flat in days. Then a larger battery, or a switch in its lead.",
        sources=("lv-usable-share-practice",),
    ),
    compare(
        "lv.night_time",
        subject="lv.battery",
        value="lv.night_time",
        limit=LEAST_NIGHT_TIME,
        sense="at_least",
        outside="watch",
        inside_text="With the converter dead at night the battery lasts long enough to leave the road.",
        outside_text="With the converter dead at night the battery may not last until the car is off the road.",
        remedy="Fit a larger 12 V battery, and a lamp that lights as soon as the converter stops.",
        sources=("lv-night-reserve-assumed", "lv-usable-share-practice"),
        watch=NO_BAND,
    ),
    compare(
        "lv.hazard",
        subject="lv.battery",
        value="lv.hazard_time",
        limit=LEAST_HAZARD_TIME,
        sense="at_least",
        outside="watch",
        inside_text="The hazard lamps last while help is waited for.",
        outside_text="The hazard lamps may go out before help comes.",
        remedy="Fit a larger 12 V battery, or hazard lamps with diodes.",
        sources=("lv-hazard-reserve-assumed", "lv-usable-share-practice"),
        watch=NO_BAND,
    ),
    compare(
        "lv.controllers",
        subject="lv.controller_min_voltage",
        value="lv.lowest_voltage",
        limit="lv.controller_min_voltage",
        sense="at_least",
        outside="fix",
        inside_text="With the converter dead and everything on, the controllers of the drive stay awake.",
        outside_text="With the converter dead and everything on, the battery is pulled so low that the controllers of the drive reset while the car moves.",
        remedy="Fit a larger battery or a thicker main run; have loads drop off as the voltage falls; feed the controllers straight from the battery.",
        sources=("iso-16750-2-supply-voltage",),
    ),
    compare_each(
        "lv.coil_drop_out",
        devices(*COILS),
        subject="hv.contactors",
        value="lv.lowest_voltage",
        limit=":drop_out",
        sense="at_least",
        outside="stop",
        inside_text="With the converter dead and everything on, the battery still holds the coil.",
        outside_text="With the converter dead and everything on, the battery no longer holds the coil: it opens under load.",
        remedy="Fit a larger battery or a thicker main run, or have loads drop off as the voltage falls.",
        sources=SHEET,
        skip_reason="the circuit has no contactor",
    ),
    compare_each(
        "lv.coil_pull_in",
        devices(*COILS),
        subject="hv.contactors",
        value="lv.key_on_voltage",
        limit=":pull_in",
        sense="at_least",
        outside="fix",
        inside_text="A partly discharged battery on a cold night still pulls the coil in.",
        outside_text="A partly discharged battery on a cold night does not pull the coil in, or lets it chatter.",
        remedy="Fit a larger battery or a thicker main run; close the contactors one after another, before the large loads come on.",
        sources=SHEET,
        skip_reason="the circuit has no contactor",
    ),
)


def _is_not_orange(context: Context) -> bool:
    return context.car.text(CONDUIT) != "orange"


def _left_dead(context: Context) -> tuple[str, ...]:
    """Return what ought to be alive after a crash and is not on the car's list.

    Raise Missing where all that is left to ask is whether the brakes have a vacuum pump.
    """
    alive = context.car.words(ALIVE)
    dead = [each for each in ALIVE_AFTER_CRASH if each not in alive]
    if VACUUM_PUMP not in alive:
        if not dead and BOOSTER not in context.car.texts:
            raise Missing(BOOSTER)
        if context.car.texts.get(BOOSTER) == WITH_PUMP:
            dead.append(VACUUM_PUMP)
    return tuple(dead)


def _judge_alive(context: Context) -> Iterable[Finding]:
    dead = _left_dead(context)
    outside = f"A crash leaves these without a supply: {', '.join(dead)}."
    inside = "What a car needs after a crash stays alive when the crash shutdown has opened the contactors."
    yield Finding(
        rule="lv.crash_alive",
        subject=ALIVE,
        verdict="fix" if dead else "met",
        text=outside if dead else inside,
        remedy=ALIVE_REMEDY if dead else "",
        sources=(CRASH_SOURCE,),
    )


ALIVE_REMEDY = "Wire them to the battery ahead of anything the inertia switch cuts, each with its own fuse, and put them on the list."

WORDS = (
    said_rule(
        "lv.conduit_orange",
        CONDUIT,
        _is_not_orange,
        outside="fix",
        inside_text="The conduit of the 12 V side is not orange.",
        outside_text="The conduit of the 12 V side is orange: orange is for voltage class B alone, and whoever has seen it here no longer believes it there.",
        remedy="Put the 12 V wiring in black or grey conduit.",
        sources=("orange-class-b-only",),
    ),
    Rule(
        id="lv.crash_alive",
        subject=ALIVE,
        worst="fix",
        judge=_judge_alive,
        sources=(CRASH_SOURCE,),
        remedy=ALIVE_REMEDY,
    ),
    said_rule(
        "lv.crash_supply",
        "lv.battery_after_crash",
        flag("lv.battery_after_crash"),
        outside="fix",
        inside_text="Lamps, brakes and steering do not hang on the high-voltage side: the battery feeds them by itself.",
        outside_text="What must stay alive after a crash hangs on the converter: with the contactors open it goes dark.",
        remedy="Keep a battery on the 12 V side that feeds these loads with the contactors open and the converter off.",
        sources=(CRASH_SOURCE,),
    ),
)

RULES: tuple[Rule, ...] = (*CONVERTER, *BATTERY, *WORDS)
