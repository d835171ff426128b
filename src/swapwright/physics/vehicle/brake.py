"""Brakes: the ideal split between axles, the grip each axle uses, stopping distance."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle import symbol
from swapwright.physics.vehicle.constant import GRAVITY


def ideal_front_brake_share(
    *, front_share: float, braking_rate: float, cg_height: float, wheelbase: float
) -> float:
    """Return the front share of braking at which both axles use the same grip.

    front_share: of the mass at rest [1]
    braking_rate: deceleration over gravity [1]
    cg_height: [m]
    wheelbase: [m]
    result: [1]
    source: Gillespie 1992, chapter 3, brake proportioning, from memory
    """
    return front_share + braking_rate * cg_height / wheelbase


def front_grip_used(*, front_brake_share: float, braking_rate: float, ideal_share: float) -> float:
    """Return the grip the front axle needs at a braking rate.

    front_brake_share: of the brakes as built [1]
    braking_rate: deceleration over gravity [1]
    ideal_share: ideal front share at that rate [1]
    result: [1]
    source: Gillespie 1992, chapter 3, brake proportioning, from memory
    """
    return front_brake_share * braking_rate / ideal_share


def rear_grip_used(*, front_brake_share: float, braking_rate: float, ideal_share: float) -> float:
    """Return the grip the rear axle needs at a braking rate.

    front_brake_share: of the brakes as built [1]
    braking_rate: deceleration over gravity [1]
    ideal_share: ideal front share at that rate [1]
    result: [1]
    source: Gillespie 1992, chapter 3, brake proportioning, from memory
    """
    return (1.0 - front_brake_share) * braking_rate / (1.0 - ideal_share)


def equal_lock_braking_rate(
    *, front_brake_share: float, front_share: float, cg_height: float, wheelbase: float
) -> float:
    """Return the braking rate above which the rear wheels lock first, deceleration over gravity.

    front_brake_share: of the brakes as built [1]
    front_share: of the mass at rest [1]
    cg_height: [m]
    wheelbase: [m]
    result: [1]
    source: Gillespie 1992, chapter 3, from memory
    """
    return (front_brake_share - front_share) * wheelbase / cg_height


def stopping_distance(*, speed: float, braking_rate: float, gravity: float = GRAVITY.si) -> float:
    """Return the distance from full braking to rest.

    speed: [m/s]
    braking_rate: deceleration over gravity [1]
    gravity: [m/s^2]
    result: without the driver's reaction [m]
    source: Gillespie 1992, chapter 3, from memory
    """
    return speed**2 / (2.0 * braking_rate * gravity)


def kinetic_energy(*, mass: float, speed: float) -> float:
    """Return the energy of motion the brakes have to take.

    mass: [kg]
    speed: [m/s]
    result: [J]
    source: the definition of kinetic energy
    """
    return 0.5 * mass * speed**2


_SOURCES = ("gillespie-1992-ch3",)
_ASSUMES = "level road, stiff body, brakes split in a fixed ratio"
_NOT_COVERED = "pressure-limiting valves, fade, regeneration on one axle"
_FRONT_SHARE = Symbol("front_share", "1", 0.3, 0.7, "front share of the mass", "fraction")
_BRAKE_SHARE = Symbol("front_brake_share", "1", 0.5, 0.9, "front share of the brakes", "fraction")
_RATE = Symbol("braking_rate", "1", 0.05, 1.0, "deceleration over gravity", "ratio")
_IDEAL = Symbol("ideal_share", "1", 0.35, 0.95, "ideal front share", "fraction")

IDEAL_FRONT_BRAKE_SHARE = Working(
    ideal_front_brake_share,
    "q + z*h/L",
    {"q": _FRONT_SHARE, "z": _RATE, "h": symbol.CG_HEIGHT, "L": symbol.WHEELBASE},
    Symbol("phi_i", "1", 0.0, 1.0, "ideal front share of braking", "fraction"),
    _SOURCES,
    _ASSUMES,
    _NOT_COVERED,
)

FRONT_GRIP_USED = Working(
    front_grip_used,
    "phi*z/phi_i",
    {"phi": _BRAKE_SHARE, "z": _RATE, "phi_i": _IDEAL},
    Symbol("f_f", "1", 0.0, 3.0, "grip used by the front axle", "ratio"),
    _SOURCES,
    _ASSUMES,
    _NOT_COVERED,
)

REAR_GRIP_USED = Working(
    rear_grip_used,
    "(1 - phi)*z/(1 - phi_i)",
    {"phi": _BRAKE_SHARE, "z": _RATE, "phi_i": _IDEAL},
    Symbol("f_r", "1", 0.0, 3.0, "grip used by the rear axle", "ratio"),
    _SOURCES,
    _ASSUMES,
    _NOT_COVERED,
    valid="phi_i < 1",
)

EQUAL_LOCK_BRAKING_RATE = Working(
    equal_lock_braking_rate,
    "(phi - q)*L/h",
    {"phi": _BRAKE_SHARE, "q": _FRONT_SHARE, "L": symbol.WHEELBASE, "h": symbol.CG_HEIGHT},
    Symbol("z_0", "1", -2.0, 4.0, "braking rate of equal lock", "ratio"),
    _SOURCES,
    _ASSUMES,
    _NOT_COVERED,
)

STOPPING_DISTANCE = Working(
    stopping_distance,
    "v**2/(2*z*g)",
    {"v": symbol.SPEED, "z": _RATE, "g": symbol.GRAVITY},
    Symbol("s", "m", 0.0, 2000.0, "stopping distance", "length"),
    _SOURCES,
    "a steady braking rate",
    "reaction time, brake build-up, fade",
)

KINETIC_ENERGY = Working(
    kinetic_energy,
    "m*v**2/2",
    {"m": symbol.MASS, "v": symbol.SPEED},
    Symbol("E", "J", 0.0, 1e7, "energy of motion", "energy"),
    ("mechanics-definitions",),
    "the mass of the car alone",
    "energy in wheels and motor, some 3 to 6 % more",
)

WORKINGS: tuple[Working, ...] = (
    IDEAL_FRONT_BRAKE_SHARE,
    FRONT_GRIP_USED,
    REAR_GRIP_USED,
    EQUAL_LOCK_BRAKING_RATE,
    STOPPING_DISTANCE,
    KINETIC_ENERGY,
)
