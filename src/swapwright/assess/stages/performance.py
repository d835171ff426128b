"""Performance: launch, acceleration, top speed, climbing, and the drive map they rest on."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from swapwright.assess import drive_parts, estimate_performance, runs
from swapwright.assess.book import FigureBook, standard
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.runs import Run
from swapwright.assess.simulated import simulated_figure
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp
from swapwright.physics.drive.gearing import reflected_mass
from swapwright.physics.drive.limit import lesser_force
from swapwright.physics.vehicle.performance import climb_power, gradeability, thrust_to_weight
from swapwright.physics.vehicle.road_load import grade_force, road_load
from swapwright.simulate.deliverable import DELIVERED, deliverable_force
from swapwright.simulate.inputs import LIMITS, Setup
from swapwright.simulate.run import COLUMNS, fresh

FloatArray = NDArray[np.float64]

SPEED_MARKS = "definition-speed-marks"
SIXTY_MPH = standard(60 * 0.44704, "m/s", SPEED_MARKS)
HUNDRED_KMH = standard(100 / 3.6, "m/s", SPEED_MARKS)
THIRTY_MPH = standard(30 * 0.44704, "m/s", SPEED_MARKS)
ROLLOUT = standard(0.3048, "m", SPEED_MARKS)
EIGHTH_MILE = standard(201.168, "m", SPEED_MARKS)
QUARTER_MILE = standard(402.336, "m", SPEED_MARKS)
ACCELERATION_SOC = standard(0.80, "1", "swapwright-acceleration-charge")
MAP_SOC = standard(0.50, "1", "swapwright-map-half-charge")
MAP_POINTS = 80
MAP_END = 0.9995
"""Share of the motor's highest speed the map goes to: at the limit itself there is no force."""

_FORCE, _LIMIT, _POWER = (DELIVERED.index(name) for name in ("force", "limit", "power"))
_VOLTS, _AMPS, _ROAD = (DELIVERED.index(name) for name in ("volts", "current", "road_load"))


def performance(book: FigureBook) -> None:
    """Write launch, acceleration, top speed and climbing figures."""
    with book.attempt(
        "drive.launch_force",
        "drive.peak_wheel_power",
        "drive.peak_battery_power",
        "drive.peak_current",
        "drive.lowest_voltage",
        "drive.reflected_mass",
        "top_speed.peak",
        "top_speed.sustained",
        *(name for name, _, _ in _MARKS),
    ):
        kit = setup(book)
        _reflected(book)
        _map(book, kit)
        estimate_performance.top_speed_estimate(book)
        _throttle(book, kit)
    _start_grade(book)
    _climb(book)


def drive_map(kit: Setup, speeds: FloatArray, *, soc: float, hot: bool = False) -> FloatArray:
    """Return what the car delivers at road speeds (columns `DELIVERED`), cells rested.

    ``hot`` leaves only what motor and inverter give for good.
    """
    state = fresh(kit, soc=soc)
    if hot:
        state = state._replace(
            motor_temperature=kit.drive.first.motor_max_temperature,
            motor_temperature_2=kit.drive.second.motor_max_temperature,
            overload=1e12,
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


def _map(book: FigureBook, kit: Setup) -> None:
    """Write launch force, wheel power and top speeds from the drive map at half charge."""
    fastest = max(
        book.number(f"{drive_parts.figure_prefix(prefix)}.top_speed")
        for prefix in drive_parts.units(book)
    )
    speeds = np.linspace(0.0, fastest * MAP_END, MAP_POINTS)
    peak = drive_map(kit, speeds, soc=MAP_SOC.si)
    lasting = drive_map(kit, speeds, soc=MAP_SOC.si, hot=True)
    wheel_power = peak[:, _FORCE] * speeds
    most_power, most_amps = int(np.argmax(wheel_power)), int(np.argmax(peak[:, _AMPS]))
    least_volts = int(np.argmin(peak[:, _VOLTS]))

    def keep(name: str, label: str, si: float, unit: str, kind: str, place: int) -> None:
        row = f"{speeds[place]:.1f} m/s" if place else "rest"
        _from_map(book, name, label, si, unit, kind, row, LIMITS[int(peak[place, _LIMIT])])

    keep("drive.launch_force", "force at the road from rest", peak[0, _FORCE], "N", "force", 0)
    keep(
        "drive.peak_wheel_power",
        "largest power at the road",
        wheel_power[most_power],
        "W",
        "power",
        most_power,
    )
    keep(
        "drive.peak_battery_power",
        "power drawn from the pack there",
        peak[most_power, _POWER],
        "W",
        "power",
        most_power,
    )
    keep(
        "drive.peak_current",
        "largest pack current",
        peak[most_amps, _AMPS],
        "A",
        "current",
        most_amps,
    )
    keep(
        "drive.lowest_voltage",
        "lowest pack voltage under full power, half charge",
        peak[least_volts, _VOLTS],
        "V",
        "voltage",
        least_volts,
    )
    meets = "deliverable force meets road load"
    for name, label, table in (
        ("top_speed.peak", "top speed, while peak power lasts", peak),
        ("top_speed.sustained", "top speed that can be held", lasting),
    ):
        held, limit = _held_speed(speeds, table)
        _from_map(book, name, label, held, "m/s", "speed", meets, limit)


def _from_map(
    book: FigureBook,
    figure_id: str,
    label: str,
    si: float,
    unit: str,
    kind: str,
    row: str,
    limit: str,
) -> None:
    """Keep a number read off the drive map, with the limit that sets it."""
    cell = LookedUp("drive map at half charge", row, f"limited by {limit}", "swapwright-drive-map")
    book.look_up(
        figure_id,
        label,
        float(si),
        unit,
        cell,
        kind,
        soc=MAP_SOC,
        mass=book.value("mass.test"),
    )


def _held_speed(speeds: FloatArray, table: FloatArray) -> tuple[float, str]:
    """Return the highest speed at which the force still covers the road load, and the limit."""
    spare = table[:, _FORCE] - table[:, _ROAD]
    holding = np.nonzero(spare >= 0.0)[0]
    if not len(holding):
        return 0.0, LIMITS[int(table[0, _LIMIT])]
    i = int(holding[-1])
    if i == len(speeds) - 1:
        return float(speeds[i]), "motor speed"
    part = spare[i] / (spare[i] - spare[i + 1])
    return float(speeds[i] + part * (speeds[i + 1] - speeds[i])), LIMITS[int(table[i + 1, _LIMIT])]


_MARKS = (
    ("accel.0_30mph", "0-30 mph", THIRTY_MPH),
    ("accel.0_60mph", "0-60 mph", SIXTY_MPH),
    ("accel.0_100kmh", "0-100 km/h", HUNDRED_KMH),
)


def _throttle(book: FigureBook, kit: Setup) -> None:
    run = runs.throttle(
        kit, soc=ACCELERATION_SOC.si, until_speed=HUNDRED_KMH.si, until_distance=QUARTER_MILE.si
    )
    settings = {
        "driver": "full throttle from rest, level road",
        "state of charge": f"{ACCELERATION_SOC.si:.0%}",
        "step": f"{runs.THROTTLE_STEP} s",
        "limit at the end": LIMITS[int(run.after.limit)],
    }
    start = runs.time_to_distance(run, ROLLOUT.si)
    for name, label, mark in _MARKS:
        estimate_performance.acceleration_estimate(book, name, mark)
        estimate = f"estimate.{name}.time"
        with book.attempt(name):
            time = _reached(runs.time_to_speed(run, mark.si), label, run)
            simulated_figure(book, name, label, (time, "s", "time"), run, estimate, settings)
        if name == "accel.0_60mph" and start is not None:
            with book.attempt("accel.0_60mph_rollout"):
                time = _reached(runs.time_to_speed(run, mark.si), label, run) - start
                simulated_figure(
                    book,
                    "accel.0_60mph_rollout",
                    f"{label}, 1 ft rollout",
                    (time, "s", "time"),
                    run,
                    estimate,
                    settings,
                )
    _strip(book, run, settings)


def _strip(book: FigureBook, run: Run, settings: dict[str, str]) -> None:
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


def _reached(number: float | None, what: str, run: Run) -> float:
    if number is None:
        raise Missing(reason=f"{what} is not reached in {run.ledger.time:.0f} s")
    return number


def _start_grade(book: FigureBook) -> None:
    """Write the steepest grade the car can start on: drive or tyre grip, whichever is less."""
    book.make(
        lesser_force,
        "start_grade.force",
        label="force at the road from rest, within tyre grip",
        first="unit.peak_force",
        second="traction.limit" if book.has("traction.limit") else "unit.peak_force",
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


def _climb(book: FigureBook) -> None:
    """Write what holding the goal's grade does: speed kept, power, motor and inverter heat."""
    book.make(grade_force, "climb.grade_force", mass="mass.test", grade="goals.climb.grade")
    book.make(
        road_load,
        "climb.road_load",
        label="road load at the climb's speed",
        a="road.a",
        b="road.b",
        c="road.c",
        speed="goals.climb.at",
        headwind="conditions.headwind",
    )
    book.make(
        climb_power,
        "climb.wheel_power",
        label="wheel power to hold the climb",
        road_load="climb.road_load",
        grade_force="climb.grade_force",
        speed="goals.climb.at",
    )
    names = (
        "climb.speed",
        "climb.battery_power",
        "climb.motor_temperature",
        "climb.inverter_temperature",
        "climb.cell_temperature",
    )
    with book.attempt(*names):
        speed = book.number("goals.climb.at")
        time = book.number("goals.climb.for")
        grade = book.number("goals.climb.grade")
        run = runs.hold(setup(book), speed=speed, grade=grade, time=time, soc=ACCELERATION_SOC.si)
        estimate_performance.climb_estimate(book)
        settings = {
            "grade": f"{grade:.1%}",
            "time": f"{time:.0f} s",
            "seconds behind": f"{run.ledger.shortfall:.0f}",
            "limit at the end": LIMITS[int(run.after.limit)],
        }
        assert run.trace is not None
        power = float(run.trace[-1, COLUMNS.index("power")])
        held = run.after.speed if run.ledger.shortfall else speed
        for figure_id, label, value, estimate in (
            (
                "climb.speed",
                "speed at the end of the climb",
                (held, "m/s", "speed"),
                "estimate.climb.speed",
            ),
            (
                "climb.battery_power",
                "pack power at the end of the climb",
                (power, "W", "power"),
                "estimate.climb.battery_power",
            ),
        ):
            simulated_figure(book, figure_id, label, value, run, estimate, settings)
        _temperatures(book, run, settings)


def _temperatures(book: FigureBook, run: Run, settings: dict[str, str]) -> None:
    assert run.trace is not None
    for part, label in (
        ("motor", "winding temperature"),
        ("inverter", "inverter temperature"),
        ("cell", "cell temperature"),
    ):
        column = COLUMNS.index(f"{part}_temperature")
        book.look_up(
            f"climb.{part}_temperature",
            f"highest {label} on the climb",
            float(np.max(run.trace[:, column])),
            "K",
            LookedUp("simulated climb", settings["time"], label, "swapwright-climb-run"),
            "temperature",
            grade=book.value("goals.climb.grade"),
            speed=book.value("goals.climb.at"),
        )
