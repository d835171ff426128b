"""Contactors: the current they close on, the surge of a link behind them, overload they carry."""

from __future__ import annotations

from math import acos, acosh, exp, inf, log, sqrt

import numpy as np

from swapwright.base.figure import Symbol, Working

Points = tuple[float, ...]


def making_current_bound(*, voltage: float, resistance: float) -> float:
    """Return the most a contactor can be asked to close on: no inductance slows the rise.

    voltage: across its open contacts [V]
    resistance: of the loop it closes [ohm]
    result: current [A]
    source: definition-ohm
    """
    return voltage / resistance


def surge_impedance(*, inductance: float, capacitance: float) -> float:
    """Return the surge impedance of a loop and the link it fills.

    inductance: of the loop [H]
    capacitance: of the link [F]
    result: [ohm]
    source: nilsson-2011-ch8, from memory
    """
    return sqrt(inductance / capacitance)


def damping(*, resistance: float, surge_impedance: float) -> float:
    """Return the damping of a loop and its link: under one it swings, above one it creeps.

    resistance: of the loop [ohm]
    surge_impedance: of loop and link [ohm]
    result: [1]
    source: nilsson-2011-ch8, from memory
    """
    return resistance / (2.0 * surge_impedance)


def making_peak(*, voltage: float, surge_impedance: float, damping: float) -> float:
    """Return the true peak of the current when a contactor closes on a link.

    voltage: across its open contacts [V]
    surge_impedance: of loop and link [ohm]
    damping: of loop and link [1]
    result: current [A]
    source: nilsson-2011-ch8, from memory
    """
    return voltage / surge_impedance * exp(-damping * _angle(damping))


def making_peak_time(*, resistance: float, inductance: float, capacitance: float) -> float:
    """Return when that peak comes.

    resistance: of the loop [ohm]
    inductance: of the loop [H]
    capacitance: of the link [F]
    result: time after closing [s]
    source: nilsson-2011-ch8, from memory
    """
    impedance = surge_impedance(inductance=inductance, capacitance=capacitance)
    share = damping(resistance=resistance, surge_impedance=impedance)
    return sqrt(inductance * capacitance) * _angle(share)


def _angle(damping: float) -> float:
    """Return the moment of the peak, in times of sqrt(L*C)."""
    from_one = damping - 1.0
    if abs(from_one) < 1e-5:
        return 1.0 - from_one / 3.0
    if from_one < 0.0:
        return acos(damping) / sqrt(1.0 - damping**2)
    return acosh(damping) / sqrt(damping**2 - 1.0)


def overload_current(*, time: float, times: Points, currents: Points) -> float:
    """Return the current a contactor may carry for a time.

    Straight between its points on logarithmic axes. Before the first its current holds, after the
    last one that one does.

    time: [s]
    times, currents: the overload curve, times rising [s], currents falling [A]
    result: current [A]
    source: contactor-typical; the curve is the part's
    """
    return exp(float(np.interp(log(max(time, times[0])), np.log(times), np.log(currents))))


def overload_time(*, current: float, times: Points, currents: Points) -> float:
    """Return how long a contactor may carry a current: not at all above the curve's first point.

    current: [A]
    times, currents: the overload curve, times rising [s], currents falling [A]
    result: time [s]; infinite where it may be carried for good
    source: contactor-typical; the curve is the part's
    """
    if current <= currents[-1]:
        return inf
    if current > currents[0]:
        return 0.0
    return exp(float(np.interp(log(current), np.log(currents[::-1]), np.log(times[::-1]))))


_V = Symbol("voltage", "V", 0.5, 1000.0, "volts across the open contacts")
_R = Symbol("resistance", "ohm", 1e-3, 1.0, "resistance of the loop it closes")
_Z = Symbol("surge_impedance", "ohm", 5e-3, 5.0, "surge impedance of loop and link")
_L = Symbol("inductance", "H", 1e-7, 1e-4, "inductance of the loop")
_C = Symbol("capacitance", "F", 1e-5, 0.02, "capacitance of the link")
_BOOK = ("nilsson-2011-ch8",)

MAKING_CURRENT_BOUND = Working(
    making_current_bound,
    "V/R",
    {"V": _V, "R": _R},
    Symbol("making_current_bound", "A", 0.0, 1e6, "most it can be asked to close on"),
    ("definition-ohm",),
    "no inductance: the true peak is lower",
    "bounce of the contacts, which makes and breaks it several times",
)

SURGE_IMPEDANCE = Working(
    surge_impedance,
    "sqrt(L/C)",
    {"L": _L, "C": _C},
    Symbol("surge_impedance", "ohm", 0.0, 100.0, "surge impedance of loop and link"),
    _BOOK,
    "",
    "inductance inside the link capacitor",
)

DAMPING = Working(
    damping,
    "R/(2*Z)",
    {"R": _R, "Z": _Z},
    Symbol("damping", "1", 0.0, 1e3, "damping of loop and link", "ratio"),
    _BOOK,
    "",
    "",
)

MAKING_PEAK = Working(
    making_peak,
    "V/Z*Piecewise("
    "(exp(-d/sqrt(1 - d**2)*atan(sqrt(1 - d**2)/d)), d < 1), "
    "(exp(-d/sqrt(d**2 - 1)*log(d + sqrt(d**2 - 1))), True))",
    {"V": _V, "Z": _Z, "d": Symbol("damping", "1", 0.01, 5.0, "damping of loop and link", "ratio")},
    Symbol("making_peak", "A", 0.0, 1e6, "peak current on closing"),
    _BOOK,
    "the pack's voltage holds; the link starts from the voltage left over",
    "bounce of the contacts; loads on the link",
    "Abs(d - 1) > 0.001",
)

WORKINGS: tuple[Working, ...] = (
    MAKING_CURRENT_BOUND,
    SURGE_IMPEDANCE,
    DAMPING,
    MAKING_PEAK,
)
