"""One time step of a car: what the road asks, what the drive and the pack give, where it goes.

`demand` turns a wanted speed into wheel force, gear, losses and electrical power inside the limits
of the drive and of the pack; `step` puts the cell on both sides of it. Road speed is taken at the
middle of the step, so the work at the wheels equals the change of kinetic energy plus the work
against road load exactly.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from swapwright.physics.compiled import inlined, kernel
from swapwright.physics.drive.drive_step import (
    force_available,
    heat_factor,
    regen_force,
    shaft,
)
from swapwright.physics.pack.cell_step import (
    Look,
    close_cell,
    current_for_power,
    open_cell,
)
from swapwright.simulate.inputs import Body, Drive, Ledger, Setup, State, Unit

STANDARD_GRAVITY = 9.80665
_CLIP_ROUNDS = 3
_BISECTIONS = 24
_KEEP_GEAR = 0.97


class Demand(NamedTuple):
    """What a step asks: the speed reached m/s, powers and losses W, gears, and the limit met."""

    speed: float
    mass: float
    wheel: float
    electrical: float
    driveline_loss: float
    motor_loss: float
    inverter_loss: float
    motor_loss_2: float
    inverter_loss_2: float
    friction: float
    gear: int
    gear_2: int
    spin: float
    shift_left: float
    limit: float


class Split(NamedTuple):
    """A wheel force shared by the units: electrical power and losses W."""

    electrical: float
    driveline: float
    motor: float
    inverter: float
    motor_2: float
    inverter_2: float


@inlined
def resistance(body: Body, speed: float, sin_grade: float) -> tuple[float, float, float]:
    """Return rolling, aerodynamic and climbing force N at a speed m/s and the sine of a grade."""
    rolling = body.a + body.b * speed
    if sin_grade != 0.0:
        rolling = body.a * math.sqrt(1.0 - sin_grade * sin_grade) + body.b * speed
    air = speed + body.headwind
    return rolling, body.c * air * abs(air), body.mass * STANDARD_GRAVITY * sin_grade


@inlined
def inertia_mass(body: Body, drive: Drive, gear: int, gear_2: int) -> float:
    """Return the mass kg that has to be accelerated, with wheels and rotors in these gears."""
    ratio = drive.first.speed_ratio[gear] * drive.ratio_scale
    mass = body.rolling_mass + drive.first.inertia * ratio * ratio
    if drive.units > 1:
        ratio = drive.second.speed_ratio[gear_2] * drive.ratio_scale
        mass += drive.second.inertia * ratio * ratio
    return mass


@kernel
def choose_gear(
    unit: Unit, scale: float, current: int, speed: float, force: float, volts: float, heat: float
) -> int:
    """Return the gear that gives the force with the least electrical power, else the most force.

    The gear in use is kept unless another is some 3 % better.
    """
    best = current
    best_force = -1.0
    best_power = 1e30
    for gear in range(unit.gears):
        most, _ = force_available(unit, scale, gear, speed, volts, heat)
        if speed * unit.speed_ratio[gear] * scale > unit.max_speed:
            continue
        given = min(force, most)
        power = shaft(unit, scale, gear, speed, max(given, -most)).electrical
        if gear == current:
            power -= (1.0 - _KEEP_GEAR) * abs(power)
        meets = given >= force * (1.0 - 1e-9)
        best_meets = best_force >= force * (1.0 - 1e-9)
        if (meets and (not best_meets or power < best_power)) or (
            not meets and not best_meets and given > best_force
        ):
            best = gear
            best_force = given
            best_power = power
    return best


@inlined
def most_force(
    drive: Drive, gear: int, gear_2: int, speed: float, volts: float, heat: float, heat_2: float
) -> tuple[float, float, float]:
    """Return the largest road force N of the first and the second unit, and what limits it."""
    first, limit = force_available(drive.first, drive.ratio_scale, gear, speed, volts, heat)
    second = 0.0
    if drive.units > 1:
        second, _ = force_available(drive.second, drive.ratio_scale, gear_2, speed, volts, heat_2)
    return first, second, limit


@inlined
def split(
    drive: Drive, gear: int, gear_2: int, speed: float, force: float, first: float, second: float
) -> Split:
    """Share a road force N over the units and return power and losses W.

    ``first``/``second`` are the most each can give, N; a unit at its end leaves the rest to the
    other.
    """
    if drive.units == 1:
        one = shaft(drive.first, drive.ratio_scale, gear, speed, force)
        return Split(
            one.electrical, one.driveline_loss, one.motor_loss, one.inverter_loss, 0.0, 0.0
        )
    sign = 1.0 if force >= 0.0 else -1.0
    size = abs(force)
    part = min(size * drive.first.share, first)
    part_2 = min(size - part, second)
    part = size - part_2
    one = shaft(drive.first, drive.ratio_scale, gear, speed, sign * part)
    two = shaft(drive.second, drive.ratio_scale, gear_2, speed, sign * part_2)
    return Split(
        one.electrical + two.electrical,
        one.driveline_loss + two.driveline_loss,
        one.motor_loss,
        one.inverter_loss,
        two.motor_loss,
        two.inverter_loss,
    )


@kernel
def within_power(
    drive: Drive,
    gear: int,
    gear_2: int,
    speed: float,
    force: float,
    first: float,
    second: float,
    budget: float,
) -> float:
    """Return the largest part of a road force N whose electrical power stays within a budget W.

    For a driving force the budget is the most that may be drawn, for a braking one (negative) the
    most that may be charged, as a negative power.
    """
    low = 0.0
    high = 1.0
    for _ in range(_BISECTIONS):
        middle = 0.5 * (low + high)
        power = split(drive, gear, gear_2, speed, middle * force, first, second).electrical
        over = power > budget if force > 0.0 else power < budget
        if over:
            high = middle
        else:
            low = middle
    return low * force


@kernel
def drive_force(
    setup: Setup,
    gear: int,
    gear_2: int,
    speed: float,
    volts: float,
    heat: float,
    heat_2: float,
    budget: float,
    budget_limit: float,
) -> tuple[float, float]:
    """Return the largest driving force N at the road at a speed, and the limit that sets it.

    The least of tyre grip, motor, inverter, voltage, heat and what the pack may give (``budget`` W,
    with its own limit code).
    """
    drive = setup.drive
    first, second, limit = most_force(drive, gear, gear_2, speed, volts, heat, heat_2)
    most = first + second
    if setup.body.drive_force_limit < most:
        most = setup.body.drive_force_limit
        limit = 1.0
    if split(drive, gear, gear_2, speed, most, first, second).electrical > budget:
        most = within_power(drive, gear, gear_2, speed, most, first, second, budget)
        limit = budget_limit
    return most, limit


@inlined
def demand(
    setup: Setup,
    state: State,
    target: float,
    sin_grade: float,
    dt: float,
    most_power: float,
    least_power: float,
    power_limit: float,
) -> Demand:
    """Return what reaching a target speed m/s takes, clipped to what the car can do.

    ``most_power`` and ``least_power`` W bound the drive's electrical power (without auxiliaries).
    """
    body, drive, regen = setup.body, setup.drive, setup.regen
    gear = int(state.gear)
    gear_2 = int(state.gear_2)
    heat = heat_factor(drive.first, state.motor_temperature, state.inverter_temperature)
    heat_2 = 1.0
    if drive.units > 1:
        heat_2 = heat_factor(drive.second, state.motor_temperature_2, state.inverter_temperature_2)

    reached = target
    speed = 0.5 * (state.speed + reached)
    if speed <= 0.0:
        idle = split(drive, gear, gear_2, 0.0, 0.0, 0.0, 0.0)
        return Demand(
            0.0,
            inertia_mass(body, drive, gear, gear_2),
            0.0,
            idle.electrical,
            0.0,
            idle.motor,
            idle.inverter,
            idle.motor_2,
            idle.inverter_2,
            0.0,
            gear,
            gear_2,
            0.0,
            0.0,
            0.0,
        )

    mass = inertia_mass(body, drive, gear, gear_2)
    rolling, aero, climb = resistance(body, speed, sin_grade)
    road = rolling + aero + climb
    force = mass * (reached - state.speed) / dt + road

    spin = 0.0
    shift_left = max(state.shift_left - dt, 0.0)
    if drive.first.gears > 1 or (drive.units > 1 and drive.second.gears > 1):
        share = drive.first.share if drive.units > 1 else 1.0
        if shift_left <= 0.0:
            if drive.first.gears > 1:
                gear = choose_gear(
                    drive.first, drive.ratio_scale, gear, speed, force * share, state.volts, heat
                )
            if drive.units > 1 and drive.second.gears > 1:
                gear_2 = choose_gear(
                    drive.second,
                    drive.ratio_scale,
                    gear_2,
                    speed,
                    force * (1.0 - share),
                    state.volts,
                    heat_2,
                )
        old_mass = mass
        mass = inertia_mass(body, drive, gear, gear_2)
        spin = 0.5 * (mass - old_mass) * state.speed * state.speed
        if mass != old_mass and dt < drive.shift_time and state.speed > 0.0:
            shift_left = drive.shift_time
        force = mass * (reached - state.speed) / dt + road

    limit = 0.0
    first = 0.0
    second = 0.0
    if force > 0.0:
        first, second, met = most_force(drive, gear, gear_2, speed, state.volts, heat, heat_2)
        most = min(first + second, body.drive_force_limit)
        over = force > most or shift_left > 0.0
        given = split(drive, gear, gear_2, speed, min(force, most), first, second)
        if over or given.electrical > most_power:
            for _ in range(_CLIP_ROUNDS):
                if shift_left > 0.0:
                    most = 0.0
                    limit = 10.0
                else:
                    most, limit = drive_force(
                        setup,
                        gear,
                        gear_2,
                        speed,
                        state.volts,
                        heat,
                        heat_2,
                        most_power,
                        power_limit,
                    )
                rolling, aero, climb = resistance(body, speed, sin_grade)
                road = rolling + aero + climb
                reached = min(state.speed + (most - road) * dt / mass, target)
                reached = max(reached, 0.0)
                speed = 0.5 * (state.speed + reached)
            rolling, aero, climb = resistance(body, speed, sin_grade)
            road = rolling + aero + climb
            force = mass * (reached - state.speed) / dt + road
            if speed <= 0.0:
                force = 0.0
            first, second, met = most_force(drive, gear, gear_2, speed, state.volts, heat, heat_2)
            given = split(drive, gear, gear_2, speed, max(force, 0.0), first, second)
    friction = 0.0
    if force <= 0.0:
        if force < -body.brake_force_limit:
            force = -body.brake_force_limit
            reached = max(state.speed + (force - road) * dt / mass, 0.0)
            speed = 0.5 * (state.speed + reached)
            rolling, aero, climb = resistance(body, speed, sin_grade)
            force = mass * (reached - state.speed) / dt + rolling + aero + climb
            limit = 1.0
        first, second, met = most_force(drive, gear, gear_2, speed, state.volts, heat, heat_2)
        taken = min(regen_force(regen, -force, speed), first + second)
        taken = min(taken, body.drive_force_limit)
        given = split(drive, gear, gear_2, speed, -taken, first, second)
        if given.electrical < least_power:
            taken = -within_power(drive, gear, gear_2, speed, -taken, first, second, least_power)
            given = split(drive, gear, gear_2, speed, -taken, first, second)
        friction = (-force - taken) * speed
    return Demand(
        reached,
        mass,
        force,
        given.electrical,
        given.driveline,
        given.motor,
        given.inverter,
        given.motor_2,
        given.inverter_2,
        friction,
        gear,
        gear_2,
        spin,
        shift_left,
        limit,
    )


@inlined
def step(
    setup: Setup,
    look: Look,
    state: State,
    ledger: Ledger,
    target: float,
    sin_grade: float,
    dt: float,
) -> tuple[State, Ledger]:
    """Advance the car by ``dt`` s towards a target speed m/s on a grade (its sine).

    ``look`` are the cell's tables read at (or a few steps before) this state for this ``dt``.
    """
    body, drive, cells, pack = setup.body, setup.drive, setup.cells, setup.pack
    opened = open_cell(
        cells,
        pack,
        look,
        dt,
        state.charge,
        state.v1,
        state.v2,
        state.overload,
        state.cell_temperature,
        setup.regen.max_soc,
        setup.regen.min_cell_temperature,
    )
    count = pack.series * pack.parallel
    most_power = count * opened.most * (opened.volts - opened.ohms * opened.most)
    least_power = count * opened.least * (opened.volts - opened.ohms * opened.least)
    asked = demand(
        setup,
        state,
        target,
        sin_grade,
        dt,
        most_power - body.auxiliary_power,
        least_power - body.auxiliary_power,
        opened.most_limit,
    )
    spin_up = max(asked.spin, 0.0)
    wanted = asked.electrical + body.auxiliary_power + spin_up / dt
    power = min(wanted, most_power)
    current = current_for_power(opened.volts, opened.ohms, power / count)
    closed = close_cell(
        cells, look, opened, dt, state.v1, state.v2, current, state.cell_temperature
    )
    volts = pack.series * (opened.volts - opened.ohms * current)
    amps = current * pack.parallel
    energy = closed.energy * count

    distance = 0.5 * (state.speed + asked.speed) * dt
    rolling, aero, climb = resistance(body, 0.5 * (state.speed + asked.speed), sin_grade)
    work = asked.wheel * distance
    moving = 1.0 if distance > 0.0 else 0.0
    after = State(
        speed=asked.speed,
        charge=state.charge + current * dt,
        v1=closed.v1,
        v2=closed.v2,
        overload=state.overload
        + (current * current - state.overload) * min(pack.overload_rate * dt, 1.0),
        cell_temperature=state.cell_temperature
        + (closed.heat - pack.conductance * (state.cell_temperature - setup.ambient) * dt)
        * pack.warming,
        motor_temperature=_warmed(
            state.motor_temperature,
            asked.motor_loss,
            drive.first.motor_conductance,
            drive.first.motor_warming,
            setup.ambient,
            dt,
        ),
        inverter_temperature=_warmed(
            state.inverter_temperature,
            asked.inverter_loss,
            drive.first.inverter_conductance,
            drive.first.inverter_warming,
            setup.ambient,
            dt,
        ),
        motor_temperature_2=_warmed(
            state.motor_temperature_2,
            asked.motor_loss_2,
            drive.second.motor_conductance,
            drive.second.motor_warming,
            setup.ambient,
            dt,
        ),
        inverter_temperature_2=_warmed(
            state.inverter_temperature_2,
            asked.inverter_loss_2,
            drive.second.inverter_conductance,
            drive.second.inverter_warming,
            setup.ambient,
            dt,
        ),
        volts=volts,
        gear=float(asked.gear),
        gear_2=float(asked.gear_2),
        shift_left=asked.shift_left,
    )
    behind = dt if asked.speed < target - 1e-6 and target < 1e3 else 0.0
    booked = Ledger(
        time=ledger.time + dt,
        distance=ledger.distance + distance,
        wheel_positive=ledger.wheel_positive + max(work, 0.0),
        wheel_negative=ledger.wheel_negative + max(-work, 0.0),
        tyres=ledger.tyres + rolling * distance,
        aero=ledger.aero + aero * distance * moving,
        climb=ledger.climb + climb * distance,
        driveline=ledger.driveline + asked.driveline_loss * dt,
        motor=ledger.motor + (asked.motor_loss + asked.motor_loss_2) * dt,
        inverter=ledger.inverter + (asked.inverter_loss + asked.inverter_loss_2) * dt,
        auxiliaries=ledger.auxiliaries + body.auxiliary_power * dt,
        friction=ledger.friction + asked.friction * dt,
        terminal_out=ledger.terminal_out + max(energy, 0.0),
        terminal_in=ledger.terminal_in + max(-energy, 0.0),
        ohmic=ledger.ohmic + closed.ohmic * count,
        polarisation=ledger.polarisation + closed.polarisation * count,
        relaxation=ledger.relaxation + closed.relaxation * count,
        spin_up=ledger.spin_up + spin_up,
        spin_down=ledger.spin_down + max(-asked.spin, 0.0),
        unserved=ledger.unserved + (wanted - power) * dt,
        current_square=ledger.current_square + amps * amps * dt,
        shortfall=ledger.shortfall + behind,
        min_volts=min(ledger.min_volts, volts),
        max_volts=max(ledger.max_volts, volts),
        max_current=max(ledger.max_current, amps),
        max_charge_current=max(ledger.max_charge_current, -amps),
        limit=asked.limit,
    )
    return after, booked


@inlined
def _warmed(
    temperature: float, loss: float, conductance: float, warming: float, ambient: float, dt: float
) -> float:
    """Return the temperature K of a body after dt s of losing ``loss`` W into it."""
    return temperature + (loss - conductance * (temperature - ambient)) * dt * warming
