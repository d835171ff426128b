"""Gearing, traction and heat: motor against gears, tyres, grip and the climb."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from swapwright.assess.context import Context, Rule
from swapwright.assess.rules.compare import asks_for, compare, has_unit
from swapwright.base.finding import Finding
from swapwright.build.car import Car
from swapwright.standards.margins import CONTINUOUS_POWER_BAND, NO_BAND, TEMPERATURE_BAND

SHEET = ("part-data-sheet",)


def _gearbox_rules(prefix: str, unit: str, suffix: str, which: str) -> tuple[Rule, ...]:
    gearbox = f"{prefix}.gearbox"
    applies = asks_for(gearbox)
    skip_reason = f"the {which}motor drives its axle direct, or there is none"
    return (
        compare(
            f"gearing.gearbox_torque{suffix}",
            subject=gearbox,
            value=f"{unit}.torque_cap",
            limit=f"{gearbox}.torque_limit",
            sense="at_most",
            outside="fix",
            inside_text="The motor's torque stays within what the gearbox input is rated for.",
            outside_text="The motor's torque is above what the gearbox input is rated for.",
            remedy=f"Set {prefix}.torque_limit in the inverter to the gearbox rating, or fit a stronger gearbox.",
            sources=SHEET,
            applies=applies,
            skip_reason=skip_reason,
            watch=NO_BAND,
        ),
        compare(
            f"gearing.gearbox_speed{suffix}",
            subject=gearbox,
            value=f"{unit}.speed_cap",
            limit=f"{gearbox}.max_speed",
            sense="at_most",
            outside="fix",
            inside_text="The motor's highest speed stays within what the gearbox input is rated for.",
            outside_text="The motor can turn faster than the gearbox input is rated for.",
            remedy=f"Set {prefix}.speed_limit in the inverter to the gearbox rating.",
            sources=SHEET,
            applies=applies,
            skip_reason=skip_reason,
            watch=NO_BAND,
        ),
        compare(
            f"gearing.motor_speed{suffix}",
            subject=f"{prefix}.speed_limit",
            value=f"{prefix}.speed_limit",
            limit=f"{prefix}.motor.max_speed",
            sense="at_most",
            outside="fix",
            inside_text="The speed limit set in the inverter is no higher than the motor's own.",
            outside_text="The speed limit set in the inverter is above the motor's own: it does not protect the rotor.",
            remedy=f"Set {prefix}.speed_limit at or below the motor's highest speed.",
            sources=SHEET,
            applies=asks_for(f"{prefix}.speed_limit"),
            skip_reason=f"no speed limit is set for the {which}motor",
            watch=NO_BAND,
        ),
    )


def _may_overspeed(prefix: str) -> Callable[[Car], bool]:
    """Return a test that a unit has several gears in use and nothing locks a lower one out."""

    def applies(car: Car) -> bool:
        in_box = car.counts.get(f"{prefix}.gearbox.ratios", 1)
        several = car.counts.get(f"{prefix}.gearbox.use", in_box) > 1
        return several and not car.flags.get(f"{prefix}.gearbox.lockout", False)

    return applies


def _wrong_gear_rules(prefix: str, unit: str, suffix: str, which: str) -> tuple[Rule, ...]:
    """Return the rules of a change into the lowest gear in use at top speed."""
    gearbox, applies = f"{prefix}.gearbox", _may_overspeed(prefix)
    skip_reason = f"the {which}drive has one gear, or a lock-out for the lower ones"
    remedy = f"Fit a lock-out that keeps a lower gear from being engaged above its speed and say so with {gearbox}.lockout, or leave only the gears that are needed; tell the driver the speed for each gear."
    return (
        compare(
            f"gearing.wrong_gear{suffix}",
            subject=gearbox,
            value=f"{unit}.turned_speed",
            limit=f"{prefix}.motor.max_speed",
            sense="at_most",
            outside="fix",
            inside_text=f"Even the lowest gear in use does not turn the {which}motor past its highest speed at top speed.",
            outside_text=f"A change into the lowest gear in use at top speed turns the {which}motor past its highest speed: the wheels turn it, and no setting in the inverter stops that.",
            remedy=remedy,
            sources=SHEET,
            applies=applies,
            skip_reason=skip_reason,
            watch=NO_BAND,
        ),
        compare(
            f"gearing.wrong_gear_input{suffix}",
            subject=gearbox,
            value=f"{unit}.turned_speed",
            limit=f"{gearbox}.max_speed",
            sense="at_most",
            outside="watch",
            inside_text="Even the lowest gear in use does not turn the gearbox input past its rating at top speed.",
            outside_text="A change into the lowest gear in use at top speed turns the gearbox input past its rating.",
            remedy=remedy,
            sources=SHEET,
            applies=applies,
            skip_reason=skip_reason,
            watch=NO_BAND,
        ),
    )


def _inverter_kind(prefix: str, suffix: str, which: str) -> Rule:
    """Return the rule that an inverter must be one for its kind of motor."""
    rule_id, subject = f"drive.inverter_kind{suffix}", f"{prefix}.inverter"
    remedy = f"Fit an inverter made for this kind of motor, or a motor this one drives: neither a setting nor a firmware makes up for it (drives in the {which}inverter's data sheet)."

    def judge(context: Context) -> Iterable[Finding]:
        kind = context.car.text(f"{prefix}.motor.kind")
        fits = kind in context.car.words(f"{prefix}.inverter.drives")
        yield Finding(
            rule=rule_id,
            subject=subject,
            verdict="met" if fits else "stop",
            text=(
                f"The {which}inverter drives this kind of motor."
                if fits
                else f"The {which}inverter is not made for this kind of motor: it cannot turn it, or destroys itself trying."
            ),
            remedy="" if fits else remedy,
            sources=SHEET,
        )

    return Rule(
        id=rule_id,
        subject=subject,
        worst="stop",
        judge=judge,
        sources=SHEET,
        applies=has_unit(prefix),
        skip_reason=f"the car has no {which}motor",
        remedy=remedy,
    )


RULES = (
    *_gearbox_rules("drive", "unit", "", ""),
    *_gearbox_rules("drive.second", "unit2", "_second", "second "),
    *_wrong_gear_rules("drive", "unit", "", ""),
    *_wrong_gear_rules("drive.second", "unit2", "_second", "second "),
    _inverter_kind("drive", "", ""),
    _inverter_kind("drive.second", "_second", "second "),
    compare(
        "drive.over_engine",
        subject="drive.motor",
        value="drive.peak_rating",
        limit="car.engine_before.power",
        sense="at_most",
        outside="watch",
        inside_text="Motor power, of all motors together, is no more than that of the engine the car was built for.",
        outside_text="Motor power, of all motors together, is more than that of the engine the car was built for: brakes, axle, mounts and the inspector will ask for proof.",
        remedy="Limit the power in the inverter, or bring evidence for brakes, axle and chassis; ask the inspector before building.",
        sources=("conversion-power-share-typical",),
        applies=asks_for("car.engine_before.power"),
        skip_reason="the old engine's power is not given",
        watch=NO_BAND,
    ),
    compare(
        "gearing.tyre_speed",
        subject="car.tyres",
        value="top_speed.peak",
        limit="tyre.speed_allowed",
        sense="at_most",
        outside="fix",
        inside_text="The car cannot go faster than its tyres are marked for.",
        outside_text="The car can go faster than its tyres are marked for.",
        remedy="Limit the motor's speed, or fit tyres of a higher speed symbol.",
        sources=("etrto-speed-symbol",),
    ),
    compare(
        "traction.launch",
        subject="drive",
        value="drive.unlimited_force",
        limit="traction.limit",
        sense="at_most",
        outside="watch",
        inside_text="The driven tyres hold the full torque from rest.",
        outside_text="From rest the motor can spin the driven wheels on a dry road.",
        remedy="Ramp the torque from rest in the inverter; expect less on a wet road.",
        sources=("gillespie-1992-ch2",),
    ),
    compare(
        "drive.climb",
        subject="goals.climb",
        value="climb.shaft_power",
        limit="drive.continuous_rating",
        sense="at_most",
        outside="fix",
        inside_text="The climb stays within the motor's continuous power.",
        outside_text="The climb needs more than the motor's continuous power: it lives on the peak rating and will be cut back by heat.",
        remedy="A motor with more continuous power, a lower speed on the climb, or the owner's acceptance of the derating.",
        sources=("iec-60034-1-ambient",),
        applies=asks_for("goals.climb"),
        skip_reason="no climb is asked for",
        watch=CONTINUOUS_POWER_BAND,
    ),
    compare(
        "thermal.motor",
        subject="drive.motor",
        value="climb.motor_temperature",
        limit="drive.motor.max_winding_temperature",
        sense="at_most",
        outside="fix",
        inside_text="The windings stay below their limit on the climb.",
        outside_text="The windings pass their limit on the climb.",
        remedy="Improve the motor's cooling, use a shorter ratio, or a stronger motor.",
        sources=("motor-class-f-winding",),
        applies=asks_for("goals.climb"),
        skip_reason="no climb is asked for",
        watch=TEMPERATURE_BAND,
    ),
    compare(
        "thermal.inverter",
        subject="drive.inverter",
        value="climb.inverter_temperature",
        limit="drive.inverter.max_temperature",
        sense="at_most",
        outside="fix",
        inside_text="The inverter stays below its limit on the climb.",
        outside_text="The inverter passes its limit on the climb.",
        remedy="Improve the inverter's cooling or use a shorter ratio, so the phase current falls.",
        sources=("inverter-temperature-typical",),
        applies=asks_for("goals.climb"),
        skip_reason="no climb is asked for",
        watch=TEMPERATURE_BAND,
    ),
    compare(
        "thermal.cells",
        subject="pack.cell",
        value="climb.cell_temperature",
        limit="pack.cell.max_temperature",
        sense="at_most",
        outside="fix",
        inside_text="The cells stay below their limit on the climb.",
        outside_text="The cells pass their limit on the climb.",
        remedy="Cool the pack, or fit more cells in parallel so each carries less.",
        sources=SHEET,
        applies=asks_for("goals.climb"),
        skip_reason="no climb is asked for",
        watch=TEMPERATURE_BAND,
    ),
)
