"""Whole runs: over a trace, recorded, until empty, at full throttle. All are one compiled loop."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from swapwright.physics.compiled import inlined, kernel
from swapwright.physics.pack.cell_step import look_up
from swapwright.simulate.demand import (
    follow,
    follow_afresh,
    gears_in,
    has_gears,
    no_shift,
)
from swapwright.simulate.inputs import EMPTY_LEDGER, Ledger, Setup, State
from swapwright.simulate.step import NO_TARGET, step

FloatArray = NDArray[np.float64]

COLUMNS = (
    "time",
    "speed",
    "distance",
    "wheel_force",
    "power",
    "volts",
    "current",
    "soc",
    "cell_temperature",
    "motor_temperature",
    "inverter_temperature",
    "gear",
    "limit",
)
"""What `run_recorded` and `full_throttle` write a column of, per step, at the step's end."""

LOOK_EVERY = 8
"""Steps between two readings of the cell's resistance tables."""

NO_GRADE: FloatArray = np.zeros(0)
UNRECORDED: FloatArray = np.zeros((0, len(COLUMNS)))
FULL_THROTTLE: FloatArray = np.array([0.0, NO_TARGET])
_NEVER = 1e30


class Stop(NamedTuple):
    """When a run ends: after so many steps, at a charge drawn C, or when both a speed m/s and a
    distance m are reached."""

    steps: int
    charge: float
    speed: float
    distance: float


@kernel
def loop(
    setup: Setup,
    state: State,
    speeds: FloatArray,
    grades: FloatArray,
    dt: float,
    stop: Stop,
    record: FloatArray,
) -> tuple[State, Ledger, int]:
    """Drive a trace of speeds m/s, ``dt`` s apart, over and over until a stop; count the steps.

    ``grades`` are the sines of each step's grade, or empty for level; ``record`` [steps, columns]
    takes a row of each step, or is empty. With one gear the next step's demand is worked out before
    this step's answer of the pack is known, as if the trace will be followed: the processor then
    does both at once, and when it proves wrong the demand is done afresh.
    """
    last = speeds.shape[0] - 1
    if last < 1 or stop.steps < 1:
        return state, EMPTY_LEDGER, 0
    is_level = grades.shape[0] == 0
    is_recorded = record.shape[0] > 0
    is_foreseen = not has_gears(setup.drive)
    ledger = EMPTY_LEDGER
    look = look_up(setup.cells, setup.pack, state.charge, state.cell_temperature, dt)
    kept = gears_in(setup, state.gear, state.gear_2)
    ahead = follow(setup, kept, no_shift(kept), state.speed, speeds[1], 0.0, look.per_dt)
    is_stale = True
    steps = 0
    point = 1
    while (
        steps < stop.steps
        and state.charge < stop.charge
        and (state.speed < stop.speed or ledger.distance < stop.distance)
    ):
        if steps % LOOK_EVERY == 0:
            look = look_up(setup.cells, setup.pack, state.charge, state.cell_temperature, dt)
        target = speeds[point]
        grade = 0.0 if is_level else grades[point - 1]
        asked = follow_afresh(setup, state, target, grade, dt) if is_stale else ahead
        point = 1 if point == last else point + 1
        if is_foreseen:
            next_grade = 0.0 if is_level else grades[point - 1]
            ahead = follow(
                setup, kept, no_shift(kept), target, speeds[point], next_grade, look.per_dt
            )
        state, ledger = step(setup, look, state, ledger, asked, target, grade)
        is_stale = not is_foreseen or state.speed != target
        if is_recorded:
            record_step(record, steps, state, ledger, setup)
        steps += 1
    return state, ledger, steps


@inlined
def record_step(record: FloatArray, i: int, state: State, ledger: Ledger, setup: Setup) -> None:
    """Write one step's end into row i (columns of `COLUMNS`; force and power still as sums J)."""
    record[i, 0] = ledger.time
    record[i, 1] = state.speed
    record[i, 2] = ledger.distance
    record[i, 3] = ledger.wheel_positive - ledger.wheel_negative
    record[i, 4] = ledger.terminal_out - ledger.terminal_in
    record[i, 5] = state.volts
    record[i, 7] = 1.0 - state.charge / setup.pack.capacity
    record[i, 8] = state.cell_temperature
    record[i, 9] = state.motor_temperature
    record[i, 10] = state.inverter_temperature
    record[i, 11] = state.gear
    record[i, 12] = state.limit


def finish_record(record: FloatArray, dt: float) -> None:
    """Turn the recorded sums of work and energy J into force N, power W and current A."""
    each = record[:, 2:5].copy()
    each[1:] -= record[:-1, 2:5]
    distance, work, energy = each.T
    record[:, 3] = np.divide(work, distance, out=np.zeros(len(record)), where=distance > 0.0)
    record[:, 4] = energy / dt
    record[:, 6] = record[:, 4] / record[:, 5]


def to_the_end(speeds: FloatArray) -> Stop:
    """Return the stop that drives a trace once."""
    return Stop(speeds.shape[0] - 1, _NEVER, _NEVER, 0.0)


def check_lengths(speeds: FloatArray, grades: FloatArray, record: FloatArray) -> None:
    """Raise ValueError where the kernel would read or write past an array's end."""
    steps = max(speeds.shape[0] - 1, 0)
    if grades.shape[0] not in (0, steps):
        raise ValueError(f"{grades.shape[0]} grades for {steps} steps")
    if record.shape[0] and (record.shape[0] < steps or record.shape[1] != len(COLUMNS)):
        raise ValueError(f"a record of {record.shape} for {steps} steps of {len(COLUMNS)} columns")


def drive_trace(
    setup: Setup,
    state: State,
    speeds: FloatArray,
    *,
    grades: FloatArray = NO_GRADE,
    dt: float = 1.0,
) -> tuple[State, Ledger]:
    """Drive a trace of speeds m/s, ``dt`` s apart; ``grades`` are sines, or empty for level."""
    check_lengths(speeds, grades, UNRECORDED)
    stop = to_the_end(speeds)
    state, ledger, _ = loop(setup, state, speeds, grades, dt, stop, UNRECORDED)
    return state, ledger


def run_recorded(
    setup: Setup,
    state: State,
    speeds: FloatArray,
    grades: FloatArray,
    dt: float,
    out: FloatArray,
) -> tuple[State, Ledger]:
    """Drive a trace as `drive_trace` does and write every step into ``out`` [steps, columns]."""
    check_lengths(speeds, grades, out)
    stop = to_the_end(speeds)
    state, ledger, steps = loop(setup, state, speeds, grades, dt, stop, out)
    finish_record(out[:steps], dt)
    return state, ledger


def run_until_empty(
    setup: Setup, state: State, speeds: FloatArray, dt: float, most_steps: int
) -> tuple[State, Ledger, int]:
    """Repeat a level trace until the pack is at its floor; return also the steps taken.

    The trace must start and end at one speed. A count equal to ``most_steps`` means it was not
    empty yet. The last step is taken whole.
    """
    empty = setup.pack.capacity * (1.0 - setup.pack.floor)
    stop = Stop(most_steps if speeds.shape[0] > 1 else 0, empty, _NEVER, 0.0)
    return loop(setup, state, speeds, NO_GRADE, dt, stop, UNRECORDED)


def full_throttle(
    setup: Setup,
    state: State,
    sin_grade: float,
    dt: float,
    until_speed: float,
    until_distance: float,
    out: FloatArray,
) -> tuple[State, Ledger, int]:
    """Accelerate as hard as the car can, writing every step into ``out``; return the steps taken.

    Ends once both a speed m/s and a distance m are reached, or ``out`` is full.
    """
    stop = Stop(out.shape[0], _NEVER, until_speed, until_distance)
    grades = np.array([sin_grade])
    state, ledger, steps = loop(setup, state, FULL_THROTTLE, grades, dt, stop, out)
    finish_record(out[:steps], dt)
    return state, ledger, steps


def fresh(
    setup: Setup, *, soc: float, speed: float = 0.0, temperature: float | None = None
) -> State:
    """Return the state at the start of a run: everything at one temperature, cells rested.

    ``soc`` 0..1, ``speed`` m/s, ``temperature`` K (the ambient by default).
    """
    start = setup.ambient if temperature is None else temperature
    ocv = setup.cells.ocv
    place = min(max(soc, 0.0), 1.0) * (len(ocv) - 1)
    below = min(int(place), len(ocv) - 2)
    rest = float(ocv[below] + (place - below) * (ocv[below + 1] - ocv[below]))
    return State(
        speed=speed,
        charge=(1.0 - soc) * setup.pack.capacity,
        v1=0.0,
        v2=0.0,
        overload=0.0,
        overload_charge=0.0,
        cell_temperature=start,
        motor_temperature=start,
        inverter_temperature=start,
        motor_temperature_2=start,
        inverter_temperature_2=start,
        volts=rest * setup.pack.series,
        gear=0.0,
        gear_2=0.0,
        shift_left=0.0,
        limit=0.0,
    )
