"""A pack under load: a rest voltage behind a resistance, its sag, its current and its power.

Discharge current and power are positive.
"""

from __future__ import annotations

from math import sqrt

from swapwright.base.figure import Symbol, Working


def voltage_at_current(*, rest_voltage: float, current: float, resistance: float) -> float:
    """Return a pack's voltage under a current.

    rest_voltage: [V]
    current: discharge positive [A]
    resistance: [ohm]
    result: voltage [V]
    source: definition-ohm
    """
    return rest_voltage - current * resistance


def demand_current(*, rest_voltage: float, power: float, resistance: float) -> float:
    """Return the current that is asked of a pack for a power, also where it is too weak for it.

    Up to the matched-load power this is the smaller root of the quadratic, written so that it stays
    exact near zero; beyond it no current gives the power, and what is asked is taken as the power
    over half the rest voltage, where a source gives most.

    rest_voltage: [V]
    power: asked for at the terminals [W]
    resistance: [ohm]
    result: current [A]
    source: kirchhoff-constant-power, from memory
    """
    square = max(rest_voltage**2, 4.0 * resistance * power) - 4.0 * resistance * power
    return 2.0 * power / (rest_voltage + sqrt(square))


def power_at_voltage_floor(*, rest_voltage: float, min_voltage: float, resistance: float) -> float:
    """Return the power at which a pack sags to its lowest voltage.

    rest_voltage: [V]
    min_voltage: not below half the rest voltage [V]
    resistance: [ohm]
    result: power [W]
    source: kirchhoff-constant-power, from memory
    """
    return min_voltage * (rest_voltage - min_voltage) / resistance


def power_at_current(*, rest_voltage: float, current: float, resistance: float) -> float:
    """Return the power at a pack's terminals under a current.

    rest_voltage: [V]
    current: discharge positive [A]
    resistance: [ohm]
    result: power [W]
    source: definition-electric-power
    """
    return (rest_voltage - current * resistance) * current


_V = Symbol("rest_voltage", "V", 100.0, 900.0, "rest voltage")
_R = Symbol("resistance", "ohm", 0.005, 0.5, "pack resistance")
_I = Symbol("current", "A", -500.0, 1000.0, "current, discharge positive")
_STEADY = "one resistance for the time considered"

VOLTAGE_AT_CURRENT = Working(
    voltage_at_current,
    "V - I * R",
    {"V": _V, "I": _I, "R": _R},
    Symbol("voltage_at_current", "V", -500.0, 2000.0, "voltage under load"),
    ("definition-ohm",),
    _STEADY,
    "",
)

DEMAND_CURRENT = Working(
    demand_current,
    "2 * P / (V + sqrt(Max(V**2, 4 * R * P) - 4 * R * P))",
    {"V": _V, "P": Symbol("power", "W", 0.0, 3e5, "power asked for"), "R": _R},
    Symbol("demand_current", "A", 0.0, 1e4, "current asked for", "current"),
    ("kirchhoff-constant-power",),
    f"{_STEADY}; beyond the matched-load power, at half the rest voltage",
    "a limit that is set in the inverter",
)

POWER_AT_VOLTAGE_FLOOR = Working(
    power_at_voltage_floor,
    "V_min * (V - V_min) / R",
    {
        "V": _V,
        "V_min": Symbol("min_voltage", "V", 50.0, 700.0, "lowest voltage"),
        "R": _R,
    },
    Symbol("power_at_voltage_floor", "W", -1e8, 1e8, "power at the voltage floor"),
    ("kirchhoff-constant-power",),
    _STEADY,
    "the cells' own current limit",
    "2 * V_min >= V",
)

POWER_AT_CURRENT = Working(
    power_at_current,
    "(V - I * R) * I",
    {"V": _V, "I": _I, "R": _R},
    Symbol("power_at_current", "W", -1e6, 1e6, "power"),
    ("definition-electric-power",),
    _STEADY,
    "",
)

WORKINGS: tuple[Working, ...] = (
    VOLTAGE_AT_CURRENT,
    DEMAND_CURRENT,
    POWER_AT_VOLTAGE_FLOOR,
    POWER_AT_CURRENT,
)
