"""Filling the link through a resistor: how long it takes and how far it gets."""

from __future__ import annotations

from math import exp, expm1, log, sqrt

from swapwright.base.figure import Symbol, Working


def rc_time_constant(*, resistance: float, capacitance: float) -> float:
    """Return the time constant of a resistor and a capacitor.

    resistance: [ohm]
    capacitance: [F]
    result: [s]
    source: nilsson-2011-ch7, from memory
    """
    return resistance * capacitance


def loaded_time_constant(*, resistance: float, load: float, capacitance: float) -> float:
    """Return the time constant of a precharge with a resistance across the link.

    resistance: of the precharge resistor [ohm]
    load: left on, or the link's own leak [ohm]
    capacitance: of the link [F]
    result: [s]
    source: nilsson-2011-ch7, from memory
    """
    return capacitance * resistance * load / (resistance + load)


def time_to_share(*, time_constant: float, share: float) -> float:
    """Return how long the link takes to reach a share of where it ends.

    time_constant: of resistor and link [s]
    share: of the end voltage [1]
    result: time [s]
    source: nilsson-2011-ch7, from memory
    """
    return -time_constant * log(1.0 - share)


def link_voltage(*, end: float, time_constant: float, time: float) -> float:
    """Return the link's voltage some time after an empty link was put to the resistor.

    end: voltage it is going to: the pack's, or less with a load left on [V]
    time_constant: of resistor and link [s]
    time: [s]
    result: voltage [V]
    source: nilsson-2011-ch7, from memory
    """
    return -end * expm1(-time / time_constant)


def voltage_left_after(*, voltage: float, time_constant: float, time: float) -> float:
    """Return what stands across the main contactor some time into a precharge.

    voltage: of the pack [V]
    time_constant: of resistor and link [s]
    time: [s]
    result: voltage [V]
    source: nilsson-2011-ch7, from memory
    """
    return voltage * exp(-time / time_constant)


def voltage_left_at_share(*, voltage: float, share: float) -> float:
    """Return what stands across the main contactor when the link has a share of the pack's volts.

    voltage: of the pack [V]
    share: the main contactor closes at [1]
    result: voltage [V]
    source: nilsson-2011-ch7, from memory
    """
    return voltage * (1.0 - share)


def end_share(*, resistance: float, load: float) -> float:
    """Return the share of the pack's voltage a link with a resistance across it ends at.

    resistance: of the precharge resistor [ohm]
    load: left on, or the link's own leak [ohm]
    result: share [1]
    source: definition-ohm
    """
    return load / (resistance + load)


def end_voltage(*, voltage: float, resistance: float, load: float) -> float:
    """Return the voltage a precharge ends at with a resistance across the link.

    voltage: of the pack [V]
    resistance: of the precharge resistor [ohm]
    load: left on, or the link's own leak [ohm]
    result: voltage [V]
    source: definition-ohm
    """
    return voltage * load / (resistance + load)


def end_voltage_at_power(*, voltage: float, resistance: float, power: float) -> float:
    """Return the voltage a precharge ends at with a converter running on the link; 0 if it cannot.

    voltage: of the pack [V]
    resistance: of the precharge resistor [ohm]
    power: the converter draws [W]
    result: voltage [V]
    source: definition-electric-power
    """
    square = voltage**2 - 4.0 * power * resistance
    return 0.5 * (voltage + sqrt(square)) if square >= 0.0 else 0.0


def largest_resistor(*, time: float, capacitance: float, share: float) -> float:
    """Return the largest resistor that fills the link to a share in a time.

    time: allowed [s]
    capacitance: of the link [F]
    share: of the pack's voltage [1]
    result: resistance [ohm]
    source: nilsson-2011-ch7, from memory
    """
    return -time / (capacitance * log(1.0 - share))


_V = Symbol("voltage", "V", 20.0, 1000.0, "pack voltage")
_R = Symbol("resistance", "ohm", 1.0, 1000.0, "precharge resistor")
_C = Symbol("capacitance", "F", 1e-5, 0.02, "link capacitance")
_LOAD = Symbol("load", "ohm", 50.0, 1e6, "resistance left across the link")
_TAU = Symbol("time_constant", "s", 1e-3, 10.0, "time constant of resistor and link")
_T = Symbol("time", "s", 1e-3, 30.0, "time")
_Q = Symbol("share", "1", 0.3, 0.999, "share of the pack's voltage", "fraction")
_CHAPTER = ("nilsson-2011-ch7",)
_OHM = ("definition-ohm",)
_POWER = ("definition-electric-power",)
_EMPTY = "the link starts empty, nothing on it draws current, the pack's voltage holds"
_LOADS = "a load on the link, for which there are figures of their own"

RC_TIME_CONSTANT = Working(
    rc_time_constant,
    "R*C",
    {"R": Symbol("resistance", "ohm", 1.0, 1e6, "resistance"), "C": _C},
    Symbol("rc_time_constant", "s", 0.0, 1e5, "time constant R C"),
    _CHAPTER,
    "",
    "",
)

LOADED_TIME_CONSTANT = Working(
    loaded_time_constant,
    "C*R*R_L/(R + R_L)",
    {"C": _C, "R": _R, "R_L": _LOAD},
    Symbol("loaded_time_constant", "s", 0.0, 100.0, "time constant with the load on"),
    _CHAPTER,
    "the load is a resistance",
    "a converter, which draws constant power",
)

TIME_TO_SHARE = Working(
    time_to_share,
    "-tau*log(1 - q)",
    {"tau": _TAU, "q": _Q},
    Symbol("time_to_share", "s", 0.0, 100.0, "time to fill to that share"),
    _CHAPTER,
    _EMPTY,
    _LOADS,
)

LINK_VOLTAGE = Working(
    link_voltage,
    "V_e*(1 - exp(-t/tau))",
    {"V_e": Symbol("end", "V", 20.0, 1000.0, "voltage it is going to"), "t": _T, "tau": _TAU},
    Symbol("link_voltage", "V", 0.0, 1000.0, "link voltage"),
    _CHAPTER,
    "the link starts empty; what is on it is a resistance",
    "a converter, which draws constant power",
)

VOLTAGE_LEFT_AFTER = Working(
    voltage_left_after,
    "V*exp(-t/tau)",
    {"V": _V, "t": _T, "tau": _TAU},
    Symbol("voltage_left_after", "V", 0.0, 1000.0, "volts left across the contactor"),
    _CHAPTER,
    _EMPTY,
    _LOADS,
    "t < 100*tau",
)

VOLTAGE_LEFT_AT_SHARE = Working(
    voltage_left_at_share,
    "V*(1 - q)",
    {"V": _V, "q": _Q},
    Symbol("voltage_left_at_share", "V", 0.0, 1000.0, "volts left across the contactor"),
    _CHAPTER,
    "the share is measured",
    "error of the two voltage readings",
)

END_SHARE = Working(
    end_share,
    "R_L/(R + R_L)",
    {"R": _R, "R_L": _LOAD},
    Symbol("end_share", "1", 0.0, 1.0, "share of the pack's voltage it ends at", "fraction"),
    _OHM,
    "the load is a resistance",
    "a converter, which draws constant power",
)

END_VOLTAGE = Working(
    end_voltage,
    "V*R_L/(R + R_L)",
    {"V": _V, "R": _R, "R_L": _LOAD},
    Symbol("end_voltage", "V", 0.0, 1000.0, "voltage precharge ends at"),
    _OHM,
    "the load is a resistance",
    "a converter, which draws constant power",
)

END_VOLTAGE_AT_POWER = Working(
    end_voltage_at_power,
    "(V + sqrt(V**2 - 4*P*R))/2",
    {"V": _V, "R": _R, "P": Symbol("power", "W", 1.0, 5000.0, "power drawn from the link")},
    Symbol("end_voltage_at_power", "V", 0.0, 1000.0, "voltage precharge ends at"),
    _POWER,
    "the converter starts late enough that the link can rise past it",
    "a converter that starts at low voltage: the link then hangs where it started",
    "V**2 > 4.01*P*R",
)

LARGEST_RESISTOR = Working(
    largest_resistor,
    "-t/(C*log(1 - q))",
    {"t": _T, "C": _C, "q": _Q},
    Symbol("largest_resistor", "ohm", 0.0, 1e7, "largest resistor for that time"),
    _CHAPTER,
    _EMPTY,
    _LOADS,
)

WORKINGS: tuple[Working, ...] = (
    RC_TIME_CONSTANT,
    LOADED_TIME_CONSTANT,
    TIME_TO_SHARE,
    LINK_VOLTAGE,
    VOLTAGE_LEFT_AFTER,
    VOLTAGE_LEFT_AT_SHARE,
    END_SHARE,
    END_VOLTAGE,
    END_VOLTAGE_AT_POWER,
    LARGEST_RESISTOR,
)
