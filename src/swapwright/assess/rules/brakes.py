"""Brakes: which axle locks first, what is reached before it does, heat, parking, and the valve."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from swapwright.assess.context import Context, Rule, judged
from swapwright.assess.rules.compare import asks_for, compare
from swapwright.assess.rules.word import flag, said_rule
from swapwright.assess.stages.brakes import regenerating_axle
from swapwright.base.finding import Finding
from swapwright.build.car import Car
from swapwright.standards.atmosphere import STANDARD_GRAVITY
from swapwright.standards.brakes import (
    BEYOND_FADE,
    BRAKE_LAMPS_AT,
    HIGHEST_RATE,
    PAD_TEMPERATURE,
    PARKING_GRADE,
    R13H,
    SNOW_GRIP,
)
from swapwright.standards.margins import NO_BAND, TEMPERATURE_BAND

R13H_ONLY = (R13H,)
BALANCE = ("gillespie-1992-ch3-brake-proportioning", R13H)
WITH_ANTILOCK = "antilock braking is fitted, and keeps the wheels turning in its own way: have it set up and tried for the new mass"
FADING = "get so hot that linings fade"
SPENT = "get hotter than brakes bear, and are gone before the foot of it"
BOTH_AXLES = "regeneration acts on both axles, and how it is shared is not in the file"


def _locks(car: Car) -> bool:
    return not car.flags.get("brakes.antilock", False)


def _regenerates_on_one(car: Car) -> bool:
    return bool(regenerating_axle(car))


def _regenerates_and_locks(car: Car) -> bool:
    return _locks(car) and _regenerates_on_one(car)


def _front_first(suffix: str, words: str) -> Rule:
    return compare(
        f"brakes.front_first{suffix}",
        subject="brakes.front_share",
        value=f"brakes.equal_lock{suffix}",
        limit=HIGHEST_RATE,
        sense="at_least",
        outside="fix",
        inside_text=f"With {words} the front wheels lock before the rear ones, as hard as tyres allow; a valve in the rear circuit is not counted on.",
        outside_text=f"With {words} the rear wheels lock before the front ones under hard braking, and the car turns round: the new axle loads do not suit the old brakes.",
        remedy="Move mass rearwards, brake the rear less (a valve set for the new axle loads, smaller rear cylinders), or have the balance set on a brake roller.",
        sources=BALANCE,
        applies=_locks,
        skip_reason=WITH_ANTILOCK,
    )


def _rate(suffix: str, words: str) -> Rule:
    return compare(
        f"brakes.rate{suffix}",
        subject="brakes.front_share",
        value=f"brakes.rate_reached{suffix}",
        limit=f"brakes.rate_required{suffix}",
        sense="at_least",
        outside="fix",
        inside_text=f"With {words} the brakes use the road's grip as they have to before an axle locks.",
        outside_text=f"With {words} an axle locks long before the other one brakes as it could: too much of the braking is at the lighter axle.",
        remedy="Have the share of the braking set for the new axle loads: other cylinders, discs or linings, an adjustable valve; or move mass to the axle that brakes.",
        sources=R13H_ONLY,
        applies=_locks,
        skip_reason=WITH_ANTILOCK,
        watch=NO_BAND,
    )


def _hill(axle: str) -> Rule:
    """Return the rule of the brakes of one axle at the foot of the goal's hill."""
    kind, value = f"brakes.{axle}_kind", f"brakes.{axle}_descent_temperature"
    rule_id = f"brakes.{axle}_hill"
    sources = ("brake-fade-typical", "limpert-1999-ch3-brake-heat")
    remedy = "Drive down such hills with the pack not quite full so that it takes regeneration, fit bigger or vented discs and other linings, and tell the owner in the handbook."

    def judge(context: Context) -> Iterable[Finding]:
        limit = PAD_TEMPERATURE[context.car.text(kind)]
        found = context.value(value)
        inside = found.si <= limit.si
        spent = found.si > limit.si + BEYOND_FADE.si
        yield judged(
            rule_id,
            f"brakes.{axle}_rotor",
            found,
            limit,
            sense="at_most",
            outside="fix" if spent else "watch",
            text=(
                f"Down the goal's hill with a full pack, nothing but the brakes holding, the {axle} ones stay below where linings fade."
                if inside
                else f"Down the goal's hill with a full pack, nothing but the brakes holding, the {axle} ones {SPENT if spent else FADING}: the engine no longer helps, and a full pack takes no regeneration."
            ),
            remedy=remedy,
            sources=sources,
            figures=(value,),
            watch=TEMPERATURE_BAND.si / limit.si,
        )

    return Rule(
        id=rule_id,
        subject=f"brakes.{axle}_rotor",
        worst="fix",
        judge=judge,
        sources=sources,
        applies=asks_for("goals.climb.grade"),
        skip_reason="no hill is among the goals",
        remedy=remedy,
    )


def _has_loaded_valve(car: Car) -> bool:
    return car.texts.get("brakes.rear_valve") == "load-sensing"


_SAID: Callable[[Context], bool] = flag("brakes.lamps_with_regeneration")


def _lamps_light(context: Context) -> bool:
    """Tell whether brake lamps light, or regeneration is too weak to need them."""
    slowing = context.number("brakes.regeneration") * STANDARD_GRAVITY.si
    return slowing <= BRAKE_LAMPS_AT.si or _SAID(context)


_SET: Callable[[Context], bool] = flag("brakes.valve_set")

RULES: tuple[Rule, ...] = (
    _front_first("_unladen", "nobody aboard"),
    _front_first("", "the load aboard"),
    _rate("_unladen", "nobody aboard"),
    _rate("", "the load aboard"),
    compare(
        "brakes.front_first_regenerating",
        subject="drive.regen.wheel_torque",
        value="brakes.rear_grip_with_regeneration",
        limit="brakes.front_grip_with_regeneration",
        sense="at_most",
        outside="watch",
        inside_text="With regeneration on top of the brakes the front wheels still lock before the rear ones.",
        outside_text="With regeneration on top of the brakes the rear wheels use more grip than the front ones under hard braking: where regeneration stays on then, the rear may lock first.",
        remedy="Have the inverter drop regeneration when the pedal is pressed hard or a wheel slips, lower its torque, or brake the rear less; try it on a wet, empty place.",
        sources=BALANCE,
        applies=_regenerates_and_locks,
        skip_reason=f"{WITH_ANTILOCK}; or {BOTH_AXLES}",
        watch=NO_BAND,
    ),
    compare(
        "brakes.regeneration_on_snow",
        subject="drive.regen.wheel_torque",
        value="brakes.regeneration_grip",
        limit=SNOW_GRIP,
        sense="at_most",
        outside="watch",
        inside_text="Regeneration alone asks less of its tyres than packed snow gives.",
        outside_text="Regeneration alone asks more of its tyres than packed snow gives: lifting off the pedal there can lock the driven wheels.",
        remedy="Lower drive.regen.wheel_torque, give the driver a switch for slippery roads, or an inverter that sees the wheels slip.",
        sources=("tyre-grip-snow-typical",),
        applies=_regenerates_on_one,
        skip_reason=BOTH_AXLES,
    ),
    compare(
        "brakes.regeneration_on_dry",
        subject="drive.regen.wheel_torque",
        value="brakes.regeneration_grip",
        limit="car.grip",
        sense="at_most",
        outside="fix",
        inside_text="Regeneration alone asks less of its tyres than a dry road gives.",
        outside_text="Regeneration alone locks its wheels even on a dry road: on the rear axle the car turns round when the foot is lifted.",
        remedy="Lower drive.regen.wheel_torque to a small part of it; three tenths of the grip is much already.",
        sources=("gillespie-1992-ch3-brake-proportioning",),
        applies=_regenerates_on_one,
        skip_reason=BOTH_AXLES,
    ),
    said_rule(
        "brakes.lamps",
        "brakes.lamps_with_regeneration",
        _lamps_light,
        outside="fix",
        inside_text="Whoever drives behind sees the car slow: its brake lamps light, or regeneration is weak.",
        outside_text="Regeneration slows the car harder than allowed without brake lamps: whoever drives behind is not told.",
        remedy="Let the vehicle controller switch the brake lamps by deceleration, or lower drive.regen.wheel_torque.",
        sources=("un-r13h-brake-lamps",),
        applies=_regenerates_on_one,
        skip_reason=BOTH_AXLES,
    ),
    compare(
        "brakes.parking",
        subject="brakes.parking_grade",
        value="brakes.parking_grade",
        limit=PARKING_GRADE,
        sense="at_least",
        outside="fix",
        inside_text="The parking brake holds the laden car on the grade it has to; without an engine nothing else does.",
        outside_text="The parking brake does not hold the laden car on the grade it has to, and there is no engine in gear to help.",
        remedy="Adjust or renew cables and linings and measure again, laden; or fit a parking lock beside it.",
        sources=("un-r13h-annex-3-parking",),
    ),
    _hill("front"),
    _hill("rear"),
    said_rule(
        "brakes.valve_set",
        "brakes.valve_set",
        _SET,
        outside="fix",
        inside_text="The load-sensing valve was set again for the new axle loads.",
        outside_text="The load-sensing valve still stands as the old rear axle load wanted it: it brakes the rear too much or too little.",
        remedy="Set the valve's linkage by the maker's instructions after the corner weights are known, and prove it on a brake roller.",
        sources=("brake-valve-set-practice",),
        applies=_has_loaded_valve,
        skip_reason="there is no load-sensing valve",
    ),
)
