"""A cell: Thevenin step response and current limits.

Discharge current is positive.
"""

from __future__ import annotations

from math import exp

from swapwright.base.figure import Symbol, Working

ROOM_TEMPERATURE = 298.15  # K, the temperature resistances are rated at (plett-2015-ch2)


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


_R = Symbol("resistance", "ohm", 1e-4, 0.1, "resistance")
_I = Symbol("current", "A", -500.0, 500.0, "current, discharge positive")
_OCV = Symbol("ocv", "V", 2.0, 4.4, "rest voltage")
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

WORKINGS: tuple[Working, ...] = (
    PULSE_RESISTANCE,
    TERMINAL_VOLTAGE,
    DERATED_CURRENT,
    CURRENT_TO_VOLTAGE_LIMIT,
)
