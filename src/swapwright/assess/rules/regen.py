"""Regeneration: what it does to full, cold and weak cells, and whether the motor can do it at all."""

from __future__ import annotations

from collections.abc import Iterable

from swapwright.assess import drive_parts
from swapwright.assess.context import Context, Rule
from swapwright.assess.rules.compare import compare
from swapwright.base.finding import Finding
from swapwright.build.car import Car
from swapwright.physics.drive.motor_loss import DC
from swapwright.standards.margins import NO_BAND

SHEET = ("part-data-sheet",)
SERIES_MOTOR = "a motor with a series field does not regenerate"
MONITORED = "drive.regen.limited_by_pack"
ASKING = ("drive.regen.wheel_torque", "drive.regen.share")


def may_regenerate(car: Car) -> bool:
    """Tell whether any motor of a car regenerates, or may for all the file says."""
    units = [prefix for prefix in drive_parts.PREFIXES if f"{prefix}.motor" in car.part_names]
    return not units or any(drive_parts.may_regenerate(car, prefix) for prefix in units)


def _has_dc_motor(car: Car) -> bool:
    return any(car.texts.get(f"{prefix}.motor.kind") == DC for prefix in drive_parts.PREFIXES)


def _asked_for(car: Car) -> bool:
    """Tell whether the owner asks for regeneration, by its torque or by its share."""
    asking = [car.get(path) for path in ASKING]
    return any(value and value.origin != "default" and value.si > 0.0 for value in asking)


def _series_motor(context: Context) -> Iterable[Finding]:
    """Judge whether regeneration is asked of a motor whose field hangs on its own current."""
    car = context.car
    windings = [
        car.text(f"{prefix}.motor.winding")
        for prefix in drive_parts.PREFIXES
        if car.texts.get(f"{prefix}.motor.kind") == DC
    ]
    series = any(winding in drive_parts.SERIES_WINDINGS for winding in windings)
    wrong = series and _asked_for(car)
    if wrong:
        text = "Regeneration is asked of a motor with a series field: the field turns with the current, and the motor shorts itself or the brushes flash over."
    elif series:
        text = "The motor has a series field, and no regeneration is asked of it."
    else:
        text = "The motor's field is its own: it can brake as a generator."
    yield Finding(
        rule="regen.series_motor",
        subject="drive.motor",
        verdict="stop" if wrong else "met",
        text=text,
        remedy=_SERIES_REMEDY if wrong else "",
        sources=SHEET,
        figures=(),
    )


_SERIES_REMEDY = "Take drive.regen out (or set drive.regen.share to nothing) and brake by friction alone, or fit a separately excited or permanent-magnet motor."


RULES = (
    Rule(
        id="regen.series_motor",
        subject="drive.motor",
        worst="stop",
        judge=_series_motor,
        sources=SHEET,
        applies=_has_dc_motor,
        skip_reason="the car has no dc motor",
        remedy=_SERIES_REMEDY,
    ),
    compare(
        "regen.full_charge",
        subject="drive.regen.off_above_soc",
        value="regen.cell_voltage_at_top",
        limit="pack.cell.max_voltage",
        sense="at_most",
        outside="stop",
        inside_text="At the state of charge where regeneration ends, its current still leaves warm cells below their charge end voltage.",
        outside_text="Regeneration is allowed so near full that its current drives the cells above their charge end voltage.",
        remedy="Set drive.regen.off_above_soc lower, so that a long descent straight from the charger cannot overcharge the highest cell.",
        sources=SHEET,
        applies=may_regenerate,
        skip_reason=SERIES_MOTOR,
        watch=NO_BAND,
    ),
    compare(
        "regen.full_charge_cold",
        subject=MONITORED,
        value="regen.cell_voltage_cold",
        limit="pack.cell.max_voltage",
        sense="at_most",
        outside="stop",
        inside_text="The coldest cells regeneration may charge also stay below their charge end voltage where it ends.",
        outside_text="The coldest cells regeneration may charge are driven above their charge end voltage: cold they resist more.",
        declared=MONITORED,
        declared_text="Met by declaration: with the current the pack monitor sends as its charge limit, the coldest cells stay below their charge end voltage. Prove in commissioning that the inverter obeys the message.",
        remedy="Have the pack monitor send its charge limit to the inverter and say so with drive.regen.limited_by_pack; else set drive.regen.off_below_cell higher, drive.regen.off_above_soc lower, or drive.regen.wheel_torque weaker.",
        sources=SHEET,
        applies=may_regenerate,
        skip_reason=SERIES_MOTOR,
        watch=NO_BAND,
    ),
    compare(
        "regen.cold_cells",
        subject="drive.regen.off_below_cell",
        value="drive.regen.off_below_cell",
        limit="pack.cell.min_charge_temperature",
        sense="at_least",
        outside="stop",
        inside_text="Regeneration ends before the cells are too cold to be charged.",
        outside_text="Regeneration charges cells that are too cold: lithium plates out inside them.",
        remedy="Set drive.regen.off_below_cell at or above the cell's lowest charging temperature.",
        sources=SHEET,
        applies=may_regenerate,
        skip_reason=SERIES_MOTOR,
        watch=NO_BAND,
    ),
    compare(
        "regen.cell_current",
        subject="drive.regen.wheel_torque",
        value="regen.peak_current",
        limit="pack.charge_peak",
        sense="at_most",
        outside="stop",
        inside_text="The strongest regeneration stays within the 10 s charge current of warm cells.",
        outside_text="The strongest regeneration charges the cells with more than their 10 s current.",
        remedy="Lower drive.regen.wheel_torque, or fit more cells in parallel.",
        sources=SHEET,
        applies=may_regenerate,
        skip_reason=SERIES_MOTOR,
    ),
    compare(
        "regen.cell_current_cold",
        subject=MONITORED,
        value="regen.cold_current",
        limit="regen.cold_current_allowed",
        sense="at_most",
        outside="stop",
        inside_text="The strongest regeneration stays within what the coldest cells it may charge allow for 10 s.",
        outside_text="The strongest regeneration charges cold cells with more than they allow at the temperature it is still let through: lithium plates out inside them.",
        declared=MONITORED,
        declared_text="Met by declaration: the pack monitor sends the inverter its charge limit, and that message alone protects cold cells; the current itself is judged for warm ones. Prove in commissioning that the inverter obeys it, and what it does when the message stops.",
        remedy="Have the pack monitor send its charge limit to the inverter and say so with drive.regen.limited_by_pack; else set drive.regen.off_below_cell higher or drive.regen.wheel_torque weaker.",
        sources=SHEET,
        applies=may_regenerate,
        skip_reason=SERIES_MOTOR,
        watch=NO_BAND,
    ),
)
