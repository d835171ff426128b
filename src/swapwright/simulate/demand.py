"""What the road asks of the drive in one time step, gears chosen and losses read.

Road speed is taken at the middle of the step, so the work at the wheels equals the change of
kinetic energy plus the work against road load exactly.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from swapwright.physics.compiled import inlined, kernel
from swapwright.physics.drive.drive_step import (
    Drive,
    Left,
    Mesh,
    Unit,
    force_available,
    heat_factor,
    mesh,
    regen_force,
    shaft,
    share_at,
    torque_available,
)
from swapwright.simulate.inputs import Body, Setup, State

STANDARD_GRAVITY = 9.80665
MOTOR_SPEED = 8.0
_KEEP_GEAR = 0.97
_DOWNSHIFT = 0.90
_ENDLESS = 1e30
_MOMENT = 1e-9


class Road(NamedTuple):
    """The forces of the road N: rolling, air, and the weight's part along a grade."""

    rolling: float
    aero: float
    climb: float


class Gears(NamedTuple):
    """The gears of a step, both units' ratios in them, and the mass kg to be accelerated."""

    first: float
    second: float
    mesh: Mesh
    mesh_2: Mesh
    mass: float


class Shift(NamedTuple):
    """The gears a step is in, and what the change cost.

    ``spin`` J the rotors take up (or give, negative) at the change; ``left`` s without torque.
    """

    gear: float
    gear_2: float
    spin: float
    left: float


class Split(NamedTuple):
    """A wheel force shared by the units: electrical power and losses W; at the motors torque N.m
    and speed rad/s."""

    electrical: float
    driveline: float
    motor: float
    inverter: float
    motor_2: float
    inverter_2: float
    torque: float
    torque_2: float
    turning: float
    turning_2: float


class Demand(NamedTuple):
    """What a step does at the road: speed reached m/s, force N at the wheels, and what it takes.

    ``friction`` W in the brakes; ``limit`` a code of `LIMITS`.
    """

    speed: float
    force: float
    road: Road
    given: Split
    friction: float
    shift: Shift
    limit: float


@inlined
def resistance(body: Body, speed: float, sin_grade: float) -> Road:
    """Return the road's forces N at a speed m/s and the sine of a grade."""
    rolling = body.a + body.b * speed
    if sin_grade != 0.0:
        rolling = body.a * math.sqrt(1.0 - sin_grade * sin_grade) + body.b * speed
    air = speed + body.headwind
    return Road(rolling, body.c * air * abs(air), body.mass * STANDARD_GRAVITY * sin_grade)


@inlined
def inertia_mass(body: Body, drive: Drive, gear: int, gear_2: int) -> float:
    """Return the mass kg that has to be accelerated, with wheels and rotors in these gears."""
    ratio: float = drive.first.speed_ratio[gear] * drive.ratio_scale
    mass = body.rolling_mass + drive.first.inertia * ratio * ratio
    if drive.units > 1:
        ratio = drive.second.speed_ratio[gear_2] * drive.ratio_scale
        mass += drive.second.inertia * ratio * ratio
    return mass


@kernel
def gears_in(setup: Setup, gear: float, gear_2: float) -> Gears:
    """Return the ratios and the mass to accelerate, with wheels and rotors, in these gears."""
    drive = setup.drive
    first = mesh(drive.first, drive.ratio_scale, int(gear))
    second = first
    if drive.units > 1:
        second = mesh(drive.second, drive.ratio_scale, int(gear_2))
    mass = inertia_mass(setup.body, drive, int(gear), int(gear_2))
    return Gears(gear, gear_2, first, second, mass)


@inlined
def motor_force(setup: Setup, force: float, speed: float) -> float:
    """Return the part of a wheel force N that is the motors' work: all driving, some braking."""
    if force > 0.0:
        return force
    return -min(regen_force(setup.regen, -force, speed), setup.body.drive_force_limit)


@inlined
def torque_left(setup: Setup, state: State) -> tuple[Left, Left]:
    """Return what heat and the controller's limits leave of each unit's torque."""
    drive = setup.drive
    share = 1.0
    if drive.is_held_back:
        share = drive.pedal_share
        share *= share_at(drive.by_soc, 1.0 - state.charge * setup.pack.per_capacity)
        share *= share_at(drive.by_cell, state.cell_temperature)
    first = heat_factor(drive.first, state.motor_temperature, state.inverter_temperature)
    if drive.units == 1:
        return Left(first, share), Left(1.0, share)
    second = heat_factor(drive.second, state.motor_temperature_2, state.inverter_temperature_2)
    return Left(first, share), Left(second, share)


@inlined
def choose_gear(
    unit: Unit, scale: float, current: float, speed: float, force: float, volts: float, left: Left
) -> float:
    """Return the gear that gives the force with the least electrical power, else the most force.

    The gear in use is kept unless another is some 3 % better; a lower one is taken only where it
    leaves the motor a tenth of its speed, or a shift at its end would be taken back at once. Gears
    stand lowest first.
    """
    best = current
    best_meets = False
    best_force = -1.0
    best_power = _ENDLESS
    for gear in range(unit.gears):
        meshed = mesh(unit, scale, gear)
        turning = speed * meshed.ratio
        if turning > unit.max_speed or (gear < current and turning > _DOWNSHIFT * unit.max_speed):
            continue
        most, _ = force_available(unit, meshed, speed, volts, left)
        if abs(force) <= most:
            power = shaft(unit, meshed, speed, force).electrical
            if gear == current:
                power -= (1.0 - _KEEP_GEAR) * abs(power)
            if not best_meets or power < best_power:
                best = float(gear)
                best_meets = True
                best_power = power
        elif not best_meets:
            if gear == current:
                most /= _KEEP_GEAR
            if most > best_force:
                best = float(gear)
                best_force = most
    return best


@inlined
def change_gears(
    setup: Setup, state: State, speed: float, acceleration: float, road: float, dt: float
) -> tuple[Gears, Shift]:
    """Return the gears for an acceleration m/s^2 against a road force N at a speed m/s.

    Torque is cut while a shift lasts; one that is shorter than a step goes unnoticed.
    """
    drive = setup.drive
    old = gears_in(setup, state.gear, state.gear_2)
    left = state.shift_left - dt
    if left > _MOMENT:
        return old, Shift(state.gear, state.gear_2, 0.0, left)
    force = motor_force(setup, old.mass * acceleration + road, speed)
    left_1, left_2 = torque_left(setup, state)
    share = drive.first.share if drive.units > 1 else 1.0
    scale, volts = drive.ratio_scale, state.volts
    gear, gear_2 = state.gear, state.gear_2
    if drive.first.gears > 1:
        gear = choose_gear(drive.first, scale, gear, speed, force * share, volts, left_1)
    if drive.units > 1 and drive.second.gears > 1:
        rest = force * (1.0 - share)
        gear_2 = choose_gear(drive.second, scale, gear_2, speed, rest, volts, left_2)
    new = gears_in(setup, gear, gear_2)
    left = 0.0
    if (gear != old.first or gear_2 != old.second) and dt < drive.shift_time and state.speed > 0.0:
        left = drive.shift_time
    spin = 0.5 * (new.mass - old.mass) * state.speed * state.speed
    return new, Shift(gear, gear_2, spin, left)


@inlined
def has_gears(drive: Drive) -> bool:
    """Return whether any unit has more than one gear."""
    return drive.first.gears > 1 or (drive.units > 1 and drive.second.gears > 1)


@inlined
def split(
    drive: Drive, gears: Gears, speed: float, force: float, first: float, second: float
) -> Split:
    """Share a road force N over the units and return power and losses W.

    ``first``/``second`` are the most each can give, N; a unit at its end leaves the rest to the
    other.
    """
    if drive.units == 1:
        one = shaft(drive.first, gears.mesh, speed, force)
        return Split(
            one.electrical,
            one.driveline_loss,
            one.motor_loss,
            one.inverter_loss,
            0.0,
            0.0,
            one.torque,
            0.0,
            gears.mesh.ratio * speed,
            0.0,
        )
    sign = 1.0 if force >= 0.0 else -1.0
    size = abs(force)
    part_2 = min(size - min(size * drive.first.share, first), second)
    one = shaft(drive.first, gears.mesh, speed, sign * (size - part_2))
    two = shaft(drive.second, gears.mesh_2, speed, sign * part_2)
    return Split(
        one.electrical + two.electrical,
        one.driveline_loss + two.driveline_loss,
        one.motor_loss,
        one.inverter_loss,
        two.motor_loss,
        two.inverter_loss,
        one.torque,
        two.torque,
        gears.mesh.ratio * speed,
        gears.mesh_2.ratio * speed,
    )


@inlined
def forces_available(
    drive: Drive, gears: Gears, speed: float, volts: float, left: Left, left_2: Left
) -> tuple[float, float, float]:
    """Return the largest road force N of the first and the second unit, and what limits it.

    Nothing uncouples a unit: one at the end of its motor's speed ends the other's pull too.
    """
    first, limit = force_available(drive.first, gears.mesh, speed, volts, left)
    if drive.units == 1:
        return first, 0.0, limit
    second, limit_2 = force_available(drive.second, gears.mesh_2, speed, volts, left_2)
    if limit == MOTOR_SPEED or limit_2 == MOTOR_SPEED:
        return 0.0, 0.0, MOTOR_SPEED
    return first, second, limit


@inlined
def top_speed(drive: Drive) -> float:
    """Return the road speed m/s at which a motor in its longest gear may turn no faster.

    With two units it is that of the one which gets there first.
    """
    fastest = unit_top_speed(drive.first, drive.ratio_scale)
    if drive.units > 1:
        fastest = min(fastest, unit_top_speed(drive.second, drive.ratio_scale))
    return fastest


@inlined
def unit_top_speed(unit: Unit, scale: float) -> float:
    """Return the road speed m/s at which one unit's motor in its longest gear is at its end."""
    longest: float = unit.speed_ratio[unit.gears - 1] * scale
    return unit.max_speed / longest


@inlined
def no_shift(gears: Gears) -> Shift:
    """Return what staying in the gears costs."""
    return Shift(gears.first, gears.second, 0.0, 0.0)


@inlined
def follow(
    setup: Setup,
    gears: Gears,
    shift: Shift,
    start: float,
    target: float,
    sin_grade: float,
    per_dt: float,
) -> Demand:
    """Return what going from a speed m/s to a target takes, whether or not the car can.

    ``per_dt`` 1/s is the inverse of the step.
    """
    speed = 0.5 * (start + target)
    road = resistance(setup.body, speed, sin_grade)
    force = gears.mass * ((target - start) * per_dt) + (road.rolling + road.aero + road.climb)
    if speed <= 0.0:
        force = 0.0
    motors = motor_force(setup, force, speed)
    given = split(setup.drive, gears, speed, motors, _ENDLESS, _ENDLESS)
    return Demand(target, force, road, given, (motors - force) * speed, shift, 0.0)


@inlined
def follow_afresh(setup: Setup, state: State, target: float, sin_grade: float, dt: float) -> Demand:
    """Return what `follow` does from the car's present state, with gears chosen for the step."""
    if has_gears(setup.drive):
        speed = 0.5 * (state.speed + target)
        road = resistance(setup.body, speed, sin_grade)
        against = road.rolling + road.aero + road.climb
        acceleration = (target - state.speed) / dt
        gears, shift = change_gears(setup, state, speed, acceleration, against, dt)
    else:
        gears = gears_in(setup, state.gear, state.gear_2)
        shift = no_shift(gears)
    return follow(setup, gears, shift, state.speed, target, sin_grade, 1.0 / dt)


@inlined
def drive_can(setup: Setup, state: State, asked: Demand) -> bool:
    """Return whether tyres, brakes, gears and motors can do what following the trace asks."""
    drive, given = setup.drive, asked.given
    left, left_2 = torque_left(setup, state)
    allowed, allowed_2 = 1.0, 1.0
    if drive.is_held_back:
        allowed = drive.first.gear_share[int(asked.shift.gear)]
        allowed_2 = drive.second.gear_share[int(asked.shift.gear_2)]
    most, _ = torque_available(drive.first, given.turning, state.volts, left, allowed)
    can = (
        abs(given.torque) <= most
        and asked.force <= setup.body.drive_force_limit
        and asked.force >= -setup.body.brake_force_limit
        and asked.shift.left <= 0.0
        and asked.speed <= top_speed(drive)
    )
    if drive.units > 1:
        most, _ = torque_available(drive.second, given.turning_2, state.volts, left_2, allowed_2)
        can = can and abs(given.torque_2) <= most
    return can
