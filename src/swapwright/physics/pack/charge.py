"""Charging: energy from the wall, losses on the way, and how long it takes."""

from __future__ import annotations

from math import exp, inf, log, sqrt

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


def wall_energy(
    *, battery_energy: float, charger_efficiency: float, battery_efficiency: float
) -> float:
    """Return the energy the wall gives for an energy stored.

    battery_energy: to be stored [J]
    charger_efficiency: wall to pack terminals [1]
    battery_efficiency: share of the energy into the pack that is stored [1]
    result: energy [J]
    source: energy-decomposition
    """
    return battery_energy / (charger_efficiency * battery_efficiency)


def wall_power(*, voltage: float, current: float, power_factor: float) -> float:
    """Return the power of a single-phase supply.

    voltage: rms [V]
    current: rms [A]
    power_factor: [1]
    result: power [W]
    source: definition-electric-power
    """
    return voltage * current * power_factor


def charging_power(*, wall_power: float, charger_efficiency: float, charger_power: float) -> float:
    """Return the power into the pack: what the wall gives, or what the charger can pass.

    wall_power: that the supply can give [W]
    charger_efficiency: wall to pack terminals [1]
    charger_power: rated output of the charger [W]
    result: power at the pack terminals [W]
    source: energy-decomposition
    """
    return min(wall_power * charger_efficiency, charger_power)


def constant_power_time(*, energy: float, power: float) -> float:
    """Return how long a constant power takes for an energy.

    energy: [J]
    power: at the same place [W]
    result: time [s]
    source: definition-electric-power
    """
    return energy / power


def constant_current_time(*, charge: float, current: float) -> float:
    """Return how long a constant current takes for a charge.

    charge: [C]
    current: [A]
    result: time [s]
    source: definition-charge
    """
    return charge / current


def taper_time_constant(*, charge_left: float, current: float, end_current: float) -> float:
    """Return the time constant of the current's fall at constant voltage.

    charge_left: charge to go when the voltage is reached [C]
    current: at that moment [A]
    end_current: at which charging ends [A]
    result: time constant [s]
    source: charge-taper-form
    """
    return charge_left / (current - end_current)


def taper_time(*, time_constant: float, current: float, end_current: float) -> float:
    """Return how long charging at constant voltage takes.

    time_constant: of the current's fall [s]
    current: at the start [A]
    end_current: at which charging ends [A]
    result: time [s]
    source: charge-taper-form
    """
    return time_constant * log(current / end_current)


def taper_current(*, current: float, time: float, time_constant: float) -> float:
    """Return the current after a time at constant voltage.

    current: at the start [A]
    time: since the voltage was reached [s]
    time_constant: of the current's fall [s]
    result: current [A]
    source: charge-taper-form
    """
    return current * exp(-time / time_constant)


_V = Symbol("rest_voltage", "V", 20.0, 900.0, "rest voltage")
_R = Symbol("resistance", "ohm", 0.001, 0.5, "pack resistance")
_I0 = Symbol("current", "A", 10.0, 500.0, "current when the voltage is reached")
_IEND = Symbol("end_current", "A", 0.1, 9.0, "end current")
_TAU = Symbol("time_constant", "s", 60.0, 1e4, "time constant")
_ETA_C = Symbol("charger_efficiency", "1", 0.5, 1.0, "charger efficiency", "fraction")
_EXPONENTIAL = "current falls as an exponential; the charge under it is the charge left"
_TAPER_NOT = "the charger's own steps, balancing at the end"

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

WALL_ENERGY = Working(
    wall_energy,
    "E / (eta_c * eta_b)",
    {
        "E": Symbol("battery_energy", "J", 1e5, 1e9, "energy stored"),
        "eta_c": _ETA_C,
        "eta_b": Symbol("battery_efficiency", "1", 0.5, 1.0, "battery efficiency", "fraction"),
    },
    Symbol("wall_energy", "J", 0.0, 5e9, "energy from the wall"),
    ("energy-decomposition",),
    "one mean efficiency for the whole charge",
    "loads that run while charging",
)

WALL_POWER = Working(
    wall_power,
    "U * I * PF",
    {
        "U": Symbol("voltage", "V", 100.0, 260.0, "supply voltage, rms"),
        "I": Symbol("current", "A", 1.0, 100.0, "supply current, rms"),
        "PF": Symbol("power_factor", "1", 0.5, 1.0, "power factor"),
    },
    Symbol("wall_power", "W", 0.0, 3e4, "power from the wall"),
    ("definition-electric-power",),
    "single phase",
    "",
)

CHARGING_POWER = Working(
    charging_power,
    "Min(P_w * eta_c, P_c)",
    {
        "P_w": Symbol("wall_power", "W", 1000.0, 25e3, "power of the supply"),
        "eta_c": _ETA_C,
        "P_c": Symbol("charger_power", "W", 1000.0, 25e3, "rated output of the charger"),
    },
    Symbol("charging_power", "W", 0.0, 25e3, "power into the pack"),
    ("energy-decomposition",),
    "",
    "current limits of charger and cells",
)

CONSTANT_POWER_TIME = Working(
    constant_power_time,
    "E / P",
    {
        "E": Symbol("energy", "J", 1e5, 1e9, "energy"),
        "P": Symbol("power", "W", 500.0, 2e5, "power"),
    },
    Symbol("constant_power_time", "s", 0.0, 1e7, "charging time"),
    ("definition-electric-power",),
    "the same power to the end",
    "taper near full",
)

CONSTANT_CURRENT_TIME = Working(
    constant_current_time,
    "Q / I",
    {
        "Q": Symbol("charge", "C", 1000.0, 5e6, "charge"),
        "I": Symbol("current", "A", 1.0, 500.0, "current"),
    },
    Symbol("constant_current_time", "s", 0.0, 1e7, "time at constant current"),
    ("definition-charge",),
    "",
    "taper near full",
)

TAPER_TIME_CONSTANT = Working(
    taper_time_constant,
    "Q / (I_0 - I_e)",
    {
        "Q": Symbol("charge_left", "C", 1000.0, 1e6, "charge left"),
        "I_0": _I0,
        "I_e": _IEND,
    },
    Symbol("taper_time_constant", "s", 0.0, 1e7, "taper time constant"),
    ("charge-taper-form",),
    _EXPONENTIAL,
    _TAPER_NOT,
)

TAPER_TIME = Working(
    taper_time,
    "tau * log(I_0 / I_e)",
    {"tau": _TAU, "I_0": _I0, "I_e": _IEND},
    Symbol("taper_time", "s", 0.0, 1e6, "time at constant voltage"),
    ("charge-taper-form",),
    _EXPONENTIAL,
    _TAPER_NOT,
)

TAPER_CURRENT = Working(
    taper_current,
    "I_0 * exp(-t / tau)",
    {"I_0": _I0, "t": Symbol("time", "s", 0.0, 2e4, "time"), "tau": _TAU},
    Symbol("taper_current", "A", 0.0, 500.0, "current"),
    ("charge-taper-form",),
    _EXPONENTIAL,
    _TAPER_NOT,
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
    WALL_ENERGY,
    WALL_POWER,
    CHARGING_POWER,
    CONSTANT_POWER_TIME,
    CONSTANT_CURRENT_TIME,
    TAPER_TIME_CONSTANT,
    TAPER_TIME,
    TAPER_CURRENT,
    CHARGING_VOLTAGE,
    EFFICIENCY_WITH_LOADS,
)
