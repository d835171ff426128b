"""Regeneration: the strongest there can be, and what it does to warm and to cold cells near full.

Where the file declares that the pack monitor sends the inverter its charge limit, cold cells are
charged with what they allow; where it does not, with all the motors can give.
"""

from __future__ import annotations

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook
from swapwright.assess.stages.cell_point import (
    WARM_CELL,
    derating_at,
    resistance_at,
    rest_voltage_at,
)
from swapwright.base.errors import Missing
from swapwright.physics.drive.limit import (
    greater_road_speed,
    greater_voltage,
    lesser_current,
    lesser_power,
)
from swapwright.physics.pack.cell import derated_current
from swapwright.physics.pack.charge import charge_current, charging_voltage
from swapwright.physics.pack.layout import current_per_cell
from swapwright.physics.vehicle.road_load import power_at_speed

TOP = "drive.regen.off_above_soc"
COLDEST = "drive.regen.off_below_cell"
MONITORED = "drive.regen.limited_by_pack"


NO_REGENERATION = "the motor does not regenerate"


def regen(book: FigureBook) -> None:
    """Write the strongest regeneration, its current, and the voltages it drives the cells to."""
    _power(book)
    _current(book)
    rest_voltage_at(
        book,
        "regen.cell_rest_at_top",
        "regen.rest_voltage_at_top",
        "where regeneration ends",
        TOP,
    )
    _warm(book)
    _cold(book)
    book.make(
        greater_voltage,
        "regen.highest_voltage",
        label="pack voltage under the strongest regeneration, cells warm or cold",
        first="regen.voltage_at_top",
        second="regen.voltage_cold",
    )
    book.make(
        greater_voltage,
        "pack.voltage_regen",
        label="highest pack voltage: full, or regenerating where it ends",
        first="pack.voltage_full",
        second="regen.highest_voltage",
    )


def _power(book: FigureBook) -> None:
    """Write the strongest regeneration: of all motors that can, within the torque limit set."""
    prefixes = drive_parts.units(book)
    braking = [prefix for prefix in prefixes if drive_parts.may_regenerate(book.car, prefix)]
    if prefixes and not braking:
        book.note_missing("regen.peak_power", Missing(reason=NO_REGENERATION))
        return
    rows = [(f"{path}.motor", f"{path}.motor.peak_power", 1.0) for path in braking or ["drive"]]
    book.total("regen.motor_power", "peak power of the motors that regenerate", "W", rows, "power")
    fastest = [f"{drive_parts.figure_prefix(path)}.top_speed" for path in braking or ["drive"]]
    book.make(
        greater_road_speed,
        "regen.top_speed",
        label="road speed regeneration starts from at most",
        first=fastest[0],
        second=fastest[-1],
    )
    book.make(
        power_at_speed,
        "regen.force_power",
        label="regeneration limit at the motor's highest road speed",
        force="regen.force_limit",
        speed="regen.top_speed",
    )
    limit = "regen.force_power" if book.has("drive.regen.wheel_torque") else "regen.motor_power"
    book.make(
        lesser_power,
        "regen.peak_power",
        label="strongest regeneration",
        first="regen.motor_power",
        second=limit,
    )


def _current(book: FigureBook) -> None:
    """Write the charging current: most where the pack is lowest."""
    book.make(
        charge_current,
        "regen.unlimited_current",
        label="pack current of the strongest regeneration, nearly empty",
        power="regen.peak_power",
        rest_voltage="low.rest_voltage",
        resistance="pack.resistance",
    )
    _within_inverter(
        book,
        "regen.peak_current",
        "charging current of the strongest regeneration",
        "regen.unlimited_current",
    )


def _within_inverter(book: FigureBook, figure_id: str, label: str, current: str) -> None:
    """Write a charging current as the inverters' dc limit leaves it, where that is known."""
    limit = "current.dc_limit" if book.has("current.dc_limit") else current
    book.make(lesser_current, figure_id, label=label, first=current, second=limit)


def _warm(book: FigureBook) -> None:
    """Write the current where regeneration ends, and the voltages warm cells reach there."""
    resistance_at(book, "regen.warm", "25 degC, where regeneration ends", WARM_CELL, TOP)
    book.make(
        charge_current,
        "regen.top_current_unlimited",
        label="pack current of the strongest regeneration, where it ends",
        power="regen.peak_power",
        rest_voltage="regen.rest_voltage_at_top",
        resistance="regen.warm.resistance",
    )
    _within_inverter(
        book,
        "regen.top_current",
        "charging current of the strongest regeneration, where it ends",
        "regen.top_current_unlimited",
    )
    _voltages(
        book,
        current="regen.top_current",
        cell_current="regen.cell_current",
        resistances="regen.warm",
        cell_voltage="regen.cell_voltage_at_top",
        voltage="regen.voltage_at_top",
        words="the strongest regeneration, where it ends",
    )


def _cold(book: FigureBook) -> None:
    """Write the current and the voltages of the coldest cells regeneration may charge."""
    derating_at(
        book,
        "regen.charge_share",
        "share of the charge current the coldest cells allow that regeneration may charge",
        "charge_derate",
        COLDEST,
    )
    book.make(
        derated_current,
        "regen.cold_current_allowed",
        label="10 s charging current the coldest of these cells allow",
        rated_current="pack.charge_peak",
        derate="regen.charge_share",
    )
    monitored = book.car.flags.get(MONITORED, False)
    for figure_id, current, words in (
        ("regen.cold_current", "regen.peak_current", ""),
        ("regen.cold_top_current", "regen.top_current", ", where it ends"),
    ):
        book.make(
            lesser_current,
            figure_id,
            label=f"charging current of the coldest cells regeneration may charge{words}",
            first=current,
            second="regen.cold_current_allowed" if monitored else current,
        )
    resistance_at(book, "regen.cold", "coldest regeneration, where it ends", COLDEST, TOP)
    _voltages(
        book,
        current="regen.cold_top_current",
        cell_current="regen.cold_cell_current",
        resistances="regen.cold",
        cell_voltage="regen.cell_voltage_cold",
        voltage="regen.voltage_cold",
        words="the coldest regeneration, where it ends",
    )


def _voltages(
    book: FigureBook,
    *,
    current: str,
    cell_current: str,
    resistances: str,
    cell_voltage: str,
    voltage: str,
    words: str,
) -> None:
    """Write the voltage of cell and pack under a charging current where regeneration ends."""
    book.make(
        current_per_cell,
        cell_current,
        label=f"charging current of one cell under {words}",
        current=current,
        parallel="pack.parallel_cells",
    )
    book.make(
        charging_voltage,
        cell_voltage,
        label=f"cell voltage under {words}",
        rest_voltage="regen.cell_rest_at_top",
        current=cell_current,
        resistance=f"{resistances}.cell_resistance",
    )
    book.make(
        charging_voltage,
        voltage,
        label=f"pack voltage under {words}",
        rest_voltage="regen.rest_voltage_at_top",
        current=current,
        resistance=f"{resistances}.resistance",
    )
