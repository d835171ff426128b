"""Isolation of the high-voltage circuit from the chassis: leaks, what they need, what they show.

A leak is a resistance from a pole to the chassis. Leaks anywhere between the poles come to the same
as one at each pole. Steady state: the Y-capacitors are charged.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from swapwright.base.figure import Symbol, Working


def required_isolation(*, resistance_per_volt: float, voltage: float) -> float:
    """Return the isolation resistance a regulation asks for.

    resistance_per_volt: asked for by the regulation [ohm/V]
    voltage: maximum working voltage [V]
    result: least isolation resistance [ohm]
    source: un-r100-isolation-resistance
    """
    return resistance_per_volt * voltage


def ohms_per_volt(*, resistance: float, voltage: float) -> float:
    """Return an isolation resistance per volt of the maximum working voltage.

    resistance: between the circuit and the chassis [ohm]
    voltage: maximum working voltage [V]
    result: resistance per volt [ohm/V]
    source: un-r100-isolation-resistance
    """
    return resistance / voltage


def parallel_resistance(*, first: float, second: float) -> float:
    """Return the resistance of two paths side by side.

    first, second: of each path; one that is not there is left out, not infinite [ohm]
    result: resistance, below either [ohm]
    source: definition-ohm
    """
    return first * second / (first + second)


def resistance_of_all(resistances: Iterable[float]) -> float:
    """Return the resistance of any number of paths side by side.

    resistances: of each path; infinite is a path that is not there [ohm]
    result: infinite without a path, zero with a dead short [ohm]
    source: definition-ohm
    """
    paths = tuple(resistances)
    if any(each == 0.0 for each in paths):
        return 0.0
    conductance = math.fsum(1.0 / each for each in paths)
    return 1.0 / conductance if conductance > 0.0 else math.inf


def monitor_reading(*, plus_leak: float, minus_leak: float) -> float:
    """Return the isolation resistance a monitor should report: every leak, side by side.

    plus_leak, minus_leak: from each pole to the chassis, everything on the bus together [ohm]
    result: resistance [ohm]
    source: isolation-monitor-typical
    """
    return plus_leak * minus_leak / (plus_leak + minus_leak)


def leak_current(*, voltage: float, isolation: float, impedance: float) -> float:
    """Return the current through a body that closes the circuit the isolation holds open.

    With a body of no resistance it is what 100 and 500 ohm/V are made of: 10 mA and 2 mA.

    voltage: maximum working voltage [V]
    isolation: from the pole the body does not touch to the chassis [ohm]
    impedance: of the body [ohm]
    result: current [A]
    source: iso-6469-3-isolation-basis, from memory
    """
    return voltage / (isolation + impedance)


def touch_current(
    *, voltage: float, touched_leak: float, other_leak: float, impedance: float
) -> float:
    """Return the steady current through a body between one pole and the chassis.

    voltage: maximum working voltage [V]
    touched_leak: from the touched pole to the chassis, without the body [ohm]
    other_leak: from the other pole to the chassis; zero where it has a dead fault [ohm]
    impedance: of the body [ohm]
    result: current [A]
    source: definition-ohm
    """
    both = touched_leak + other_leak
    return voltage * touched_leak / (impedance * both + touched_leak * other_leak)


def pole_voltage(*, voltage: float, own_leak: float, other_leak: float) -> float:
    """Return the voltage between a pole and the chassis that two leaks leave.

    voltage: between the poles [V]
    own_leak, other_leak: from this pole and from the other to the chassis [ohm]
    result: voltage, without sign [V]
    source: definition-ohm
    """
    return voltage * own_leak / (own_leak + other_leak)


def shown_voltage(*, voltage: float, own_leak: float, other_leak: float, meter: float) -> float:
    """Return what a meter between a pole and the chassis shows, its own resistance with it.

    voltage: between the poles [V]
    own_leak, other_leak: from this pole and from the other to the chassis [ohm]
    meter: input resistance [ohm]
    result: voltage, without sign [V]
    source: definition-ohm
    """
    return voltage * own_leak * meter / (own_leak * meter + other_leak * (own_leak + meter))


def bonding_drop(*, current: float, resistance: float) -> float:
    """Return the voltage a bond between a case and the chassis drops under its test current.

    current: of the test [A]
    resistance: of the bond [ohm]
    result: voltage [V]
    source: definition-ohm
    """
    return current * resistance


_V = Symbol("voltage", "V", 20.0, 1500.0, "maximum working voltage")
_BUS = Symbol("voltage", "V", 20.0, 1500.0, "voltage between the poles")
_K = Symbol("resistance_per_volt", "ohm/V", 100.0, 500.0, "resistance per volt asked for")
_OWN = Symbol("own_leak", "ohm", 1.0, 1e8, "leak of this pole to the chassis")
_OTHER = Symbol("other_leak", "ohm", 1.0, 1e8, "leak of the other pole to the chassis")
_BODY = Symbol("impedance", "ohm", 200.0, 1e4, "impedance of the body")
_REGULATION = ("un-r100-isolation-resistance",)
_OHM = ("definition-ohm",)
_STEADY = "steady: the Y-capacitors are charged"
_NO_CAPACITORS = "the discharge of the Y-capacitors through a body, which comes first"

REQUIRED_ISOLATION = Working(
    required_isolation,
    "k * V",
    {"k": _K, "V": _V},
    Symbol("required_isolation", "ohm", 0.0, 1e6, "isolation resistance required"),
    _REGULATION,
    "everything joined to the bus has the maximum working voltage of its highest part",
    "",
)

OHMS_PER_VOLT = Working(
    ohms_per_volt,
    "R / V",
    {"R": Symbol("resistance", "ohm", 1e2, 1e8, "isolation resistance"), "V": _V},
    Symbol("ohms_per_volt", "ohm/V", 0.0, 1e7, "isolation resistance per volt"),
    _REGULATION,
    "everything joined to the bus has the maximum working voltage of its highest part",
    "",
)

PARALLEL_RESISTANCE = Working(
    parallel_resistance,
    "R_1 * R_2 / (R_1 + R_2)",
    {
        "R_1": Symbol("first", "ohm", 1.0, 1e8, "first path"),
        "R_2": Symbol("second", "ohm", 1.0, 1e8, "second path"),
    },
    Symbol("parallel_resistance", "ohm", 0.0, 1e8, "both paths side by side"),
    _OHM,
    "",
    "",
)

MONITOR_READING = Working(
    monitor_reading,
    "R_p * R_m / (R_p + R_m)",
    {
        "R_p": Symbol("plus_leak", "ohm", 1e2, 1e8, "leak of plus to the chassis"),
        "R_m": Symbol("minus_leak", "ohm", 1e2, 1e8, "leak of minus to the chassis"),
    },
    Symbol("monitor_reading", "ohm", 0.0, 1e8, "expected reading of the isolation monitor"),
    ("isolation-monitor-typical",),
    f"the monitor reports all leaks together, its own too; {_STEADY}",
    "a monitor that reports the weaker pole, or takes its own resistance off",
)

LEAK_CURRENT = Working(
    leak_current,
    "V / (R_i + Z)",
    {
        "V": _V,
        "R_i": Symbol("isolation", "ohm", 1.0, 1e8, "isolation of the pole not touched"),
        "Z": Symbol("impedance", "ohm", 0.0, 1e4, "impedance of the body"),
    },
    Symbol("leak_current", "A", 0.0, 1500.0, "current through a body at one fault"),
    ("iso-6469-3-isolation-basis",),
    _STEADY,
    _NO_CAPACITORS,
)

TOUCH_CURRENT = Working(
    touch_current,
    "V * R_t / (Z * (R_t + R_o) + R_t * R_o)",
    {
        "V": _V,
        "R_t": Symbol("touched_leak", "ohm", 1e2, 1e8, "leak of the pole touched"),
        "R_o": Symbol("other_leak", "ohm", 0.0, 1e8, "leak of the other pole"),
        "Z": _BODY,
    },
    Symbol("touch_current", "A", 0.0, 10.0, "current through a body, one pole to chassis"),
    _OHM,
    _STEADY,
    _NO_CAPACITORS,
)

POLE_VOLTAGE = Working(
    pole_voltage,
    "V * R_1 / (R_1 + R_2)",
    {"V": _BUS, "R_1": _OWN, "R_2": _OTHER},
    Symbol("pole_voltage", "V", 0.0, 1500.0, "pole to chassis"),
    _OHM,
    _STEADY,
    "",
)

SHOWN_VOLTAGE = Working(
    shown_voltage,
    "V * R_1 * R_v / (R_1 * R_v + R_2 * (R_1 + R_v))",
    {
        "V": _BUS,
        "R_1": _OWN,
        "R_2": _OTHER,
        "R_v": Symbol("meter", "ohm", 1e3, 1e9, "input resistance of the meter"),
    },
    Symbol("shown_voltage", "V", 0.0, 1500.0, "pole to chassis as the meter shows it"),
    _OHM,
    f"one meter, on this pole; {_STEADY}",
    "a bus that is switching, or a monitor that moves the poles while it measures",
)

BONDING_DROP = Working(
    bonding_drop,
    "I * R",
    {
        "I": Symbol("current", "A", 0.1, 50.0, "test current"),
        "R": Symbol("resistance", "ohm", 0.0, 1.0, "resistance of the bond"),
    },
    Symbol("bonding_drop", "V", 0.0, 50.0, "voltage drop of the bond"),
    _OHM,
    "",
    "",
)

WORKINGS: tuple[Working, ...] = (
    REQUIRED_ISOLATION,
    OHMS_PER_VOLT,
    PARALLEL_RESISTANCE,
    MONITOR_READING,
    LEAK_CURRENT,
    TOUCH_CURRENT,
    POLE_VOLTAGE,
    SHOWN_VOLTAGE,
    BONDING_DROP,
)
