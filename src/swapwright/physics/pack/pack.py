"""A pack of equal cells in series and parallel: voltage, charge, energy, resistance, power."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def pack_voltage(*, series: float, cell_voltage: float) -> float:
    """Return the voltage of cells in series.

    series: cells in series [1]
    cell_voltage: of one cell: full, nominal, lowest or at a state of charge [V]
    result: voltage [V]
    source: definition-series-parallel
    """
    return series * cell_voltage


def pack_capacity(*, parallel: float, cell_capacity: float, health: float = 1.0) -> float:
    """Return the charge a pack holds.

    parallel: cells in parallel in the whole pack [1]
    cell_capacity: rated, of one cell [C]
    health: capacity left of new [1]
    result: charge [C]
    source: definition-series-parallel
    """
    return parallel * cell_capacity * health


def pack_energy(*, capacity: float, nominal_voltage: float) -> float:
    """Return the rated energy of a pack.

    capacity: of the pack [C]
    nominal_voltage: of the pack [V]
    result: energy [J]
    source: definition-series-parallel
    """
    return capacity * nominal_voltage


def cells_resistance(*, series: float, parallel: float, cell_resistance: float) -> float:
    """Return the resistance of a pack's cells, without joints.

    series: cells in series [1]
    parallel: cells in parallel in the whole pack [1]
    cell_resistance: of one cell [ohm]
    result: resistance [ohm]
    source: definition-series-parallel
    """
    return series * cell_resistance / parallel


def pack_resistance(
    *,
    series: float,
    parallel: float,
    cell_resistance: float,
    modules: float,
    module_joints: float,
    string_joints: float,
    strings: float,
) -> float:
    """Return the resistance of a pack at its terminals, joints included.

    series: cells in series [1]
    parallel: cells in parallel in the whole pack [1]
    cell_resistance: of one cell [ohm]
    modules: modules in series in a string [1]
    module_joints: busbars and joints of one module [ohm]
    string_joints: links, contactors and cable joints of one string [ohm]
    strings: strings in parallel [1]
    result: resistance [ohm]
    source: definition-series-parallel
    """
    joints = (modules * module_joints + string_joints) / strings
    return series * cell_resistance / parallel + joints


def pack_mass(*, cells: float, cell_mass: float, cell_mass_share: float) -> float:
    """Return the mass of a pack from its cells.

    cells: cells in the whole pack [1]
    cell_mass: of one cell [kg]
    cell_mass_share: cells over whole pack with boxes, busbars and cooling [1]
    result: mass [kg]
    source: pack-build-share-typical
    """
    return cells * cell_mass / cell_mass_share


def pack_volume(*, cells: float, cell_volume: float, cell_volume_share: float) -> float:
    """Return the space a pack takes.

    cells: cells in the whole pack [1]
    cell_volume: of one cell [m^3]
    cell_volume_share: cells over whole pack with boxes and gaps [1]
    result: volume [m^3]
    source: pack-build-share-typical
    """
    return cells * cell_volume / cell_volume_share


def c_rate(*, current: float, capacity: float, hour: float = 3600.0) -> float:
    """Return a current as a C-rate: how many times it would empty the pack in an hour.

    current: [A]
    capacity: rated [C]
    hour: the time the rate counts by [s]
    result: rate [1]
    source: definition-c-rate
    """
    return current * hour / capacity


def temperature_rise(*, heat: float, time: float, mass: float, specific_heat: float) -> float:
    """Return by how much a mass warms when no heat leaves it.

    heat: made inside [W]
    time: [s]
    mass: [kg]
    specific_heat: [J/kg/K]
    result: rise [K]
    source: incropera-2007-ch5, from memory
    """
    return heat * time / (mass * specific_heat)


def balancing_time(*, imbalance: float, bleed_current: float) -> float:
    """Return how long a balancer takes to bleed a charge.

    imbalance: charge to bleed from the fullest cell [C]
    bleed_current: [A]
    result: time [s]
    source: definition-charge
    """
    return imbalance / bleed_current


_S = Symbol("series", "1", 1.0, 300.0, "cells in series", "count")
_P = Symbol("parallel", "1", 1.0, 100.0, "cells in parallel", "count")
_N = Symbol("cells", "1", 1.0, 10000.0, "cells", "count")
_RC = Symbol("cell_resistance", "ohm", 1e-4, 0.1, "cell resistance")
_V = Symbol("rest_voltage", "V", 100.0, 900.0, "rest voltage")
_R = Symbol("resistance", "ohm", 0.005, 0.5, "pack resistance")
_I = Symbol("current", "A", -500.0, 1000.0, "current, discharge positive")
_Q = Symbol("capacity", "C", 1e4, 5e6, "pack capacity")
_STEADY = "one resistance for the time considered"
_EQUAL = "all cells equal"

PACK_VOLTAGE = Working(
    pack_voltage,
    "s * V_c",
    {"s": _S, "V_c": Symbol("cell_voltage", "V", 1.5, 4.5, "cell voltage")},
    Symbol("pack_voltage", "V", 0.0, 2000.0, "pack voltage"),
    ("definition-series-parallel",),
    _EQUAL,
    "",
)

PACK_CAPACITY = Working(
    pack_capacity,
    "p * Q_c * h",
    {
        "p": _P,
        "Q_c": Symbol("cell_capacity", "C", 3600.0, 1.2e6, "cell capacity"),
        "h": Symbol("health", "1", 0.3, 1.0, "capacity left of new", "fraction"),
    },
    Symbol("pack_capacity", "C", 0.0, 1e8, "pack capacity"),
    ("definition-series-parallel",),
    _EQUAL,
    "the weakest cell of a string decides",
)

PACK_ENERGY = Working(
    pack_energy,
    "Q * V",
    {"Q": _Q, "V": Symbol("nominal_voltage", "V", 10.0, 1000.0, "nominal voltage")},
    Symbol("pack_energy", "J", 0.0, 5e9, "rated energy"),
    ("definition-series-parallel",),
    "nominal voltage is the mean voltage of a slow discharge",
    "",
)

CELLS_RESISTANCE = Working(
    cells_resistance,
    "s * R_c / p",
    {"s": _S, "p": _P, "R_c": _RC},
    Symbol("cells_resistance", "ohm", 0.0, 30.0, "resistance of the cells"),
    ("definition-series-parallel",),
    _EQUAL,
    "joints",
)

PACK_RESISTANCE = Working(
    pack_resistance,
    "s * R_c / p + (m * R_m + R_s) / n",
    {
        "s": _S,
        "p": _P,
        "R_c": _RC,
        "m": Symbol("modules", "1", 1.0, 50.0, "modules in a string", "count"),
        "R_m": Symbol("module_joints", "ohm", 0.0, 0.01, "joints of a module"),
        "R_s": Symbol("string_joints", "ohm", 0.0, 0.05, "joints of a string"),
        "n": Symbol("strings", "1", 1.0, 10.0, "strings", "count"),
    },
    Symbol("pack_resistance", "ohm", 0.0, 30.0, "pack resistance"),
    ("definition-series-parallel",),
    _EQUAL,
    "unequal strings",
)

PACK_MASS = Working(
    pack_mass,
    "n * m_c / f",
    {
        "n": _N,
        "m_c": Symbol("cell_mass", "kg", 0.02, 10.0, "cell mass"),
        "f": Symbol("cell_mass_share", "1", 0.4, 1.0, "mass share of the cells", "fraction"),
    },
    Symbol("pack_mass", "kg", 0.0, 1e6, "pack mass"),
    ("pack-build-share-typical",),
    "",
    "",
)

PACK_VOLUME = Working(
    pack_volume,
    "n * U_c / f",
    {
        "n": _N,
        "U_c": Symbol("cell_volume", "m^3", 1e-5, 5e-3, "cell volume"),
        "f": Symbol("cell_volume_share", "1", 0.2, 1.0, "volume share of the cells", "fraction"),
    },
    Symbol("pack_volume", "m^3", 0.0, 300.0, "pack volume"),
    ("pack-build-share-typical",),
    "",
    "",
)

C_RATE = Working(
    c_rate,
    "I * t_h / Q",
    {"I": _I, "Q": _Q, "t_h": Symbol("hour", "s", 1800.0, 3600.0, "one hour")},
    Symbol("c_rate", "1", -1e3, 1e3, "C-rate", "ratio"),
    ("definition-c-rate",),
    "",
    "",
)


TEMPERATURE_RISE = Working(
    temperature_rise,
    "P * t / (m * c)",
    {
        "P": Symbol("heat", "W", 1.0, 5e4, "heat"),
        "t": Symbol("time", "s", 1.0, 3600.0, "time"),
        "m": Symbol("mass", "kg", 10.0, 1000.0, "mass"),
        "c": Symbol("specific_heat", "J/kg/K", 400.0, 3000.0, "specific heat"),
    },
    Symbol("temperature_rise", "K", 0.0, 1e5, "temperature rise", "temperature_difference"),
    ("incropera-2007-ch5",),
    "no heat leaves",
    "",
)

BALANCING_TIME = Working(
    balancing_time,
    "Q_i / I_b",
    {
        "Q_i": Symbol("imbalance", "C", 100.0, 1e5, "imbalance"),
        "I_b": Symbol("bleed_current", "A", 0.01, 5.0, "bleed current"),
    },
    Symbol("balancing_time", "s", 0.0, 1e7, "balancing time"),
    ("definition-charge",),
    "bleeds all the time",
    "balancers that only work near full",
)

WORKINGS: tuple[Working, ...] = (
    PACK_VOLTAGE,
    PACK_CAPACITY,
    PACK_ENERGY,
    CELLS_RESISTANCE,
    PACK_RESISTANCE,
    PACK_MASS,
    PACK_VOLUME,
    C_RATE,
    TEMPERATURE_RISE,
    BALANCING_TIME,
)
