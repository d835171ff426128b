"""The torque, power and speed of a motor within its limits."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from swapwright.base.figure import Symbol, Working
from swapwright.base.table import Line

FloatArray = NDArray[np.float64]


def power_limited_torque(*, power: float, speed: float) -> float:
    """Return the torque a power limit leaves at a speed.

    power: shaft power limit [W]
    speed: shaft speed, above zero [rad/s]
    result: torque [N.m]
    source: definition-shaft-power
    """
    return power / speed


def shaft_power(*, torque: float, speed: float) -> float:
    """Return the power of a turning shaft.

    torque: shaft torque [N.m]
    speed: shaft speed [rad/s]
    result: power, positive motoring [W]
    source: definition-shaft-power
    """
    return torque * speed


def corner_speed(*, peak_power: float, peak_torque: float) -> float:
    """Return the speed at which a torque limit meets a power limit.

    peak_power: power limit [W]
    peak_torque: torque limit [N.m]
    result: shaft speed [rad/s]
    source: definition-shaft-power
    """
    return peak_power / peak_torque


def base_speed(*, test_base_speed: float, dc_voltage: float, test_voltage: float) -> float:
    """Return the base speed at another dc voltage: it moves in proportion.

    test_base_speed: base speed at the test voltage [rad/s]
    dc_voltage: at the inverter's terminals [V]
    test_voltage: dc voltage the curve was taken at [V]
    result: base speed [rad/s]
    source: krause-2002-pm-machine, from memory
    """
    return test_base_speed * dc_voltage / test_voltage


def current_limited_torque(*, torque_per_amp: float, phase_current: float) -> float:
    """Return the torque a phase current makes below base speed.

    torque_per_amp: torque per phase ampere rms [N.m/A]
    phase_current: rms [A]
    result: torque [N.m]
    source: krause-2002-pm-machine, from memory
    """
    return torque_per_amp * phase_current


def torque_current(*, torque: float, torque_per_amp: float) -> float:
    """Return the phase current a torque takes below base speed.

    torque: shaft torque [N.m]
    torque_per_amp: torque per phase ampere rms [N.m/A]
    result: rms phase current [A]
    source: krause-2002-pm-machine, from memory
    """
    return torque / torque_per_amp


def envelope_torque(envelope: Line, speeds: FloatArray) -> FloatArray:
    """Return the torque of an envelope at speeds, going on past its end.

    Past the last point torque falls with the square of speed, as it does deep in field weakening.

    envelope: torque [N.m] against speed [rad/s]
    speeds: shaft speeds [rad/s]
    result: torques [N.m]
    source: motor-deep-field-weakening-assumed
    """
    end = envelope.x[-1]
    beyond = (end / np.maximum(speeds, end)) ** 2 if end > 0.0 else np.ones_like(speeds)
    return np.asarray(np.interp(speeds, envelope.x, envelope.y) * beyond)


_SPEED = Symbol("speed", "rad/s", 1.0, 2000.0, "shaft speed")
_VDC = Symbol("dc_voltage", "V", 20.0, 900.0, "dc voltage at the inverter")
_VTEST = Symbol("test_voltage", "V", 20.0, 900.0, "dc voltage of the test")
_KT = Symbol("torque_per_amp", "N.m/A", 0.05, 5.0, "torque per phase ampere rms")
_TORQUE = Symbol("torque", "N.m", -1000.0, 1000.0, "shaft torque")

_PROPORTIONAL = "flux and current limits unchanged, so that speed and voltage scale together"

POWER_LIMITED_TORQUE = Working(
    power_limited_torque,
    "P / omega",
    {"P": Symbol("power", "W", 100.0, 1e6, "power limit"), "omega": _SPEED},
    Symbol("power_limited_torque", "N.m", 0.0, 1e6, "torque left by the power limit"),
    ("definition-shaft-power",),
    "",
    "",
)

SHAFT_POWER = Working(
    shaft_power,
    "T * omega",
    {"T": _TORQUE, "omega": _SPEED},
    Symbol("shaft_power", "W", -2e6, 2e6, "shaft power"),
    ("definition-shaft-power",),
    "",
    "",
)

CORNER_SPEED = Working(
    corner_speed,
    "P / T",
    {
        "P": Symbol("peak_power", "W", 1000.0, 1e6, "peak power"),
        "T": Symbol("peak_torque", "N.m", 5.0, 1000.0, "peak torque"),
    },
    Symbol("corner_speed", "rad/s", 0.0, 2e5, "corner speed"),
    ("definition-shaft-power",),
    "constant torque up to constant power",
    "a rounded corner",
)

BASE_SPEED = Working(
    base_speed,
    "omega_0 * V_dc / V_test",
    {
        "omega_0": Symbol("test_base_speed", "rad/s", 10.0, 1500.0, "base speed on test"),
        "V_dc": _VDC,
        "V_test": _VTEST,
    },
    Symbol("base_speed", "rad/s", 0.0, 1e5, "base speed"),
    ("krause-2002-pm-machine",),
    _PROPORTIONAL,
    "winding resistance drop",
)

CURRENT_LIMITED_TORQUE = Working(
    current_limited_torque,
    "k_t * I",
    {"k_t": _KT, "I": Symbol("phase_current", "A", 1.0, 1000.0, "phase current, rms")},
    Symbol("current_limited_torque", "N.m", 0.0, 5e3, "torque left by the phase current"),
    ("krause-2002-pm-machine",),
    "below base speed, no saturation",
    "field weakening, saturation",
)

TORQUE_CURRENT = Working(
    torque_current,
    "T / k_t",
    {"T": _TORQUE, "k_t": _KT},
    Symbol("torque_current", "A", 0.0, 2e4, "phase current of a torque"),
    ("krause-2002-pm-machine",),
    "below base speed, no saturation",
    "field weakening, saturation",
)

WORKINGS: tuple[Working, ...] = (
    POWER_LIMITED_TORQUE,
    SHAFT_POWER,
    CORNER_SPEED,
    BASE_SPEED,
    CURRENT_LIMITED_TORQUE,
    TORQUE_CURRENT,
)
