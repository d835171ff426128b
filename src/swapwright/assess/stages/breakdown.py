"""What the numbers are made of: road load by cause, motor loss by kind, tank equivalents, heat.

Nothing else rests on these figures; they are for the reader, so bands are not worked out for them.
"""

from __future__ import annotations

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook, standard
from swapwright.base.figure import Value
from swapwright.base.kinds import GALLON_US
from swapwright.physics.drive.inverter import inverter_efficiency
from swapwright.physics.drive.motor_loss import (
    DC,
    PERMANENT_MAGNET,
    brush_loss,
    copper_loss,
    drag_loss,
    iron_loss,
    motor_efficiency,
    resistance_at_temperature,
)
from swapwright.physics.drive.motor_voltage import max_line_voltage
from swapwright.physics.drive.thermal import steady_temperature, time_to_limit
from swapwright.physics.pack.power import power_at_voltage_floor
from swapwright.physics.vehicle.consumption import fuel_equivalent
from swapwright.physics.vehicle.road_load import aerodynamic_force, rolling_force
from swapwright.physics.vehicle.tyre import wheel_turns
from swapwright.standards.consumption import GASOLINE_GALLON_ENERGY
from swapwright.standards.marks import FIFTY_MPH
from swapwright.standards.ratings import RATING_AMBIENT, RUNNING_WINDING_TEMPERATURE

LEVEL = standard(0.0, "1", "definition-level-road")
ONE_KILOMETRE = standard(1000.0, "m", "definition-one-kilometre")
GALLON = Value(GALLON_US, "m^3", "standard", GASOLINE_GALLON_ENERGY.ref)
POINTS = ("peak", "continuous")


def breakdown(book: FigureBook) -> None:
    """Write what road load, losses and consumption are made of."""
    _road(book)
    for prefix in drive_parts.units(book):
        name = drive_parts.figure_prefix(prefix)
        for point in POINTS:
            _losses(book, prefix, name, point)
        _heat(book, prefix, name)
    book.make(
        power_at_voltage_floor,
        "pack.power_at_inverter_floor",
        label="power that sags a nearly empty pack to the inverter's lowest voltage",
        rest_voltage="pack.rest_voltage_low",
        min_voltage="drive.inverter.min_voltage",
        resistance="pack.resistance",
    )
    book.make(
        fuel_equivalent,
        "consumption.combined_fuel",
        label="petrol with the energy taken from the wall, combined",
        consumption="consumption.combined_wall",
        fuel_energy=GASOLINE_GALLON_ENERGY,
        fuel_volume=GALLON,
    )


def _road(book: FigureBook) -> None:
    book.make(
        rolling_force,
        "road.rolling_50mph",
        label="rolling resistance at 50 mph",
        c_rr="road.c_rr",
        mass="mass.test",
        grade=LEVEL,
    )
    book.make(
        aerodynamic_force,
        "road.air_50mph",
        label="air drag at 50 mph",
        density="air.density",
        cd_a="road.cd_a",
        speed=FIFTY_MPH,
        headwind="conditions.headwind",
    )
    book.make(
        wheel_turns,
        "tyre.turns_per_km",
        label="wheel turns per kilometre",
        distance=ONE_KILOMETRE,
        rolling_circumference="tyre.circumference",
    )


def _losses(book: FigureBook, prefix: str, name: str, point: str) -> None:
    """Write a motor's losses by kind at one of its ratings, where its terms are known."""
    motor, at = f"{prefix}.motor", f"{name}.{point}"
    if drive_parts.efficiency_map(book, prefix) is None:
        _by_kind(book, motor, at, point)
    book.make(
        motor_efficiency,
        f"{at}_motor_efficiency",
        label=f"motor efficiency at the {point} point",
        torque=f"{at}_point_torque",
        speed=f"{at}_point_speed",
        loss=f"{at}_motor_loss",
    )
    book.make(
        inverter_efficiency,
        f"{at}_inverter_efficiency",
        label=f"inverter efficiency at the {point} point",
        power=f"{at}_shaft_power",
        loss=f"{at}_inverter_loss",
    )


def _by_kind(book: FigureBook, motor: str, at: str, point: str) -> None:
    kind = book.car.texts.get(f"{motor}.kind")
    book.make(
        iron_loss,
        f"{at}_iron_loss",
        label=f"iron loss at the {point} point",
        iron_linear=f"{motor}.iron_linear",
        iron_square=f"{motor}.iron_square",
        speed=f"{at}_point_speed",
    )
    book.make(
        drag_loss,
        f"{at}_drag_loss",
        label=f"drag loss at the {point} point",
        drag_linear=f"{motor}.drag_linear",
        drag_cubic=f"{motor}.drag_cubic",
        speed=f"{at}_point_speed",
    )
    if kind == DC:
        book.make(
            brush_loss,
            f"{at}_brush_loss",
            label=f"brush loss at the {point} point",
            brush_drop=f"{motor}.brush_drop",
            current=f"{at}_phase_current",
        )
    if kind == PERMANENT_MAGNET:
        book.make(
            resistance_at_temperature,
            f"{at}_phase_resistance",
            label="phase resistance, winding warm",
            resistance=f"{motor}.phase_resistance",
            temperature=RUNNING_WINDING_TEMPERATURE,
        )
        book.make(
            copper_loss,
            f"{at}_copper_loss",
            label=f"copper loss at the {point} point",
            phase_current=f"{at}_phase_current",
            phase_resistance=f"{at}_phase_resistance",
        )


def _heat(book: FigureBook, prefix: str, name: str) -> None:
    book.make(
        time_to_limit,
        f"{name}.peak_lasts",
        label="time at the peak point before the windings reach their limit",
        loss=f"{name}.peak_motor_loss",
        conductance=f"{name}.winding_conductance",
        heat_capacity=f"{name}.winding_heat_capacity",
        start=RUNNING_WINDING_TEMPERATURE,
        max_temperature=f"{prefix}.motor.max_winding_temperature",
        ambient=RATING_AMBIENT,
    )
    book.make(
        steady_temperature,
        f"{name}.continuous_hot_temperature",
        label="winding temperature at the continuous point, hot day",
        loss=f"{name}.continuous_motor_loss",
        conductance=f"{name}.winding_conductance",
        ambient="conditions.hot_day",
    )
    book.make(
        max_line_voltage,
        f"{name}.line_voltage_low",
        label="line voltage the inverter makes of a nearly empty pack, rms",
        dc_voltage="pack.rest_voltage_low",
    )
