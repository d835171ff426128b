"""Braking: how much grip each axle uses, when which one locks, and how far it takes to stop."""

from __future__ import annotations

import math

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle import symbol
from swapwright.physics.vehicle.constant import GRAVITY


def rear_share(*, front_share: float) -> float:
    """Return the share of the braking at the rear.

    front_share: of the brakes at the front [1]
    result: [1]
    source: the definition of a share
    """
    return 1.0 - front_share


def ideal_front_share(
    *, rate: float, weight_share: float, cg_height: float, wheelbase: float
) -> float:
    """Return the share of the braking at the front at which both axles use the same grip.

    rate: deceleration over gravity [1]
    weight_share: of the front axle at rest [1]
    cg_height, wheelbase: [m]
    result: [1]
    source: Gillespie 1992, chapter 3, brake proportioning, from memory
    """
    return weight_share + rate * cg_height / wheelbase


def regeneration_rate(*, force: float, mass: float, gravity: float = GRAVITY.si) -> float:
    """Return the deceleration over gravity that regeneration makes by itself.

    force: at the wheels [N]
    mass: [kg]
    gravity: [m/s^2]
    result: [1]
    source: Newton's second law
    """
    return force / (mass * gravity)


def front_grip_used(
    *,
    rate: float,
    front_share: float,
    regeneration: float,
    regenerated_in_front: float,
    weight_share: float,
    cg_height: float,
    wheelbase: float,
) -> float:
    """Return the grip the front tyres use: braking force over load.

    The pedal's brakes add what regeneration does not hold.

    rate: deceleration over gravity, not below the regeneration [1]
    front_share: of the pedal's brakes at the front [1]
    regeneration: deceleration over gravity by regeneration alone [1]
    regenerated_in_front: share of the regeneration at the front axle [1]
    weight_share: of the front axle at rest [1]
    cg_height, wheelbase: [m]
    result: [1]
    source: Gillespie 1992, chapter 3, brake proportioning, from memory
    """
    braking = front_share * (rate - regeneration) + regenerated_in_front * regeneration
    return braking / (weight_share + rate * cg_height / wheelbase)


def rear_grip_used(
    *,
    rate: float,
    front_share: float,
    regeneration: float,
    regenerated_in_front: float,
    weight_share: float,
    cg_height: float,
    wheelbase: float,
) -> float:
    """Return the grip the rear tyres use: braking force over load; as `front_grip_used`.

    rate: deceleration over gravity, not below the regeneration [1]
    front_share: of the pedal's brakes at the front [1]
    regeneration: deceleration over gravity by regeneration alone [1]
    regenerated_in_front: share of the regeneration at the front axle [1]
    weight_share: of the front axle at rest [1]
    cg_height, wheelbase: [m]
    result: [1]
    source: Gillespie 1992, chapter 3, brake proportioning, from memory
    """
    behind = 1.0 - regenerated_in_front
    braking = (1.0 - front_share) * (rate - regeneration) + behind * regeneration
    return braking / (1.0 - weight_share - rate * cg_height / wheelbase)


def equal_lock_rate(
    *, front_share: float, weight_share: float, cg_height: float, wheelbase: float
) -> float:
    """Return the deceleration over gravity up to which the front wheels lock first.

    front_share: of the brakes at the front [1]
    weight_share: of the front axle at rest [1]
    cg_height, wheelbase: [m]
    result: negative where the rear always locks first [1]
    source: Gillespie 1992, chapter 3, brake proportioning, from memory
    """
    return (front_share - weight_share) * wheelbase / cg_height


def rate_reached(
    *,
    grip: float,
    front_share: float,
    weight_share: float,
    cg_height: float,
    wheelbase: float,
) -> float:
    """Return the deceleration over gravity at which the first axle locks.

    grip: of the tyres on the road [1]
    front_share: of the brakes at the front [1]
    weight_share: of the front axle at rest [1]
    cg_height, wheelbase: [m]
    result: [1]
    source: Gillespie 1992, chapter 3, braking efficiency, from memory
    """
    lift = grip * cg_height / wheelbase
    rear = grip * (1.0 - weight_share) / (1.0 - front_share + lift)
    if front_share <= lift:  # so little braking in front that its wheels cannot lock
        return rear
    return min(grip * weight_share / (front_share - lift), rear)


def tightest_grip(
    *,
    front_share: float,
    weight_share: float,
    cg_height: float,
    wheelbase: float,
    base: float,
    slope: float,
    low: float,
    high: float,
) -> float:
    """Return the grip at which the rate reached is nearest to the rate required, or most below it.

    Where the rear locks first what is to spare is least at an end; where the front does, at an end
    or where the rate reached rises as steeply with grip as the required one.

    front_share: of the brakes at the front [1]
    weight_share: of the front axle at rest [1]
    cg_height, wheelbase: [m]
    base, slope: rate required at the least grip, and its rise over grip [1]
    low, high: the grips it is required between [1]
    result: [1]
    source: the least of a convex and of a concave function, our own arithmetic
    """
    axles = {
        "front_share": front_share,
        "weight_share": weight_share,
        "cg_height": cg_height,
        "wheelbase": wheelbase,
    }
    steepest = (front_share - math.sqrt(front_share * weight_share / slope)) * wheelbase / cg_height

    def to_spare(grip: float) -> float:
        required = rate_required(grip=grip, base=base, slope=slope, low=low)
        return rate_reached(grip=grip, **axles) - required

    return min((low, min(high, max(low, steepest)), high), key=to_spare)


def rate_required(*, grip: float, base: float, slope: float, low: float) -> float:
    """Return the deceleration over gravity that brakes have to reach on a road.

    grip: of the tyres on the road [1]
    base: rate at the least grip [1]
    slope: of the rate over grip [1]
    low: the least grip [1]
    result: [1]
    source: UN Regulation 13-H, annex 5, 3.1, from memory
    """
    return base + slope * (grip - low)


def stopping_distance(*, speed: float, rate: float, gravity: float = GRAVITY.si) -> float:
    """Return the way a car takes to stop once its brakes hold.

    speed: [m/s]
    rate: deceleration over gravity [1]
    gravity: [m/s^2]
    result: [m]
    source: constant deceleration
    """
    return speed * speed / (2.0 * rate * gravity)


_BALANCE = ("gillespie-1992-ch3-brake-proportioning",)
_NEWTON = ("mechanics-definitions",)
_RATE = Symbol("rate", "1", 0.15, 0.9, "deceleration over gravity", "over_gravity")
_GRIP = Symbol("grip", "1", 0.2, 0.8, "grip of the tyres on the road", "ratio")
_FRONT = Symbol("front_share", "1", 0.5, 0.95, "share of the braking at the front", "fraction")
_ANY_FRONT = Symbol("front_share", "1", 0.0, 1.0, "share of the braking at the front", "fraction")
_WEIGHT = Symbol("weight_share", "1", 0.3, 0.65, "front axle's share of the weight", "fraction")
_HEIGHT = Symbol("cg_height", "m", 0.35, 0.7, "height of the centre of gravity", "length")
_BASE = Symbol("wheelbase", "m", 2.0, 4.0, "wheelbase", "length")
_REGENERATED = Symbol("regeneration", "1", 0.0, 0.14, "regeneration alone", "over_gravity")
_IN_FRONT = Symbol(
    "regenerated_in_front", "1", 0.0, 1.0, "share of the regeneration at the front", "fraction"
)
_STIFF = "a stiff body on the level; brakes shared as given at every pedal force"
_NOT = "a valve in the rear circuit, antilock braking, fade, wind, tyres of unlike grip"
_AXLES = {
    "z": _RATE,
    "phi": _FRONT,
    "r": _REGENERATED,
    "q": _IN_FRONT,
    "s": _WEIGHT,
    "h": _HEIGHT,
    "L": _BASE,
}

REAR_SHARE = Working(
    rear_share,
    "1 - phi",
    {"phi": _FRONT},
    Symbol("phi_r", "1", 0.0, 1.0, "share of the braking at the rear", "fraction"),
    _NEWTON,
    "two axles",
    "a valve in the rear circuit",
)

IDEAL_FRONT_SHARE = Working(
    ideal_front_share,
    "s + z*h/L",
    {"s": _WEIGHT, "z": _RATE, "h": _HEIGHT, "L": _BASE},
    Symbol("phi_i", "1", 0.0, 1.5, "ideal share of the braking at the front", "fraction"),
    _BALANCE,
    "a stiff body on the level",
    "wind, tyres of unlike grip",
)

REGENERATION_RATE = Working(
    regeneration_rate,
    "F/(m*g)",
    {
        "F": Symbol("force", "N", 50.0, 6000.0, "regeneration at the wheels", "force"),
        "m": symbol.MASS,
        "g": symbol.GRAVITY,
    },
    Symbol("r", "1", 0.0, 2.1, "regeneration alone, over gravity", "over_gravity"),
    _NEWTON,
    "the whole of the limit is reached; road load left out",
    "speeds at which the motor has no power for it",
)

FRONT_GRIP_USED = Working(
    front_grip_used,
    "(phi*(z - r) + q*r)/(s + z*h/L)",
    _AXLES,
    Symbol("f_f", "1", -1.0, 5.0, "grip used in front", "ratio"),
    _BALANCE,
    _STIFF,
    _NOT,
)

REAR_GRIP_USED = Working(
    rear_grip_used,
    "((1 - phi)*(z - r) + (1 - q)*r)/(1 - s - z*h/L)",
    _AXLES,
    Symbol("f_r", "1", -50.0, 50.0, "grip used behind", "ratio"),
    _BALANCE,
    _STIFF,
    _NOT,
    valid="1 - s - z*h/L > 0.02",
)

EQUAL_LOCK_RATE = Working(
    equal_lock_rate,
    "(phi - s)*L/h",
    {"phi": _FRONT, "s": _WEIGHT, "h": _HEIGHT, "L": _BASE},
    Symbol("z_0", "1", -10.0, 10.0, "deceleration at which both axles lock", "over_gravity"),
    _BALANCE,
    _STIFF,
    _NOT,
)

RATE_REACHED = Working(
    rate_reached,
    "Piecewise((k*(1 - s)/(1 - phi + k*h/L), phi <= k*h/L),"
    " (Min(k*s/(phi - k*h/L), k*(1 - s)/(1 - phi + k*h/L)), True))",
    {"k": _GRIP, "phi": _ANY_FRONT, "s": _WEIGHT, "h": _HEIGHT, "L": _BASE},
    Symbol("z_k", "1", 0.0, 5.0, "deceleration reached before an axle locks", "over_gravity"),
    _BALANCE,
    _STIFF,
    _NOT,
)

RATE_REQUIRED = Working(
    rate_required,
    "z_1 + b*(k - k_1)",
    {
        "k": _GRIP,
        "z_1": Symbol("base", "1", 0.05, 0.2, "rate at the least grip", "over_gravity"),
        "b": Symbol("slope", "1", 0.5, 1.0, "slope of the required rate", "ratio"),
        "k_1": Symbol("low", "1", 0.1, 0.3, "least grip", "ratio"),
    },
    Symbol("z_r", "1", 0.0, 1.0, "deceleration required", "over_gravity"),
    ("un-r13h-annex-5",),
    "two axles, no antilock braking",
    "cars with antilock braking, which are judged otherwise",
)

STOPPING_DISTANCE = Working(
    stopping_distance,
    "v**2/(2*z*g)",
    {"v": symbol.SPEED, "z": _RATE, "g": symbol.GRAVITY},
    Symbol("d", "m", 0.0, 1000.0, "stopping distance", "length"),
    _NEWTON,
    "the same deceleration to the end",
    "the driver's reaction and the brakes' rise, about a second of driving on",
)

WORKINGS: tuple[Working, ...] = (
    REAR_SHARE,
    IDEAL_FRONT_SHARE,
    REGENERATION_RATE,
    FRONT_GRIP_USED,
    REAR_GRIP_USED,
    EQUAL_LOCK_RATE,
    RATE_REACHED,
    RATE_REQUIRED,
    STOPPING_DISTANCE,
)
