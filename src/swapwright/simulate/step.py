"""One time step of a car: the road's demand, the pack's answer, and where the energy went.

Following the trace is tried first. Only when that breaks a limit of tyres, gears, motors or cells
is the step done again inside the limits, so the common case stays short.
"""

from __future__ import annotations

from swapwright.physics.compiled import inlined
from swapwright.physics.drive.drive_step import Unit
from swapwright.physics.pack.cell_step import (
    CellStep,
    Look,
    cell_power,
    close_cell,
    current_for_power,
    has_bends,
    open_cell,
    over_bends,
)
from swapwright.simulate.demand import Demand, drive_can
from swapwright.simulate.inputs import Ledger, Setup, State
from swapwright.simulate.limit import follow_within

NO_TARGET = 1.0e3
"""A speed m/s no car reaches: full throttle."""
_FOLLOWS = 1e-6
_ROUNDING = 1e-6


@inlined
def step(
    setup: Setup,
    look: Look,
    state: State,
    ledger: Ledger,
    asked: Demand,
    target: float,
    sin_grade: float,
) -> tuple[State, Ledger]:
    """Advance the car by a step of ``look`` towards a target speed m/s on a grade (its sine).

    ``look`` are the cell's tables read at (or a few steps before) this state; ``asked`` is what
    following the trace takes from here.
    """
    dt = look.dt
    cells, pack = setup.cells, setup.pack
    auxiliary = setup.body.auxiliary_power
    opened = open_cell(
        cells,
        pack,
        look,
        state.charge,
        state.v1,
        state.v2,
        state.overload,
        state.overload_charge,
        state.cell_temperature,
        setup.regen.max_soc,
        setup.regen.min_cell_temperature,
    )
    count = pack.series * pack.parallel
    per_count = 1.0 / count
    wanted = asked.given.electrical + auxiliary + max(asked.shift.spin, 0.0) * look.per_dt
    current = current_for_power(opened.volts, opened.ohms, wanted * per_count)
    if not (opened.least <= current <= opened.most and drive_can(setup, state, asked)):
        asked = follow_within(
            setup,
            state,
            target,
            sin_grade,
            dt,
            count * cell_power(cells, pack, opened, state.charge, opened.most, dt) - auxiliary,
            count * cell_power(cells, pack, opened, state.charge, opened.least, dt) - auxiliary,
            opened.most_limit,
        )
        wanted = asked.given.electrical + auxiliary + max(asked.shift.spin, 0.0) * look.per_dt
        current = current_for_power(opened.volts, opened.ohms, wanted * per_count)
        current = min(max(current, opened.least), opened.most)
    mean = opened.volts
    if has_bends(opened.line, state.charge, current * dt):
        mean, current = over_bends(
            cells, pack, opened, state.charge, current, wanted * per_count, dt
        )
    volts = pack.series * (mean - opened.ohms * current)
    unserved = wanted - pack.parallel * current * volts
    if abs(unserved) < _ROUNDING:
        unserved = 0.0
    closed = close_cell(
        cells, look, opened, mean, state.v1, state.v2, current, state.cell_temperature
    )
    after = moved(setup, state, asked, closed, current, volts, dt)
    booked = written(setup, state, ledger, asked, closed, current, volts, unserved, target, dt)
    return after, booked


@inlined
def moved(
    setup: Setup,
    state: State,
    asked: Demand,
    closed: CellStep,
    current: float,
    volts: float,
    dt: float,
) -> State:
    """Return the car's state after a step of ``dt`` s at a cell current A and pack voltage V."""
    pack, drive, given, ambient = setup.pack, setup.drive, asked.given, setup.ambient
    motor, inverter = _warmed(
        drive.first,
        state.motor_temperature,
        state.inverter_temperature,
        given.motor,
        given.inverter,
        ambient,
        dt,
    )
    motor_2, inverter_2 = state.motor_temperature_2, state.inverter_temperature_2
    if drive.units > 1:
        motor_2, inverter_2 = _warmed(
            drive.second, motor_2, inverter_2, given.motor_2, given.inverter_2, ambient, dt
        )
    cooled = pack.conductance * (state.cell_temperature - ambient) * dt
    fade = min(pack.overload_rate * dt, 1.0)
    out, into = max(current, 0.0), min(current, 0.0)
    return State(
        speed=asked.speed,
        charge=state.charge + current * dt,
        v1=closed.v1,
        v2=closed.v2,
        overload=state.overload + (out * out - state.overload) * fade,
        overload_charge=state.overload_charge + (into * into - state.overload_charge) * fade,
        cell_temperature=state.cell_temperature + (closed.heat - cooled) * pack.warming,
        motor_temperature=motor,
        inverter_temperature=inverter,
        motor_temperature_2=motor_2,
        inverter_temperature_2=inverter_2,
        volts=volts,
        gear=asked.shift.gear,
        gear_2=asked.shift.gear_2,
        shift_left=asked.shift.left,
        limit=asked.limit,
    )


@inlined
def written(
    setup: Setup,
    state: State,
    ledger: Ledger,
    asked: Demand,
    closed: CellStep,
    current: float,
    volts: float,
    unserved: float,
    target: float,
    dt: float,
) -> Ledger:
    """Return the ledger with a step of ``dt`` s written into it.

    ``current`` A per cell, ``volts`` V of the pack, ``unserved`` W, ``target`` m/s.
    """
    count = setup.pack.series * setup.pack.parallel
    given, road, spin = asked.given, asked.road, asked.shift.spin
    distance = 0.5 * (state.speed + asked.speed) * dt
    work = asked.force * distance
    energy = closed.energy * count
    amps = current * setup.pack.parallel
    behind = 0.0
    if abs(asked.speed - target) > _FOLLOWS and target < NO_TARGET:
        behind = dt
    limit = ledger.limit
    if asked.limit > 0.0:
        limit = asked.limit
    return Ledger(
        time=ledger.time + dt,
        distance=ledger.distance + distance,
        wheel_positive=ledger.wheel_positive + max(work, 0.0),
        wheel_negative=ledger.wheel_negative + max(-work, 0.0),
        tyres=ledger.tyres + road.rolling * distance,
        aero=ledger.aero + road.aero * distance,
        climb=ledger.climb + road.climb * distance,
        driveline=ledger.driveline + given.driveline * dt,
        motor=ledger.motor + (given.motor + given.motor_2) * dt,
        inverter=ledger.inverter + (given.inverter + given.inverter_2) * dt,
        auxiliaries=ledger.auxiliaries + setup.body.auxiliary_power * dt,
        friction=ledger.friction + asked.friction * dt,
        terminal_out=ledger.terminal_out + max(energy, 0.0),
        terminal_in=ledger.terminal_in + max(-energy, 0.0),
        ohmic=ledger.ohmic + closed.ohmic * count,
        polarisation=ledger.polarisation + closed.polarisation * count,
        relaxation=ledger.relaxation + closed.relaxation * count,
        spin_up=ledger.spin_up + max(spin, 0.0),
        spin_down=ledger.spin_down + max(-spin, 0.0),
        unserved=ledger.unserved + unserved * dt,
        current_square=ledger.current_square + amps * amps * dt,
        shortfall=ledger.shortfall + behind,
        min_volts=min(ledger.min_volts, volts),
        max_volts=max(ledger.max_volts, volts),
        max_current=max(ledger.max_current, amps),
        max_charge_current=max(ledger.max_charge_current, -amps),
        limit=limit,
    )


@inlined
def _warmed(
    unit: Unit,
    motor: float,
    inverter: float,
    motor_loss: float,
    inverter_loss: float,
    ambient: float,
    dt: float,
) -> tuple[float, float]:
    """Return the temperatures K of a motor and an inverter after dt s of their losses W."""
    motor_heat = (motor_loss - unit.motor_conductance * (motor - ambient)) * dt
    inverter_heat = (inverter_loss - unit.inverter_conductance * (inverter - ambient)) * dt
    return motor + motor_heat * unit.motor_warming, inverter + inverter_heat * unit.inverter_warming
