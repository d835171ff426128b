"""Voltage: pack against inverter and motor from empty and cold to full and regenerating."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from swapwright.assess.context import Context, Rule, judged
from swapwright.assess.rules.compare import asks_for, compare, has_unit
from swapwright.assess.rules.regen import SERIES_MOTOR, may_regenerate
from swapwright.base.finding import Finding
from swapwright.build.car import Car
from swapwright.physics.drive.motor_loss import PERMANENT_MAGNET
from swapwright.standards.margins import NO_BAND, SAG_BAND, VOLTAGE_BAND
from swapwright.standards.voltage_class import MAX_CLASS_A_DC, MAX_CLASS_B_DC

SHEET = ("part-data-sheet",)
TURNING = ("part-data-sheet", "krause-2002-pm-machine")
CLASSES = ("iso-6469-3-voltage-class",)
NO_SECOND = "the car has no second motor"
TURNS_WITHOUT_VOLTAGE = "this kind of motor makes no voltage of its own when turned"

Applies = Callable[[Car], bool]


def _turns_live(prefix: str) -> Applies:
    """Return a test that the motor is, or for all the file says may be, a permanent-magnet one."""
    is_there = has_unit(prefix)

    def applies(car: Car) -> bool:
        return is_there(car) and car.texts.get(f"{prefix}.motor.kind", PERMANENT_MAGNET) == (
            PERMANENT_MAGNET
        )

    return applies


def _lifts(prefix: str) -> Applies:
    """Return a test that a unit is there and that regeneration may lift the pack's voltage."""
    is_there = has_unit(prefix)

    def applies(car: Car) -> bool:
        return is_there(car) and may_regenerate(car)

    return applies


def _full(prefix: str, suffix: str) -> tuple[Rule, ...]:
    """Return the rules of a full pack, and of one that regeneration lifts higher still."""
    inverter, applies, lifts = f"{prefix}.inverter", has_unit(prefix), _lifts(prefix)
    no_regen = SERIES_MOTOR if prefix == "drive" else f"{NO_SECOND}, or {SERIES_MOTOR}"
    return (
        compare(
            f"voltage.inverter_full{suffix}",
            subject=inverter,
            value="pack.voltage_charging",
            limit=f"{inverter}.max_voltage",
            sense="at_most",
            outside="stop",
            inside_text="The full pack stays within the inverter's highest running voltage.",
            outside_text="The full pack stands above the inverter's highest running voltage: it trips, or is destroyed.",
            remedy="Take cells out of the string, or fit an inverter rated above the full pack.",
            sources=SHEET,
            applies=applies,
            skip_reason=NO_SECOND,
            watch=VOLTAGE_BAND,
        ),
        compare(
            f"voltage.regen_trip{suffix}",
            subject=inverter,
            value="pack.voltage_regen",
            limit=f"{inverter}.max_voltage",
            sense="at_most",
            outside="fix",
            inside_text="Regeneration where it ends does not lift the pack above the inverter's highest running voltage.",
            outside_text="Regeneration near full lifts the pack above the inverter's highest running voltage: it trips, and the motor's braking is gone without warning.",
            remedy="Set drive.regen.off_above_soc lower, or drive.regen.wheel_torque weaker; failing that take cells out of the string.",
            sources=SHEET,
            applies=lifts,
            skip_reason=no_regen,
            watch=VOLTAGE_BAND,
        ),
        compare(
            f"voltage.regen_full{suffix}",
            subject=inverter,
            value="pack.voltage_regen",
            limit=f"{inverter}.absolute_max_voltage",
            sense="at_most",
            outside="stop",
            inside_text="Full charge and regeneration together stay below the inverter's absolute maximum.",
            outside_text="Full charge and regeneration together pass the inverter's absolute maximum.",
            remedy="Cut regeneration near full charge, take cells out, or fit an inverter with more headroom.",
            sources=SHEET,
            applies=lifts,
            skip_reason=no_regen,
            watch=VOLTAGE_BAND,
        ),
    )


def _low(prefix: str, suffix: str) -> tuple[Rule, ...]:
    """Return the rules of a pack nearly empty, cold, or under full power."""
    inverter, applies = f"{prefix}.inverter", has_unit(prefix)
    return (
        compare(
            f"voltage.inverter_empty{suffix}",
            subject=inverter,
            value="pack.voltage_empty",
            limit=f"{inverter}.min_voltage",
            sense="at_least",
            outside="fix",
            inside_text="At the cells' lowest voltage the inverter still runs.",
            outside_text="The inverter cuts out before the cells are at their lowest voltage: the low end of the pack cannot be used.",
            remedy="Add cells in series, fit an inverter with a lower minimum, or raise the low end of the usable window.",
            sources=SHEET,
            applies=applies,
            skip_reason=NO_SECOND,
        ),
        compare(
            f"voltage.sag_cold{suffix}",
            subject=inverter,
            value="pack.voltage_sag_cold",
            limit=f"{inverter}.min_voltage",
            sense="at_least",
            outside="fix",
            inside_text="Nearly empty on a cold day and under the current that is asked of it, the pack stays above the inverter's lowest voltage.",
            outside_text="Nearly empty on a cold day the pack sags below the inverter's lowest voltage.",
            remedy="Limit the current by cell temperature, heat the pack, or add cells in parallel.",
            sources=SHEET,
            applies=applies,
            skip_reason=NO_SECOND,
            watch=SAG_BAND,
        ),
        compare(
            f"voltage.motor_power{suffix}",
            subject=f"{prefix}.motor",
            value="drive.lowest_voltage",
            limit=f"{prefix}.motor.test_voltage",
            sense="at_least",
            outside="watch",
            inside_text="Under full power at half charge the pack keeps the voltage the motor's curve was taken at.",
            outside_text="Under full power at half charge the pack falls below the voltage the motor's curve was taken at: expect less power at high speed than its sheet says, as the drive map shows.",
            remedy="Nothing to mend if the performance is enough; else more cells in series, within the inverter's limits.",
            sources=SHEET,
            applies=applies,
            skip_reason=NO_SECOND,
            watch=NO_BAND,
        ),
    )


def _turning(prefix: str, unit: str, suffix: str) -> tuple[Rule, ...]:
    """Return the rules of a motor that is itself a source while it turns."""
    skip_reason = (
        TURNS_WITHOUT_VOLTAGE if prefix == "drive" else f"{NO_SECOND}, or {TURNS_WITHOUT_VOLTAGE}"
    )
    return (
        compare(
            f"voltage.back_emf{suffix}",
            subject=f"{prefix}.motor",
            value=f"{unit}.back_emf_at_limit",
            limit=f"{prefix}.inverter.absolute_max_voltage",
            sense="at_most",
            outside="stop",
            inside_text="With gating stopped at the highest speed the wheels can turn it, the turning motor stays below the inverter's absolute maximum.",
            outside_text="With gating stopped at the highest speed the wheels can turn it, the turning motor drives the inverter above its absolute maximum.",
            remedy="Fit an inverter that withstands it or a motor with less back-EMF; where it is a lower gear that turns the motor so fast, lock that gear out and say so with lockout = true.",
            sources=TURNING,
            applies=_turns_live(prefix),
            skip_reason=skip_reason,
            confirmed=(f"{prefix}.motor.back_emf",),
        ),
        compare(
            f"voltage.back_emf_pack{suffix}",
            subject=f"{prefix}.motor",
            value=f"{unit}.back_emf_at_limit",
            limit="pack.voltage_empty",
            sense="at_most",
            outside="watch",
            inside_text="A turning motor with its gating stopped stays below the pack's voltage, even empty.",
            outside_text="At its highest speed the turning motor stands above an empty pack: if gating stops it brakes the car and charges the pack uncontrolled.",
            remedy="Know the road speed it begins at, put it on the towing label, and keep contactors closed until the car is slow.",
            sources=TURNING,
            applies=_turns_live(prefix),
            skip_reason=skip_reason,
            watch=NO_BAND,
            confirmed=(f"{prefix}.motor.back_emf",),
        ),
    )


def _unit_rules(prefix: str, unit: str, suffix: str) -> tuple[Rule, ...]:
    return (*_full(prefix, suffix), *_low(prefix, suffix), *_turning(prefix, unit, suffix))


def _class(context: Context) -> Iterable[Finding]:
    """Say which voltage class the pack is in, by the highest voltage that can stand on it."""
    highest = context.value("pack.max_working_voltage")
    if highest.si > MAX_CLASS_B_DC.si:
        text = "The pack stands above what road-vehicle rules cover."
    elif highest.si > MAX_CLASS_A_DC.si:
        text = "Voltage class B by its maximum working voltage: every high-voltage rule applies, to the whole joined circuit."
    else:
        text = "Voltage class A by its maximum working voltage. Burns, arcs, breaking capacity, tools and jewellery still matter."
    yield judged(
        "voltage.class",
        "pack",
        highest,
        MAX_CLASS_B_DC,
        sense="at_most",
        outside="stop",
        text=text,
        remedy="Use fewer cells in series.",
        sources=CLASSES,
        figures=("pack.max_working_voltage",),
    )


RULES = (
    *_unit_rules("drive", "unit", ""),
    *_unit_rules("drive.second", "unit2", "_second"),
    compare(
        "voltage.cell_sag_cold",
        subject="pack.cell",
        value="pack.voltage_sag_cold",
        limit="pack.voltage_empty",
        sense="at_least",
        outside="watch",
        inside_text="Nearly empty on a cold day, the current asked of them leaves the cells above their lowest voltage.",
        outside_text="Nearly empty on a cold day, the current asked of them pulls the cells below their lowest voltage: power must be cut back before the pack monitor opens the contactors.",
        remedy="Have the pack monitor send its current limit to the inverter, warm the pack before driving, or fit more cells in parallel.",
        sources=SHEET,
        watch=NO_BAND,
    ),
    compare(
        "voltage.dcdc_full",
        subject="lv.dcdc",
        value="pack.max_working_voltage",
        limit="lv.dcdc.max_voltage",
        sense="at_most",
        outside="stop",
        inside_text="The dc-dc converter stands the highest voltage of the pack.",
        outside_text="The pack's highest voltage, charging and regenerating, is above what the dc-dc converter stands.",
        remedy="Fit a dc-dc converter with a higher input voltage, or use fewer cells in series.",
        sources=SHEET,
        applies=asks_for("lv.dcdc"),
        skip_reason="no dc-dc converter is given",
        watch=VOLTAGE_BAND,
    ),
    compare(
        "voltage.dcdc_empty",
        subject="lv.dcdc",
        value="pack.voltage_sag_cold",
        limit="lv.dcdc.min_voltage",
        sense="at_least",
        outside="fix",
        inside_text="Nearly empty, cold and under load, the pack keeps the dc-dc converter running.",
        outside_text="Nearly empty, cold and under load, the pack falls below what the dc-dc converter needs: the supply of lamps, pumps and contactor coils goes with it.",
        remedy="Fit a dc-dc converter with a lower input voltage, or limit the current in the cold.",
        sources=SHEET,
        applies=asks_for("lv.dcdc"),
        skip_reason="no dc-dc converter is given",
        watch=SAG_BAND,
    ),
    compare(
        "voltage.charge_setting",
        subject="charging.voltage",
        value="charging.voltage",
        limit="pack.voltage_full",
        sense="at_most",
        outside="stop",
        inside_text="The charger is set no higher than the cells' charge end voltage.",
        outside_text="The charger is set above the cells' charge end voltage: it overcharges the whole string.",
        remedy="Set the charger to the series count times the cell's charge end voltage, or lower.",
        sources=SHEET,
        applies=asks_for("charging.voltage"),
        skip_reason="no charge voltage is set",
        watch=NO_BAND,
    ),
    compare(
        "voltage.charge_end",
        subject="pack.charge_to",
        value="pack.charge_to",
        limit="pack.voltage_full",
        sense="at_most",
        outside="stop",
        inside_text="The pack's charge end is no higher than its cells'.",
        outside_text="The pack's charge end stands above that of its cells: they are overcharged.",
        remedy="Set pack.charge_to to the series count times the cell's charge end voltage, or lower.",
        sources=SHEET,
        applies=asks_for("pack.charge_to"),
        skip_reason="no charge end is set for the pack",
        watch=NO_BAND,
    ),
    compare(
        "voltage.module_case",
        subject="pack.module",
        value="pack.max_working_voltage",
        limit="pack.module.max_voltage_to_case",
        sense="at_most",
        outside="stop",
        inside_text="The modules' cases are insulated for the whole string's voltage.",
        outside_text="The whole string stands above what a module's case is insulated for: a module made for a lower pack arcs to its case.",
        remedy="Mount the modules on rated insulators, use modules insulated for this voltage, or fewer in series.",
        sources=SHEET,
        applies=asks_for("pack.module"),
        skip_reason="the pack is built from cells",
        watch=NO_BAND,
    ),
    Rule(
        id="voltage.class",
        subject="pack",
        worst="stop",
        judge=_class,
        sources=CLASSES,
        remedy="Use fewer cells in series.",
    ),
)
