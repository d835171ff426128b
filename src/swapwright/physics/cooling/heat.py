"""Heat into a coolant loop and out of its radiator: temperatures at rest and over time."""

from __future__ import annotations

from math import exp, log, sqrt

from swapwright.base.figure import Symbol, Working


def capacity_rate(*, density: float, specific_heat: float, flow: float) -> float:
    """Return the heat a coolant stream carries for each degree it warms.

    density: [kg/m^3]
    specific_heat: [J/kg/K]
    flow: [m^3/s]
    result: [W/K]
    source: incropera-2007-ch11
    """
    return density * specific_heat * flow


def one_stream_effectiveness(*, conductance: float, capacity_rate: float) -> float:
    """Return how much of the heat it could give a stream gives to air that stays as it is.

    conductance: between the coolant and the air that comes in [W/K]
    capacity_rate: of the coolant [W/K]
    result: 0..1 [1]
    source: incropera-2007-ch11, effectiveness with one stream at a constant temperature
    """
    return 1.0 - exp(-conductance / capacity_rate)


def coolant_hot(
    *, ambient: float, heat: float, effectiveness: float, capacity_rate: float
) -> float:
    """Return the temperature at which coolant comes to a radiator that sheds a steady heat.

    ambient: of the air that comes in [K]
    heat: into the loop [W]
    effectiveness: of the radiator [1]
    capacity_rate: of the coolant [W/K]
    result: hottest coolant of the loop [K]
    source: incropera-2007-ch11
    """
    return ambient + heat / (effectiveness * capacity_rate)


def coolant_rise(*, heat: float, capacity_rate: float) -> float:
    """Return how much a heat warms the coolant that takes it, or cools the coolant that gives it.

    heat: [W]
    capacity_rate: [W/K]
    result: [K]
    source: incropera-2007-ch11, energy balance of a stream
    """
    return heat / capacity_rate


def loop_heat_capacity(
    *, volume: float, density: float, specific_heat: float, metal_mass: float, metal_heat: float
) -> float:
    """Return the heat a loop takes for each degree it warms: its coolant and its parts' metal.

    volume: of coolant [m^3]
    density: [kg/m^3]
    specific_heat: of the coolant [J/kg/K]
    metal_mass: of the parts [kg]
    metal_heat: specific heat of their metal [J/kg/K]
    result: [J/K]
    source: incropera-2007-ch5, lumped capacitance
    """
    return volume * density * specific_heat + metal_mass * metal_heat


def coolant_after(
    *,
    start: float,
    settled: float,
    effectiveness: float,
    capacity_rate: float,
    heat_capacity: float,
    time: float,
) -> float:
    """Return the hottest coolant some time after a steady heat began.

    start: [K]
    settled: where it would end [K]
    effectiveness: of the radiator [1]
    capacity_rate: of the coolant [W/K]
    heat_capacity: of the loop [J/K]
    time: [s]
    result: [K]
    source: incropera-2007-ch5, lumped capacitance
    """
    return settled + (start - settled) * exp(-effectiveness * capacity_rate * time / heat_capacity)


def heat_at_limit(
    *, max_temperature: float, ambient: float, effectiveness: float, capacity_rate: float
) -> float:
    """Return the steady heat a loop sheds with its coolant at its limit.

    max_temperature: of the coolant, above the ambient [K]
    ambient: [K]
    effectiveness: of the radiator [1]
    capacity_rate: of the coolant [W/K]
    result: [W]
    source: incropera-2007-ch11
    """
    return effectiveness * capacity_rate * (max_temperature - ambient)


def ambient_at_limit(
    *, max_temperature: float, heat: float, effectiveness: float, capacity_rate: float
) -> float:
    """Return the warmest air in which a loop sheds a steady heat within its limit.

    max_temperature: of the coolant [K]
    heat: [W]
    effectiveness: of the radiator [1]
    capacity_rate: of the coolant [W/K]
    result: [K]
    source: incropera-2007-ch11
    """
    return max_temperature - heat / (effectiveness * capacity_rate)


def conductance_needed(
    *, heat: float, max_temperature: float, ambient: float, capacity_rate: float
) -> float:
    """Return the least conductance of a radiator that holds the coolant at its limit.

    Where the stream cannot carry the heat at all, however large the radiator, there is none.

    heat: steady [W]
    max_temperature: of the coolant [K]
    ambient: [K]
    capacity_rate: of the coolant [W/K]
    result: [W/K]
    source: incropera-2007-ch11, effectiveness with one stream at a constant temperature, solved
    """
    return -capacity_rate * log(1.0 - heat / (capacity_rate * (max_temperature - ambient)))


def power_at_heat(*, power: float, heat_allowed: float, heat: float) -> float:
    """Return the power that makes just the heat a loop can shed.

    power: at which the heat is made [W]
    heat_allowed: what the loop sheds at its limit [W]
    heat: made at that power [W]
    result: [W]
    source: iec-60034-1-ambient, losses that go with the square of the power
    """
    return power * sqrt(heat_allowed / heat)


def plate_temperature(
    *, coolant_in: float, rise: float, heat: float, thermal_resistance: float
) -> float:
    """Return the temperature of a plate on coolant that warms along it.

    coolant_in: [K]
    rise: of the coolant along the plate [K]
    heat: [W]
    thermal_resistance: from the plate to the mean coolant [K/W]
    result: [K]
    source: incropera-2007-ch3, thermal resistance
    """
    return coolant_in + 0.5 * rise + heat * thermal_resistance


_AMBIENT = Symbol("ambient", "K", 253.15, 323.15, "air", "temperature")
_LIMIT = Symbol("max_temperature", "K", 328.15, 373.15, "hottest coolant allowed", "temperature")
_HEAT = Symbol("heat", "W", 50.0, 2e4, "heat into the coolant", "power")
_RATE = Symbol("capacity_rate", "W/K", 50.0, 3000.0, "heat the coolant carries for each degree")
_EFFECTIVENESS = Symbol("effectiveness", "1", 0.05, 0.99, "share the radiator gives", "fraction")
_DENSITY = Symbol("density", "kg/m^3", 950.0, 1120.0, "density of the coolant", "density")
_SPECIFIC = Symbol("specific_heat", "J/kg/K", 3000.0, 4300.0, "specific heat", "specific_heat")
_STREAM = ("incropera-2007-ch11",)
_LUMP = ("incropera-2007-ch5",)
_FAN = "fan on, air free to come in and to leave"
_DIRT = "a dirty or covered radiator, air warmed by another radiator before it, wind of the drive"
_ONE = "the whole loop as warm as its hottest coolant"

CAPACITY_RATE = Working(
    capacity_rate,
    "rho*c*Q",
    {
        "rho": _DENSITY,
        "c": _SPECIFIC,
        "Q": Symbol("flow", "m^3/s", 1e-6, 2e-3, "coolant flow", "flow"),
    },
    Symbol("C", "W/K", 0.0, 1e5, "heat the coolant carries for each degree", "thermal_conductance"),
    _STREAM,
    "coolant as warm as the hot day's air: warmer coolant carries within a few per cent the same",
    "air in the coolant",
)

ONE_STREAM_EFFECTIVENESS = Working(
    one_stream_effectiveness,
    "1 - exp(-G/C)",
    {
        "G": Symbol("conductance", "W/K", 10.0, 2000.0, "radiator's heat per degree"),
        "C": _RATE,
    },
    Symbol("e", "1", 0.0, 1.0, "share of the possible heat the radiator gives", "fraction"),
    _STREAM,
    "heat per degree counted from the air that comes in, so that its warming is in it",
    _DIRT,
)

COOLANT_HOT = Working(
    coolant_hot,
    "T_a + P/(e*C)",
    {"T_a": _AMBIENT, "P": _HEAT, "e": _EFFECTIVENESS, "C": _RATE},
    Symbol("T_h", "K", 0.0, 1e4, "hottest coolant", "temperature"),
    _STREAM,
    _FAN,
    _DIRT,
)

COOLANT_RISE = Working(
    coolant_rise,
    "P/C",
    {"P": _HEAT, "C": _RATE},
    Symbol("dT", "K", 0.0, 1e4, "rise of the coolant", "temperature_difference"),
    _STREAM,
    "all the heat goes into the coolant",
    "heat the parts give off to the air beside them",
)

LOOP_HEAT_CAPACITY = Working(
    loop_heat_capacity,
    "V*rho*c + m*c_m",
    {
        "V": Symbol("volume", "m^3", 5e-4, 0.05, "coolant in the loop", "volume"),
        "rho": _DENSITY,
        "c": _SPECIFIC,
        "m": Symbol("metal_mass", "kg", 0.0, 300.0, "mass of the parts in the loop", "mass"),
        "c_m": Symbol("metal_heat", "J/kg/K", 350.0, 1000.0, "specific heat of their metal"),
    },
    Symbol("K", "J/K", 0.0, 1e7, "heat capacity of the loop", "heat_capacity"),
    _LUMP,
    _ONE,
    "radiator, hoses and brackets, which warm too",
)

COOLANT_AFTER = Working(
    coolant_after,
    "T_s + (T_0 - T_s)*exp(-e*C*t/K)",
    {
        "T_0": Symbol("start", "K", 253.15, 353.15, "at the start", "temperature"),
        "T_s": Symbol("settled", "K", 253.15, 400.0, "where it settles", "temperature"),
        "e": _EFFECTIVENESS,
        "C": _RATE,
        "K": Symbol("heat_capacity", "J/K", 5e3, 3e5, "heat capacity of the loop"),
        "t": Symbol("time", "s", 1.0, 1800.0, "time", "time"),
    },
    Symbol("T", "K", 0.0, 1e4, "hottest coolant after that time", "temperature"),
    _LUMP,
    _ONE,
    "heat the parts store before it reaches the coolant, which makes it slower",
)

HEAT_AT_LIMIT = Working(
    heat_at_limit,
    "e*C*(T_max - T_a)",
    {"e": _EFFECTIVENESS, "C": _RATE, "T_max": _LIMIT, "T_a": _AMBIENT},
    Symbol("P", "W", -1e6, 1e6, "heat the loop sheds at its limit", "power"),
    _STREAM,
    _FAN,
    _DIRT,
)

AMBIENT_AT_LIMIT = Working(
    ambient_at_limit,
    "T_max - P/(e*C)",
    {"T_max": _LIMIT, "P": _HEAT, "e": _EFFECTIVENESS, "C": _RATE},
    Symbol("T_a", "K", -1e4, 400.0, "warmest air", "temperature"),
    _STREAM,
    _FAN,
    _DIRT,
)

CONDUCTANCE_NEEDED = Working(
    conductance_needed,
    "-C*log(1 - P/(C*(T_max - T_a)))",
    {"P": _HEAT, "C": _RATE, "T_max": _LIMIT, "T_a": _AMBIENT},
    Symbol("G", "W/K", 0.0, 1e6, "heat per degree the radiator needs", "thermal_conductance"),
    _STREAM,
    _FAN,
    _DIRT,
    "C*(T_max - T_a) - P > 10",
)

POWER_AT_HEAT = Working(
    power_at_heat,
    "P*sqrt(q_a/q)",
    {
        "P": Symbol("power", "W", 1e3, 3e5, "continuous power", "power"),
        "q_a": Symbol("heat_allowed", "W", 50.0, 5e4, "heat the loop sheds at its limit", "power"),
        "q": Symbol("heat", "W", 50.0, 2e4, "heat at that power", "power"),
    },
    Symbol("P_a", "W", 0.0, 1e7, "power whose heat the loop sheds", "power"),
    ("iec-60034-1-ambient",),
    "losses go with the square of the power",
    "iron and drag losses, which do not fall with power",
)

PLATE_TEMPERATURE = Working(
    plate_temperature,
    "T_i + dT/2 + P*R",
    {
        "T_i": Symbol("coolant_in", "K", 253.15, 373.15, "coolant at its inlet", "temperature"),
        "dT": Symbol("rise", "K", 0.1, 30.0, "rise along the plate", "temperature_difference"),
        "P": Symbol("heat", "W", 50.0, 2e4, "heat through the plate", "power"),
        "R": Symbol("thermal_resistance", "K/W", 1e-4, 0.1, "thermal resistance"),
    },
    Symbol("T_p", "K", 0.0, 1e4, "plate of the part", "temperature"),
    ("incropera-2007-ch3",),
    "one temperature over the plate",
    "the chips above the plate, a resistance that grows as the flow falls",
)

WORKINGS: tuple[Working, ...] = (
    CAPACITY_RATE,
    ONE_STREAM_EFFECTIVENESS,
    COOLANT_HOT,
    COOLANT_RISE,
    LOOP_HEAT_CAPACITY,
    COOLANT_AFTER,
    HEAT_AT_LIMIT,
    AMBIENT_AT_LIMIT,
    CONDUCTANCE_NEEDED,
    POWER_AT_HEAT,
    PLATE_TEMPERATURE,
)
