"""What the car does in a step whose trace it cannot follow: the rare path of the time step."""

from __future__ import annotations

from swapwright.physics.compiled import inlined, kernel
from swapwright.physics.drive.drive_step import regen_available
from swapwright.simulate.bracket import Bracket, narrowed, next_place
from swapwright.simulate.demand import (
    MOTOR_SPEED,
    Demand,
    Gears,
    Shift,
    change_gears,
    forces_available,
    gears_in,
    has_gears,
    motor_force,
    no_shift,
    resistance,
    split,
    top_speed,
    torque_left,
)
from swapwright.simulate.inputs import Setup, State

_ROUNDS = 60
_SPEED_CLOSE = 1e-9
_FORCE_CLOSE = 1e-6
"""A force N left over that is none: the speed is then told to a ten-thousandth of that, m/s."""
_BRAKE_ROUNDS = 4
_POWER_CLOSE = 1e-4
"""A power W left over that is none."""
_SHARE_CLOSE = 1e-9

TYRE_GRIP = 1.0
GEAR_CHANGE = 10.0


@inlined
def most_force(
    setup: Setup, state: State, gears: Gears, is_cut: bool, speed: float
) -> tuple[float, float, float]:
    """Return the largest road force N of the first and the second unit, and what limits it.

    ``is_cut``: torque is cut for a gear change.
    """
    if is_cut:
        return 0.0, 0.0, GEAR_CHANGE
    left, left_2 = torque_left(setup, state)
    return forces_available(setup.drive, gears, speed, state.volts, left, left_2)


@inlined
def most_regen(
    setup: Setup, state: State, gears: Gears, is_cut: bool, speed: float
) -> tuple[float, float]:
    """Return the largest braking force N at the road of the first and the second unit."""
    if is_cut:
        return 0.0, 0.0
    drive = setup.drive
    volts = state.volts
    left, left_2 = torque_left(setup, state)
    first = regen_available(drive.first, gears.mesh, speed, volts, left)
    second = 0.0
    if drive.units > 1:
        second = regen_available(drive.second, gears.mesh_2, speed, volts, left_2)
    return first, second


@inlined
def needed_force(
    setup: Setup, state: State, gears: Gears, reached: float, sin_grade: float, dt: float
) -> float:
    """Return the wheel force N that takes the car to a speed m/s by the end of the step."""
    road = resistance(setup.body, 0.5 * (state.speed + reached), sin_grade)
    against = road.rolling + road.aero + road.climb
    return gears.mass * (reached - state.speed) / dt + against


@kernel
def spare_force(
    setup: Setup,
    state: State,
    gears: Gears,
    is_cut: bool,
    reached: float,
    sin_grade: float,
    dt: float,
    budget: float,
    budget_limit: float,
) -> tuple[float, float]:
    """Return the force N left over when a speed m/s is reached, and the limit nearest.

    Negative when it cannot be reached; ``budget`` W is what the pack may give to the drive, with
    the code of what sets it. Power left over counts as force at this speed.
    """
    speed = 0.5 * (state.speed + reached)
    force = needed_force(setup, state, gears, reached, sin_grade, dt)
    first, second, limit = most_force(setup, state, gears, is_cut, speed)
    most = first + second
    if setup.body.drive_force_limit < most:
        most = setup.body.drive_force_limit
        limit = TYRE_GRIP
    spare = most - force
    if spare >= 0.0 and force > 0.0:
        power = split(setup.drive, gears, speed, force, first, second).electrical
        by_power = (budget - power) / max(speed, 1.0)
        if by_power < spare:
            return by_power, budget_limit
    return spare, limit


@kernel
def reachable_speed(
    setup: Setup,
    state: State,
    gears: Gears,
    is_cut: bool,
    target: float,
    sin_grade: float,
    dt: float,
    budget: float,
    budget_limit: float,
) -> tuple[float, float]:
    """Return the speed m/s nearest to a target the drive can reach, and what limits it.

    The result is on the side where nothing is exceeded; where even standing still is out of reach
    the car stalls, by what limits it there.
    """
    high = target
    over, limit = spare_force(
        setup, state, gears, is_cut, high, sin_grade, dt, budget, budget_limit
    )
    if over >= 0.0:
        return target, 0.0
    low = min(state.speed, target)
    under, stall = spare_force(
        setup, state, gears, is_cut, low, sin_grade, dt, budget, budget_limit
    )
    if under < 0.0:
        high, over, limit = low, under, stall
        low = 0.0
        under, stall = spare_force(
            setup, state, gears, is_cut, low, sin_grade, dt, budget, budget_limit
        )
        if under < 0.0:
            return 0.0, stall
    ends = Bracket(low, high, under, over, False, False)
    for number in range(_ROUNDS):
        if ends.high - ends.low < _SPEED_CLOSE:
            break
        middle = next_place(ends, number)
        spare, met = spare_force(
            setup, state, gears, is_cut, middle, sin_grade, dt, budget, budget_limit
        )
        if 0.0 <= spare < _FORCE_CLOSE:
            return middle, met
        if spare < 0.0:
            limit = met
        ends = narrowed(ends, middle, spare)
    return ends.low, limit


@kernel
def force_within(
    setup: Setup,
    gears: Gears,
    speed: float,
    force: float,
    first: float,
    second: float,
    budget: float,
) -> float:
    """Return the part of a road force N whose electrical power W stays within a budget.

    Driving, ``budget`` is the most that may be drawn; braking (a negative force), the most that may
    be charged, as a negative power.
    """
    sign = 1.0 if force >= 0.0 else -1.0
    over = sign * (budget - split(setup.drive, gears, speed, force, first, second).electrical)
    if over >= 0.0:
        return force
    under = sign * (budget - split(setup.drive, gears, speed, 0.0, first, second).electrical)
    if under < 0.0:
        return 0.0
    ends = Bracket(0.0, 1.0, under, over, False, False)
    for number in range(_ROUNDS):
        if ends.high - ends.low < _SHARE_CLOSE:
            break
        middle = next_place(ends, number)
        given = split(setup.drive, gears, speed, middle * force, first, second)
        spare = sign * (budget - given.electrical)
        if 0.0 <= spare < _POWER_CLOSE:
            return middle * force
        ends = narrowed(ends, middle, spare)
    return ends.low * force


@inlined
def gears_at_start(
    setup: Setup, state: State, target: float, sin_grade: float, dt: float
) -> tuple[Gears, Shift]:
    """Return the gears for a step the car cannot follow, chosen at the speed it has now."""
    if has_gears(setup.drive):
        road = resistance(setup.body, state.speed, sin_grade)
        against = road.rolling + road.aero + road.climb
        acceleration = (target - state.speed) / dt
        return change_gears(setup, state, state.speed, acceleration, against, dt)
    gears = gears_in(setup, state.gear, state.gear_2)
    return gears, no_shift(gears)


@kernel
def follow_within(
    setup: Setup,
    state: State,
    target: float,
    sin_grade: float,
    dt: float,
    most_power: float,
    least_power: float,
    power_limit: float,
) -> Demand:
    """Return what the car does towards a target speed m/s inside every limit.

    ``most_power`` and ``least_power`` W bound the drive's electrical power, ``power_limit`` is the
    code of what sets the former.
    """
    body = setup.body
    gears, shift = gears_at_start(setup, state, target, sin_grade, dt)
    is_cut = shift.left > 0.0
    most_power -= max(shift.spin, 0.0) / dt
    limit = 0.0
    fastest = top_speed(setup.drive)
    if target > fastest:
        target = fastest * (1.0 - _SPEED_CLOSE)
        limit = MOTOR_SPEED
    reached = target
    wanted = needed_force(setup, state, gears, target, sin_grade, dt)
    if wanted > 0.0:
        reached, met = reachable_speed(
            setup, state, gears, is_cut, target, sin_grade, dt, most_power, power_limit
        )
        if reached < target:
            limit = met
    elif wanted < -body.brake_force_limit:
        if limit == 0.0:
            limit = TYRE_GRIP
        for _ in range(_BRAKE_ROUNDS):
            missing = needed_force(setup, state, gears, reached, sin_grade, dt)
            reached -= (missing + body.brake_force_limit) * dt / gears.mass
    speed = 0.5 * (state.speed + reached)
    road = resistance(body, speed, sin_grade)
    force = 0.0
    if speed > 0.0:
        force = needed_force(setup, state, gears, reached, sin_grade, dt)
    motors = motor_force(setup, force, speed)
    if motors > 0.0:
        first, second, _ = most_force(setup, state, gears, is_cut, speed)
    else:
        first, second = most_regen(setup, state, gears, is_cut, speed)
        taken = min(-motors, first + second)
        motors = force_within(setup, gears, speed, -taken, first, second, least_power)
    given = split(setup.drive, gears, speed, motors, first, second)
    return Demand(reached, force, road, given, (motors - force) * speed, shift, limit)
