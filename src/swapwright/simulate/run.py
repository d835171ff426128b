"""Whole runs: over a trace, recorded, until empty, at full throttle. All call the one `step`."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from swapwright.physics.compiled import inlined, kernel
from swapwright.physics.pack.cell_step import look_up
from swapwright.simulate.inputs import EMPTY_LEDGER, Ledger, Setup, State
from swapwright.simulate.step import step

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
_UNREACHABLE = 1.0e3


@kernel
def run(
    setup: Setup, state: State, speeds: FloatArray, grades: FloatArray, dt: float
) -> tuple[State, Ledger]:
    """Drive a trace of speeds m/s, ``dt`` s apart; ``grades`` are sines, or empty for level."""
    level = grades.shape[0] == 0
    ledger = EMPTY_LEDGER
    look = look_up(setup.cells, setup.pack, state.charge, state.cell_temperature, dt)
    for i in range(1, speeds.shape[0]):
        grade = 0.0 if level else grades[i - 1]
        if (i - 1) % LOOK_EVERY == 0:
            look = look_up(setup.cells, setup.pack, state.charge, state.cell_temperature, dt)
        state, ledger = step(setup, look, state, ledger, speeds[i], grade, dt)
    return state, ledger


@inlined
def record_step(
    out: FloatArray, i: int, before: Ledger, state: State, after: Ledger, setup: Setup
) -> None:
    """Write one step's end into row i of ``out`` (columns of `COLUMNS`)."""
    dt = after.time - before.time
    distance = after.distance - before.distance
    work = (after.wheel_positive - before.wheel_positive) - (
        after.wheel_negative - before.wheel_negative
    )
    energy = (after.terminal_out - before.terminal_out) - (after.terminal_in - before.terminal_in)
    out[i, 0] = after.time
    out[i, 1] = state.speed
    out[i, 2] = after.distance
    out[i, 3] = work / distance if distance > 0.0 else 0.0
    out[i, 4] = energy / dt
    out[i, 5] = state.volts
    out[i, 6] = energy / dt / state.volts
    out[i, 7] = 1.0 - state.charge / setup.pack.capacity
    out[i, 8] = state.cell_temperature
    out[i, 9] = state.motor_temperature
    out[i, 10] = state.inverter_temperature
    out[i, 11] = state.gear
    out[i, 12] = after.limit


@kernel
def run_recorded(
    setup: Setup,
    state: State,
    speeds: FloatArray,
    grades: FloatArray,
    dt: float,
    out: FloatArray,
) -> tuple[State, Ledger]:
    """Drive a trace as `run` does and write every step into ``out`` [steps, columns]."""
    level = grades.shape[0] == 0
    ledger = EMPTY_LEDGER
    look = look_up(setup.cells, setup.pack, state.charge, state.cell_temperature, dt)
    for i in range(1, speeds.shape[0]):
        grade = 0.0 if level else grades[i - 1]
        before = ledger
        if (i - 1) % LOOK_EVERY == 0:
            look = look_up(setup.cells, setup.pack, state.charge, state.cell_temperature, dt)
        state, ledger = step(setup, look, state, ledger, speeds[i], grade, dt)
        record_step(out, i - 1, before, state, ledger, setup)
    return state, ledger


@kernel
def run_until_empty(
    setup: Setup,
    state: State,
    speeds: FloatArray,
    dt: float,
    most_steps: int,
) -> tuple[State, Ledger, int]:
    """Repeat a level trace until the pack is at its floor; return also the steps taken.

    The trace must start and end at one speed. A count equal to ``most_steps`` means it was not
    empty yet. The last step is taken whole.
    """
    steps = 0
    ledger = EMPTY_LEDGER
    look = look_up(setup.cells, setup.pack, state.charge, state.cell_temperature, dt)
    points = speeds.shape[0] - 1
    empty = setup.pack.capacity * (1.0 - setup.pack.floor)
    while steps < most_steps and state.charge < empty:
        if steps % LOOK_EVERY == 0:
            look = look_up(setup.cells, setup.pack, state.charge, state.cell_temperature, dt)
        state, ledger = step(setup, look, state, ledger, speeds[1 + steps % points], 0.0, dt)
        steps += 1
    return state, ledger, steps


@kernel
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
    steps = 0
    ledger = EMPTY_LEDGER
    look = look_up(setup.cells, setup.pack, state.charge, state.cell_temperature, dt)
    while steps < out.shape[0] and (state.speed < until_speed or ledger.distance < until_distance):
        before = ledger
        if steps % LOOK_EVERY == 0:
            look = look_up(setup.cells, setup.pack, state.charge, state.cell_temperature, dt)
        state, ledger = step(setup, look, state, ledger, _UNREACHABLE, sin_grade, dt)
        record_step(out, steps, before, state, ledger, setup)
        steps += 1
    return state, ledger, steps


def fresh(
    setup: Setup, *, soc: float, speed: float = 0.0, temperature: float | None = None
) -> State:
    """Return the state at the start of a run: everything at one temperature, cells rested.

    ``soc`` 0..1, ``speed`` m/s, ``temperature`` K (the ambient by default).
    """
    start = setup.ambient if temperature is None else temperature
    places = np.linspace(0.0, 1.0, setup.cells.ocv.shape[0])
    rest = float(np.interp(soc, places, setup.cells.ocv))
    return State(
        speed=speed,
        charge=(1.0 - soc) * setup.pack.capacity,
        v1=0.0,
        v2=0.0,
        overload=0.0,
        cell_temperature=start,
        motor_temperature=start,
        inverter_temperature=start,
        motor_temperature_2=start,
        inverter_temperature_2=start,
        volts=rest * setup.pack.series,
        gear=0.0,
        gear_2=0.0,
        shift_left=0.0,
    )


def drive_trace(
    setup: Setup,
    state: State,
    speeds: FloatArray,
    *,
    grades: FloatArray = NO_GRADE,
    dt: float = 1.0,
) -> tuple[State, Ledger]:
    """Run a trace with an empty ledger; see `run`."""
    return run(setup, state, speeds, grades, dt)
