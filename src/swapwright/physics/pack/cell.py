"""A cell: rest voltage, Thevenin step response, temperature, current limits and heat.

Discharge current is positive.
"""

from __future__ import annotations

from itertools import pairwise
from math import exp

from swapwright.base.figure import Symbol, Working
from swapwright.base.table import Line

ROOM_TEMPERATURE = 298.15  # K, the temperature resistances are rated at (plett-2015-ch2)
# Activation temperature of a cell's resistance: 25 kJ/mol over the gas constant 8.314 J/(mol K),
# middle of the typical 20-30 kJ/mol (cell-activation-typical).
TYPICAL_ACTIVATION_TEMPERATURE = 25000.0 / 8.314462618


def rest_energy(*, ocv: Line, capacity: float, low: float, high: float) -> float:
    """Return the energy between two states of charge at rest voltage.

    ocv: rest voltage [V] against state of charge [1]
    capacity: [C]
    low: lower state of charge [1]
    high: upper state of charge [1]
    result: energy, exact for the straight pieces of the curve [J]
    source: plett-2015-ch2, from memory
    """
    points = [low, *(soc for soc in ocv.x if low < soc < high), high]
    area = sum(0.5 * (ocv.at(a) + ocv.at(b)) * (b - a) for a, b in pairwise(points))
    return area * capacity


def mean_rest_voltage(*, ocv: Line, low: float = 0.0, high: float = 1.0) -> float:
    """Return the mean rest voltage between two states of charge.

    ocv: rest voltage [V] against state of charge [1]
    low: lower state of charge [1]
    high: upper state of charge [1]
    result: voltage [V]
    source: plett-2015-ch2, from memory
    """
    return rest_energy(ocv=ocv, capacity=1.0, low=low, high=high) / (high - low)


def pulse_resistance(
    *, r0: float, r1: float, c1: float, r2: float, c2: float, time: float
) -> float:
    """Return the resistance a steady current meets after a time from rest.

    r0: ohmic [ohm]
    r1: of the fast pair [ohm]
    c1: of the fast pair [F]
    r2: of the slow pair [ohm]
    c2: of the slow pair [F]
    time: since the current started [s]
    result: voltage lost over current [ohm]
    source: plett-2015-ch2, from memory
    """
    return r0 + r1 * (1.0 - exp(-time / (r1 * c1))) + r2 * (1.0 - exp(-time / (r2 * c2)))


def terminal_voltage(
    *,
    ocv: float,
    current: float,
    r0: float,
    r1: float,
    c1: float,
    r2: float,
    c2: float,
    time: float,
) -> float:
    """Return a cell's voltage after a time of steady current from rest.

    ocv: rest voltage at the state of charge reached [V]
    current: discharge positive [A]
    r0: ohmic [ohm]
    r1: of the fast pair [ohm]
    c1: of the fast pair [F]
    r2: of the slow pair [ohm]
    c2: of the slow pair [F]
    time: since the current started [s]
    result: voltage [V]
    source: plett-2015-ch2, from memory
    """
    return ocv - current * pulse_resistance(r0=r0, r1=r1, c1=c1, r2=r2, c2=c2, time=time)


def soc_after(*, start: float, current: float, time: float, capacity: float) -> float:
    """Return the state of charge after a time of steady current.

    start: state of charge at time zero [1]
    current: discharge positive [A]
    time: [s]
    capacity: [C]
    result: state of charge [1]
    source: plett-2015-ch2, from memory
    """
    return start - current * time / capacity


def resistance_at_cell_temperature(
    *,
    resistance: float,
    activation_temperature: float,
    temperature: float,
    reference_temperature: float = ROOM_TEMPERATURE,
) -> float:
    """Return a cell's resistance at a temperature by Arrhenius' law.

    resistance: at the reference temperature [ohm]
    activation_temperature: activation energy over the gas constant [K]
    temperature: of the cell [K]
    reference_temperature: by default 25 degC [K]
    result: resistance [ohm]
    source: arrhenius-resistance, from memory
    """
    exponent = activation_temperature * (1.0 / temperature - 1.0 / reference_temperature)
    return resistance * exp(exponent)


def derated_current(*, rated_current: float, derate: float) -> float:
    """Return the current a cell allows at its temperature.

    rated_current: from the data sheet [A]
    derate: share allowed at this temperature [1]
    result: current [A]
    source: cell-derate-form
    """
    return rated_current * derate


def current_to_voltage_limit(*, ocv: float, limit: float, resistance: float) -> float:
    """Return the current that takes a cell to a voltage limit.

    ocv: rest voltage [V]
    limit: lowest voltage for discharge, highest for charge [V]
    resistance: `pulse_resistance` at the time it has to last [ohm]
    result: current, positive for a limit below the rest voltage, negative for one above [A]
    source: definition-ohm
    """
    return (ocv - limit) / resistance


def resistive_heat(*, current: float, resistance: float) -> float:
    """Return the heat a current makes in a resistance.

    current: [A]
    resistance: [ohm]
    result: heat [W]
    source: definition-ohm
    """
    return current**2 * resistance


def reversible_heat(*, current: float, temperature: float, entropic: float) -> float:
    """Return the heat (or cold) of the cell reaction itself.

    current: discharge positive [A]
    temperature: of the cell [K]
    entropic: change of rest voltage with temperature [V/K]
    result: heat, positive warming [W]
    source: bernardi-1985-heat, from memory
    """
    return -current * temperature * entropic


def cell_heat(*, current: float, resistance: float, temperature: float, entropic: float) -> float:
    """Return all the heat of a cell.

    current: discharge positive [A]
    resistance: [ohm]
    temperature: of the cell [K]
    entropic: change of rest voltage with temperature [V/K]
    result: heat, positive warming [W]
    source: bernardi-1985-heat, from memory
    """
    return current**2 * resistance - current * temperature * entropic


_R = Symbol("resistance", "ohm", 1e-4, 0.1, "resistance")
_I = Symbol("current", "A", -500.0, 500.0, "current, discharge positive")
_OCV = Symbol("ocv", "V", 2.0, 4.4, "rest voltage")
_T = Symbol("temperature", "K", 243.15, 333.15, "cell temperature")
_DUDT = Symbol("entropic", "V/K", -5e-4, 5e-4, "change of rest voltage with temperature")
_TIME = Symbol("time", "s", 0.1, 1800.0, "time since the current started")
_RC = {
    "R_0": Symbol("r0", "ohm", 1e-4, 0.05, "ohmic resistance"),
    "R_1": Symbol("r1", "ohm", 1e-4, 0.05, "resistance of the fast pair"),
    "C_1": Symbol("c1", "F", 100.0, 1e5, "capacitance of the fast pair"),
    "R_2": Symbol("r2", "ohm", 1e-4, 0.05, "resistance of the slow pair"),
    "C_2": Symbol("c2", "F", 1e3, 1e6, "capacitance of the slow pair"),
    "t": _TIME,
}
_PULSE = "R_0 + R_1 * (1 - exp(-t / (R_1 * C_1))) + R_2 * (1 - exp(-t / (R_2 * C_2)))"
_FROM_REST = "starts from rest; steady current; resistances of one state of charge and temperature"
_NO_HYSTERESIS = "hysteresis, diffusion beyond the slow pair"

PULSE_RESISTANCE = Working(
    pulse_resistance,
    _PULSE,
    _RC,
    Symbol("pulse_resistance", "ohm", 0.0, 1.0, "resistance to a pulse"),
    ("plett-2015-ch2",),
    _FROM_REST,
    _NO_HYSTERESIS,
)

TERMINAL_VOLTAGE = Working(
    terminal_voltage,
    f"V_oc - I * ({_PULSE})",
    {"V_oc": _OCV, "I": _I, **_RC},
    Symbol("terminal_voltage", "V", -100.0, 100.0, "cell voltage"),
    ("plett-2015-ch2",),
    _FROM_REST,
    _NO_HYSTERESIS,
)

SOC_AFTER = Working(
    soc_after,
    "z - I * t / Q",
    {
        "z": Symbol("start", "1", 0.0, 1.0, "state of charge at the start", "fraction"),
        "I": _I,
        "t": _TIME,
        "Q": Symbol("capacity", "C", 3600.0, 1e6, "capacity"),
    },
    Symbol("soc_after", "1", 0.0, 1.0, "state of charge", "fraction"),
    ("plett-2015-ch2",),
    "every coulomb counts the same",
    "self-discharge",
)

RESISTANCE_AT_CELL_TEMPERATURE = Working(
    resistance_at_cell_temperature,
    "R * exp(T_a * (1 / T - 1 / T_ref))",
    {
        "R": _R,
        "T_a": Symbol("activation_temperature", "K", 1000.0, 5000.0, "activation temperature"),
        "T": _T,
        "T_ref": Symbol("reference_temperature", "K", 288.15, 303.15, "reference temperature"),
    },
    Symbol("resistance_at_cell_temperature", "ohm", 0.0, 10.0, "resistance"),
    ("arrhenius-resistance",),
    "one activation energy for the whole cell",
    "a maker's own table, which goes before",
)

DERATED_CURRENT = Working(
    derated_current,
    "I_r * d",
    {
        "I_r": Symbol("rated_current", "A", 1.0, 2000.0, "rated current"),
        "d": Symbol("derate", "1", 0.0, 1.0, "share allowed", "fraction"),
    },
    Symbol("derated_current", "A", 0.0, 2000.0, "current allowed"),
    ("cell-derate-form",),
    "",
    "",
)

CURRENT_TO_VOLTAGE_LIMIT = Working(
    current_to_voltage_limit,
    "(V_oc - V_lim) / R",
    {
        "V_oc": _OCV,
        "V_lim": Symbol("limit", "V", 1.5, 4.5, "voltage limit"),
        "R": _R,
    },
    Symbol("current_to_voltage_limit", "A", -1e5, 1e5, "current to the voltage limit"),
    ("definition-ohm",),
    "rest voltage unchanged meanwhile",
    "",
)

RESISTIVE_HEAT = Working(
    resistive_heat,
    "I**2 * R",
    {"I": _I, "R": _R},
    Symbol("resistive_heat", "W", 0.0, 1e5, "resistive heat"),
    ("definition-ohm",),
    "",
    "",
)

REVERSIBLE_HEAT = Working(
    reversible_heat,
    "-I * T * u",
    {"I": _I, "T": _T, "u": _DUDT},
    Symbol("reversible_heat", "W", -1e3, 1e3, "reversible heat"),
    ("bernardi-1985-heat",),
    "",
    "heat of mixing",
)

CELL_HEAT = Working(
    cell_heat,
    "I**2 * R - I * T * u",
    {"I": _I, "R": _R, "T": _T, "u": _DUDT},
    Symbol("cell_heat", "W", -1e3, 1e5, "heat of a cell"),
    ("bernardi-1985-heat",),
    "",
    "heat of mixing, heat in the RC pairs' capacitances",
)

WORKINGS: tuple[Working, ...] = (
    PULSE_RESISTANCE,
    TERMINAL_VOLTAGE,
    SOC_AFTER,
    RESISTANCE_AT_CELL_TEMPERATURE,
    DERATED_CURRENT,
    CURRENT_TO_VOLTAGE_LIMIT,
    RESISTIVE_HEAT,
    REVERSIBLE_HEAT,
    CELL_HEAT,
)
