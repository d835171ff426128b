"""Drive one car over one trace: the energy it took, where it went, and what limits it met."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swapwright.assess.book import FigureBook
from swapwright.assess.energy import energy_ledger
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.solve import design
from swapwright.assess.stages.ranges import charging
from swapwright.base.errors import InputError, Missing, Problem, UnitError
from swapwright.base.kinds import MILE
from swapwright.base.quantity import parse
from swapwright.build.car import Car
from swapwright.jobs.lacking import typed
from swapwright.jobs.opening import Opened
from swapwright.jobs.progress import Progress, unwatched
from swapwright.jobs.trace import Trace
from swapwright.simulate.inputs import LIMITS, Ledger, Setup, State
from swapwright.simulate.run import COLUMNS, Stop, finish_record, fresh, loop, to_the_end

FloatArray = NDArray[np.float64]

DAYS = {"mild": "", "cold": "_cold", "hot": "_hot"}
CABIN = {"mild": "", "cold": "auxiliaries.heater", "hot": "auxiliaries.air_conditioner"}
MOST_STEPS = 200_000
"""Steps one run may take before it is given up as too long."""

CHARGING = ("charging.power", "charging.efficiency")
"""What stands in for a charger the car does not name."""
WATT_HOUR_PER_MILE = 3600.0 / MILE
_SAME_SPEED = 0.5
_UNENDING = 1e30


@dataclass(frozen=True)
class Order:
    """What is to be driven: the trace, the day, the charge at the start (None: the window's top),
    and whether the trace is repeated until the usable window is empty."""

    trace: Trace
    day: str = "mild"
    soc: float | None = None
    until_empty: bool = False


@dataclass(frozen=True)
class Banded:
    """A number and the ends of its band, equal to it where no uncertain input moves it."""

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class Driven:
    """One drive. Energies J, distance m, times s, temperatures K.

    ``wall_per_distance`` J/m; ``energies`` as the run's energy ledger gives them, closing to zero;
    ``limits`` seconds each limit held the car back; ``swings`` what each uncertain input does to
    the wall consumption at its low and high end; ``assumed`` what was taken for want of an input,
    in words; ``table`` one row a step, columns `simulate.run.COLUMNS`.
    """

    order: Order
    distance: float
    duration: float
    wheel_energy_out: float
    wheel_energy_in: float
    battery_energy: float
    wall_energy: float
    wall_per_distance: Banded
    shortfall: float
    energies: Mapping[str, float]
    limits: Mapping[str, float]
    soc_start: float
    soc_end: float
    floor: float
    least_voltage: float
    most_voltage: float
    most_current: float
    most_charge_current: float
    hottest_motor: float
    hottest_inverter: float
    hottest_cell: float
    auxiliary_power: float
    swings: Mapping[str, tuple[float, float]]
    assumed: tuple[str, ...]
    table: FloatArray


@dataclass(frozen=True)
class _Kit:
    """A car made ready to run: kernel inputs, charge at the start, efficiency from the wall."""

    setup: Setup
    soc: float
    wall_efficiency: float
    assumed: tuple[str, ...]


@dataclass(frozen=True)
class _Run:
    setup: Setup
    before: State
    after: State
    ledger: Ledger
    table: FloatArray

    @property
    def battery_energy(self) -> float:
        return self.ledger.terminal_out - self.ledger.terminal_in


def drive(opened: Opened, order: Order, progress: Progress = unwatched) -> Driven:
    """Drive a car and bound what it takes from the wall by 2k + 1 runs over its k ranges.

    Raises InputError where the build does not give enough to drive, or the order cannot be driven.
    """
    _refuse(order)
    car = opened.car
    try:
        kit = _kit(car, order)
    except Missing as missing:
        raise InputError(_undriven(opened, missing)) from None
    run = _run(kit, order)
    if run.ledger.distance <= 0.0:
        raise InputError(Problem(opened.file, "", "the car does not move on this cycle"))
    nominal = _wall(kit, run)
    uncertain = car.uncertain()
    swings: dict[str, tuple[float, float]] = {}
    for done, path in enumerate(uncertain):
        progress(done, len(uncertain))
        swings[path] = _swing(car, path, order, nominal)
    progress(len(uncertain), len(uncertain))
    return _driven(order, kit, run, nominal, swings)


def _undriven(opened: Opened, missing: Missing) -> Problem:
    """Return why a car cannot be driven: what its file does not give, or another reason."""
    needs = ", ".join(typed(missing.paths, opened.car))
    why = f"the build does not give {needs}" if needs else missing.reason
    return Problem(opened.file, "", f"the car cannot be driven: {why}")


def charge_at_start(given: str | None) -> float | None:
    """Return the state of charge a person typed; raise InputError where it is none."""
    if given is None:
        return None
    try:
        return parse(given, "fraction").si
    except UnitError as error:
        problem = Problem("--soc", "", error.message, given, error.allowed, error.nearest)
        raise InputError(problem) from None


def _refuse(order: Order) -> None:
    speeds = order.trace.speeds
    if order.until_empty and abs(float(speeds[0] - speeds[-1])) > _SAME_SPEED:
        message = "a cycle that is repeated must end at the speed it starts at"
        raise InputError(Problem(order.trace.name, "", message))


def _kit(car: Car, order: Order) -> _Kit:
    book = FigureBook(car, keep=False)
    design(book)
    charging(book)
    cabin = CABIN[order.day]
    auxiliary = book.number("auxiliaries.driving") + (book.number(cabin) if cabin else 0.0)
    ready = setup(book, day=DAYS[order.day], auxiliary=auxiliary)
    soc = book.number("pack.usable.to") if order.soc is None else order.soc
    efficiency = book.number("charging.charger_efficiency") * book.number(
        "charging.pack_efficiency"
    )
    assumed = tuple(path for path in CHARGING if path in car.assumed)
    return _Kit(ready, soc, efficiency, assumed)


def _run(kit: _Kit, order: Order) -> _Run:
    trace = order.trace
    stop = to_the_end(trace.speeds)
    if order.until_empty:
        empty = kit.setup.pack.capacity * (1.0 - kit.setup.pack.floor)
        stop = Stop(MOST_STEPS, empty, _UNENDING, 0.0)
    table = np.zeros((stop.steps, len(COLUMNS)))
    before = fresh(kit.setup, soc=kit.soc, speed=float(trace.speeds[0]))
    after, ledger, steps = loop(
        kit.setup, before, trace.speeds, trace.grades, trace.step, stop, table
    )
    if order.until_empty and steps >= MOST_STEPS:
        message = f"the pack is not empty after {MOST_STEPS:,} steps: the run is too long"
        raise InputError(Problem(trace.name, "", message))
    table = table[:steps]
    finish_record(table, trace.step)
    return _Run(kit.setup, before, after, ledger, table)


def _wall(kit: _Kit, run: _Run) -> float:
    """Return the energy J from the wall that puts back what the run took, per metre driven."""
    return max(run.battery_energy, 0.0) / kit.wall_efficiency / run.ledger.distance


def _swing(car: Car, path: str, order: Order, nominal: float) -> tuple[float, float]:
    """Return what an uncertain input does to the wall consumption at its low and high end."""
    value = car.value(path)
    ends = []
    for end in (value.low, value.high):
        if end is not None:
            kit = _kit(car.with_values({path: end}), order)
            ends.append(_wall(kit, _run(kit, order)) - nominal)
    return ends[0], ends[1]


def _band(nominal: float, swings: Mapping[str, tuple[float, float]]) -> Banded:
    down = math.sqrt(sum(min(*pair, 0.0) ** 2 for pair in swings.values()))
    up = math.sqrt(sum(max(*pair, 0.0) ** 2 for pair in swings.values()))
    return Banded(nominal, nominal - down, nominal + up)


def _driven(
    order: Order, kit: _Kit, run: _Run, nominal: float, swings: Mapping[str, tuple[float, float]]
) -> Driven:
    ledger, table = run.ledger, run.table
    column = {name: table[:, i] for i, name in enumerate(COLUMNS)}
    return Driven(
        order=order,
        distance=ledger.distance,
        duration=ledger.time,
        wheel_energy_out=ledger.wheel_positive,
        wheel_energy_in=ledger.wheel_negative,
        battery_energy=run.battery_energy,
        wall_energy=nominal * ledger.distance,
        wall_per_distance=_band(nominal, swings),
        shortfall=ledger.shortfall,
        energies=_energies(run),
        limits=_limits(column["limit"], order.trace.step),
        soc_start=kit.soc,
        soc_end=float(column["soc"][-1]),
        floor=kit.setup.pack.floor,
        least_voltage=ledger.min_volts,
        most_voltage=ledger.max_volts,
        most_current=ledger.max_current,
        most_charge_current=ledger.max_charge_current,
        hottest_motor=float(column["motor_temperature"].max()),
        hottest_inverter=float(column["inverter_temperature"].max()),
        hottest_cell=float(column["cell_temperature"].max()),
        auxiliary_power=kit.setup.body.auxiliary_power,
        swings={path: pair for path, pair in swings.items() if any(pair)},
        assumed=kit.assumed,
        table=table,
    )


def _energies(run: _Run) -> Mapping[str, float]:
    """Return the run's energy ledger with the two losses inside the cells as one."""
    found = dict(energy_ledger(run.setup, run.before, run.after, run.ledger))
    pack = found.pop("cell resistance") + found.pop("cell relaxation")
    drawn, left = found.pop("drawn from the cells"), found.pop("not delivered")
    return {"drawn from the cells": drawn, "not delivered": left, "pack": pack, **found}


def _limits(codes: FloatArray, step: float) -> Mapping[str, float]:
    """Return the seconds in which each limit held the car back, longest first."""
    counts = np.bincount(codes.astype(int), minlength=len(LIMITS))
    met = [(LIMITS[i], float(counts[i]) * step) for i in range(1, len(LIMITS)) if counts[i]]
    return dict(sorted(met, key=lambda row: -row[1]))
