"""Clearance and creepage: how far apart live parts must be, through air and along a surface."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def required_clearance(*, at_sea_level: float, altitude_factor: float) -> float:
    """Return the clearance required at an altitude.

    at_sea_level: clearance of the impulse voltage, good to 2000 m [m]
    altitude_factor: thinner air needs more of it [1]
    result: distance through air [m]
    source: iec-60664-1-a2-altitude, from memory
    """
    return at_sea_level * altitude_factor


def required_creepage(*, basic: float, times: float, clearance: float) -> float:
    """Return the creepage required: by the table, and never below the clearance.

    basic: of the table, for basic insulation [m]
    times: 1 for basic, 2 for reinforced insulation [1]
    clearance: required there [m]
    result: distance along the surface [m]
    source: iec-60664-1-creepage-rules, from memory
    """
    return max(basic * times, clearance)


_CLEARANCE = Symbol("required_clearance", "m", 0.0, 0.1, "clearance required", "length")

REQUIRED_CLEARANCE = Working(
    required_clearance,
    "s * k",
    {
        "s": Symbol("at_sea_level", "m", 1e-4, 0.02, "clearance up to 2000 m", "length"),
        "k": Symbol("altitude_factor", "1", 1.0, 1.48, "altitude factor", "factor"),
    },
    _CLEARANCE,
    ("iec-60664-1-a2-altitude",),
    "field of sharp parts; the impulse voltage is a choice of the design",
    "voltages of high frequency",
)

REQUIRED_CREEPAGE = Working(
    required_creepage,
    "Max(c * n, s)",
    {
        "c": Symbol("basic", "m", 1e-4, 0.02, "creepage of the table", "length"),
        "n": Symbol("times", "1", 1.0, 2.0, "1 basic, 2 reinforced", "factor"),
        "s": Symbol("clearance", "m", 1e-4, 0.03, "clearance required", "length"),
    },
    Symbol("required_creepage", "m", 0.0, 0.1, "creepage required", "length"),
    ("iec-60664-1-creepage-rules",),
    "",
    "grooves, ribs and conductive dust",
)

WORKINGS: tuple[Working, ...] = (REQUIRED_CLEARANCE, REQUIRED_CREEPAGE)
