"""Wheel and tyre geometry: diameter, rolling circumference, rolling radius, revolutions."""

from __future__ import annotations

from math import pi

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle.constant import RADIAL_CIRCUMFERENCE_RATIO


def outside_diameter(*, rim_diameter: float, section_width: float, aspect: float) -> float:
    """Return the outside diameter of a new, unloaded tyre.

    rim_diameter: nominal [m]
    section_width: nominal [m]
    aspect: section height over width [1]
    result: [m]
    source: ISO 4000-1, tyre designation, from memory
    """
    return rim_diameter + 2.0 * section_width * aspect


def rolling_circumference(
    *, outside_diameter: float, circumference_ratio: float = RADIAL_CIRCUMFERENCE_RATIO.si
) -> float:
    """Return the distance a loaded tyre rolls in one turn.

    outside_diameter: [m]
    circumference_ratio: rolling circumference over diameter [1]
    result: [m]
    source: ETRTO Standards Manual, radial tyres at 60 km/h, from memory
    """
    return circumference_ratio * outside_diameter


def rolling_radius(*, rolling_circumference: float) -> float:
    """Return the radius that turns wheel speed into road speed.

    rolling_circumference: [m]
    result: [m]
    source: ISO 4223-1, dynamic radius, from memory
    """
    return rolling_circumference / (2.0 * pi)


def wheel_turns(*, distance: float, rolling_circumference: float) -> float:
    """Return how often a wheel turns over a distance.

    distance: [m]
    rolling_circumference: [m]
    result: [1]
    source: ISO 4223-1, rolling circumference, from memory
    """
    return distance / rolling_circumference


def tyre_load(*, axle_load: float, tyres: float) -> float:
    """Return the load on each tyre of an axle.

    axle_load: [kg]
    tyres: how many carry it [1]
    result: [kg]
    source: the definition of a mean
    """
    return axle_load / tyres


_DIAMETER = Symbol("outside_diameter", "m", 0.4, 1.0, "outside diameter of the tyre", "length")
_CIRCUMFERENCE = Symbol("rolling_circumference", "m", 1.3, 3.1, "rolling circumference", "length")

OUTSIDE_DIAMETER = Working(
    outside_diameter,
    "d + 2*w*a",
    {
        "d": Symbol("rim_diameter", "m", 0.2, 0.62, "rim diameter", "length"),
        "w": Symbol("section_width", "m", 0.08, 0.4, "section width", "length"),
        "a": Symbol("aspect", "1", 0.25, 1.05, "aspect ratio", "ratio"),
    },
    Symbol("D", "m", 0.3, 1.2, "outside diameter of the tyre", "length"),
    ("iso-4000-1-2021-designation",),
    "a new tyre of nominal size",
    "wear (about 2.5 % of the diameter over a tyre's life), maker's tolerance",
)

ROLLING_CIRCUMFERENCE = Working(
    rolling_circumference,
    "k*D",
    {
        "k": Symbol("circumference_ratio", "1", 2.9, 3.15, "rolling circumference over diameter"),
        "D": _DIAMETER,
    },
    Symbol("U", "m", 1.0, 3.5, "rolling circumference", "length"),
    ("etrto-2019-rolling-circumference",),
    "a radial tyre at its rated load and pressure, 60 km/h",
    "bias-ply tyres, which roll up to 2 % further at speed",
)

ROLLING_RADIUS = Working(
    rolling_radius,
    "U/(2*pi)",
    {"U": _CIRCUMFERENCE},
    Symbol("r", "m", 0.15, 0.6, "rolling radius", "length"),
    ("iso-4223-1-2017-rolling-terms",),
    "no slip",
    "the static radius, which is some 2 to 4 % smaller",
)

WHEEL_TURNS = Working(
    wheel_turns,
    "s/U",
    {
        "s": Symbol("distance", "m", 1.0, 1e5, "distance", "distance"),
        "U": _CIRCUMFERENCE,
    },
    Symbol("n", "1", 0.0, 1e5, "turns of a wheel", "ratio"),
    ("iso-4223-1-2017-rolling-terms",),
    "no slip",
    "slip under power, under 2 % on a dry road",
)

TYRE_LOAD = Working(
    tyre_load,
    "m_a/n",
    {
        "m_a": Symbol("axle_load", "kg", 50.0, 1e4, "axle load", "mass"),
        "n": Symbol("tyres", "1", 1.0, 4.0, "tyres on the axle", "count"),
    },
    Symbol("m_t", "kg", 0.0, 1e4, "load on each tyre", "mass"),
    ("mechanics-definitions",),
    "the load shared evenly, left and right",
    "a car heavier on one side",
)

WORKINGS: tuple[Working, ...] = (
    OUTSIDE_DIAMETER,
    ROLLING_CIRCUMFERENCE,
    ROLLING_RADIUS,
    WHEEL_TURNS,
    TYRE_LOAD,
)
