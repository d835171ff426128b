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
from swapwright.assess.runs import trace_of
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.drive.inverter import inverter_loss_map, InverterTerms
from swapwright.physics.drive.motor_loss import motor_losses
from swapwright.physics.vehicle.consumption import (
    battery_power,
    cycle_consumption,
    driving_range,
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
    strip_speed,
    top_speed,
)
from swapwright.physics.vehicle.road_load import power_at_speed, road_load
from swapwright.physics.vehicle.rotating import effective_mass
from swapwright.standards.ratings import RUNNING_WINDING_TEMPERATURE

FloatArray = NDArray[np.float64]

NO_FORCE = Value(0.0, "N", "standard", "gillespie-1992-ch4")
WHEEL_ENERGY = "guzzella-sciarretta-2013-ch2"


def cycle_estimate(book: FigureBook, name: str, cycle: str, day: str, auxiliary: Source) -> None:
    """Write the estimate of a cycle's battery consumption: ``estimate.consumption_<name>``."""
    trace = trace_of(cycle)
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
        _caught_share(book, trace, a, b, c, mass),
        "1",
        LookedUp("braking within the regeneration limits", cycle, "share", WHEEL_ENERGY),
        "fraction",
        share=book.value("drive.regen.share"),
    )
    efficiency = _drive_efficiency(book, trace, a, b, c, mass)
    book.look_up(
        f"{start}.efficiency",
        "drive efficiency at the cycle's representative point",
        efficiency,
        "1",
        LookedUp("loss terms at mean traction speed and force", cycle, "efficiency", WHEEL_ENERGY),
        "fraction",
        **inputs,
    )
    book.make(
        cycle_consumption,
        f"{start}.consumption",
        label="battery consumption, short estimate",
        traction=f"{start}.traction",
        braking=f"{start}.braking",
        efficiency=f"{start}.efficiency",
        regeneration_share=f"{start}.caught",
        regeneration_efficiency=f"{start}.efficiency",
        auxiliary_power=auxiliary,
        mean_speed=f"{start}.mean_speed",
    )


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


def _drive_efficiency(
    book: FigureBook,
    trace: FloatArray,
    a: float,
    b: float,
    c: float,
    mass: float,
) -> float:
    """Return wheel over electrical power at the energy-weighted mean traction point."""
    middle = (trace[1:] + trace[:-1]) / 2.0
    force = a + b * middle + c * middle**2 + mass * np.diff(trace)
    driving = (force > 0.0) & (middle > 0.0)
    weight = force[driving] * middle[driving]
    speed = float(np.sum(middle[driving] * weight) / np.sum(weight))
    pull = float(np.sum(force[driving] * weight) / np.sum(weight))
    pull = 0.5 * (pull + float(np.sum(weight) / np.sum(middle[driving])))
    return point_efficiency(book, "drive", speed, pull)


def point_efficiency(book: FigureBook, prefix: str, speed: float, force: float) -> float:
    """Return wheel over electrical power of a unit at a road speed m/s and force N.

    In the gear of those in use that loses least there; a speed no gear reaches is taken at the
    motor's highest.
    """
    name = drive_parts.figure_prefix(prefix)
    complete = drive_parts.motor(book, prefix)
    radius = book.number("tyre.radius")
    gear_efficiency = book.get(f"{prefix}.gearbox.efficiency") or 1.0
    terms = InverterTerms(
        fixed=book.number(f"{prefix}.inverter.loss_fixed"),
        linear=book.number(f"{prefix}.inverter.loss_linear"),
        square=book.number(f"{prefix}.inverter.loss_square"),
    )
    factor = book.number("drive.loss_factor")
    cap = book.number(f"{name}.speed_cap")
    ratios = [
        book.number(f"{name}.gear{number}.overall") / radius
        for number, _ in drive_parts.gears(book, prefix)
    ]
    reaching = [ratio for ratio in ratios if speed * ratio <= cap] or [min(ratios)]
    best = 0.0
    for ratio in reaching:
        shaft = min(speed * ratio, cap)
        torque = force / ratio / gear_efficiency
        losses = motor_losses(
            terms=complete.terms,
            speeds=np.array([shaft]),
            torques=np.array([torque]),
            dc_voltage=book.number("pack.voltage_nominal"),
            winding_temperature=RUNNING_WINDING_TEMPERATURE.si,
        )
        loss = float(losses.total[0, 0]) + float(
            inverter_loss_map(terms, losses.current)[0, 0]
        )
        wheel = torque * gear_efficiency * shaft
        best = max(best, wheel / (torque * shaft + factor * loss))
    return best


def range_estimate(book: FigureBook, name: str) -> None:
    """Write ``estimate.<name>.range`` from the usable energy and the estimated consumption."""
    book.make(
        driving_range,
        f"estimate.{name}.range",
        label="range, short estimate",
        usable_energy="pack.usable_energy",
        consumption=f"estimate.{name}.consumption",
    )


def acceleration_estimate(book: FigureBook, name: str, speed: Source) -> None:
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
        force_phase_end, f"{start}.force_phase_end", speed=speed,
        force="drive.launch_force", power="drive.peak_wheel_power",
    )
    for phase, from_speed, to_speed in (
        ("power", f"{start}.force_phase_end", speed),
    ):
        book.make(
            resistance_speed, f"{start}.{phase}_resistance_speed", from_speed=from_speed,
            speed=to_speed,
        )
        book.make(
            road_load, f"{start}.{phase}_resistance", a="road.a", b="road.b", c="road.c",
            speed=f"{start}.{phase}_resistance_speed", headwind="conditions.headwind",
        )
    book.make(
        force_phase_time, f"{start}.force_time", effective_mass=f"{start}.mass",
        speed=f"{start}.force_phase_end", force="drive.launch_force", resistance="road.a",
    )
    book.make(
        power_phase_time, f"{start}.power_time", effective_mass=f"{start}.mass",
        from_speed=f"{start}.force_phase_end", speed=speed, power="drive.peak_wheel_power",
        resistance=f"{start}.power_resistance",
    )
    book.total(
        f"{start}.time", "time to speed, short estimate", "s",
        [("at constant force", f"{start}.force_time", 1.0),
         ("at constant power", f"{start}.power_time", 1.0)],
        "time",
    )


def top_speed_estimate(book: FigureBook) -> None:
    """Write ``estimate.top_speed``: the lesser of power against drag and the motor's own limit."""
    book.make(
        power_limited_speed, "estimate.power_limited_speed", power="drive.peak_wheel_power",
        a="road.a", b="road.b", c="road.c",
    )
    book.make(
        top_speed, "estimate.top_speed", label="top speed, short estimate",
        power_limited_speed="estimate.power_limited_speed", motor_limited_speed="unit.top_speed",
    )


def steady_estimate(book: FigureBook, name: str, day: str) -> None:
    """Write the estimate of a steady speed's consumption: ``estimate.<name>.consumption``."""
    start = f"estimate.{name}"
    speed = book.number("goals.range.at")
    book.make(
        road_load, f"{start}.force", a=f"road.a{day}", b="road.b", c=f"road.c{day}",
        speed="goals.range.at", headwind="conditions.headwind",
    )
    book.make(power_at_speed, f"{start}.wheel_power", force=f"{start}.force", speed="goals.range.at")
    _point(book, f"{start}.efficiency", speed, book.number(f"{start}.force"))
    book.make(
        battery_power, f"{start}.battery_power", wheel_power=f"{start}.wheel_power",
        efficiency=f"{start}.efficiency", auxiliary_power="auxiliaries.driving",
    )
    book.make(
        steady_consumption, f"{start}.consumption", label="battery consumption, short estimate",
        power=f"{start}.battery_power", speed="goals.range.at",
    )


def climb_estimate(book: FigureBook, speed: float) -> None:
    """Write ``estimate.climb.speed`` and ``estimate.climb.battery_power``."""
    force = book.number("climb.road_load") + book.number("climb.grade_force")
    _point(book, "estimate.climb.efficiency", speed, force)
    book.make(
        battery_power, "estimate.climb.battery_power", label="pack power on the climb, short estimate",
        wheel_power="climb.wheel_power", efficiency="estimate.climb.efficiency",
        auxiliary_power="auxiliaries.driving",
    )
    book.total(
        "estimate.climb.speed", "speed wanted on the climb", "m/s",
        [("wanted", "goals.climb.at", 1.0)], "speed",
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
        f"{start}.speed",
        distance=distance,
        from_distance=f"{start}.force_distance",
        from_speed=f"{sprint}.force_phase_end",
        power=f"{start}.spare_power",
        effective_mass=f"{sprint}.mass",
    )
    book.make(
        power_phase_time,
        f"{start}.power_time",
        effective_mass=f"{sprint}.mass",
        from_speed=f"{sprint}.force_phase_end",
        speed=f"{start}.speed",
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
