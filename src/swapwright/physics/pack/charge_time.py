"""How long a charge takes, in short: at one current, then at one voltage; and balancing."""

from __future__ import annotations

from math import log

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


def fading_current(*, first: float, last: float, turn: float, end: float, full: float) -> float:
    """Return the current a charge at one voltage is left with, straight between its two ends.

    first: current where the voltage is reached [A]
    last: current where the charge is full [A]
    turn: state of charge where the voltage is reached [1]
    end: state of charge the charge is looked at [1]
    full: state of charge where it is full [1]
    result: current [A]
    source: plett-2015-ch2, from memory
    """
    if full <= turn:
        return first
    return first - (first - last) * (end - turn) / (full - turn)


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
FADING_CURRENT = Working(
    fading_current,
    "Piecewise((I_1, z_f <= z_1), (I_1 - (I_1 - I_2) * (z_2 - z_1) / (z_f - z_1), True))",
    {
        "I_1": Symbol("first", "A", 1.0, 500.0, "first current", "current"),
        "I_2": Symbol("last", "A", 0.5, 50.0, "last current", "current"),
        "z_1": Symbol("turn", "1", 0.0, 1.0, "where the voltage is reached", "fraction"),
        "z_2": Symbol("end", "1", 0.0, 1.0, "where it ends", "fraction"),
        "z_f": Symbol("full", "1", 0.0, 1.0, "where it is full", "fraction"),
    },
    Symbol("fading_current", "A", -1e5, 1e5, "current left", "current"),
    ("plett-2015-ch2",),
    "a straight rest-voltage curve and one resistance",
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
    FADING_CURRENT,
    ENERGY_IN,
    ENERGY_DRAWN,
    MEAN_POWER,
    BALANCE_TIME,
)
