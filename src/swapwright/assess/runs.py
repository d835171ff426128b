"""The runs an assessment makes on a car: cycles, until empty, full throttle, a climb."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from swapwright.assess.energy import energy_ledger
from swapwright.simulate.inputs import Ledger, Setup, State
from swapwright.simulate.run import (
    COLUMNS,
    drive_trace,
    fresh,
    full_throttle,
    run_recorded,
    run_until_empty,
)
from swapwright.standards.cycles import cycle

FloatArray = NDArray[np.float64]

STEP = 1.0
LEVEL: FloatArray = np.zeros(0)
STEADY_STEP = 5.0
MINUTE = 60.0
THROTTLE_STEP = 0.05
THROTTLE_TIME = 60.0

_TIME, _SPEED, _DISTANCE = (COLUMNS.index(name) for name in ("time", "speed", "distance"))


@dataclass(frozen=True)
class Run:
    """One finished run: what it ran on, its states before and after, and its ledger."""

    name: str
    setup: Setup
    before: State
    after: State
    ledger: Ledger
    steps: int

    @cached_property
    def energy(self) -> Mapping[str, float]:
        """Return where the pack's energy went, J; see `energy_ledger`."""
        return MappingProxyType(energy_ledger(self.setup, self.before, self.after, self.ledger))

    @property
    def battery_energy(self) -> float:
        """Return the net energy J that left the pack's terminals."""
        return self.ledger.terminal_out - self.ledger.terminal_in


@dataclass(frozen=True)
class RecordedRun(Run):
    """A run with a row of every step (columns `COLUMNS`)."""

    trace: FloatArray


@lru_cache(maxsize=32)
def trace_of(name: str, every: int = 1) -> FloatArray:
    """Return a cycle's speeds m/s at 1 Hz, or only those of every so many seconds."""
    return np.array(cycle(name).speeds[::every])


def on_cycle(setup: Setup, name: str, *, soc: float, every: int = 1) -> Run:
    """Drive one cycle once from a state of charge.

    ``every`` so many seconds the car's speed is that of the cycle; between them it is straight.
    """
    speeds = trace_of(name, every)
    before = fresh(setup, soc=soc)
    after, ledger = drive_trace(setup, before, speeds, dt=STEP * every)
    return Run(name, setup, before, after, ledger, len(speeds) - 1)


def recorded_cycle(setup: Setup, name: str, *, soc: float) -> RecordedRun:
    """Drive one cycle once from a state of charge and keep every step."""
    return recorded_run(setup, name, fresh(setup, soc=soc), trace_of(name))


def recorded_run(
    setup: Setup,
    name: str,
    before: State,
    speeds: FloatArray,
    grades: FloatArray = LEVEL,
    dt: float = STEP,
) -> RecordedRun:
    """Drive a trace and keep every step."""
    out = np.zeros((max(len(speeds) - 1, 0), len(COLUMNS)))
    after, ledger = run_recorded(setup, before, speeds, grades, dt, out)
    return RecordedRun(name, setup, before, after, ledger, len(out), out)


def until_empty(setup: Setup, name: str, *, soc: float, most_steps: int) -> Run:
    """Repeat a cycle from a state of charge until the usable window is empty, or for most steps."""
    before = fresh(setup, soc=soc)
    after, ledger, steps = run_until_empty(setup, before, trace_of(name), STEP, most_steps)
    return Run(name, setup, before, after, ledger, steps)


def steady(setup: Setup, speed: float, *, soc: float) -> Run:
    """Hold a speed m/s for a minute from a state of charge."""
    before = fresh(setup, soc=soc, speed=speed)
    speeds = np.full(round(MINUTE / STEADY_STEP) + 1, speed)
    after, ledger = drive_trace(setup, before, speeds, dt=STEADY_STEP)
    return Run("steady", setup, before, after, ledger, len(speeds) - 1)


def steady_until_empty(setup: Setup, speed: float, *, soc: float, most_steps: int) -> Run:
    """Hold a speed m/s from a charge until the usable window is empty, or for most steps."""
    before = fresh(setup, soc=soc, speed=speed)
    speeds = np.full(2, speed)
    after, ledger, steps = run_until_empty(setup, before, speeds, STEADY_STEP, most_steps)
    return Run("steady", setup, before, after, ledger, steps)


def throttle(
    setup: Setup,
    *,
    soc: float,
    until_speed: float,
    until_distance: float,
    time: float = THROTTLE_TIME,
    step: float = THROTTLE_STEP,
) -> RecordedRun:
    """Accelerate from rest as hard as the car can, recorded, until both ends are reached.

    ``until_speed`` m/s, ``until_distance`` m; ``time`` s the car is given for it, ``step`` s.
    """
    out = np.zeros((round(time / step), len(COLUMNS)))
    before = fresh(setup, soc=soc)
    after, ledger, steps = full_throttle(setup, before, 0.0, step, until_speed, until_distance, out)
    return RecordedRun("full throttle", setup, before, after, ledger, steps, out[:steps])


def hold(
    setup: Setup, *, speed: float, grade: float, time: float, soc: float, step: float = STEP
) -> RecordedRun:
    """Hold a speed m/s on a grade (rise over run) for a time s in steps s, recorded."""
    points = max(round(time / step), 1) + 1
    speeds = np.full(points, speed)
    sines = np.full(points - 1, np.sin(np.arctan(grade)))
    before = fresh(setup, soc=soc, speed=speed)
    return recorded_run(setup, "climb", before, speeds, sines, step)


def time_to_speed(run: RecordedRun, speed: float) -> float | None:
    """Return the time s at which a recorded run reaches a speed m/s, or None."""
    return _crossing(run, _SPEED, speed, _TIME)


def time_to_distance(run: RecordedRun, distance: float) -> float | None:
    """Return the time s at which a recorded run has covered a distance m, or None."""
    return _crossing(run, _DISTANCE, distance, _TIME)


def speed_at_distance(run: RecordedRun, distance: float) -> float | None:
    """Return the speed m/s of a recorded run at a distance m, or None."""
    return _crossing(run, _DISTANCE, distance, _SPEED)


def _crossing(run: RecordedRun, column: int, level: float, wanted: int) -> float | None:
    """Interpolate ``wanted`` where a column that rises from zero first reaches a level."""
    reached = np.nonzero(run.trace[:, column] >= level)[0]
    if not len(reached):
        return None
    i = int(reached[0])
    high = run.trace[i]
    low = run.trace[i - 1] if i else np.zeros_like(high)
    span = high[column] - low[column]
    part = 1.0 if span <= 0.0 else (level - low[column]) / span
    return float(low[wanted] + part * (high[wanted] - low[wanted]))
