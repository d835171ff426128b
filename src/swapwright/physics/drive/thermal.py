"""A motor or inverter as one lump of heat: how long at peak, how hot at rest.

The two numbers of the lump come from two ratings: what can be held without end gives the
conductance, what can be held for the peak time gives the heat capacity.
"""

from __future__ import annotations

from math import inf, log, sqrt

from swapwright.base.figure import Symbol, Working


def conductance_from_continuous(
    *, continuous_loss: float, max_temperature: float, ambient: float
) -> float:
    """Return the conductance that holds the limit temperature at the continuous rating.

    continuous_loss: loss at the continuous rating [W]
    max_temperature: limit [K]
    ambient: air or coolant at the rating [K]
    result: conductance [W/K]
    source: incropera-2007-ch5, from memory
    """
    return continuous_loss / (max_temperature - ambient)


def heat_capacity_from_peak(
    *,
    peak_loss: float,
    peak_time: float,
    conductance: float,
    start: float,
    max_temperature: float,
    ambient: float,
) -> float:
    """Return the heat capacity with which the limit is reached after the peak time.

    peak_loss: loss at the peak rating, enough to pass the limit in the end [W]
    peak_time: time the peak rating may be held [s]
    conductance: to ambient [W/K]
    start: temperature the peak starts from, above ambient or equal [K]
    max_temperature: limit [K]
    ambient: air or coolant at the rating [K]
    result: heat capacity [J/K]
    source: incropera-2007-ch5, from memory
    """
    settled = ambient + peak_loss / conductance
    return conductance * peak_time / log((settled - start) / (settled - max_temperature))


def heat_capacity_from_mass(*, mass: float, share: float, specific_heat: float) -> float:
    """Return the heat capacity of what warms with a winding.

    mass: of the motor [kg]
    share: of it that warms with the winding: copper and the teeth round it [1]
    specific_heat: of that [J/kg/K]
    result: heat capacity [J/K]
    source: incropera-2007-ch5, from memory
    """
    return mass * share * specific_heat


def steady_temperature(*, loss: float, conductance: float, ambient: float) -> float:
    """Return the temperature a steady loss settles at.

    loss: heat made [W]
    conductance: to ambient [W/K]
    ambient: [K]
    result: temperature [K]
    source: incropera-2007-ch5, from memory
    """
    return ambient + loss / conductance


def time_to_limit(
    *,
    loss: float,
    conductance: float,
    heat_capacity: float,
    start: float,
    max_temperature: float,
    ambient: float,
) -> float:
    """Return how long a steady loss may last before the limit is reached.

    loss: heat made [W]
    conductance: to ambient [W/K]
    heat_capacity: [J/K]
    start: temperature at time zero [K]
    max_temperature: limit [K]
    ambient: [K]
    result: time, 0 when already there, infinite when it settles below the limit [s]
    source: incropera-2007-ch5, from memory
    """
    if start >= max_temperature:
        return 0.0
    settled = ambient + loss / conductance
    if settled <= max_temperature:
        return inf
    return heat_capacity / conductance * log((settled - start) / (settled - max_temperature))


def power_at_rise(
    *, rated_power: float, max_temperature: float, rating_ambient: float, ambient: float
) -> float:
    """Return the power a motor gives for good at another ambient than its rating's.

    rated_power: continuous [W]
    max_temperature: of the winding [K]
    rating_ambient: the rating is given at [K]
    ambient: below the winding's limit [K]
    result: power [W]
    source: iec-60034-1-ambient
    """
    rise = (max_temperature - ambient) / (max_temperature - rating_ambient)
    return rated_power * sqrt(rise)


_LOSS = Symbol("loss", "W", 2000.0, 2e4, "heat made")
_G = Symbol("conductance", "W/K", 2.0, 10.0, "conductance to ambient")
_C = Symbol("heat_capacity", "J/K", 500.0, 1e5, "heat capacity")
_START = Symbol("start", "K", 293.15, 373.15, "temperature at the start")
_LIMIT = Symbol("max_temperature", "K", 393.15, 453.15, "limit temperature")
_AMBIENT = Symbol("ambient", "K", 253.15, 333.15, "ambient or coolant temperature")
_ONE_LUMP = "one temperature for the whole lump, constant conductance"
_HOT_SPOT = "hot spots, loss that grows as the winding warms"
_SOURCE = ("incropera-2007-ch5",)

CONDUCTANCE_FROM_CONTINUOUS = Working(
    conductance_from_continuous,
    "P / (T_max - T_a)",
    {
        "P": Symbol("continuous_loss", "W", 100.0, 1e4, "loss at the continuous rating"),
        "T_max": _LIMIT,
        "T_a": _AMBIENT,
    },
    Symbol("conductance", "W/K", 0.0, 1e3, "conductance to ambient"),
    _SOURCE,
    _ONE_LUMP,
    _HOT_SPOT,
)

HEAT_CAPACITY_FROM_PEAK = Working(
    heat_capacity_from_peak,
    "G * t / log((T_a + P / G - T_s) / (T_a + P / G - T_max))",
    {
        "P": Symbol("peak_loss", "W", 2500.0, 2e4, "loss at the peak rating"),
        "t": Symbol("peak_time", "s", 5.0, 600.0, "peak time"),
        "G": _G,
        "T_s": _START,
        "T_max": _LIMIT,
        "T_a": _AMBIENT,
    },
    Symbol("heat_capacity", "J/K", 0.0, 1e7, "heat capacity"),
    _SOURCE,
    _ONE_LUMP,
    _HOT_SPOT,
    "T_a + P / G - T_max > 1",
)

HEAT_CAPACITY_FROM_MASS = Working(
    heat_capacity_from_mass,
    "m * s * c",
    {
        "m": Symbol("mass", "kg", 10.0, 200.0, "mass of the motor", "mass"),
        "s": Symbol("share", "1", 0.1, 0.5, "share that warms with the winding", "fraction"),
        "c": Symbol("specific_heat", "J/kg/K", 300.0, 500.0, "specific heat"),
    },
    Symbol("heat_capacity", "J/K", 0.0, 1e7, "heat capacity"),
    _SOURCE,
    _ONE_LUMP,
    _HOT_SPOT,
)

STEADY_TEMPERATURE = Working(
    steady_temperature,
    "T_a + P / G",
    {"P": _LOSS, "G": _G, "T_a": _AMBIENT},
    Symbol("steady_temperature", "K", 0.0, 1e5, "temperature it settles at"),
    _SOURCE,
    _ONE_LUMP,
    _HOT_SPOT,
)

TIME_TO_LIMIT = Working(
    time_to_limit,
    "C / G * log((T_a + P / G - T_s) / (T_a + P / G - T_max))",
    {
        "P": _LOSS,
        "G": _G,
        "C": _C,
        "T_s": _START,
        "T_max": _LIMIT,
        "T_a": _AMBIENT,
    },
    Symbol("time_to_limit", "s", 0.0, 1e6, "time to the limit"),
    _SOURCE,
    _ONE_LUMP,
    _HOT_SPOT,
    "T_a + P / G - T_max > 1",
)

POWER_AT_RISE = Working(
    power_at_rise,
    "P * sqrt((T_max - T_a) / (T_max - T_r))",
    {
        "P": Symbol("rated_power", "W", 1e3, 2e5, "continuous power"),
        "T_max": Symbol("max_temperature", "K", 380.0, 480.0, "winding limit"),
        "T_r": Symbol("rating_ambient", "K", 293.15, 333.15, "ambient of the rating"),
        "T_a": Symbol("ambient", "K", 243.15, 333.15, "ambient"),
    },
    Symbol("power_at_rise", "W", 0.0, 5e5, "power that lasts at this ambient", "power"),
    ("iec-60034-1-ambient",),
    "loss goes with the square of power",
    "iron and drag loss, which do not fall with power",
)

WORKINGS: tuple[Working, ...] = (
    CONDUCTANCE_FROM_CONTINUOUS,
    HEAT_CAPACITY_FROM_PEAK,
    HEAT_CAPACITY_FROM_MASS,
    STEADY_TEMPERATURE,
    TIME_TO_LIMIT,
    POWER_AT_RISE,
)
