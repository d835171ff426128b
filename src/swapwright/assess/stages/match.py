"""Motor, inverter and pack together: what is asked of the cells, empty, full and charging."""

from __future__ import annotations

from collections.abc import Mapping

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook
from swapwright.assess.stages.cell_point import WARM_CELL, resistance_at, rest_voltage_at
from swapwright.assess.stages.regen import regen
from swapwright.assess.stages.turning import turning
from swapwright.assess.stages.weight import parts
from swapwright.base.figure import Value
from swapwright.build.car import Car
from swapwright.physics.drive.gearing import shaft_power_for_wheel
from swapwright.physics.drive.limit import (
    greater_voltage,
    lesser_current,
    lesser_grade,
)
from swapwright.physics.pack.power import demand_current

NO_GEARS = Value(1.0, "1", "default", "final-drive-none")
CHARGE_ENDS = ("charging.voltage", "pack.charge_to")
"""Where a charge's end may be set, the charger's own first; else it is the cells'."""


def match(book: FigureBook) -> None:
    """Write what motor and inverter ask of the pack, and what the pack can give and take."""
    empty, words = "pack.usable.from", "at the low end of the window"
    resistance_at(book, "low", f"25 degC, {words}", WARM_CELL, empty)
    rest_voltage_at(book, "low.cell_rest", "low.rest_voltage", words, empty)
    _demand(book)
    regen(book)
    turning(book)
    _charging(book)
    _working_voltage(book)
    parts(book)
    efficiency = "drive.gearbox.efficiency"
    book.make(
        shaft_power_for_wheel,
        "climb.shaft_power",
        label="motor power to hold the climb",
        power="climb.wheel_power",
        efficiency=efficiency if book.has(efficiency) else NO_GEARS,
    )
    book.make(
        lesser_grade,
        "start_grade.possible",
        label="steepest grade it can start on, by drive and by tyre grip on the grade",
        first="start_grade.drive",
        second="traction.start_grade",
    )


def _demand(book: FigureBook) -> None:
    """Write the current full power draws, and most of it from a pack that is nearly empty."""
    drive_parts.total(
        book,
        "current.dc_limit",
        "dc current limit of the inverters",
        "A",
        "{path}.inverter.dc_current_limit",
        "current",
    )
    for point in ("peak", "continuous"):
        drive_parts.total(
            book,
            f"drive.{point}_power",
            f"power drawn at the {point} points",
            "W",
            f"{{unit}}.{point}_power",
            "power",
        )
    nominal = {"rest_voltage": "pack.voltage_nominal", "resistance": "pack.resistance"}
    low = {"rest_voltage": "low.rest_voltage", "resistance": "low.resistance"}
    for figure_id, label, point, pack in (
        ("current.peak_unlimited", "peak power, nominal voltage", "peak", nominal),
        ("current.continuous_demand", "continuous power, nominal voltage", "continuous", nominal),
        ("current.peak_low", "peak power, at the low end of the window", "peak", low),
    ):
        _asked(book, figure_id, f"pack current at {label}", f"drive.{point}_power", pack)
    book.make(
        lesser_current,
        "current.peak_demand",
        label="most current motor and inverter draw",
        first="current.peak_low",
        second="current.dc_limit",
    )


def _asked(
    book: FigureBook, figure_id: str, label: str, power: str, pack: Mapping[str, str]
) -> None:
    book.make(demand_current, figure_id, label=label, power=power, **pack)


def _charging(book: FigureBook) -> None:
    """Write the voltage a charge ends at: as it is set, else the cells' own."""
    end = next((path for path in CHARGE_ENDS if book.has(path)), "pack.voltage_full")
    book.total("charging.end_voltage", "voltage a charge ends at", "V", [("set", end, 1.0)])


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
    book.make(
        greater_voltage,
        "pack.max_working_voltage",
        label="maximum working voltage of the pack",
        first="pack.voltage_charging",
        # An inverter's rating bounds nothing: what the motor drives is there until something fails.
        second="pack.voltage_regen" if _regenerates(book.car) else "pack.voltage_charging",
    )


def _regenerates(car: Car) -> bool:
    """Tell whether the file names a motor that can charge the pack, and says how it is to."""
    asked = any(
        path.startswith("drive.regen.") and value.origin != "default"
        for path, value in car.values.items()
    )
    return asked and any(
        f"{prefix}.motor" in car.part_names and drive_parts.may_regenerate(car, prefix)
        for prefix in drive_parts.PREFIXES
    )
