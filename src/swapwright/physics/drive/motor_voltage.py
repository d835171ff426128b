"""Voltages of a motor: what the dc voltage lets it do."""

from __future__ import annotations

from math import sqrt

from swapwright.base.figure import Symbol, Working


def max_line_voltage(*, dc_voltage: float) -> float:
    """Return the highest line-to-line voltage, rms, before six-step operation.

    dc_voltage: at the inverter's terminals [V]
    result: line-to-line rms [V]
    source: mohan-2003-space-vector, from memory
    """
    return dc_voltage / sqrt(2.0)


def back_emf_at_speed(*, back_emf: float, speed: float) -> float:
    """Return the line-to-line back-EMF a permanent-magnet motor makes at a speed.

    back_emf: peak line-to-line volts per rad/s of the shaft [V/(rad/s)]
    speed: shaft speed [rad/s]
    result: peak line-to-line [V]
    source: krause-2002-pm-machine, from memory
    """
    return back_emf * speed


def speed_at_back_emf(*, voltage: float, back_emf: float) -> float:
    """Return the speed at which the back-EMF reaches a dc voltage: the no-load voltage ceiling.

    Above it the motor needs field weakening, and an inverter that trips becomes a rectifier.

    voltage: dc voltage, equal to the peak line-to-line back-EMF [V]
    back_emf: peak line-to-line volts per rad/s of the shaft [V/(rad/s)]
    result: shaft speed [rad/s]
    source: krause-2002-pm-machine, from memory
    """
    return voltage / back_emf


def torque_per_amp_from_back_emf(*, back_emf: float, saliency: float) -> float:
    """Return the torque per phase ampere rms that goes with a back-EMF constant.

    back_emf: peak line-to-line volts per rad/s of the shaft [V/(rad/s)]
    saliency: torque with reluctance over torque of the magnets alone; 1 for surface magnets [1]
    result: torque per ampere rms below base speed [N.m/A]
    source: krause-2002-pm-machine, from memory
    """
    return sqrt(1.5) * back_emf * saliency


_VDC = Symbol("dc_voltage", "V", 20.0, 900.0, "dc voltage at the inverter")
_KE = Symbol("back_emf", "V/(rad/s)", 0.05, 2.0, "back-EMF, peak line-to-line per rad/s")
MAX_LINE_VOLTAGE = Working(
    max_line_voltage,
    "V_dc / sqrt(2)",
    {"V_dc": _VDC},
    Symbol("max_line_voltage", "V", 0.0, 1e3, "highest line voltage, rms", "voltage"),
    ("mohan-2003-space-vector",),
    "space-vector modulation at the edge of its linear range",
    "overmodulation and six-step operation, dead time",
)

BACK_EMF_AT_SPEED = Working(
    back_emf_at_speed,
    "k_e * omega",
    {"k_e": _KE, "omega": Symbol("speed", "rad/s", 1.0, 2000.0, "shaft speed")},
    Symbol("back_emf_at_speed", "V", 0.0, 5e3, "back-EMF, peak line-to-line", "voltage"),
    ("krause-2002-pm-machine",),
    "sinusoidal back-EMF, magnets at the temperature of the constant",
    "weaker magnets when hot (about -0.1 %/K), harmonics",
)

SPEED_AT_BACK_EMF = Working(
    speed_at_back_emf,
    "V / k_e",
    {"V": Symbol("voltage", "V", 20.0, 1000.0, "dc voltage"), "k_e": _KE},
    Symbol("speed_at_back_emf", "rad/s", 0.0, 1e5, "no-load voltage ceiling"),
    ("krause-2002-pm-machine",),
    "sinusoidal back-EMF, no load",
    "field weakening, magnet temperature",
)

TORQUE_PER_AMP_FROM_BACK_EMF = Working(
    torque_per_amp_from_back_emf,
    "sqrt(1.5) * k_e * s",
    {"k_e": _KE, "s": Symbol("saliency", "1", 1.0, 1.6, "torque gained by saliency")},
    Symbol("torque_per_amp_from_back_emf", "N.m/A", 0.0, 10.0, "torque per ampere rms"),
    ("krause-2002-pm-machine",),
    "sinusoidal back-EMF, current held for most torque per ampere",
    "saturation at high current",
)

WORKINGS: tuple[Working, ...] = (
    MAX_LINE_VOLTAGE,
    BACK_EMF_AT_SPEED,
    SPEED_AT_BACK_EMF,
    TORQUE_PER_AMP_FROM_BACK_EMF,
)
