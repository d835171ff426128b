"""Short estimates of consumption and range that stand beside the simulated ones.

They share no step loop, no loss table and no cell model with the simulation: wheel energy of a
cycle by mid-point speeds, and the loss at the mean speed and the root mean square torque.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.days import AMBIENT
from swapwright.assess.estimate_drive import (
    WHEEL_ENERGY,
    gear_efficiency,
    keep_point_efficiency,
    loss_at,
)
from swapwright.assess.kernel_inputs import LOWEST_FADE_SPEED
from swapwright.assess.runs import trace_of
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.vehicle.consumption import (
    battery_power,
    cycle_consumption_by_losses,
    driving_range,
    loss_at_power,
    steady_consumption,
)
from swapwright.physics.vehicle.cycle_energy import cycle_energy
from swapwright.physics.vehicle.road_load import power_at_speed, road_load

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class _Trace:
    """A speed trace on a day: mid-point speeds m/s and the wheel force N of each second."""

    cycle: str
    speeds: FloatArray
    a: float
    b: float
    c: float
    mass: float

    @cached_property
    def middle(self) -> FloatArray:
        return (self.speeds[1:] + self.speeds[:-1]) / 2.0

    @cached_property
    def force(self) -> FloatArray:
        middle = self.middle
        return self.a + self.b * middle + self.c * middle**2 + self.mass * np.diff(self.speeds)


def cycle_estimate(book: FigureBook, name: str, cycle: str, day: str, auxiliary: Source) -> None:
    """Write the estimate of a cycle's battery consumption: ``estimate.<name>.consumption``.

    Speeds above what the motor reaches are cut to that.
    """
    start = f"estimate.{name}"
    trace = _Trace(
        cycle,
        np.minimum(trace_of(cycle), book.number("drive.top_speed")),
        a=book.number(f"road.a{day}"),
        b=book.number("road.b"),
        c=book.number(f"road.c{day}"),
        mass=book.number("mass.test") * book.number("car.rotating_factor"),
    )
    inputs = {
        "mass": book.value("mass.test"),
        "a": book.value(f"road.a{day}"),
        "b": book.value("road.b"),
        "c": book.value(f"road.c{day}"),
    }
    _wheel_energy(book, start, trace, inputs)
    _caught(book, start, trace, day)
    _losses(book, start, trace, day, inputs)
    book.make(
        cycle_consumption_by_losses,
        f"{start}.consumption",
        label="battery consumption, short estimate",
        traction=f"{start}.traction",
        braking=f"{start}.braking",
        caught_share=f"{start}.caught",
        gear_efficiency=gear_efficiency(book, "drive"),
        mean_loss=f"{start}.loss",
        auxiliary_power=auxiliary,
        mean_speed=f"{start}.mean_speed",
    )


def _wheel_energy(book: FigureBook, start: str, trace: _Trace, inputs: Mapping[str, Value]) -> None:
    wheel = cycle_energy(trace.speeds, a=trace.a, b=trace.b, c=trace.c, effective_mass=trace.mass)
    for what, si, unit, kind, label in (
        ("traction", wheel.traction / wheel.distance, "J/m", "consumption", "driving wheel energy"),
        ("braking", wheel.braking / wheel.distance, "J/m", "consumption", "braking wheel energy"),
        ("mean_speed", wheel.mean_speed, "m/s", "speed", "mean speed"),
    ):
        book.look_up(
            f"{start}.{what}",
            f"{label}, {trace.cycle}",
            si,
            unit,
            LookedUp("wheel energy by mid-point speeds", trace.cycle, what, WHEEL_ENERGY),
            kind,
            **inputs,
        )


def _caught(book: FigureBook, start: str, trace: _Trace, day: str) -> None:
    """Write the share of the braking energy that the regeneration's limits let through."""
    coldest = book.get("drive.regen.off_below_cell")
    too_cold = coldest is not None and book.number(AMBIENT[day]) < coldest
    book.look_up(
        f"{start}.caught",
        "share of the braking energy the motor may take",
        0.0 if too_cold else _caught_share(book, trace),
        "1",
        LookedUp("braking within the regeneration limits", trace.cycle, "share", WHEEL_ENERGY),
        "fraction",
        share=book.value("drive.regen.share"),
    )


def _caught_share(book: FigureBook, trace: _Trace) -> float:
    if book.number("drive.regen.share") <= 0.0:
        return 0.0
    middle = trace.middle
    braking = np.maximum(-trace.force, 0.0)
    limit = book.get("regen.force_limit")
    fade_speed = book.number("drive.regen.off_below_speed")
    fade = np.clip(middle / max(fade_speed, LOWEST_FADE_SPEED) - 0.5, 0.0, 1.0)
    taken = np.minimum(
        braking * book.number("drive.regen.share"), np.inf if limit is None else limit
    )
    energy = float(np.sum(braking * middle))
    return float(np.sum(taken * fade * middle)) / energy if energy > 0.0 else 0.0


def _losses(
    book: FigureBook, start: str, trace: _Trace, day: str, inputs: Mapping[str, Value]
) -> None:
    """Write the mean loss of motor, inverter and pack over a trace."""
    loss, power = _mean_loss(book, trace, book.number(f"{start}.caught"))
    for what, si, label in (
        ("drive_loss", loss, "loss of motor and inverter at mean speed and rms torque"),
        ("rms_power", power, "root mean square power at the pack"),
    ):
        book.look_up(
            f"{start}.{what}",
            f"{label}, {trace.cycle}",
            si,
            "W",
            LookedUp("loss terms over the trace", trace.cycle, what, WHEEL_ENERGY),
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


def _mean_loss(book: FigureBook, trace: _Trace, caught: float) -> tuple[float, float]:
    """Return mean loss W of motor and inverter, and rms power W at the pack, over a trace.

    Standing at no speed and no torque; moving at the mean moving speed and the root mean square
    force, in the gear that loses least there.
    """
    middle, force = trace.middle, trace.force
    moving = middle > 0.0
    asked = np.where(force > 0.0, force, force * caught)[moving]
    speeds = middle[moving]
    share = float(np.mean(moving))
    rms_force = float(np.sqrt(np.mean(asked**2)))
    rms_power = float(np.sqrt(np.mean((asked * speeds) ** 2) * share))
    driving = loss_at(book, "drive", float(np.mean(speeds)), rms_force)
    standing = loss_at(book, "drive", 0.0, 0.0)
    return share * driving + (1.0 - share) * standing, rms_power


def range_estimate(book: FigureBook, name: str) -> None:
    """Write ``estimate.<name>.range`` from the usable energy and the estimated consumption."""
    book.make(
        driving_range,
        f"estimate.{name}.range",
        label="range, short estimate",
        usable_energy="pack.usable_energy",
        consumption=f"estimate.{name}.consumption",
    )


def steady_estimate(book: FigureBook, name: str, day: str, auxiliary: Source) -> None:
    """Write the estimate of a steady speed's consumption: ``estimate.<name>.consumption``.

    ``auxiliary`` is the load beside the drive.
    """
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
    keep_point_efficiency(book, f"{start}.efficiency", speed, book.number(f"{start}.force"))
    book.make(
        battery_power,
        f"{start}.battery_power",
        wheel_power=f"{start}.wheel_power",
        efficiency=f"{start}.efficiency",
        auxiliary_power=auxiliary,
    )
    book.make(
        steady_consumption,
        f"{start}.consumption",
        label="battery consumption, short estimate",
        power=f"{start}.battery_power",
        speed="goals.range.at",
    )
