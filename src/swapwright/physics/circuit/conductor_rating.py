"""What a conductor may carry: derated current, temperature by the square law, short circuit."""

from __future__ import annotations

from math import log, sqrt
from typing import Any

import numpy as np
from numpy.typing import NDArray

from swapwright.base.figure import Symbol, Working
from swapwright.physics.vehicle.constant import ICE_POINT


def ambient_factor(*, max_temperature: float, ambient: float, reference_ambient: float) -> float:
    """Return what another ambient leaves of a rated current; none where it is the hotter.

    max_temperature: of the conductor, that the current is rated at [K]
    ambient: of the air round the cable [K]
    reference_ambient: the current is rated at, below the conductor's [K]
    result: factor, above 1 in cooler air [1]
    source: conductor-square-law
    """
    rise = max(0.0, max_temperature - ambient)
    return sqrt(rise / (max_temperature - reference_ambient))


def ampacity(
    *,
    rated_current: float,
    ambient_factor: float,
    grouping_factor: float,
    routing_factor: float,
) -> float:
    """Return the continuous current of a cable as it is laid.

    rated_current: of its table or of a heat balance [A]
    ambient_factor: what the ambient leaves of it; 1 where the balance was made there [1]
    grouping_factor: what other loaded cables leave of it [1]
    routing_factor: what the way of laying leaves of it [1]
    result: current [A]
    source: conductor-square-law
    """
    return rated_current * ambient_factor * grouping_factor * routing_factor


def conductor_temperature(
    *,
    current: float,
    rated_current: float,
    grouping_factor: float,
    routing_factor: float,
    max_temperature: float,
    reference_ambient: float,
    ambient: float,
) -> float:
    """Return the temperature a conductor settles at: its rise goes with the square of current.

    current: steady, or root-mean-square of a duty [A]
    rated_current: that heats it from reference ambient to its rated temperature [A]
    grouping_factor: what other loaded cables leave of that current [1]
    routing_factor: what the way of laying leaves of it [1]
    max_temperature: of the conductor at the rated current [K]
    reference_ambient: at the rated current [K]
    ambient: of the air round the cable [K]
    result: temperature [K]
    source: conductor-square-law
    """
    carried = rated_current * grouping_factor * routing_factor
    return ambient + (max_temperature - reference_ambient) * (current / carried) ** 2


def adiabatic_factor(
    *,
    adiabatic_constant: float,
    reciprocal_temperature: float,
    start: float,
    final: float,
    ice_point: float = ICE_POINT.si,
) -> float:
    """Return k: the short-circuit withstand of a conductor for each area; none where it is too hot.

    adiabatic_constant: of the metal [A.s^0.5/m^2]
    reciprocal_temperature: below 0 degC, at which its resistance would run out [K]
    start: temperature when the fault begins [K]
    final: the insulation bears for a moment [K]
    ice_point: [K]
    result: k [A.s^0.5/m^2]
    source: iec-60364-5-54-2011-k
    """
    before = reciprocal_temperature + start - ice_point
    after = reciprocal_temperature + final - ice_point
    return adiabatic_constant * sqrt(log(max(1.0, after / before)))


def withstand_joule_integral(*, adiabatic_factor: float, area: float) -> float:
    """Return the I²t a conductor bears in a short circuit.

    adiabatic_factor: k of the conductor [A.s^0.5/m^2]
    area: of the conductor [m^2]
    result: I²t [A^2.s]
    source: iec-60364-5-54-2011-k
    """
    return (adiabatic_factor * area) ** 2


def withstand_time(*, joule_integral: float, current: float) -> float:
    """Return how long a conductor bears a steady fault current.

    joule_integral: the I²t it bears [A^2.s]
    current: of the fault [A]
    result: time [s]
    source: iec-60364-5-54-2011-k
    """
    return joule_integral / current**2


def min_conductor_area(*, joule_integral: float, adiabatic_factor: float) -> float:
    """Return the thinnest conductor that bears an I²t.

    joule_integral: let through until the fault is cleared [A^2.s]
    adiabatic_factor: k of the conductor, above zero [A.s^0.5/m^2]
    result: area [m^2]
    source: iec-60364-5-54-2011-k
    """
    return sqrt(joule_integral) / adiabatic_factor


def duty_rms(*, currents: NDArray[np.float64], dt: NDArray[np.float64] | float) -> float:
    """Return the root-mean-square current of a duty: what heats, whichever way it flows.

    currents: of each step, either sign [A]
    dt: length of each step, or of all [s]
    result: current; only for a duty much shorter than the cable's thermal time constant [A]
    source: definition-root-mean-square
    """
    held: Any = np.broadcast_to(np.asarray(dt, dtype=float), np.shape(currents))
    return float(sqrt(np.dot(np.square(currents), held) / held.sum()))


_T_MAX = Symbol(
    "max_temperature", "K", 345.0, 530.0, "conductor at its rated current", "temperature"
)
_T_A = Symbol("ambient", "K", 243.0, 400.0, "air round the cable", "temperature")
_T_REF = Symbol("reference_ambient", "K", 293.0, 340.0, "ambient of the rating", "temperature")
_I = Symbol("current", "A", 0.0, 1000.0, "current")
_I_R = Symbol("rated_current", "A", 5.0, 800.0, "rated current")
_F_G = Symbol("grouping_factor", "1", 0.3, 1.0, "left by other loaded cables", "factor")
_F_R = Symbol("routing_factor", "1", 0.5, 1.0, "left by the way of laying", "factor")
_I2T = Symbol("joule_integral", "A^2.s", 1e2, 1e9, "I²t", "joule_integral")
_K = Symbol("adiabatic_factor", "A.s^0.5/m^2", 3e7, 2e8, "adiabatic factor k")
_AREA = Symbol("area", "m^2", 1e-6, 2e-4, "conductor size", "conductor_area")
_SQUARE = ("conductor-square-law",)
_ADIABATIC = ("iec-60364-5-54-2011-k",)
_NO_HEAT_LOST = "all heat stays in the copper: for faults up to 5 s"

AMBIENT_FACTOR = Working(
    ambient_factor,
    "sqrt(Max(0, T_max - T_a)/(T_max - T_ref))",
    {"T_max": _T_MAX, "T_a": _T_A, "T_ref": _T_REF},
    Symbol("F_a", "1", 0.0, 3.0, "left by the ambient", "fraction"),
    _SQUARE,
    "heat leaves in proportion to the rise; the rise of resistance with warmth is left out",
    "sun and hot parts, which warm the cable and not its air",
    valid="T_max > T_ref + 5",
)

AMPACITY = Working(
    ampacity,
    "I_r*F_a*F_g*F_r",
    {
        "I_r": _I_R,
        "F_a": Symbol("ambient_factor", "1", 0.0, 1.5, "left by the ambient", "factor"),
        "F_g": _F_G,
        "F_r": _F_R,
    },
    Symbol("I_z", "A", 0.0, 1500.0, "continuous current of the cable as laid"),
    (*_SQUARE, "iec-60364-5-52-2009-b52-17", "cable-routing-practice"),
    "the factors multiply",
    "lugs, glands and what they are bolted to, which may bear less than the cable",
)

CONDUCTOR_TEMPERATURE = Working(
    conductor_temperature,
    "T_a + (T_max - T_ref)*(I/(I_r*F_g*F_r))**2",
    {
        "T_a": _T_A,
        "T_max": _T_MAX,
        "T_ref": _T_REF,
        "I": _I,
        "I_r": _I_R,
        "F_g": _F_G,
        "F_r": _F_R,
    },
    Symbol("T", "K", 240.0, 1e7, "conductor temperature", "temperature"),
    _SQUARE,
    "heat leaves in proportion to the rise, the same at every ambient",
    "the rise of resistance with warmth; above the rated current it says too little",
    valid="T_max > T_ref + 5",
)

ADIABATIC_FACTOR = Working(
    adiabatic_factor,
    "K*sqrt(log(Max(1, (beta + T_f - T_0)/(beta + T_i - T_0))))",
    {
        "K": Symbol("adiabatic_constant", "A.s^0.5/m^2", 1e8, 3e8, "constant of the metal"),
        "beta": Symbol(
            "reciprocal_temperature", "K", 225.0, 240.0, "below 0 degC, resistance would run out",
            "temperature_difference",
        ),
        "T_i": Symbol("start", "K", 250.0, 530.0, "when the fault begins", "temperature"),
        "T_f": Symbol("final", "K", 400.0, 640.0, "the insulation bears", "temperature"),
        "T_0": Symbol("ice_point", "K", 273.0, 273.3, "ice point", "temperature"),
    },
    Symbol("k", "A.s^0.5/m^2", 0.0, 4e8, "adiabatic factor k"),
    _ADIABATIC,
    _NO_HEAT_LOST,
    "lugs and joints",
)  # fmt: skip

WITHSTAND_JOULE_INTEGRAL = Working(
    withstand_joule_integral,
    "(k*S)**2",
    {"k": _K, "S": _AREA},
    Symbol("W", "A^2.s", 0.0, 2e9, "I²t the conductor bears", "joule_integral"),
    _ADIABATIC,
    _NO_HEAT_LOST,
    "lugs and joints",
)

WITHSTAND_TIME = Working(
    withstand_time,
    "W/I**2",
    {
        "W": _I2T,
        "I": Symbol("current", "A", 50.0, 5e4, "fault current"),
    },
    Symbol("t", "s", 0.0, 1e6, "time the conductor bears it"),
    _ADIABATIC,
    _NO_HEAT_LOST,
    "a current that is still rising",
)

MIN_CONDUCTOR_AREA = Working(
    min_conductor_area,
    "sqrt(W)/k",
    {"W": _I2T, "k": _K},
    Symbol("S", "m^2", 0.0, 2e-3, "thinnest conductor that bears it", "conductor_area"),
    _ADIABATIC,
    _NO_HEAT_LOST,
    "lugs and joints",
)

WORKINGS: tuple[Working, ...] = (
    AMBIENT_FACTOR,
    AMPACITY,
    CONDUCTOR_TEMPERATURE,
    ADIABATIC_FACTOR,
    WITHSTAND_JOULE_INTEGRAL,
    WITHSTAND_TIME,
    MIN_CONDUCTOR_AREA,
)
