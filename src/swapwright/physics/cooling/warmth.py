"""Heat made in converter and pack, and heat that warms a pack and a cabin."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def conversion_loss(*, power: float, efficiency: float) -> float:
    """Return the heat a converter or a charger makes.

    power: it gives [W]
    efficiency: [1]
    result: [W]
    source: the definition of efficiency
    """
    return power * (1.0 / efficiency - 1.0)


def pack_heat(*, current: float, resistance: float) -> float:
    """Return the heat a current makes in a pack's resistance.

    current: steady [A]
    resistance: of the pack [ohm]
    result: [W]
    source: plett-2015-ch2, heat of a resistance
    """
    return current**2 * resistance


def pack_heat_capacity(*, mass: float, specific_heat: float) -> float:
    """Return the heat a pack's cells take for each degree.

    mass: of the cells [kg]
    specific_heat: [J/kg/K]
    result: [J/K]
    source: incropera-2007-ch5, lumped capacitance
    """
    return mass * specific_heat


def warming_energy(*, power: float, time: float) -> float:
    """Return the energy a heater takes over a time.

    power: [W]
    time: [s]
    result: [J]
    source: the definition of power
    """
    return power * time


def cabin_heat(*, conductance: float, inside: float, outside: float) -> float:
    """Return the heat that keeps a cabin warm.

    conductance: of shell and fresh air together [W/K]
    inside: [K]
    outside: [K]
    result: none where it is no colder outside [W]
    source: incropera-2007-ch3, thermal conductance
    """
    return max(0.0, conductance * (inside - outside))


_LUMP = ("incropera-2007-ch5",)
_NOTHING = "nothing"

CONVERSION_LOSS = Working(
    conversion_loss,
    "P*(1/eta - 1)",
    {
        "P": Symbol("power", "W", 50.0, 1e5, "power given", "power"),
        "eta": Symbol("efficiency", "1", 0.4, 0.99, "efficiency", "fraction"),
    },
    Symbol("P_v", "W", 0.0, 1e6, "heat made", "power"),
    ("mechanics-definitions",),
    "all that is lost becomes heat in the part",
    _NOTHING,
)

PACK_HEAT = Working(
    pack_heat,
    "I**2*R",
    {
        "I": Symbol("current", "A", 1.0, 1000.0, "current", "current"),
        "R": Symbol("resistance", "ohm", 1e-3, 2.0, "resistance of the pack", "resistance"),
    },
    Symbol("P", "W", 0.0, 1e7, "heat in the pack", "power"),
    ("plett-2015-ch2",),
    "a steady current through the settled resistance",
    "heat of entropy, which warms or cools a little with the charge",
)

PACK_HEAT_CAPACITY = Working(
    pack_heat_capacity,
    "m*c",
    {
        "m": Symbol("mass", "kg", 10.0, 2000.0, "mass of the cells", "mass"),
        "c": Symbol("specific_heat", "J/kg/K", 500.0, 3000.0, "specific heat of the cells"),
    },
    Symbol("K", "J/K", 0.0, 1e7, "heat capacity of the cells", "heat_capacity"),
    _LUMP,
    "all cells as warm",
    "boxes and plates, which warm with them",
)

WARMING_ENERGY = Working(
    warming_energy,
    "P*t",
    {
        "P": Symbol("power", "W", 50.0, 2e4, "power of the heater", "power"),
        "t": Symbol("time", "s", 0.0, 1e5, "time", "time"),
    },
    Symbol("E", "J", 0.0, 1e10, "energy of the heater", "energy"),
    ("mechanics-definitions",),
    "the heater at full power throughout",
    _NOTHING,
)

CABIN_HEAT = Working(
    cabin_heat,
    "Max(0, G*(T_i - T_o))",
    {
        "G": Symbol("conductance", "W/K", 10.0, 500.0, "heat the cabin loses per degree"),
        "T_i": Symbol("inside", "K", 283.15, 303.15, "cabin", "temperature"),
        "T_o": Symbol("outside", "K", 233.15, 303.15, "air outside", "temperature"),
    },
    Symbol("P", "W", 0.0, 1e5, "heat that keeps the cabin warm", "power"),
    ("incropera-2007-ch3",),
    "settled: warming a cold cabin takes more at first",
    "sun, people, and what demisting a wet windscreen takes",
)

WORKINGS: tuple[Working, ...] = (
    CONVERSION_LOSS,
    PACK_HEAT,
    PACK_HEAT_CAPACITY,
    WARMING_ENERGY,
    CABIN_HEAT,
)
