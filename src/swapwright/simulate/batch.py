"""Many candidate cars over one trace: they share cells, motors and road, and differ in numbers."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from swapwright.physics.compiled import kernel
from swapwright.simulate.inputs import Body, Drive, Ledger, Pack, Setup, State
from swapwright.simulate.run import NO_GRADE, UNRECORDED, Stop, check_lengths, loop, to_the_end

FloatArray = NDArray[np.float64]


class Candidates(NamedTuple):
    """What differs between the cars: an array each, one entry per car.

    Names and units are those of `Body`, `Drive` and `Pack`; the limits belong here too because
    they follow from mass (tyre grip) and from the counts of cells (volts and amps per cell).
    """

    mass: FloatArray
    rolling_mass: FloatArray
    a: FloatArray
    b: FloatArray
    c: FloatArray
    drive_force_limit: FloatArray
    brake_force_limit: FloatArray
    ratio_scale: FloatArray
    series: FloatArray
    parallel: FloatArray
    min_voltage: FloatArray
    max_voltage: FloatArray
    current_limit: FloatArray


class Outcomes(NamedTuple):
    """What came of each car: an array each, one entry per car.

    ``battery_energy`` J net at the terminals, ``wheel_energy`` J driving, ``distance`` m,
    ``shortfall`` s, ``unserved`` J, ``min_volts`` V, ``max_current``/``max_charge_current`` A,
    ``soc`` and ``cell_temperature`` K at the end.
    """

    battery_energy: FloatArray
    wheel_energy: FloatArray
    distance: FloatArray
    shortfall: FloatArray
    unserved: FloatArray
    min_volts: FloatArray
    max_current: FloatArray
    max_charge_current: FloatArray
    soc: FloatArray
    cell_temperature: FloatArray


def alike(setup: Setup, count: int) -> Candidates:
    """Return ``count`` candidates that are all the car of ``setup``, to vary from there."""
    body, drive, pack = setup.body, setup.drive, setup.pack
    values = {**body._asdict(), **drive._asdict(), **pack._asdict()}
    return Candidates(*(np.full(count, float(values[name])) for name in Candidates._fields))


@kernel
def candidate(setup: Setup, cars: Candidates, k: int) -> Setup:
    """Return the setup of candidate k."""
    body, drive, pack = setup.body, setup.drive, setup.pack
    return Setup(
        Body(
            cars.mass[k],
            cars.rolling_mass[k],
            cars.a[k],
            cars.b[k],
            cars.c[k],
            body.headwind,
            cars.drive_force_limit[k],
            cars.brake_force_limit[k],
            body.auxiliary_power,
        ),
        setup.regen,
        Drive(
            drive.units,
            drive.first,
            drive.second,
            drive.shift_time,
            cars.ratio_scale[k],
            drive.is_held_back,
            drive.by_soc,
            drive.by_cell,
            drive.pedal_share,
        ),
        setup.cells,
        Pack(
            cars.series[k],
            cars.parallel[k],
            pack.capacity,
            pack.per_capacity,
            pack.joint_resistance,
            cars.min_voltage[k],
            cars.max_voltage[k],
            cars.current_limit[k],
            pack.overload_rate,
            pack.warming,
            pack.conductance,
            pack.floor,
        ),
        setup.ambient,
    )


@kernel
def started(start: State, volts: float) -> State:
    """Return a state with another pack voltage."""
    return State(
        start.speed,
        start.charge,
        start.v1,
        start.v2,
        start.overload,
        start.overload_charge,
        start.cell_temperature,
        start.motor_temperature,
        start.inverter_temperature,
        start.motor_temperature_2,
        start.inverter_temperature_2,
        volts,
        start.gear,
        start.gear_2,
        start.shift_left,
        start.limit,
    )


@kernel
def write_outcome(out: Outcomes, k: int, state: State, ledger: Ledger, capacity: float) -> None:
    """Write candidate k's outcome; ``capacity`` C of a cell."""
    out.battery_energy[k] = ledger.terminal_out - ledger.terminal_in
    out.wheel_energy[k] = ledger.wheel_positive
    out.distance[k] = ledger.distance
    out.shortfall[k] = ledger.shortfall
    out.unserved[k] = ledger.unserved
    out.min_volts[k] = ledger.min_volts
    out.max_current[k] = ledger.max_current
    out.max_charge_current[k] = ledger.max_charge_current
    out.soc[k] = 1.0 - state.charge / capacity
    out.cell_temperature[k] = state.cell_temperature


@kernel
def run_slice(
    setup: Setup,
    start: State,
    speeds: FloatArray,
    grades: FloatArray,
    dt: float,
    stop: Stop,
    record: FloatArray,
    cars: Candidates,
    out: Outcomes,
    first: int,
    last: int,
) -> None:
    """Run the candidates from ``first`` up to ``last``, each as `loop` runs one car."""
    cell_volts = start.volts / setup.pack.series
    for k in range(first, last):
        car = candidate(setup, cars, k)
        begun = started(start, cell_volts * car.pack.series)
        state, ledger, _ = loop(car, begun, speeds, grades, dt, stop, record)
        write_outcome(out, k, state, ledger, setup.pack.capacity)


def run_batch(
    setup: Setup,
    start: State,
    speeds: FloatArray,
    cars: Candidates,
    *,
    grades: FloatArray = NO_GRADE,
    dt: float = 1.0,
    workers: int = 1,
) -> Outcomes:
    """Drive a trace of speeds m/s, ``dt`` s apart, with every candidate.

    ``start`` is the state of each, its pack voltage that of ``setup`` (each car's own follows from
    its cells in series); ``grades`` are sines, or empty for level. ``workers`` threads share the
    candidates; the interpreter lock is released.
    """
    check_lengths(speeds, grades, UNRECORDED)
    count = cars.mass.shape[0]
    if any(column.shape[0] != count for column in cars):
        raise ValueError("every candidate needs every number")
    out = Outcomes(*(np.zeros(count) for _ in Outcomes._fields))
    stop = to_the_end(speeds)
    edges = np.linspace(0, count, workers + 1).astype(int).tolist()

    def run_part(worker: int) -> None:
        first, last = edges[worker], edges[worker + 1]
        run_slice(setup, start, speeds, grades, dt, stop, UNRECORDED, cars, out, first, last)

    if workers == 1:
        run_part(0)
    else:
        with ThreadPoolExecutor(workers) as pool:
            list(pool.map(run_part, range(workers)))
    return out
