"""Weight: axle loads by moments, place of the centre of gravity, load transfer."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle import symbol
from swapwright.physics.vehicle.constant import GRAVITY


def rear_axle_part(*, mass: float, x: float, wheelbase: float) -> float:
    """Return the part of one mass that the rear axle carries.

    The sum over all masses is the rear axle load.

    mass: negative for what is taken out [kg]
    x: behind the front axle [m]
    wheelbase: [m]
    result: negative for an overhang [kg]
    source: Gillespie 1992, chapter 1, moments about an axle, from memory
    """
    return mass * x / wheelbase


def front_axle_part(*, mass: float, x: float, wheelbase: float) -> float:
    """Return the part of one mass that the front axle carries.

    The sum over all masses is the front axle load.

    mass: negative for what is taken out [kg]
    x: behind the front axle [m]
    wheelbase: [m]
    result: [kg]
    source: Gillespie 1992, chapter 1, moments about an axle, from memory
    """
    return mass * (1.0 - x / wheelbase)


def cg_x(*, rear_axle_load: float, mass: float, wheelbase: float) -> float:
    """Return how far the centre of gravity lies behind the front axle.

    rear_axle_load: [kg]
    mass: of the whole car [kg]
    wheelbase: [m]
    result: [m]
    source: Gillespie 1992, chapter 1, moments about an axle, from memory
    """
    return rear_axle_load * wheelbase / mass


def axle_share(*, axle_load: float, mass: float) -> float:
    """Return an axle's share of the car's mass.

    axle_load: [kg]
    mass: of the whole car [kg]
    result: [1]
    source: the definition of a share
    """
    return axle_load / mass


def load_transfer(
    *,
    mass: float,
    acceleration: float,
    cg_height: float,
    wheelbase: float,
    gravity: float = GRAVITY.si,
) -> float:
    """Return the load moved to the rear axle by gaining speed.

    mass: [kg]
    acceleration: forwards [m/s^2]
    cg_height: [m]
    wheelbase: [m]
    gravity: [m/s^2]
    result: negative under braking [kg]
    source: Gillespie 1992, chapter 1, from memory
    """
    return mass * acceleration * cg_height / (gravity * wheelbase)


_MOMENTS = ("gillespie-1992-ch1-axle-loads",)
_ITEM = Symbol("mass", "kg", -600.0, 3000.0, "mass of the item", "mass")
_X = Symbol("x", "m", -1.5, 6.0, "place behind the front axle", "position")

REAR_AXLE_PART = Working(
    rear_axle_part,
    "m*x/L",
    {"m": _ITEM, "x": _X, "L": symbol.WHEELBASE},
    Symbol("m_r", "kg", -1e4, 1e4, "part on the rear axle", "mass"),
    _MOMENTS,
    "car level and at rest",
    "left and right share",
)

FRONT_AXLE_PART = Working(
    front_axle_part,
    "m*(1 - x/L)",
    {"m": _ITEM, "x": _X, "L": symbol.WHEELBASE},
    Symbol("m_f", "kg", -1e4, 1e4, "part on the front axle", "mass"),
    _MOMENTS,
    "car level and at rest",
    "left and right share",
)

_REAR_LOAD = Symbol("rear_axle_load", "kg", 50.0, 4000.0, "rear axle load", "mass")

CG_X = Working(
    cg_x,
    "m_r*L/m",
    {"m_r": _REAR_LOAD, "L": symbol.WHEELBASE, "m": symbol.MASS},
    Symbol("x_cg", "m", -1.0, 6.0, "centre of gravity behind the front axle", "position"),
    _MOMENTS,
    "car level and at rest",
    "a trailer on the hitch",
)

AXLE_SHARE = Working(
    axle_share,
    "m_a/m",
    {"m_a": Symbol("axle_load", "kg", 50.0, 4000.0, "axle load", "mass"), "m": symbol.MASS},
    Symbol("q", "1", 0.0, 1.0, "share of the axle", "fraction"),
    ("mechanics-definitions",),
    "car level and at rest",
    "left and right share",
)

LOAD_TRANSFER = Working(
    load_transfer,
    "m*a_x*h/(g*L)",
    {
        "m": symbol.MASS,
        "a_x": Symbol("acceleration", "m/s^2", -10.0, 10.0, "gain of speed", "acceleration"),
        "h": symbol.CG_HEIGHT,
        "g": symbol.GRAVITY,
        "L": symbol.WHEELBASE,
    },
    Symbol("dm", "kg", -2000.0, 2000.0, "load moved to the rear axle", "mass"),
    _MOMENTS,
    "a stiff body on the level; air forces act at the centre of gravity's height",
    "pitch, springs, air lift",
)

WORKINGS: tuple[Working, ...] = (
    REAR_AXLE_PART,
    FRONT_AXLE_PART,
    CG_X,
    AXLE_SHARE,
    LOAD_TRANSFER,
)
