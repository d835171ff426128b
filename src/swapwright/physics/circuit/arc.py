"""The Stokes-Oppenlander arc: its voltage over current and gap, the arc a source feeds, its energy.

The gap is between the conductors, the distance from the arc to face and chest. The plasma of a
closed box is not covered.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from swapwright.base.figure import Symbol, Working

_HALVINGS = 200


@dataclass(frozen=True)
class Arc:
    """An arc on a source: current [A], voltage [V], resistance [ohm], power [W].

    ``is_sustained`` tells whether the current is one the equation was made for.
    """

    current: float
    voltage: float
    resistance: float
    power: float
    is_sustained: bool


def arc_voltage(
    *,
    current: float,
    gap: float,
    electrode_voltage: float,
    doubling_gap: float,
    reference_current: float,
    exponent: float,
) -> float:
    """Return the voltage of an arc by the Stokes-Oppenlander equation.

    current: of the arc [A]
    gap: between the conductors [m]
    electrode_voltage: at the reference current without a gap [V]
    doubling_gap: gap that doubles it [m]
    reference_current: [A]
    exponent: of the current [1]
    result: voltage [V]
    source: ammerman-2010-stokes-oppenlander, from memory
    """
    spread: float = (current / reference_current) ** exponent
    return electrode_voltage * (1.0 + gap / doubling_gap) * spread


def arc_resistance(*, arc_voltage: float, current: float) -> float:
    """Return the resistance of an arc.

    arc_voltage: across the arc [V]
    current: of the arc [A]
    result: resistance [ohm]
    source: definition-ohm
    """
    return arc_voltage / current


def sustain_limit(*, gap: float, limit_current: float, doubling_gap: float) -> float:
    """Return the arc current below which the Stokes-Oppenlander equation says nothing.

    gap: between the conductors [m]
    limit_current: without a gap [A]
    doubling_gap: gap that doubles it [m]
    result: current [A]
    source: ammerman-2010-stokes-oppenlander, from memory
    """
    return limit_current * (1.0 + gap / doubling_gap)


def arc_on_source(
    *,
    voltage: float,
    resistance: float,
    gap: float,
    electrode_voltage: float,
    doubling_gap: float,
    reference_current: float,
    exponent: float,
    limit_current: float,
    limit_doubling_gap: float,
) -> Arc:
    """Return the arc that a source behind a resistance feeds over a gap.

    What the resistance and the arc take together rises with the current, so exactly one current
    gives the source's voltage; it is found by halving.

    voltage: of the source at rest [V]
    resistance: of source and loop up to the work point [ohm]
    gap: between the conductors [m]
    electrode_voltage, doubling_gap, reference_current, exponent: see arc_voltage
    limit_current, limit_doubling_gap: see sustain_limit
    result: the arc
    source: ammerman-2010-stokes-oppenlander, from memory
    """

    def across_arc(current: float) -> float:
        return arc_voltage(
            current=current,
            gap=gap,
            electrode_voltage=electrode_voltage,
            doubling_gap=doubling_gap,
            reference_current=reference_current,
            exponent=exponent,
        )

    low, high = 0.0, voltage / resistance
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        if middle * resistance + across_arc(middle) < voltage:
            low = middle
        else:
            high = middle
    least = sustain_limit(gap=gap, limit_current=limit_current, doubling_gap=limit_doubling_gap)
    return Arc(
        current=high,
        voltage=across_arc(high),
        resistance=arc_resistance(arc_voltage=across_arc(high), current=high),
        power=arc_power(arc_voltage=across_arc(high), current=high),
        is_sustained=high >= least,
    )


def arc_power(*, arc_voltage: float, current: float) -> float:
    """Return the power of an arc.

    arc_voltage: across the arc [V]
    current: of the arc [A]
    result: power [W]
    source: definition-electric-power
    """
    return arc_voltage * current


def arc_energy(*, power: float, time: float) -> float:
    """Return the energy of an arc.

    power: of the arc [W]
    time: it lasts [s]
    result: energy [J]
    source: definition-electric-power
    """
    return power * time


def open_air_energy(*, energy: float, distance: float) -> float:
    """Return the incident energy of an arc in open air: its energy over a sphere.

    energy: of the arc [J]
    distance: from the arc [m]
    result: energy per area [J/m^2]
    source: ammerman-2010-stokes-oppenlander, from memory
    """
    return energy / (4.0 * pi * distance**2)


def enclosure_energy(*, energy: float, distance: float, reach: float, focus: float) -> float:
    """Return the incident energy in front of an open enclosure.

    energy: of the arc [J]
    distance: from the arc [m]
    reach: of the enclosure [m]
    focus: share of the energy it throws forward [1]
    result: energy per area [J/m^2]
    source: wilkins-2004-enclosure
    """
    return focus * energy / (reach**2 + distance**2)


_I = Symbol("current", "A", 5.0, 2e4, "arc current")
_VA = Symbol("arc_voltage", "V", 20.0, 1000.0, "arc voltage", "voltage")
_T = Symbol("time", "s", 1e-4, 2.0, "time the arc lasts")
_D = Symbol("distance", "m", 0.1, 3.0, "distance from the arc")
_GAP = Symbol("gap", "m", 1e-3, 0.2, "gap between the conductors")
_E = Symbol("energy", "J", 1.0, 1e7, "energy of the arc")
_EQUATION = ("ammerman-2010-stokes-oppenlander",)
_NOT_BOXED = "plasma of a closed box, molten metal, pressure, cell gas; below 100 V the models part"

ARC_VOLTAGE = Working(
    arc_voltage,
    "V_0 * (1 + g/g_0) * (I/I_0)**n",
    {
        "I": _I,
        "g": _GAP,
        "V_0": Symbol("electrode_voltage", "V", 15.0, 25.0, "voltage at 1 A without a gap"),
        "g_0": Symbol("doubling_gap", "m", 0.03, 0.05, "gap that doubles it", "length"),
        "I_0": Symbol("reference_current", "A", 0.9, 1.1, "reference current"),
        "n": Symbol("exponent", "1", 0.1, 0.15, "exponent of the current", "ratio"),
    },
    Symbol("arc_voltage", "V", 0.0, 1e3, "arc voltage", "voltage"),
    _EQUATION,
    "a steady arc between rods, gap kept",
    _NOT_BOXED,
)

ARC_RESISTANCE = Working(
    arc_resistance,
    "V_a / I",
    {"V_a": _VA, "I": _I},
    Symbol("arc_resistance", "ohm", 0.0, 1e3, "arc resistance"),
    ("definition-ohm",),
    "",
    "",
)

SUSTAIN_LIMIT = Working(
    sustain_limit,
    "I_0 * (1 + g/g_0)",
    {
        "g": _GAP,
        "I_0": Symbol("limit_current", "A", 5.0, 20.0, "least current without a gap"),
        "g_0": Symbol("doubling_gap", "m", 0.03, 0.1, "gap that doubles it", "length"),
    },
    Symbol("sustain_limit", "A", 0.0, 1e3, "least arc current of the equation", "current"),
    _EQUATION,
    "",
    "an arc below it may burn on or go out",
)

ARC_POWER = Working(
    arc_power,
    "V_a * I",
    {"V_a": _VA, "I": _I},
    Symbol("arc_power", "W", 0.0, 1e8, "arc power"),
    ("definition-electric-power",),
    "",
    "",
)

ARC_ENERGY = Working(
    arc_energy,
    "P * t",
    {"P": Symbol("power", "W", 1e2, 1e7, "arc power"), "t": _T},
    Symbol("arc_energy", "J", 0.0, 1e8, "energy of the arc"),
    ("definition-electric-power",),
    "",
    "",
)

OPEN_AIR_ENERGY = Working(
    open_air_energy,
    "E / (4 * pi * d**2)",
    {"E": _E, "d": _D},
    Symbol("open_air_energy", "J/m^2", 0.0, 1e9, "incident energy by the arc equation"),
    _EQUATION,
    "a point that radiates alike to all sides",
    _NOT_BOXED,
)

ENCLOSURE_ENERGY = Working(
    enclosure_energy,
    "k * E / (a**2 + d**2)",
    {
        "k": Symbol("focus", "1", 0.1, 0.5, "share thrown forward", "fraction"),
        "E": _E,
        "a": Symbol("reach", "m", 0.1, 1.0, "reach of the enclosure", "length"),
        "d": _D,
    },
    Symbol("enclosure_energy", "J/m^2", 0.0, 1e9, "incident energy out of an enclosure"),
    ("wilkins-2004-enclosure",),
    "an enclosure of the size named, open to the front",
    _NOT_BOXED,
)

WORKINGS: tuple[Working, ...] = (
    ARC_VOLTAGE,
    ARC_RESISTANCE,
    SUSTAIN_LIMIT,
    ARC_POWER,
    ARC_ENERGY,
    OPEN_AIR_ENERGY,
    ENCLOSURE_ENERGY,
)
