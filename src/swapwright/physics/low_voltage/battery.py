"""The 12 V battery alone: how long it lasts and how low its voltage falls.

Peukert's law is of lead-acid batteries; a lithium one gives its capacity at any current it bears.
"""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def lead_acid_time(
    *, capacity: float, share: float, current: float, rated_time: float, exponent: float
) -> float:
    """Return how long a share of a lead-acid battery lasts at a current, by Peukert's law.

    capacity: at the rated time [C]
    share: of it that may be used [1]
    current: steady [A]
    rated_time: the capacity is given for [s]
    exponent: Peukert's [1]
    result: time; for a current below the rated one no longer than its capacity lasts [s]
    source: peukert-1897, from memory
    """
    by_law = rated_time * float((capacity / (current * rated_time)) ** exponent)
    return share * min(by_law, capacity / current)


def charge_time(*, capacity: float, share: float, current: float) -> float:
    """Return how long a share of a battery lasts that gives all its charge at this current.

    capacity: rated [C]
    share: of it that may be used [1]
    current: steady [A]
    result: time [s]
    source: definition-charge
    """
    return share * capacity / current


def typical_resistance(*, resistance_capacity: float, capacity: float) -> float:
    """Return the internal resistance of a battery of a kind and size, new and warm.

    resistance_capacity: resistance times capacity, alike for batteries of a kind [V.s]
    capacity: rated [C]
    result: resistance [ohm]
    source: lv-battery-resistance-typical
    """
    return resistance_capacity / capacity


def worst_resistance(*, resistance: float, factor: float) -> float:
    """Return the internal resistance on a cold day, no longer new and partly discharged.

    resistance: new and warm [ohm]
    factor: what cold, age and discharge make of it [1]
    result: resistance [ohm]
    source: lv-battery-cold-practice
    """
    return resistance * factor


def loaded_voltage(
    *, rest_voltage: float, current: float, battery_resistance: float, wire_resistance: float
) -> float:
    """Return the voltage at the end of a pair of wires from a battery that feeds a current.

    rest_voltage: of the battery [V]
    current: drawn [A]
    battery_resistance: inside it [ohm]
    wire_resistance: of one of the two wires, out or back [ohm]
    result: voltage; none where the battery cannot give that current even shorted [V]
    source: definition-ohm
    """
    return max(0.0, rest_voltage - current * (battery_resistance + 2.0 * wire_resistance))


_C = Symbol("capacity", "C", 7200.0, 8e5, "capacity")
_S = Symbol("share", "1", 0.05, 1.0, "share that may be used", "fraction")
_I = Symbol("current", "A", 0.005, 300.0, "current")
_R = Symbol("resistance", "ohm", 1e-4, 0.2, "resistance, new and warm")

LEAD_ACID_TIME = Working(
    lead_acid_time,
    "s*Min(H*(C/(I*H))**k, C/I)",
    {
        "C": _C,
        "s": _S,
        "I": _I,
        "H": Symbol("rated_time", "s", 1.8e4, 3.6e5, "time of the rating", "time"),
        "k": Symbol("exponent", "1", 1.05, 1.6, "Peukert's exponent", "ratio"),
    },
    Symbol("t", "s", 0.0, 2e8, "time the battery lasts", "time"),
    ("peukert-1897",),
    "lead-acid, at 25 degC, the current steady",
    "cold, which takes a third of it at -10 degC; age; a current that comes and goes",
)

CHARGE_TIME = Working(
    charge_time,
    "s*C/I",
    {"C": _C, "s": _S, "I": _I},
    Symbol("t", "s", 0.0, 2e8, "time the battery lasts", "time"),
    ("definition-charge",),
    "the current is small beside the capacity, or the battery is a lithium one",
    "self-discharge, some hundredths of the charge a month; cold; age",
)

TYPICAL_RESISTANCE = Working(
    typical_resistance,
    "k_R/C",
    {
        "k_R": Symbol("resistance_capacity", "V.s", 200.0, 4000.0, "resistance times capacity"),
        "C": _C,
    },
    Symbol("R", "ohm", 0.0, 1.0, "internal resistance, new and warm"),
    ("lv-battery-resistance-typical",),
    "a battery twice the size has half the resistance",
    "batteries built for starting, which have less",
)

WORST_RESISTANCE = Working(
    worst_resistance,
    "R*f",
    {"R": _R, "f": Symbol("factor", "1", 1.0, 4.0, "by cold, age and discharge", "factor")},
    Symbol("R_w", "ohm", 0.0, 1.0, "internal resistance at its worst"),
    ("lv-battery-cold-practice",),
    "",
    "a battery at the end of its life",
)

LOADED_VOLTAGE = Working(
    loaded_voltage,
    "Max(0, E - I*(R_b + 2*R_w))",
    {
        "E": Symbol("rest_voltage", "V", 11.0, 14.0, "rest voltage"),
        "I": Symbol("current", "A", 0.0, 300.0, "current"),
        "R_b": Symbol("battery_resistance", "ohm", 1e-3, 0.1, "inside the battery"),
        "R_w": Symbol("wire_resistance", "ohm", 1e-4, 0.05, "of one wire"),
    },
    Symbol("V", "V", 0.0, 14.0, "voltage at the far end"),
    ("definition-ohm",),
    "the battery alone feeds everything; out and back alike",
    "fuse, switch and joints on the way, some hundredths of a volt each where they are sound",
)

WORKINGS: tuple[Working, ...] = (
    LEAD_ACID_TIME,
    CHARGE_TIME,
    TYPICAL_RESISTANCE,
    WORST_RESISTANCE,
    LOADED_VOLTAGE,
)
