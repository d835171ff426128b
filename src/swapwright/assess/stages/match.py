"""Motor, inverter and pack together: what is asked of the cells, in the cold, full and charging."""

from __future__ import annotations

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook, Source, standard
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.drive.gearing import shaft_power_for_wheel
from swapwright.physics.drive.limit import greater_voltage, lesser_current, lesser_power
from swapwright.physics.drive.motor import torque_current
from swapwright.physics.pack.charge import charge_current, charging_voltage
from swapwright.physics.pack.layout import current_per_cell
from swapwright.physics.pack.power import current_at_power
from swapwright.physics.vehicle.consumption import aged_range
from swapwright.physics.vehicle.road_load import power_at_speed
from swapwright.standards.ratings import END_OF_LIFE_HEALTH

FIFTY_MPH = standard(50 * 0.44704, "m/s", "trade-rule-50-mph")
NO_GEARS = Value(1.0, "1", "default", "final-drive-none")


def match(book: FigureBook) -> None:
    """Write what motor and inverter ask of the pack, and what the pack can give and take."""
    _demand(book)
    _regen(book)
    _working_voltage(book)
    book.make(
        aged_range,
        "range.at_goal_speed_aged",
        label="range at the goal's steady speed, pack at the end of its life",
        new_range="range.at_goal_speed",
        health=END_OF_LIFE_HEALTH,
    )
    efficiency = "drive.gearbox.efficiency"
    book.make(
        shaft_power_for_wheel,
        "climb.shaft_power",
        label="motor power to hold the climb",
        power="climb.wheel_power",
        efficiency=efficiency if book.has(efficiency) else NO_GEARS,
    )


def _sum(book: FigureBook, figure_id: str, label: str, unit: str, of: str, kind: str) -> None:
    """Sum a figure or entry over the drive units; ``of`` has {unit} and {path} to fill."""
    prefixes = drive_parts.units(book) or ("drive",)
    rows: list[tuple[str, Source, float]] = [
        (path, of.format(unit=drive_parts.figure_prefix(path), path=path), 1.0) for path in prefixes
    ]
    book.total(figure_id, label, unit, rows, kind)


def _demand(book: FigureBook) -> None:
    _sum(
        book,
        "drive.unlimited_force",
        "force at the road at the torque limits",
        "N",
        "{unit}.peak_force",
        "force",
    )
    _sum(
        book,
        "current.dc_limit",
        "dc current limit of the inverters",
        "A",
        "{path}.inverter.dc_current_limit",
        "current",
    )
    for point in ("peak", "continuous"):
        _sum(
            book,
            f"drive.{point}_power",
            f"power drawn at the {point} points",
            "W",
            f"{{unit}}.{point}_power",
            "power",
        )
        book.make(
            current_at_power,
            "current.peak_unlimited" if point == "peak" else "current.continuous_demand",
            label=f"pack current at {point} power, nominal voltage",
            rest_voltage="pack.voltage_nominal",
            power=f"drive.{point}_power",
            resistance="pack.resistance",
        )
    book.make(
        lesser_current,
        "current.peak_demand",
        label="most current motor and inverter draw",
        first="current.peak_unlimited",
        second="current.dc_limit",
    )
    _sum(
        book,
        "drive.continuous_rating",
        "continuous power of the motors",
        "W",
        "{path}.motor.continuous_power",
        "power",
    )
    book.make(
        torque_current,
        "unit.motor_phase_current",
        label="phase current at the motor's peak torque",
        torque="drive.motor.peak_torque",
        torque_per_amp="drive.motor.torque_per_amp",
    )


def _working_voltage(book: FigureBook) -> None:
    """Write the maximum working voltage: full, regenerating, or a charger set higher."""
    typed = "charging.voltage" if book.has("charging.voltage") else "pack.voltage_full"
    book.make(
        greater_voltage,
        "pack.voltage_charging",
        label="highest pack voltage while charging",
        first="pack.voltage_full",
        second=typed,
    )
    regen = "pack.voltage_regen" if book.has("pack.voltage_regen") else "pack.voltage_charging"
    book.make(
        greater_voltage,
        "pack.max_working_voltage",
        label="maximum working voltage of the pack",
        first="pack.voltage_charging",
        second=regen,
    )


def _regen(book: FigureBook) -> None:
    """Write the strongest regeneration, its current, and the voltage it drives the cells to."""
    book.make(
        power_at_speed,
        "regen.force_power",
        label="regeneration limit at the motor's highest road speed",
        force="regen.force_limit",
        speed="unit.top_speed",
    )
    book.make(
        lesser_power,
        "regen.peak_power",
        label="strongest regeneration",
        first="drive.motor.peak_power",
        second="regen.force_power",
    )
    book.make(
        charge_current,
        "regen.unlimited_current",
        label="pack current of the strongest regeneration",
        power="regen.peak_power",
        rest_voltage="pack.voltage_nominal",
        resistance="pack.resistance",
    )
    book.make(
        lesser_current,
        "regen.peak_current",
        label="charging current of the strongest regeneration",
        first="regen.unlimited_current",
        second="current.dc_limit" if book.has("current.dc_limit") else "regen.unlimited_current",
    )
    with book.attempt("regen.rest_voltage_at_top", "regen.voltage_at_top", "pack.voltage_regen"):
        top = book.value("drive.regen.off_above_soc")
        rest = book.car.line("pack.cell.ocv").at(top.si) * book.number("pack.series_cells")
        book.look_up(
            "regen.rest_voltage_at_top",
            "pack rest voltage where regeneration ends",
            rest,
            "V",
            LookedUp("rest voltage", f"{top.si:.0%}", "V", "part-data-sheet"),
            "voltage",
            soc=top,
            series=book.value("pack.series_cells"),
        )
    book.make(
        charging_voltage,
        "regen.voltage_at_top",
        label="pack voltage under the strongest regeneration, where it ends",
        rest_voltage="regen.rest_voltage_at_top",
        current="regen.peak_current",
        resistance="pack.resistance",
    )
    book.make(
        greater_voltage,
        "pack.voltage_regen",
        label="highest pack voltage: full, or regenerating where it ends",
        first="pack.voltage_full",
        second="regen.voltage_at_top",
    )
    _highest_cell(book)


def _highest_cell(book: FigureBook) -> None:
    """Write the cell voltage under the strongest regeneration, judged at the cell, not the pack."""
    with book.attempt("regen.cell_rest_at_top", "regen.cell_voltage_at_top"):
        top = book.value("drive.regen.off_above_soc")
        book.look_up(
            "regen.cell_rest_at_top",
            "cell rest voltage where regeneration ends",
            book.car.line("pack.cell.ocv").at(top.si),
            "V",
            LookedUp("rest voltage", f"{top.si:.0%}", "V", "part-data-sheet"),
            "voltage",
            soc=top,
        )
    book.make(
        current_per_cell,
        "regen.cell_current",
        label="charging current of one cell under the strongest regeneration",
        current="regen.peak_current",
        parallel="pack.parallel_cells",
    )
    book.make(
        charging_voltage,
        "regen.cell_voltage_at_top",
        label="cell voltage under the strongest regeneration, where it ends",
        rest_voltage="regen.cell_rest_at_top",
        current="regen.cell_current",
        resistance="pack.cell.resistance_10s",
    )
