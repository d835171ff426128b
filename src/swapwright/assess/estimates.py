"""Independent short estimates that stand beside the simulated figures.

They share no step loop, no tables and no pack model with the simulation: wheel energy of a cycle by
mid-point speeds, one efficiency for the whole drive taken at one representative point, closed forms
for acceleration and top speed.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook, Source
from swapwright.assess.kernel_inputs import SHIFT_TIME
from swapwright.assess.runs import trace_of
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.drive.inverter import InverterTerms, inverter_loss
from swapwright.physics.drive.thermal import power_at_rise
from swapwright.physics.vehicle.consumption import (
    battery_power,
    cycle_consumption_by_losses,
    driving_range,
    loss_at_power,
    steady_consumption,
)
from swapwright.physics.vehicle.cycle_energy import cycle_energy
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
from swapwright.standards.ratings import RATING_AMBIENT

FloatArray = NDArray[np.float64]

NO_GEARS = Value(1.0, "1", "default", "final-drive-none")
NO_FORCE = Value(0.0, "N", "standard", "gillespie-1992-ch4")
WHEEL_ENERGY = "guzzella-sciarretta-2013-ch2"


def cycle_estimate(book: FigureBook, name: str, cycle: str, day: str, auxiliary: Source) -> None:
    """Write the estimate of a cycle's battery consumption: ``estimate.consumption_<name>``."""
    trace = np.minimum(trace_of(cycle), book.number("unit.top_speed"))
    mass = book.number("mass.test") * book.number("car.rotating_factor")
    a, b, c = (book.number(key) for key in (f"road.a{day}", "road.b", f"road.c{day}"))
    wheel = cycle_energy(trace, a=a, b=b, c=c, effective_mass=mass)
    start = f"estimate.{name}"
    inputs = {
        "mass": book.value("mass.test"),
        "a": book.value(f"road.a{day}"),
        "b": book.value("road.b"),
        "c": book.value(f"road.c{day}"),
    }
    for what, si, unit, kind, label in (
        ("traction", wheel.traction / wheel.distance, "J/m", "consumption", "driving wheel energy"),
        ("braking", wheel.braking / wheel.distance, "J/m", "consumption", "braking wheel energy"),
        ("mean_speed", wheel.mean_speed, "m/s", "speed", "mean speed"),
    ):
        book.look_up(
            f"{start}.{what}",
            f"{label}, {cycle}",
            si,
            unit,
            LookedUp("wheel energy by mid-point speeds", cycle, what, WHEEL_ENERGY),
            kind,
            **inputs,
        )
    book.look_up(
        f"{start}.caught",
        "share of the braking energy the motor may take",
        0.0 if _too_cold(book, day) else _caught_share(book, trace, a, b, c, mass),
        "1",
        LookedUp("braking within the regeneration limits", cycle, "share", WHEEL_ENERGY),
        "fraction",
        share=book.value("drive.regen.share"),
    )
    caught = book.number(f"{start}.caught")
    loss, power = _mean_loss(book, trace, a, b, c, mass, caught)
    for what, si, label in (
        ("drive_loss", loss, "loss of motor and inverter at mean speed and rms torque"),
        ("rms_power", power, "root mean square power at the pack"),
    ):
        book.look_up(
            f"{start}.{what}",
            f"{label}, {cycle}",
            si,
            "W",
            LookedUp("loss terms over the trace", cycle, what, WHEEL_ENERGY),
            "power",
            **inputs,
        )
    book.make(
        loss_at_power,
        f"{start}.pack_loss",
        power=f"{start}.rms_power",
        voltage="pack.voltage_nominal",
        resistance=f"pack.resistance{day}",
    )
    book.total(
        f"{start}.loss",
        "mean loss of motor, inverter and pack",
        "W",
        [
            ("motor and inverter", f"{start}.drive_loss", 1.0),
            ("pack", f"{start}.pack_loss", 1.0),
        ],
        "power",
    )
    book.make(
        cycle_consumption_by_losses,
        f"{start}.consumption",
        label="battery consumption, short estimate",
        traction=f"{start}.traction",
        braking=f"{start}.braking",
        caught_share=f"{start}.caught",
        gear_efficiency=_gear_efficiency(book, "drive"),
        mean_loss=f"{start}.loss",
        auxiliary_power=auxiliary,
        mean_speed=f"{start}.mean_speed",
    )


def _gear_efficiency(book: FigureBook, prefix: str) -> Source:
    path = f"{prefix}.gearbox.efficiency"
    return path if book.has(path) else NO_GEARS


def _too_cold(book: FigureBook, day: str) -> bool:
    """Tell whether cells at a day's temperature may not be charged by regeneration."""
    places = {"": "temperature", "_cold": "cold_day", "_hot": "hot_day"}
    coldest = book.get("drive.regen.off_below_cell")
    return coldest is not None and book.number(f"conditions.{places[day]}") < coldest


def _caught_share(
    book: FigureBook, trace: FloatArray, a: float, b: float, c: float, mass: float
) -> float:
    """Return the share of a cycle's braking energy that the regeneration's limits let through."""
    middle = (trace[1:] + trace[:-1]) / 2.0
    braking = np.maximum(-(a + b * middle + c * middle**2 + mass * np.diff(trace)), 0.0)
    limit = book.get("regen.force_limit")
    fade_speed = book.number("drive.regen.off_below_speed")
    fade = np.clip(middle / max(fade_speed, 1e-3) - 0.5, 0.0, 1.0)
    taken = np.minimum(
        braking * book.number("drive.regen.share"), np.inf if limit is None else limit
    )
    energy = float(np.sum(braking * middle))
    return float(np.sum(taken * fade * middle)) / energy if energy > 0.0 else 0.0


def _mean_loss(
    book: FigureBook,
    trace: FloatArray,
    a: float,
    b: float,
    c: float,
    mass: float,
    caught: float,
) -> tuple[float, float]:
    """Return mean loss W of motor and inverter, and rms power W at the pack, over a trace.

    Taken in the gear that loses least at the trace's mean driving speed: standing at no speed and
    no torque, moving at the mean moving speed and the root mean square torque.
    """
    middle = (trace[1:] + trace[:-1]) / 2.0
    force = a + b * middle + c * middle**2 + mass * np.diff(trace)
    moving = middle > 0.0
    asked = np.where(force > 0.0, force, force * caught)[moving]
    speeds = middle[moving]
    share = float(np.mean(moving))
    rms_force = float(np.sqrt(np.mean(asked**2)))
    rms_power = float(np.sqrt(np.mean((asked * speeds) ** 2) * share))
    driving = loss_at(book, "drive", float(np.mean(speeds)), rms_force)
    standing = loss_at(book, "drive", 0.0, 0.0)
    return share * driving + (1.0 - share) * standing, rms_power


def loss_at(book: FigureBook, prefix: str, speed: float, force: float) -> float:
    """Return the loss W of a unit's motor and inverter at a road speed m/s and force N.

    In the gear of those in use that loses least there; a speed no gear reaches is taken at the
    motor's highest.
    """
    name = drive_parts.figure_prefix(prefix)
    complete = drive_parts.motor(book, prefix)
    radius = book.number("tyre.radius")
    gears = book.get(f"{prefix}.gearbox.efficiency") or 1.0
    terms = InverterTerms(
        fixed=book.number(f"{prefix}.inverter.loss_fixed"),
        linear=book.number(f"{prefix}.inverter.loss_linear"),
        square=book.number(f"{prefix}.inverter.loss_square"),
    )
    cap = book.number(f"{name}.speed_cap")
    ratios = [
        book.number(f"{name}.gear{number}.overall") / radius
        for number, _ in drive_parts.gears(book, prefix)
    ]
    reaching = [ratio for ratio in ratios if speed * ratio <= cap] or [min(ratios)]
    least = np.inf
    for ratio in reaching:
        turning = min(speed * ratio, cap)
        loss, current = drive_parts.point_loss(
            book, prefix, complete, turning, force / ratio / gears
        )
        inverter = inverter_loss(
            loss_fixed=terms.fixed,
            loss_linear=terms.linear,
            loss_square=terms.square,
            phase_current=current,
        )
        least = min(least, loss + inverter)
    return least * book.number("drive.loss_factor")


def point_efficiency(book: FigureBook, prefix: str, speed: float, force: float) -> float:
    """Return wheel over electrical power of a unit at a road speed m/s and force N."""
    gears = book.get(f"{prefix}.gearbox.efficiency") or 1.0
    wheel = force * speed
    return wheel / (wheel / gears + loss_at(book, prefix, speed, force))


def range_estimate(book: FigureBook, name: str) -> None:
    """Write ``estimate.<name>.range`` from the usable energy and the estimated consumption."""
    book.make(
        driving_range,
        f"estimate.{name}.range",
        label="range, short estimate",
        usable_energy="pack.usable_energy",
        consumption=f"estimate.{name}.consumption",
    )


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
        force="drive.launch_force",
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
        force="drive.launch_force",
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
    ends = [
        book.get(f"unit.gear{number}.top_speed") or 0.0
        for number, _ in drive_parts.gears(book, "drive")
    ]
    return [("gear change", SHIFT_TIME, 1.0) for end in ends if end < speed.si]


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
        motor_limited_speed="unit.top_speed",
    )


def steady_estimate(book: FigureBook, name: str, day: str) -> None:
    """Write the estimate of a steady speed's consumption: ``estimate.<name>.consumption``."""
    start = f"estimate.{name}"
    speed = book.number("goals.range.at")
    book.make(
        road_load,
        f"{start}.force",
        a=f"road.a{day}",
        b="road.b",
        c=f"road.c{day}",
        speed="goals.range.at",
        headwind="conditions.headwind",
    )
    book.make(
        power_at_speed, f"{start}.wheel_power", force=f"{start}.force", speed="goals.range.at"
    )
    _point(book, f"{start}.efficiency", speed, book.number(f"{start}.force"))
    book.make(
        battery_power,
        f"{start}.battery_power",
        wheel_power=f"{start}.wheel_power",
        efficiency=f"{start}.efficiency",
        auxiliary_power="auxiliaries.driving",
    )
    book.make(
        steady_consumption,
        f"{start}.consumption",
        label="battery consumption, short estimate",
        power=f"{start}.battery_power",
        speed="goals.range.at",
    )


def climb_estimate(book: FigureBook) -> None:
    """Write ``estimate.climb.speed`` and ``estimate.climb.battery_power``.

    The speed the motor's continuous power holds, at the heat this ambient takes away, or the one
    wanted; copper loss goes with the square of power, so power goes with the root of the heat.
    """
    book.make(
        power_at_rise,
        "estimate.climb.shaft_power",
        label="motor power that lasts at this ambient",
        rated_power="drive.motor.continuous_power",
        max_temperature="drive.motor.max_winding_temperature",
        rating_ambient=RATING_AMBIENT,
        ambient="conditions.temperature",
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
        efficiency=_gear_efficiency(book, "drive"),
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
    _point(book, "estimate.climb.efficiency", speed, book.number("estimate.climb.force"))
    book.make(
        battery_power,
        "estimate.climb.battery_power",
        label="pack power on the climb, short estimate",
        wheel_power="estimate.climb.wheel_power",
        efficiency="estimate.climb.efficiency",
        auxiliary_power="auxiliaries.driving",
    )


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
        motor_limited_speed="unit.top_speed",
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


def _point(book: FigureBook, figure_id: str, speed: float, force: float) -> None:
    book.look_up(
        figure_id,
        "drive efficiency at this speed and force",
        point_efficiency(book, "drive", speed, force),
        "1",
        LookedUp("loss terms", f"{speed:.1f} m/s", f"{force:.0f} N", WHEEL_ENERGY),
        "fraction",
    )
