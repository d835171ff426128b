"""How long a charge takes, in short: at one current, then at one voltage; and balancing."""

from __future__ import annotations

from math import exp, log

from swapwright.base.figure import Symbol, Working


def charge_between(*, capacity: float, low: float, high: float) -> float:
    """Return the charge between two states of charge, none where there is nothing to charge.

    capacity: [C]
    low: state of charge it begins at [1]
    high: state of charge it ends at [1]
    result: charge [C]
    source: definition-charge
    """
    return capacity * max(high - low, 0.0)


def current_at_rate(*, capacity: float, rate: float, hour: float = 3600.0) -> float:
    """Return the current of a C-rate.

    capacity: [C]
    rate: how many times it would fill the capacity in an hour [1]
    hour: the time the rate counts by [s]
    result: current [A]
    source: definition-c-rate
    """
    return rate * capacity / hour


def steady_time(*, charge: float, current: float) -> float:
    """Return the time a charge takes at one current.

    charge: to be put in [C]
    current: as a magnitude [A]
    result: time [s]
    source: definition-charge
    """
    return charge / current


def fading_time(*, charge: float, first: float, last: float) -> float:
    """Return the time a charge takes while its current dies away exponentially.

    At one voltage, over a straight piece of the rest-voltage curve, the current falls in proportion
    to what is still to be put in: i = first exp(-t/tau), tau = charge / (first - last).

    charge: put in meanwhile [C]
    first: current it begins with [A]
    last: current it ends with, below the first [A]
    result: time [s]
    source: plett-2015-ch2, from memory
    """
    if first <= last:
        return charge / last
    return charge / (first - last) * log(first / last)


def settling_resistance(
    *,
    r0: float,
    joints: float,
    r1: float,
    c1: float,
    r2: float,
    c2: float,
    begun: float,
    lasted: float,
) -> float:
    """Return the mean resistance of a cell to a current that began a while ago and lasts a while.

    The ohmic part meets it at once; the voltage over each pair rises as 1 - exp(-t/(R C)).

    r0: ohmic, of the cell [ohm]
    joints: share of the pack's joints [ohm]
    r1: of the fast pair [ohm]
    c1: of the fast pair [F]
    r2: of the slow pair [ohm]
    c2: of the slow pair [F]
    begun: the current has flowed for so long already [s]
    lasted: the time the mean is taken over [s]
    result: resistance [ohm]
    source: plett-2015-ch2, from memory
    """
    mean = r0 + joints
    for ohms, farads in ((r1, c1), (r2, c2)):
        settles = ohms * farads
        left = exp(-begun / settles) - exp(-(begun + lasted) / settles)
        mean += ohms * (1.0 - settles / lasted * left)
    return mean


def held_current(
    *, voltage: float, series: float, rest_voltage: float, resistance: float, parallel: float
) -> float:
    """Return the current a voltage drives into a pack whose cells rest at another.

    voltage: of the pack [V]
    series: cells in series [1]
    rest_voltage: of a cell [V]
    resistance: of a cell, with its share of the joints [ohm]
    parallel: cells in parallel [1]
    result: current, none where the cells rest above the voltage [A]
    source: definition-ohm
    """
    return max(voltage / series - rest_voltage, 0.0) / resistance * parallel


def energy_in(*, charge: float, voltage: float) -> float:
    """Return the energy a charge takes in at a mean rest voltage.

    charge: [C]
    voltage: mean over the charge, at rest [V]
    result: energy [J]
    source: definition-electric-power
    """
    return charge * voltage


def energy_drawn(
    *, energy: float, pack_efficiency: float, loads: float, time: float, efficiency: float
) -> float:
    """Return the energy a charge draws from the supply.

    energy: stored in the cells [J]
    pack_efficiency: share of the energy into the pack that is stored [1]
    loads: pumps and controls meanwhile [W]
    time: of the charge [s]
    efficiency: of the charger [1]
    result: energy [J]
    source: definition-machine-efficiency
    """
    return (energy / pack_efficiency + loads * time) / efficiency


def mean_power(*, energy: float, time: float) -> float:
    """Return the mean power of an energy over a time.

    energy: [J]
    time: [s]
    result: power [W]
    source: definition-electric-power
    """
    return energy / time


def balance_time(*, imbalance: float, capacity: float, current: float) -> float:
    """Return the time a balancer takes to bleed away what one cell group has more than another.

    imbalance: as a share of the capacity [1]
    capacity: of a cell group, that of the pack [C]
    current: bled from one group [A]
    result: time [s]
    source: definition-charge
    """
    return imbalance * capacity / current


_Q = Symbol("charge", "C", 1e3, 1e6, "charge", "charge")
_CAPACITY = Symbol("capacity", "C", 1e4, 5e6, "pack capacity", "charge")
_BLEED = Symbol("current", "A", 0.01, 10.0, "current", "current")

CHARGE_BETWEEN = Working(
    charge_between,
    "Q * Max(z_2 - z_1, 0)",
    {
        "Q": _CAPACITY,
        "z_1": Symbol("low", "1", 0.0, 1.0, "from", "fraction"),
        "z_2": Symbol("high", "1", 0.0, 1.0, "to", "fraction"),
    },
    Symbol("charge_between", "C", 0.0, 5e6, "charge to put in", "charge"),
    ("definition-charge",),
    "",
    "charge lost to side reactions",
)
CURRENT_AT_RATE = Working(
    current_at_rate,
    "r * Q / h",
    {
        "r": Symbol("rate", "1", 0.01, 10.0, "C-rate"),
        "Q": _CAPACITY,
        "h": Symbol("hour", "s", 1800.0, 3600.0, "one hour", "time"),
    },
    Symbol("current_at_rate", "A", 0.0, 1e4, "current of the rate", "current"),
    ("definition-c-rate",),
    "",
    "",
)
STEADY_TIME = Working(
    steady_time,
    "Q / I",
    {"Q": _Q, "I": Symbol("current", "A", 0.5, 500.0, "charging current", "current")},
    Symbol("steady_time", "s", 0.0, 1e7, "time at full power", "time"),
    ("definition-charge",),
    "one current throughout",
    "",
)
FADING_TIME = Working(
    fading_time,
    "Piecewise((Q / I_2, I_1 <= I_2), (Q / (I_1 - I_2) * log(I_1 / I_2), True))",
    {
        "Q": _Q,
        "I_1": Symbol("first", "A", 1.0, 500.0, "first current", "current"),
        "I_2": Symbol("last", "A", 0.5, 50.0, "last current", "current"),
    },
    Symbol("fading_time", "s", 0.0, 1e7, "time at one voltage", "time"),
    ("plett-2015-ch2",),
    "a straight rest-voltage curve and one resistance",
    "a flat curve that bends up at its end",
)
SETTLING_RESISTANCE = Working(
    settling_resistance,
    "R_0 + R_j + R_1*(1 - R_1*C_1/t*(exp(-t_0/(R_1*C_1)) - exp(-(t_0 + t)/(R_1*C_1))))"
    " + R_2*(1 - R_2*C_2/t*(exp(-t_0/(R_2*C_2)) - exp(-(t_0 + t)/(R_2*C_2))))",
    {
        "R_0": Symbol("r0", "ohm", 1e-4, 0.05, "ohmic resistance"),
        "R_j": Symbol("joints", "ohm", 0.0, 1e-3, "share of the joints"),
        "R_1": Symbol("r1", "ohm", 1e-4, 0.05, "resistance of the fast pair"),
        "C_1": Symbol("c1", "F", 1e3, 1e5, "capacitance of the fast pair"),
        "R_2": Symbol("r2", "ohm", 1e-4, 0.05, "resistance of the slow pair"),
        "C_2": Symbol("c2", "F", 1e4, 1e6, "capacitance of the slow pair"),
        "t_0": Symbol("begun", "s", 0.0, 1e5, "the current has flowed for", "time"),
        "t": Symbol("lasted", "s", 1.0, 1e5, "the time the mean is over", "time"),
    },
    Symbol("R", "ohm", 0.0, 0.2, "mean resistance of a cell meanwhile"),
    ("plett-2015-ch2",),
    "pairs that were at rest when the current began, and a current that changes slowly",
    "diffusion beyond the slow pair",
)
HELD_CURRENT = Working(
    held_current,
    "Max(V/n_s - V_0, 0)/R*n_p",
    {
        "V": Symbol("voltage", "V", 20.0, 900.0, "voltage held", "voltage"),
        "n_s": Symbol("series", "1", 4.0, 250.0, "cells in series", "count"),
        "V_0": Symbol("rest_voltage", "V", 2.0, 4.3, "rest voltage of a cell", "voltage"),
        "R": Symbol("resistance", "ohm", 1e-4, 0.1, "resistance of a cell"),
        "n_p": Symbol("parallel", "1", 1.0, 100.0, "cells in parallel", "count"),
    },
    Symbol("I", "A", 0.0, 1e7, "current the voltage drives", "current"),
    ("definition-ohm",),
    "cells alike",
    "",
)
ENERGY_IN = Working(
    energy_in,
    "Q * V",
    {"Q": _Q, "V": Symbol("voltage", "V", 20.0, 900.0, "mean rest voltage", "voltage")},
    Symbol("energy_in", "J", 0.0, 1e9, "energy stored", "energy"),
    ("definition-electric-power",),
    "",
    "",
)
ENERGY_DRAWN = Working(
    energy_drawn,
    "(E / eta_p + P_l * t) / eta",
    {
        "E": Symbol("energy", "J", 1e6, 1e9, "energy stored", "energy"),
        "eta_p": Symbol("pack_efficiency", "1", 0.5, 1.0, "share stored", "fraction"),
        "P_l": Symbol("loads", "W", 0.0, 500.0, "loads while charging", "power"),
        "t": Symbol("time", "s", 600.0, 1e5, "time of the charge", "time"),
        "eta": Symbol("efficiency", "1", 0.5, 1.0, "efficiency of the charger", "fraction"),
    },
    Symbol("energy_drawn", "J", 0.0, 1e10, "energy from the supply", "energy"),
    ("definition-machine-efficiency",),
    "one share stored over the whole charge",
    "",
)
MEAN_POWER = Working(
    mean_power,
    "E / t",
    {
        "E": Symbol("energy", "J", 1e6, 1e9, "energy", "energy"),
        "t": Symbol("time", "s", 60.0, 1e5, "time", "time"),
    },
    Symbol("mean_power", "W", 0.0, 1e8, "mean power", "power"),
    ("definition-electric-power",),
    "",
    "",
)
BALANCE_TIME = Working(
    balance_time,
    "x * Q / I",
    {
        "x": Symbol("imbalance", "1", 0.0, 0.1, "imbalance", "fraction"),
        "Q": _CAPACITY,
        "I": _BLEED,
    },
    Symbol("balance_time", "s", 0.0, 1e8, "time to balance", "time"),
    ("definition-charge",),
    "bled all the while; the charger waits or tops up",
    "a balancer that rests while it measures, or runs near full only",
)

WORKINGS: tuple[Working, ...] = (
    CHARGE_BETWEEN,
    CURRENT_AT_RATE,
    STEADY_TIME,
    FADING_TIME,
    SETTLING_RESISTANCE,
    HELD_CURRENT,
    ENERGY_IN,
    ENERGY_DRAWN,
    MEAN_POWER,
    BALANCE_TIME,
)
