"""Short estimates of acceleration, top speed and climbing: closed forms beside the simulation."""

from __future__ import annotations

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook, Source
from swapwright.assess.estimate_drive import gear_efficiency, keep_point_efficiency
from swapwright.assess.kernel_inputs import SHIFTED_AT_REST
from swapwright.base.figure import Value
from swapwright.physics.drive.thermal import power_at_rise
from swapwright.physics.vehicle.consumption import battery_power
from swapwright.physics.vehicle.performance import (
    force_phase_distance,
    force_phase_end,
    force_phase_time,
    power_limited_speed,
    power_phase_time,
    resistance_speed,
    spare_power,
    speed_at_power,
    strip_speed,
    top_speed,
)
from swapwright.physics.vehicle.road_load import power_at_speed, road_load
from swapwright.physics.vehicle.rotating import effective_mass
from swapwright.standards.ratings import RATING_AMBIENT, SHIFT_TIME

NO_FORCE = Value(0.0, "N", "standard", "gillespie-1992-ch4")


def acceleration_estimate(book: FigureBook, name: str, speed: Value) -> None:
    """Write ``estimate.<name>.time``: constant force, then constant power, against mean drag."""
    start = f"estimate.{name}"
    book.make(
        effective_mass,
        f"{start}.mass",
        mass="mass.test",
        rotating_factor="car.rotating_factor",
        reflected_mass="drive.reflected_mass",
    )
    book.make(
        force_phase_end,
        f"{start}.force_phase_end",
        speed=speed,
        force="accel.start_force",
        power="drive.peak_wheel_power",
    )
    for phase, from_speed, to_speed in (("power", f"{start}.force_phase_end", speed),):
        book.make(
            resistance_speed,
            f"{start}.{phase}_resistance_speed",
            from_speed=from_speed,
            speed=to_speed,
        )
        book.make(
            road_load,
            f"{start}.{phase}_resistance",
            a="road.a",
            b="road.b",
            c="road.c",
            speed=f"{start}.{phase}_resistance_speed",
            headwind="conditions.headwind",
        )
    book.make(
        force_phase_time,
        f"{start}.force_time",
        effective_mass=f"{start}.mass",
        speed=f"{start}.force_phase_end",
        force="accel.start_force",
        resistance="road.a",
    )
    book.make(
        power_phase_time,
        f"{start}.power_time",
        effective_mass=f"{start}.mass",
        from_speed=f"{start}.force_phase_end",
        speed=speed,
        power="drive.peak_wheel_power",
        resistance=f"{start}.power_resistance",
    )
    book.total(
        f"{start}.time",
        "time to speed, short estimate",
        "s",
        [
            ("at constant force", f"{start}.force_time", 1.0),
            ("at constant power", f"{start}.power_time", 1.0),
            *_gear_changes(book, speed),
        ],
        "time",
    )


def _gear_changes(book: FigureBook, speed: Value) -> list[tuple[str, Source, float]]:
    """Return a row of time for each gear that ends below a speed m/s."""
    if book.car.texts.get("drive.gearbox.shift") == SHIFTED_AT_REST:
        return []
    ends = [
        book.get(f"unit.gear{number}.top_speed") or 0.0
        for number, _ in drive_parts.gears(book, "drive")
    ]
    given = "drive.gearbox.shift_time"
    time: Source = given if book.has(given) else SHIFT_TIME
    return [("gear change", time, 1.0) for end in ends if end < speed.si]


def strip_estimate(book: FigureBook, name: str, distance: Value) -> None:
    """Write the time and trap speed over a distance: constant force, then constant spare power.

    The road load that stands for the second phase is taken as for 0-60 mph.
    """
    start, sprint = f"estimate.{name}", "estimate.accel.0_60mph"
    book.make(
        force_phase_distance,
        f"{start}.force_distance",
        speed=f"{sprint}.force_phase_end",
        time=f"{sprint}.force_time",
    )
    book.make(
        spare_power,
        f"{start}.spare_power",
        power="drive.peak_wheel_power",
        resistance=f"{sprint}.power_resistance",
        speed=f"{sprint}.power_resistance_speed",
    )
    book.make(
        strip_speed,
        f"{start}.free_speed",
        distance=distance,
        from_distance=f"{start}.force_distance",
        from_speed=f"{sprint}.force_phase_end",
        power=f"{start}.spare_power",
        effective_mass=f"{sprint}.mass",
    )
    book.make(
        top_speed,
        f"{start}.speed",
        label="trap speed, short estimate",
        power_limited_speed=f"{start}.free_speed",
        motor_limited_speed="drive.top_speed",
    )
    book.make(
        power_phase_time,
        f"{start}.power_time",
        effective_mass=f"{sprint}.mass",
        from_speed=f"{sprint}.force_phase_end",
        speed=f"{start}.free_speed",
        power=f"{start}.spare_power",
        resistance=NO_FORCE,
    )
    book.total(
        f"{start}.time",
        "time over the distance, short estimate",
        "s",
        [
            ("at constant force", f"{sprint}.force_time", 1.0),
            ("at constant power", f"{start}.power_time", 1.0),
        ],
        "time",
    )


def top_speed_estimate(book: FigureBook) -> None:
    """Write ``estimate.top_speed``: the lesser of power against drag and the motor's own limit."""
    book.make(
        power_limited_speed,
        "estimate.power_limited_speed",
        power="drive.peak_wheel_power",
        a="road.a",
        b="road.b",
        c="road.c",
    )
    book.make(
        top_speed,
        "estimate.top_speed",
        label="top speed, short estimate",
        power_limited_speed="estimate.power_limited_speed",
        motor_limited_speed="drive.top_speed",
    )


def climb_estimate(book: FigureBook) -> None:
    """Write ``estimate.climb.speed`` and ``estimate.climb.battery_power``.

    The speed the motor's continuous power holds, at the heat this ambient takes away, or the one
    wanted; copper loss goes with the square of power, so power goes with the root of the heat.
    """
    book.make(
        power_at_rise,
        "estimate.climb.shaft_power",
        label="motor power that lasts on the hot day",
        rated_power="drive.motor.continuous_power",
        max_temperature="drive.motor.max_winding_temperature",
        rating_ambient=RATING_AMBIENT,
        ambient="conditions.hot_day",
    )
    book.total(
        "estimate.climb.force",
        "force to hold the grade",
        "N",
        [("road load", "climb.road_load", 1.0), ("grade", "climb.grade_force", 1.0)],
        "force",
    )
    book.make(
        speed_at_power,
        "estimate.climb.lasting_speed",
        label="speed that power holds",
        power="estimate.climb.shaft_power",
        efficiency=gear_efficiency(book, "drive"),
        force="estimate.climb.force",
    )
    book.make(
        top_speed,
        "estimate.climb.speed",
        label="speed held on the climb, short estimate",
        power_limited_speed="estimate.climb.lasting_speed",
        motor_limited_speed="goals.climb.at",
    )
    book.make(
        power_at_speed,
        "estimate.climb.wheel_power",
        force="estimate.climb.force",
        speed="estimate.climb.speed",
    )
    speed = book.number("estimate.climb.speed")
    keep_point_efficiency(
        book, "estimate.climb.efficiency", speed, book.number("estimate.climb.force")
    )
    book.make(
        battery_power,
        "estimate.climb.battery_power",
        label="pack power on the climb, short estimate",
        wheel_power="estimate.climb.wheel_power",
        efficiency="estimate.climb.efficiency",
        auxiliary_power="auxiliaries.climb",
    )
