"""A pack of equal cells in series and parallel: voltage, charge, energy, resistance."""

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


def c_rate(*, current: float, capacity: float, hour: float = 3600.0) -> float:
    """Return a current as a C-rate: how many times it would empty the pack in an hour.

    current: [A]
    capacity: rated [C]
    hour: the time the rate counts by [s]
    result: rate [1]
    source: definition-c-rate
    """
    return current * hour / capacity


_S = Symbol("series", "1", 1.0, 300.0, "cells in series", "count")
_P = Symbol("parallel", "1", 1.0, 100.0, "cells in parallel", "count")
_RC = Symbol("cell_resistance", "ohm", 1e-4, 0.1, "cell resistance")
_I = Symbol("current", "A", -500.0, 1000.0, "current, discharge positive")
_Q = Symbol("capacity", "C", 1e4, 5e6, "pack capacity")
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

C_RATE = Working(
    c_rate,
    "I * t_h / Q",
    {"I": _I, "Q": _Q, "t_h": Symbol("hour", "s", 1800.0, 3600.0, "one hour")},
    Symbol("c_rate", "1", -1e3, 1e3, "C-rate", "ratio"),
    ("definition-c-rate",),
    "",
    "",
)


WORKINGS: tuple[Working, ...] = (
    PACK_VOLTAGE,
    PACK_CAPACITY,
    PACK_ENERGY,
    PACK_RESISTANCE,
    C_RATE,
)
