"""Performance: launch, acceleration, top speed, climbing, and the drive map they rest on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from swapwright.assess import estimate_performance, runs
from swapwright.assess.book import FigureBook
from swapwright.assess.controller import is_held_back
from swapwright.assess.days import HOT
from swapwright.assess.kernel_inputs import SHIFTED_AT_REST, setup, setup_on
from swapwright.assess.runs import RecordedRun
from swapwright.assess.simulated import simulated_figure
from swapwright.assess.steady_heat import heat_left
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp
from swapwright.physics.drive.gearing import reflected_mass
from swapwright.physics.drive.limit import lesser_force
from swapwright.physics.vehicle.performance import gradeability, thrust_to_weight
from swapwright.simulate.deliverable import DELIVERED, deliverable_force
from swapwright.simulate.inputs import LIMITS, Setup
from swapwright.simulate.run import fresh
from swapwright.standards.marks import (
    ACCELERATION_SOC,
    EIGHTH_MILE,
    HALF_SOC,
    HUNDRED_KMH,
    QUARTER_MILE,
    ROLLOUT,
    SIXTY_MPH,
    THIRTY_MPH,
)
from swapwright.standards.ratings import NO_DERATING

FloatArray = NDArray[np.float64]

MAP_POINTS = 80
ENDLESS = 1e12
"""A filtered square of the current, A^2, that leaves cells their continuous current only."""
MAP_END = 0.9995
"""Share of the motor's highest speed the map goes to: at the limit itself there is no force."""

_FORCE, _LIMIT, _POWER = (DELIVERED.index(name) for name in ("force", "limit", "power"))
_VOLTS, _AMPS, _ROAD = (DELIVERED.index(name) for name in ("volts", "current", "road_load"))


def performance(book: FigureBook) -> None:
    """Write launch, acceleration and top speed figures, and the grade the car starts on."""
    with book.attempt(
        "drive.launch_force",
        "drive.peak_wheel_power",
        "drive.peak_battery_power",
        "drive.peak_current",
        "drive.lowest_voltage",
        "drive.reflected_mass",
        "top_speed.peak",
        "top_speed.sustained",
        "accel.start_force",
        *(name for name, _, _ in MARKS),
    ):
        kit = setup(book)
        _reflected(book)
        from_map(book, kit)
        estimate_performance.top_speed_estimate(book)
        _throttle(book, kit)
    _start_grade(book)


def drive_map(
    kit: Setup, speeds: FloatArray, *, soc: float, hot: bool = False, tired: bool = False
) -> FloatArray:
    """Return what the car delivers at road speeds (columns `DELIVERED`), cells at rest before.

    ``tired`` leaves only what the cells give for good; ``hot`` besides only what motor and
    inverter do.
    """
    state = fresh(kit, soc=soc)
    if hot or tired:
        state = state._replace(overload=ENDLESS, overload_charge=ENDLESS)
    if hot:
        state = state._replace(
            motor_temperature=kit.drive.first.motor_max_temperature,
            motor_temperature_2=kit.drive.second.motor_max_temperature,
        )
    out = np.zeros((len(speeds), len(DELIVERED)))
    deliverable_force(kit, state, speeds, 0.0, out)
    return out


def _reflected(book: FigureBook) -> None:
    book.make(
        reflected_mass,
        "drive.reflected_mass",
        label="motor inertia as mass, lowest gear used",
        inertia="drive.motor.inertia",
        ratio="unit.lowest_overall",
        radius="tyre.radius",
    )


class Read(NamedTuple):
    """A number read off the drive map: the figure it is, where it stands, and what limits it."""

    figure_id: str
    label: str
    si: float
    unit: str
    kind: str
    row: str
    limit: str
    source: str = "swapwright-drive-map"


def from_map(book: FigureBook, kit: Setup) -> None:
    """Write launch force, wheel power and top speeds from the drive map at half charge."""
    for read in map_reads(book, kit, MAP_POINTS):
        keep_read(book, read)


def map_reads(book: FigureBook, kit: Setup, points: int) -> Iterator[Read]:
    """Give launch force, wheel power and top speeds from a map of so many points.

    ``kit`` is the car as it is run; where gears are changed at rest it launches in the lowest.
    """
    speeds = np.linspace(0.0, book.number("drive.top_speed") * MAP_END, points)
    peak = drive_map(kit, speeds, soc=HALF_SOC.si)
    start = peak[0]
    if book.car.texts.get("drive.gearbox.shift") == SHIFTED_AT_REST:
        start = drive_map(setup(book, is_every_gear=True), speeds[:1], soc=HALF_SOC.si)[0]
    yield Read(
        "drive.launch_force",
        "force at the road from rest",
        float(start[_FORCE]),
        "N",
        "force",
        "rest",
        LIMITS[int(start[_LIMIT])],
    )
    yield from _extremes(speeds, peak)
    held, limit = held_speed(speeds, peak[:, _FORCE] - peak[:, _ROAD], peak[:, _LIMIT])
    yield Read(
        "top_speed.peak",
        "top speed, while peak power lasts",
        held,
        "m/s",
        "speed",
        "deliverable force meets road load",
        limit,
    )
    yield _sustained(setup_on(kit, book, day=HOT), speeds, held)


def _extremes(speeds: FloatArray, peak: FloatArray) -> Iterator[Read]:
    """Give the map's force at rest, largest power and current, and lowest voltage."""
    wheel_power = peak[:, _FORCE] * speeds
    most_power, most_amps = int(np.argmax(wheel_power)), int(np.argmax(peak[:, _AMPS]))
    least_volts = int(np.argmin(peak[:, _VOLTS]))
    for name, label, column, unit, kind, place in (
        ("accel.start_force", "force a sprint starts with", peak[:, _FORCE], "N", "force", 0),
        (
            "drive.peak_wheel_power",
            "largest power at the road",
            wheel_power,
            "W",
            "power",
            most_power,
        ),
        (
            "drive.peak_battery_power",
            "power drawn from the pack there",
            peak[:, _POWER],
            "W",
            "power",
            most_power,
        ),
        (
            "drive.peak_current",
            "largest pack current",
            peak[:, _AMPS],
            "A",
            "current",
            most_amps,
        ),
        (
            "drive.lowest_voltage",
            "lowest pack voltage under full power, half charge",
            peak[:, _VOLTS],
            "V",
            "voltage",
            least_volts,
        ),
    ):
        row = f"{speeds[place]:.1f} m/s" if place else "rest"
        limit = LIMITS[int(peak[place, _LIMIT])]
        yield Read(name, label, float(column[place]), unit, kind, row, limit)


def _sustained(kit: Setup, speeds: FloatArray, peak_speed: float) -> Read:
    """Return the speed that can be held for good on a hot day.

    At each speed motor and inverter warm until their heat paths carry the losses away; what that
    temperature leaves between continuous and peak, with the cells' continuous current, has to cover
    the road load.
    """
    peak = drive_map(kit, speeds, soc=HALF_SOC.si, tired=True)
    lasting = drive_map(kit, speeds, soc=HALF_SOC.si, hot=True)[:, _FORCE]
    left = heat_left(kit, speeds, peak[:, _ROAD])
    force = np.where(
        left > 0.0, lasting + (peak[:, _FORCE] - lasting) * left, lasting * (1.0 + left)
    )
    limits = np.where(left < NO_DERATING.si, float(LIMITS.index("heat")), peak[:, _LIMIT])
    held, limit = held_speed(speeds, force - peak[:, _ROAD], limits)
    return Read(
        "top_speed.sustained",
        "top speed that can be held, hot day",
        min(held, peak_speed),
        "m/s",
        "speed",
        "what the steady temperatures leave meets road load",
        limit,
        "swapwright-steady-heat",
    )


def keep_read(book: FigureBook, read: Read) -> Read:
    """Keep a number read off the drive map, with the limit that sets it; return it."""
    book.look_up(
        read.figure_id,
        read.label,
        float(read.si),
        read.unit,
        LookedUp("drive map at half charge", read.row, f"limited by {read.limit}", read.source),
        read.kind,
        soc=HALF_SOC,
        mass=book.value("mass.test"),
    )
    return read


def held_speed(speeds: FloatArray, spare: FloatArray, limits: FloatArray) -> tuple[float, str]:
    """Return the highest speed at which force N is left over the road load, and the limit."""
    holding = np.nonzero(spare >= 0.0)[0]
    if not len(holding):
        return 0.0, LIMITS[int(limits[0])]
    i = int(holding[-1])
    if i == len(speeds) - 1:
        return float(speeds[i]), "motor speed"
    part = spare[i] / (spare[i] - spare[i + 1])
    return float(speeds[i] + part * (speeds[i + 1] - speeds[i])), LIMITS[int(limits[i + 1])]


MARKS = (
    ("accel.0_30mph", "0-30 mph", THIRTY_MPH),
    ("accel.0_60mph", "0-60 mph", SIXTY_MPH),
    ("accel.0_100kmh", "0-100 km/h", HUNDRED_KMH),
)


ROLLED = "accel.0_60mph"
"""The sprint also timed with a foot of rollout."""


def sprint(book: FigureBook, kit: Setup, step: float = runs.THROTTLE_STEP) -> RecordedRun:
    """Return a run at full throttle over the quarter mile and to the last of the speed marks.

    The car is given a minute, or as long as its goals allow.
    """
    wanted = (book.get(goal) or 0.0 for goal in ("goals.zero_to_60", "goals.zero_to_100"))
    return runs.throttle(
        kit,
        soc=ACCELERATION_SOC.si,
        until_speed=HUNDRED_KMH.si,
        until_distance=QUARTER_MILE.si,
        time=max(runs.THROTTLE_TIME, *wanted),
        step=step,
    )


def _throttle(book: FigureBook, kit: Setup) -> None:
    run = book.recorded["sprint"] = sprint(book, kit)
    settings = {
        "driver": "full throttle from rest, level road",
        "state of charge": f"{ACCELERATION_SOC.si:.0%}",
        "step": f"{runs.THROTTLE_STEP} s",
        "limit at the end": LIMITS[int(run.after.limit)],
    }
    start = runs.time_to_distance(run, ROLLOUT.si)
    for name, label, mark in MARKS:
        estimate_performance.acceleration_estimate(book, name, mark)
        estimate = f"estimate.{name}.time"
        with book.attempt(name):
            time = _reached(runs.time_to_speed(run, mark.si), label, run)
            simulated_figure(book, name, label, (time, "s", "time"), run, estimate, settings)
        if name == ROLLED and start is not None:
            with book.attempt(f"{ROLLED}_rollout"):
                time = _reached(runs.time_to_speed(run, mark.si), label, run) - start
                simulated_figure(
                    book,
                    f"{ROLLED}_rollout",
                    f"{label}, 1 ft rollout",
                    (time, "s", "time"),
                    run,
                    estimate,
                    settings,
                )
    _strip(book, run, settings)


def _strip(book: FigureBook, run: RecordedRun, settings: dict[str, str]) -> None:
    for name, words, mark in (
        ("eighth", "eighth mile", EIGHTH_MILE),
        ("quarter", "quarter mile", QUARTER_MILE),
    ):
        estimate_performance.strip_estimate(book, f"accel.{name}_mile", mark)
        with book.attempt(f"accel.{name}_mile", f"accel.{name}_mile_speed"):
            time = _reached(runs.time_to_distance(run, mark.si), words, run)
            speed = _reached(runs.speed_at_distance(run, mark.si), words, run)
            simulated_figure(
                book,
                f"accel.{name}_mile",
                words,
                (time, "s", "time"),
                run,
                f"estimate.accel.{name}_mile.time",
                settings,
            )
            simulated_figure(
                book,
                f"accel.{name}_mile_speed",
                f"{words}, trap speed",
                (speed, "m/s", "speed"),
                run,
                f"estimate.accel.{name}_mile.speed",
                settings,
            )


def _reached(number: float | None, what: str, run: RecordedRun) -> float:
    if number is None:
        raise Missing(reason=f"{what} is not reached in {run.ledger.time:.0f} s")
    return number


def _start_grade(book: FigureBook) -> None:
    """Write the steepest grade the car can start on: drive or tyre grip, whichever is less."""
    book.make(
        lesser_force,
        "start_grade.force",
        label="force at the road from rest, within tyre grip",
        first="drive.launch_force" if is_held_back(book.car) else "drive.unlimited_force",
        second="traction.limit" if book.has("traction.limit") else "drive.unlimited_force",
    )
    book.make(
        thrust_to_weight,
        "start_grade.thrust",
        force="start_grade.force",
        drag=estimate_performance.NO_FORCE,
        mass="mass.test",
    )
    book.make(
        gradeability,
        "start_grade.drive",
        label="steepest grade it can start on",
        thrust_to_weight="start_grade.thrust",
        c_rr="road.c_rr",
    )
