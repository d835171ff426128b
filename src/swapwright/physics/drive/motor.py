"""The torque a motor has at a speed and a dc voltage, and which limit binds."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import NDArray

from swapwright.base.figure import Symbol, Working
from swapwright.base.table import Line

FloatArray = NDArray[np.float64]

MOTOR_TORQUE = "motor torque"
MOTOR_POWER = "motor power"
DC_VOLTAGE = "dc voltage"
PHASE_CURRENT = "inverter phase current"
SOFTWARE_TORQUE = "torque limit in software"
TOP_SPEED = "motor top speed"

# Where several limits are equal the first one is named.
LIMITS = (MOTOR_TORQUE, MOTOR_POWER, PHASE_CURRENT, SOFTWARE_TORQUE, DC_VOLTAGE, TOP_SPEED)


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


def speed_at_test_voltage(*, speed: float, dc_voltage: float, test_voltage: float) -> float:
    """Return the speed at which to read a curve taken at another dc voltage.

    speed: shaft speed [rad/s]
    dc_voltage: at the inverter's terminals [V]
    test_voltage: dc voltage the curve was taken at [V]
    result: speed on the curve [rad/s]
    source: krause-2002-pm-machine, from memory
    """
    return speed * test_voltage / dc_voltage


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


@dataclass(frozen=True)
class TorqueLimits:
    """Everything that can bound a motor's torque; a limit that is not there is infinite.

    ``envelope`` is peak torque [N.m] against speed [rad/s] at ``test_voltage`` [V] and never rises;
    ``peak_power`` [W]; ``max_speed`` [rad/s] of the motor or set in software; ``torque_per_amp``
    [N.m/A] with the inverter's ``phase_current_limit`` [A rms]; ``torque_limit`` [N.m] of software.
    """

    envelope: Line
    test_voltage: float
    peak_power: float
    max_speed: float
    torque_per_amp: float = inf
    phase_current_limit: float = inf
    torque_limit: float = inf


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


def torque_available(
    *, limits: TorqueLimits, speeds: FloatArray, dc_voltage: float
) -> tuple[FloatArray, tuple[str, ...]]:
    """Return the peak torque at each speed and the name of the limit that binds there.

    limits: the motor's and the inverter's limits
    speeds: shaft speeds, zero or more [rad/s]
    dc_voltage: at the inverter's terminals, above zero [V]
    result: torques [N.m] and, for each, one of LIMITS
    source: krause-2002-pm-machine, from memory
    """
    speeds = np.asarray(speeds, dtype=np.float64)
    everywhere = np.ones_like(speeds)
    at_test = speed_at_test_voltage(
        speed=1.0, dc_voltage=dc_voltage, test_voltage=limits.test_voltage
    )
    with np.errstate(divide="ignore", over="ignore"):
        by_power = limits.peak_power / speeds
    candidates = np.array(
        [
            limits.envelope.y[0] * everywhere,
            by_power,
            limits.torque_per_amp * limits.phase_current_limit * everywhere,
            limits.torque_limit * everywhere,
            envelope_torque(limits.envelope, speeds * at_test),
            np.where(speeds > limits.max_speed, 0.0, inf),
        ]
    )
    binding = candidates.argmin(axis=0)
    torques = np.take_along_axis(candidates, binding[np.newaxis], axis=0)[0]
    return torques, tuple(LIMITS[i] for i in binding)


def continuous_torque_available(
    *,
    continuous_torque: float,
    continuous_power: float,
    peak_torques: FloatArray,
    speeds: FloatArray,
) -> FloatArray:
    """Return the torque that can be held without end (duty S1) at each speed.

    continuous_torque: rated continuous torque [N.m]
    continuous_power: rated continuous power [W]
    peak_torques: what `torque_available` gives at the same speeds and voltage [N.m]
    speeds: shaft speeds [rad/s]
    result: torques [N.m], never above the peak
    source: iec-60034-1-s1, from memory
    """
    with np.errstate(divide="ignore", over="ignore"):
        by_power = continuous_power / np.asarray(speeds, dtype=np.float64)
    return np.minimum(np.minimum(by_power, continuous_torque), peak_torques)


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

SPEED_AT_TEST_VOLTAGE = Working(
    speed_at_test_voltage,
    "omega * V_test / V_dc",
    {"omega": _SPEED, "V_dc": _VDC, "V_test": _VTEST},
    Symbol("speed_at_test_voltage", "rad/s", 0.0, 1e5, "speed on the test curve"),
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
    SPEED_AT_TEST_VOLTAGE,
    CURRENT_LIMITED_TORQUE,
    TORQUE_CURRENT,
)
