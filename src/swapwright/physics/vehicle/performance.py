"""Performance in closed form: acceleration, top speed, gradeability.

These stand beside the simulated figures as independent short estimates.
"""

from __future__ import annotations

from math import atan, inf, log1p, sqrt, tan

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle import symbol
from swapwright.physics.vehicle.constant import GRAVITY

_STEEPEST = 0.99
_MOST_STEPS = 100


def force_phase_end(*, speed: float, force: float, power: float) -> float:
    """Return the speed at which power takes over from force as the limit.

    speed: the one to be reached [m/s]
    force: greatest, at the wheels [N]
    power: greatest, at the wheels [W]
    result: [m/s]
    source: Ehsani 2018, chapter 2, vehicle performance, from memory
    """
    return min(speed, power / force)


def resistance_speed(*, from_speed: float, speed: float) -> float:
    """Return the speed whose road load stands for a whole constant-power phase.

    Four fifths of the way, since the car spends most of the phase's time near its end.

    from_speed, speed: start and end of the phase [m/s]
    result: [m/s]
    source: our own estimate
    """
    return (from_speed + 4.0 * speed) / 5.0


def force_phase_time(
    *, effective_mass: float, speed: float, force: float, resistance: float
) -> float:
    """Return the time from rest to a speed at constant force.

    effective_mass: [kg]
    speed: at the end of the phase [m/s]
    force: at the wheels [N]
    resistance: mean road load of the phase [N]
    result: infinite where it is not enough [s]
    source: Ehsani 2018, chapter 2, vehicle performance, from memory
    """
    if force <= resistance:
        return inf
    return effective_mass * speed / (force - resistance)


def power_phase_time(
    *, effective_mass: float, from_speed: float, speed: float, power: float, resistance: float
) -> float:
    """Return the time between two speeds at constant power.

    The integral of m v dv / (P - R v), taken in closed form.

    effective_mass: [kg]
    from_speed, speed: [m/s]
    power: at the wheels [W]
    resistance: road load that stands for the phase; below zero it counts as none [N]
    result: infinite where it is not enough [s]
    source: Ehsani 2018, chapter 2, vehicle performance, from memory
    """
    spare = power - resistance * speed
    if spare <= 0.0:
        return inf
    gain = speed - from_speed
    if resistance <= 0.0:
        return effective_mass * (speed + from_speed) * gain / (2.0 * power)
    logarithm = log1p(resistance * gain / spare)
    return effective_mass * (power / resistance * logarithm - gain) / resistance


def strip_speed(
    *, distance: float, from_distance: float, from_speed: float, power: float, effective_mass: float
) -> float:
    """Return the speed at a distance, at constant power from a speed reached earlier.

    distance, from_distance: from the start [m]
    from_speed: at from_distance [m/s]
    power: at the wheels, less what the road takes [W]
    effective_mass: [kg]
    result: [m/s]
    raises ValueError where the distance ends long before from_distance
    source: the definition of kinetic energy, integrated over distance
    """
    cube = from_speed**3 + 3.0 * power * (distance - from_distance) / effective_mass
    if cube < 0.0:
        raise ValueError("the distance ends long before the phase at constant power begins")
    return float(cube ** (1.0 / 3.0))


def force_phase_distance(*, speed: float, time: float) -> float:
    """Return the distance from rest at constant acceleration.

    speed: at its end [m/s]
    time: [s]
    result: [m]
    source: the definition of speed
    """
    return speed * time / 2.0


def speed_at_power(*, power: float, efficiency: float, force: float) -> float:
    """Return the speed at which a motor power holds a force at the road.

    power: of the motor [W]
    efficiency: motor to wheels [1]
    force: at the road [N]
    result: [m/s]
    source: the definition of power
    """
    return power * efficiency / force


def spare_power(*, power: float, resistance: float, speed: float) -> float:
    """Return what is left of the wheel power after road load, never below a tenth of it.

    power: at the wheels [W]
    resistance: road load [N]
    speed: [m/s]
    result: [W]
    source: our own estimate
    """
    return max(power - resistance * speed, 0.1 * power)


def power_limited_speed(*, power: float, a: float, b: float, c: float) -> float:
    """Return the speed at which the road takes all the power.

    Solves a v + b v^2 + c v^3 = power by Newton's method from above.

    power: at the wheels [W]
    a: with any grade force in it [N]
    b: [N/(m/s)]
    c: > 0 [N/(m/s)^2]
    result: [m/s]
    source: Gillespie 1992, chapter 4; the cubic's closed form in the working is Cardano's
    """
    speed = 1.0 + max(power, abs(a), abs(b)) / c
    for _ in range(_MOST_STEPS):
        excess = ((c * speed + b) * speed + a) * speed - power
        step = excess / ((3.0 * c * speed + 2.0 * b) * speed + a)
        if abs(step) <= 1e-14 * abs(speed):
            break
        speed -= step
    return speed


def top_speed(*, power_limited_speed: float, motor_limited_speed: float) -> float:
    """Return the top speed, the lesser of what power and motor speed allow.

    power_limited_speed, motor_limited_speed: [m/s]
    result: [m/s]
    source: the definition of top speed
    """
    return min(power_limited_speed, motor_limited_speed)


def thrust_to_weight(
    *, force: float, drag: float, mass: float, gravity: float = GRAVITY.si
) -> float:
    """Return the force left after the air's drag, over the car's weight.

    force: tractive, at the wheels [N]
    drag: all road load that does not come from weight [N]
    mass: [kg]
    gravity: [m/s^2]
    result: [1]
    source: Gillespie 1992, chapter 4, from memory
    """
    return (force - drag) / (mass * gravity)


def gradeability(*, thrust_to_weight: float, c_rr: float) -> float:
    """Return the steepest grade the force holds, rise over run.

    Solves f = sin + c_rr cos for the angle.

    thrust_to_weight: more than 0.99 counts as 0.99, steeper than any road [1]
    c_rr: [1]
    result: negative where it holds none [1]
    source: Gillespie 1992, chapter 4, from memory
    """
    thrust = min(thrust_to_weight, _STEEPEST)
    return tan(atan(thrust / sqrt(1.0 + c_rr**2 - thrust**2)) - atan(c_rr))


def climb_power(*, road_load: float, grade_force: float, speed: float) -> float:
    """Return the power at the wheels that holds a speed up a grade.

    road_load: on the level at that speed [N]
    grade_force: [N]
    speed: [m/s]
    result: [W]
    source: Gillespie 1992, chapter 4, from memory
    """
    return (road_load + grade_force) * speed


_EHSANI = ("ehsani-2018-ch2-performance",)
_RESISTANCE = Symbol("resistance", "N", 50.0, 600.0, "resistance to motion", "force")
_TIME = Symbol("t", "s", 0.0, 1000.0, "time", "time")
_FROM = Symbol("from_speed", "m/s", 0.5, 20.0, "speed at the start of the phase", "speed")
_V = Symbol("v", "m/s", 0.0, 150.0, "speed", "speed")
_WHEEL_POWER = Symbol("power", "W", 3e4, 3e5, "power at the wheels", "power")
_THRUST = Symbol("thrust_to_weight", "1", -0.1, 1.5, "thrust over weight", "ratio")

FORCE_PHASE_END = Working(
    force_phase_end,
    "Min(v, P/F)",
    {"v": symbol.SPEED, "P": _WHEEL_POWER, "F": symbol.FORCE},
    _V,
    _EHSANI,
    "force is constant, then power is",
    "power that falls off at high motor speed",
)

RESISTANCE_SPEED = Working(
    resistance_speed,
    "(v_1 + 4*v)/5",
    {"v_1": _FROM, "v": symbol.SPEED},
    _V,
    ("acceleration-resistance-speed-estimate",),
    "the time then is within 8 % of the integral while a quarter of the power is left at the end",
    "end speeds close to top speed",
)

FORCE_PHASE_TIME = Working(
    force_phase_time,
    "m_e*v/(F - R)",
    {
        "m_e": symbol.EFFECTIVE_MASS,
        "v": symbol.SPEED,
        "F": symbol.FORCE,
        "R": _RESISTANCE,
    },
    _TIME,
    _EHSANI,
    "constant force and mean resistance",
    "the time the driver and the inverter take to bring the force up",
    valid="F > R",
)

POWER_PHASE_TIME = Working(
    power_phase_time,
    "Piecewise((m_e*(v + v_1)*(v - v_1)/(2*P), R <= 0),"
    " (m_e*(P/R*log(1 + R*(v - v_1)/(P - R*v)) - (v - v_1))/R, True))",
    {
        "m_e": symbol.EFFECTIVE_MASS,
        "P": _WHEEL_POWER,
        "R": _RESISTANCE,
        "v_1": _FROM,
        "v": Symbol("speed", "m/s", 22.0, 45.0, "speed at the end of the phase", "speed"),
    },
    _TIME,
    _EHSANI,
    "constant power, one resistance standing for the phase",
    "gear changes; power that falls with state of charge or heat",
    valid="P > R*v",
)

_Q = "(P/(2*C) + A*B/(6*C**2) - B**3/(27*C**3))"
_P = "(A/(3*C) - B**2/(9*C**2))"
_S = f"({_Q} + sqrt({_Q}**2 + {_P}**3))**(1/3)"

POWER_LIMITED_SPEED = Working(
    power_limited_speed,
    f"{_S} - {_P}/{_S} - B/(3*C)",
    {"P": symbol.POWER, "A": symbol.ROAD_LOAD_A, "B": symbol.ROAD_LOAD_B, "C": symbol.ROAD_LOAD_C},
    _V,
    ("gillespie-1992-ch4", "abramowitz-stegun-1964-s3-8-2"),
    "the drive can bring its full power at that speed",
    "wind, curves, the motor's own speed limit",
    valid="3*A*C > B**2",
)

TOP_SPEED = Working(
    top_speed,
    "Min(v_p, v_m)",
    {
        "v_p": Symbol("power_limited_speed", "m/s", 10.0, 90.0, "speed the power allows", "speed"),
        "v_m": Symbol("motor_limited_speed", "m/s", 10.0, 90.0, "speed the motor allows", "speed"),
    },
    _V,
    ("mechanics-definitions",),
    "no other limit in the car's software",
    "speed rating of the tyres",
)

THRUST_TO_WEIGHT = Working(
    thrust_to_weight,
    "(F - D)/(m*g)",
    {
        "F": symbol.FORCE,
        "D": Symbol("drag", "N", 0.0, 600.0, "road load not due to weight", "force"),
        "m": symbol.MASS,
        "g": symbol.GRAVITY,
    },
    Symbol("f", "1", -1.0, 5.0, "thrust over weight", "ratio"),
    ("gillespie-1992-ch4",),
    "steady speed",
    "grip, which may hold less",
)

GRADEABILITY = Working(
    gradeability,
    "tan(atan(Min(f, 0.99)/sqrt(1 + c_rr**2 - Min(f, 0.99)**2)) - atan(c_rr))",
    {"f": _THRUST, "c_rr": symbol.ROLLING_COEFFICIENT},
    Symbol("s", "1", -0.2, 8.0, "steepest grade held", "grade"),
    ("gillespie-1992-ch4",),
    "steady speed; rolling resistance falls with the cosine of the slope",
    "grip, which may hold less; heat, which may not hold it for long",
)

CLIMB_POWER = Working(
    climb_power,
    "(F + F_g)*v",
    {
        "F": Symbol("road_load", "N", 30.0, 3000.0, "level road load", "force"),
        "F_g": Symbol("grade_force", "N", -5000.0, 2e4, "grade resistance", "force"),
        "v": symbol.SPEED,
    },
    Symbol("P", "W", -5e5, 1e6, "power at the wheels", "power"),
    ("gillespie-1992-ch4",),
    "steady speed on an even grade",
    "gaining speed on the grade",
)

STRIP_SPEED = Working(
    strip_speed,
    "(v_1**3 + 3 * P * (x - x_1) / m_e)**(1/3)",
    {
        "x": Symbol("distance", "m", 100.0, 1000.0, "distance"),
        "x_1": Symbol("from_distance", "m", 0.0, 100.0, "distance at the earlier speed"),
        "v_1": Symbol("from_speed", "m/s", 0.0, 40.0, "earlier speed"),
        "P": Symbol("power", "W", 1e3, 5e5, "spare power at the wheels"),
        "m_e": Symbol("effective_mass", "kg", 300.0, 5000.0, "effective mass"),
    },
    Symbol("strip_speed", "m/s", 0.0, 120.0, "speed over a distance", "speed"),
    ("gillespie-1992-ch4",),
    "constant power",
    "tyre grip, gear changes",
)
FORCE_PHASE_DISTANCE = Working(
    force_phase_distance,
    "v * t / 2",
    {
        "v": Symbol("speed", "m/s", 0.0, 60.0, "speed at its end"),
        "t": Symbol("time", "s", 0.0, 60.0, "time"),
    },
    Symbol("force_phase_distance", "m", 0.0, 2000.0, "distance at constant force", "length"),
    ("gillespie-1992-ch4",),
    "constant acceleration from rest",
    "",
)
SPARE_POWER = Working(
    spare_power,
    "Max(P - R * v, 0.1 * P)",
    {
        "P": Symbol("power", "W", 1e3, 5e5, "power at the wheels"),
        "R": Symbol("resistance", "N", 0.0, 3000.0, "road load"),
        "v": Symbol("speed", "m/s", 0.0, 60.0, "speed"),
    },
    Symbol("spare_power", "W", 0.0, 5e5, "power left to accelerate", "power"),
    ("gillespie-1992-ch4",),
    "road load at one speed stands for the phase",
    "",
)

SPEED_AT_POWER = Working(
    speed_at_power,
    "P * eta / F",
    {
        "P": Symbol("power", "W", 1e3, 5e5, "motor power"),
        "eta": Symbol("efficiency", "1", 0.7, 1.0, "motor to wheels", "fraction"),
        "F": Symbol("force", "N", 50.0, 2e4, "force at the road"),
    },
    Symbol("speed_at_power", "m/s", 0.0, 200.0, "speed a power holds", "speed"),
    ("gillespie-1992-ch2",),
    "the force does not change with speed",
    "less air drag below the speed the force was taken at",
)

WORKINGS: tuple[Working, ...] = (
    FORCE_PHASE_END,
    RESISTANCE_SPEED,
    FORCE_PHASE_TIME,
    POWER_PHASE_TIME,
    POWER_LIMITED_SPEED,
    TOP_SPEED,
    THRUST_TO_WEIGHT,
    GRADEABILITY,
    CLIMB_POWER,
    STRIP_SPEED,
    FORCE_PHASE_DISTANCE,
    SPARE_POWER,
    SPEED_AT_POWER,
)
