"""What stays in a capacitor and how long it stays: link, bleed, active discharge."""

from __future__ import annotations

from math import exp, log, sqrt

from swapwright.base.figure import Symbol, Working


def stored_energy(*, capacitance: float, voltage: float) -> float:
    """Return the energy in a capacitor.

    capacitance: [F]
    voltage: across it [V]
    result: energy [J]
    source: definition-capacitor
    """
    return 0.5 * capacitance * voltage**2


def stored_charge(*, capacitance: float, voltage: float) -> float:
    """Return the charge in a capacitor.

    capacitance: [F]
    voltage: across it [V]
    result: charge [C]
    source: definition-capacitor
    """
    return capacitance * voltage


def voltage_at_energy(*, capacitance: float, energy: float) -> float:
    """Return the voltage at which a capacitor holds an energy.

    capacitance: [F]
    energy: [J]
    result: voltage [V]
    source: definition-capacitor
    """
    return sqrt(2.0 * energy / capacitance)


def largest_capacitance(*, energy: float, voltage: float) -> float:
    """Return the largest capacitor that holds no more than an energy.

    energy: the limit [J]
    voltage: across it [V]
    result: capacitance [F]
    source: definition-capacitor
    """
    return 2.0 * energy / voltage**2


def voltage_after(*, voltage: float, resistance: float, capacitance: float, time: float) -> float:
    """Return a capacitor's voltage after some time on a resistor.

    voltage: at the start [V]
    resistance: across it [ohm]
    capacitance: [F]
    time: [s]
    result: voltage [V]
    source: nilsson-2011-ch7, from memory
    """
    return voltage * exp(-time / (resistance * capacitance))


def time_to_voltage(
    *, resistance: float, capacitance: float, voltage: float, target: float
) -> float:
    """Return how long a capacitor takes to fall to a voltage: no time where it starts below.

    resistance: across it [ohm]
    capacitance: [F]
    voltage: at the start [V]
    target: voltage wanted [V]
    result: time [s]
    source: nilsson-2011-ch7, from memory
    """
    if voltage <= target:
        return 0.0
    return resistance * capacitance * log(voltage / target)


def time_to_energy(
    *, resistance: float, capacitance: float, voltage: float, energy: float
) -> float:
    """Return how long a capacitor takes to fall to an energy: no time where it holds less.

    resistance: across it [ohm]
    capacitance: [F]
    voltage: at the start [V]
    energy: wanted [J]
    result: time [s]
    source: nilsson-2011-ch7, from memory
    """
    held = 0.5 * capacitance * voltage**2
    if held <= energy:
        return 0.0
    return 0.5 * resistance * capacitance * log(held / energy)


def bleed_power(*, voltage: float, resistance: float) -> float:
    """Return the power in a bleed resistor while the link is up.

    voltage: across it [V]
    resistance: [ohm]
    result: power [W]
    source: definition-electric-power
    """
    return voltage**2 / resistance


def worst_capacitance(*, capacitance: float, tolerance: float) -> float:
    """Return the capacitance at its upper tolerance.

    capacitance: as marked [F]
    tolerance: upwards [1]
    result: capacitance [F]
    source: capacitor-tolerance-typical
    """
    return capacitance * (1.0 + tolerance)


def worst_resistance(
    *, resistance: float, tolerance: float, temperature_factor: float, rise: float
) -> float:
    """Return the resistance at its upper tolerance and hot.

    resistance: as marked [ohm]
    tolerance: upwards [1]
    temperature_factor: change with temperature [1/K]
    rise: above the temperature it is marked at [K]
    result: resistance [ohm]
    source: resistor-tolerance-typical
    """
    return resistance * (1.0 + tolerance) * (1.0 + temperature_factor * rise)


def equivalent_resistance(
    *, time: float, capacitance: float, voltage: float, target: float
) -> float:
    """Return the resistance that discharges a capacitor in a time.

    Of a time that was given for an active discharge it makes a resistor to reckon with; of a time
    that is wanted, the largest bleed that does it.

    time: from the start to the target [s]
    capacitance: [F]
    voltage: at the start, above the target [V]
    target: voltage reached [V]
    result: resistance [ohm]
    source: nilsson-2011-ch7, from memory
    """
    return time / (capacitance * log(voltage / target))


def energy_above_voltage(*, capacitance: float, voltage: float, floor: float) -> float:
    """Return the energy a capacitor gives up on its way down to a voltage, never below nothing.

    The crash rules reckon the link's energy so, with 60 V for the floor.

    capacitance: [F]
    voltage: across it [V]
    floor: voltage it is counted down to [V]
    result: energy [J]
    source: un-r94-2017-stored-energy, from memory
    """
    return max(0.0, 0.5 * capacitance * (voltage**2 - floor**2))


_C = Symbol("capacitance", "F", 1e-8, 0.02, "capacitance")
_V = Symbol("voltage", "V", 10.0, 1000.0, "voltage at the start")
_VP = Symbol("voltage", "V", 10.0, 1000.0, "maximum working voltage of the pack")
_R = Symbol("resistance", "ohm", 10.0, 1e6, "resistance across it")
_TARGET = Symbol("target", "V", 10.0, 100.0, "voltage wanted")
_CAPACITOR = ("definition-capacitor",)
_CHAPTER = ("nilsson-2011-ch7",)
_ALONE = "nothing feeds the capacitor, and the resistor is whole"
_NO_PROOF = "a broken resistor or a source still joined: a computed time proves nothing"


def _energy(name: str, label: str) -> Symbol:
    return Symbol(name, "J", 0.0, 1e5, label)


def _time(name: str, label: str) -> Symbol:
    return Symbol(name, "s", 0.0, 1e7, label)


STORED_ENERGY = Working(
    stored_energy,
    "C*V**2/2",
    {"C": _C, "V": _V},
    _energy("stored_energy", "stored energy"),
    _CAPACITOR,
    "",
    "",
)

STORED_CHARGE = Working(
    stored_charge,
    "C*V",
    {"C": _C, "V": _V},
    Symbol("stored_charge", "C", 0.0, 100.0, "stored charge"),
    _CAPACITOR,
    "",
    "",
)

VOLTAGE_AT_ENERGY = Working(
    voltage_at_energy,
    "sqrt(2*E/C)",
    {"C": _C, "E": Symbol("energy", "J", 0.01, 100.0, "energy")},
    Symbol("voltage_at_energy", "V", 0.0, 1e6, "voltage at which it holds that energy"),
    _CAPACITOR,
    "",
    "",
)

LARGEST_CAPACITANCE = Working(
    largest_capacitance,
    "2*E/V**2",
    {"E": Symbol("energy", "J", 0.01, 100.0, "energy allowed"), "V": _V},
    Symbol("largest_capacitance", "F", 0.0, 10.0, "largest capacitance"),
    _CAPACITOR,
    "",
    "",
)

VOLTAGE_AFTER = Working(
    voltage_after,
    "V*exp(-t/(R*C))",
    {"V": _V, "R": _R, "C": _C, "t": Symbol("time", "s", 0.1, 3600.0, "time")},
    Symbol("voltage_after", "V", 0.0, 1000.0, "voltage left"),
    _CHAPTER,
    _ALONE,
    _NO_PROOF,
    "t < 100*R*C",
)

TIME_TO_VOLTAGE = Working(
    time_to_voltage,
    "Max(0, R*C*log(V/V_t))",
    {"R": _R, "C": _C, "V": _V, "V_t": _TARGET},
    _time("time_to_voltage", "time to that voltage"),
    _CHAPTER,
    _ALONE,
    _NO_PROOF,
)

TIME_TO_ENERGY = Working(
    time_to_energy,
    "Max(0, R*C/2*log(C*V**2/(2*E)))",
    {"R": _R, "C": _C, "V": _V, "E": Symbol("energy", "J", 0.05, 2.0, "energy wanted")},
    _time("time_to_energy", "time to that energy"),
    _CHAPTER,
    _ALONE,
    _NO_PROOF,
)

BLEED_POWER = Working(
    bleed_power,
    "V**2/R",
    {"V": _VP, "R": Symbol("resistance", "ohm", 10.0, 1e6, "bleed resistor")},
    Symbol("bleed_power", "W", 0.0, 1e5, "power in the bleed resistor"),
    ("definition-electric-power",),
    "the link is up for good",
    "",
)

WORST_CAPACITANCE = Working(
    worst_capacitance,
    "C*(1 + a)",
    {"C": _C, "a": Symbol("tolerance", "1", 0.0, 0.5, "tolerance upwards", "fraction")},
    Symbol("worst_capacitance", "F", 0.0, 1.0, "capacitance at its upper tolerance"),
    ("capacitor-tolerance-typical",),
    "",
    "",
)

WORST_RESISTANCE = Working(
    worst_resistance,
    "R*(1 + a)*(1 + k*dT)",
    {
        "R": _R,
        "a": Symbol("tolerance", "1", 0.0, 0.3, "tolerance upwards", "fraction"),
        "k": Symbol("temperature_factor", "1/K", 0.0, 0.004, "change with temperature"),
        "dT": Symbol("rise", "K", 0.0, 300.0, "rise above room", "temperature_difference"),
    },
    Symbol("worst_resistance", "ohm", 0.0, 1e8, "resistance at its upper tolerance, hot"),
    ("resistor-tolerance-typical",),
    "the resistance rises with warmth",
    "ageing, and a resistor that has been overloaded",
)

EQUIVALENT_RESISTANCE = Working(
    equivalent_resistance,
    "t/(C*log(V/V_t))",
    {
        "t": Symbol("time", "s", 0.1, 600.0, "time it takes"),
        "C": _C,
        "V": Symbol("voltage", "V", 110.0, 1000.0, "voltage at the start"),
        "V_t": _TARGET,
    },
    Symbol("equivalent_resistance", "ohm", 0.0, 1e12, "resistance that does it in that time"),
    _CHAPTER,
    "the discharge falls off as a resistor's does",
    "an active discharge that draws steady power or steady current: quicker towards its end",
)

ENERGY_ABOVE_VOLTAGE = Working(
    energy_above_voltage,
    "Max(0, C*(V**2 - V_f**2)/2)",
    {"C": _C, "V": _V, "V_f": Symbol("floor", "V", 10.0, 100.0, "voltage counted down to")},
    _energy("energy_above_voltage", "energy above that voltage"),
    ("un-r94-2017-stored-energy",),
    "what is left below the floor does no harm",
    "that rest, which for a large link is many joules",
)

WORKINGS: tuple[Working, ...] = (
    STORED_ENERGY,
    STORED_CHARGE,
    VOLTAGE_AT_ENERGY,
    LARGEST_CAPACITANCE,
    VOLTAGE_AFTER,
    TIME_TO_VOLTAGE,
    TIME_TO_ENERGY,
    BLEED_POWER,
    WORST_CAPACITANCE,
    WORST_RESISTANCE,
    EQUIVALENT_RESISTANCE,
    ENERGY_ABOVE_VOLTAGE,
)
