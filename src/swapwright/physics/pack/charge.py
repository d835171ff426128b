"""Charging: the current and voltage at the pack, and what is lost on the way from the wall."""

from __future__ import annotations

from math import inf, sqrt

from swapwright.base.figure import Symbol, Working

# Efficiency from the wall into the pack over a whole charge, by the charger's output power: up to
# the power [W], the efficiency [1]. The charger's own 0.87, 0.92 and 0.93
# (charger-efficiency-typical) less what pumps and controls draw meanwhile, which weighs least on
# the largest (charging-loads-typical).
TYPICAL_CHARGER_EFFICIENCIES: tuple[tuple[float, float], ...] = (
    (2000.0, 0.82),
    (4000.0, 0.87),
    (inf, 0.90),
)


def typical_charger_efficiency(power: float) -> float:
    """Return the efficiency to assume for a charger that states none, with the loads meanwhile.

    power: output power [W]
    result: efficiency from the wall into the pack [1]
    source: charger-efficiency-typical, charging-loads-typical
    """
    return next(eta for top, eta in TYPICAL_CHARGER_EFFICIENCIES if power <= top)


def charge_efficiency(*, rest_voltage: float, current: float, resistance: float) -> float:
    """Return the share of the energy into a pack that is stored.

    rest_voltage: [V]
    current: charging, as a magnitude [A]
    resistance: of the pack [ohm]
    result: efficiency [1]
    source: definition-machine-efficiency
    """
    return rest_voltage / (rest_voltage + current * resistance)


def charge_current(*, power: float, rest_voltage: float, resistance: float) -> float:
    """Return the current a charging power drives into a pack.

    power: at the pack's terminals [W]
    rest_voltage: [V]
    resistance: of the pack [ohm]
    result: current, as a magnitude [A]
    source: kirchhoff-constant-power, from memory
    """
    return 2.0 * power / (rest_voltage + sqrt(rest_voltage**2 + 4.0 * resistance * power))


def efficiency_with_loads(*, efficiency: float, power: float, loads: float) -> float:
    """Return a charger's efficiency into the battery, with what the car draws meanwhile.

    efficiency: of the charger alone [1]
    power: its output [W]
    loads: of the car while charging, taken from that output [W]
    result: [1]
    source: definition-machine-efficiency
    """
    return efficiency * (power - loads) / power


def charging_voltage(*, rest_voltage: float, current: float, resistance: float) -> float:
    """Return the terminal voltage while charging.

    rest_voltage: [V]
    current: charging, as a magnitude [A]
    resistance: [ohm]
    result: voltage [V]
    source: definition-ohm
    """
    return rest_voltage + current * resistance


_V = Symbol("rest_voltage", "V", 20.0, 900.0, "rest voltage")
_R = Symbol("resistance", "ohm", 0.001, 0.5, "pack resistance")
CHARGE_EFFICIENCY = Working(
    charge_efficiency,
    "V / (V + I * R)",
    {"V": _V, "I": Symbol("current", "A", 0.0, 500.0, "charging current"), "R": _R},
    Symbol("charge_efficiency", "1", 0.0, 1.0, "charge efficiency of the pack", "fraction"),
    ("definition-machine-efficiency",),
    "one resistance for the whole charge",
    "charge lost to side reactions",
)

CHARGE_CURRENT = Working(
    charge_current,
    "2 * P / (V + sqrt(V**2 + 4 * R * P))",
    {"P": Symbol("power", "W", 100.0, 2e5, "charging power"), "V": _V, "R": _R},
    Symbol("charge_current", "A", 0.0, 1e4, "charging current"),
    ("kirchhoff-constant-power",),
    "one resistance",
    "",
)

CHARGING_VOLTAGE = Working(
    charging_voltage,
    "V_0 + I * R",
    {
        "V_0": Symbol("rest_voltage", "V", 1.0, 900.0, "rest voltage"),
        "I": Symbol("current", "A", 0.0, 1000.0, "charging current"),
        "R": Symbol("resistance", "ohm", 1e-5, 1.0, "resistance"),
    },
    Symbol("charging_voltage", "V", 0.0, 2000.0, "voltage while charging", "voltage"),
    ("definition-ohm",),
    "all cells alike",
    "the highest cell of an unbalanced string",
)
EFFICIENCY_WITH_LOADS = Working(
    efficiency_with_loads,
    "eta * (P - P_l) / P",
    {
        "eta": Symbol("efficiency", "1", 0.5, 1.0, "efficiency of the charger", "fraction"),
        "P": Symbol("power", "W", 500.0, 1e5, "charger output", "power"),
        "P_l": Symbol("loads", "W", 0.0, 400.0, "loads while charging", "power"),
    },
    Symbol("efficiency_with_loads", "1", 0.0, 1.0, "efficiency into the battery", "fraction"),
    ("definition-machine-efficiency",),
    "full output until the end",
    "the slow end of a charge, when the loads weigh more",
)

WORKINGS: tuple[Working, ...] = (
    CHARGE_EFFICIENCY,
    CHARGE_CURRENT,
    CHARGING_VOLTAGE,
    EFFICIENCY_WITH_LOADS,
)
