"""Voltages, fluxes and currents of a motor: what the dc voltage lets it do."""

from __future__ import annotations

from math import pi, sqrt

from swapwright.base.figure import Symbol, Working


def max_phase_voltage(*, dc_voltage: float) -> float:
    """Return the highest phase voltage, peak, that space-vector modulation makes of a dc voltage.

    dc_voltage: at the inverter's terminals [V]
    result: peak of the sinusoidal phase voltage before overmodulation [V]
    source: mohan-2003-space-vector, from memory
    """
    return dc_voltage / sqrt(3.0)


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


def back_emf_from_flux(*, pole_pairs: float, flux: float) -> float:
    """Return the back-EMF constant of a motor from its magnet flux linkage.

    pole_pairs: number of pole pairs [1]
    flux: magnet flux linkage of a phase, peak; 1 Wb = 1 V/(rad/s) electrical [V/(rad/s)]
    result: peak line-to-line volts per rad/s of the shaft [V/(rad/s)]
    source: krause-2002-pm-machine, from memory
    """
    return sqrt(3.0) * pole_pairs * flux


def torque_from_flux(*, pole_pairs: float, flux: float, quadrature_current: float) -> float:
    """Return the torque of a permanent-magnet motor without saliency.

    pole_pairs: number of pole pairs [1]
    flux: magnet flux linkage of a phase, peak; 1 Wb = 1 V/(rad/s) electrical [V/(rad/s)]
    quadrature_current: q-axis current, peak (rms times the root of two) [A]
    result: torque [N.m]
    source: krause-2002-pm-machine, from memory
    """
    return 1.5 * pole_pairs * flux * quadrature_current


def torque_per_amp_from_back_emf(*, back_emf: float, saliency: float) -> float:
    """Return the torque per phase ampere rms that goes with a back-EMF constant.

    back_emf: peak line-to-line volts per rad/s of the shaft [V/(rad/s)]
    saliency: torque with reluctance over torque of the magnets alone; 1 for surface magnets [1]
    result: torque per ampere rms below base speed [N.m/A]
    source: krause-2002-pm-machine, from memory
    """
    return sqrt(1.5) * back_emf * saliency


def ac_power(*, line_voltage: float, phase_current: float, power_factor: float) -> float:
    """Return the electrical power at a three-phase motor's terminals.

    line_voltage: line-to-line rms [V]
    phase_current: rms [A]
    power_factor: of the fundamental [1]
    result: power [W]
    source: definition-three-phase-power
    """
    return sqrt(3.0) * line_voltage * phase_current * power_factor


def dc_current_from_phase(
    *,
    line_voltage: float,
    phase_current: float,
    power_factor: float,
    inverter_efficiency: float,
    dc_voltage: float,
) -> float:
    """Return the battery current behind a phase current: the two are not the same amps.

    line_voltage: line-to-line rms [V]
    phase_current: rms [A]
    power_factor: of the fundamental [1]
    inverter_efficiency: ac power over dc power [1]
    dc_voltage: at the inverter's terminals [V]
    result: dc current [A]
    source: definition-three-phase-power
    """
    power = ac_power(
        line_voltage=line_voltage, phase_current=phase_current, power_factor=power_factor
    )
    return power / (inverter_efficiency * dc_voltage)


def synchronous_speed(*, electrical_speed: float, pole_pairs: float) -> float:
    """Return the shaft speed of the rotating field.

    electrical_speed: 2 pi times the supply frequency [rad/s]
    pole_pairs: number of pole pairs [1]
    result: speed of the field [rad/s]
    source: krause-2002-induction, from memory
    """
    return electrical_speed / pole_pairs


def slip_speed(*, field_speed: float, slip: float) -> float:
    """Return the shaft speed of an induction motor at a slip.

    field_speed: speed of the rotating field [rad/s]
    slip: share of the field speed the rotor lags by [1]
    result: shaft speed [rad/s]
    source: krause-2002-induction, from memory
    """
    return field_speed * (1.0 - slip)


_VDC = Symbol("dc_voltage", "V", 20.0, 900.0, "dc voltage at the inverter")
_KE = Symbol("back_emf", "V/(rad/s)", 0.05, 2.0, "back-EMF, peak line-to-line per rad/s")
_P = Symbol("pole_pairs", "1", 1.0, 12.0, "pole pairs")
_FLUX = Symbol("flux", "V/(rad/s)", 0.005, 0.3, "magnet flux linkage")
_ULL = Symbol("line_voltage", "V", 10.0, 700.0, "line-to-line voltage, rms")
_I = Symbol("phase_current", "A", 1.0, 1000.0, "phase current, rms")
_PF = Symbol("power_factor", "1", 0.3, 1.0, "power factor")

_SINUSOIDAL = "sinusoidal three-phase quantities, balanced phases"

MAX_PHASE_VOLTAGE = Working(
    max_phase_voltage,
    "V_dc / sqrt(3)",
    {"V_dc": _VDC},
    Symbol("max_phase_voltage", "V", 0.0, 1e3, "highest phase voltage, peak", "voltage"),
    ("mohan-2003-space-vector",),
    "space-vector modulation at the edge of its linear range",
    "overmodulation, dead time, device voltage drop",
)

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

BACK_EMF_FROM_FLUX = Working(
    back_emf_from_flux,
    "sqrt(3) * p * lam",
    {"p": _P, "lam": _FLUX},
    Symbol("back_emf_from_flux", "V/(rad/s)", 0.0, 20.0, "back-EMF constant"),
    ("krause-2002-pm-machine",),
    "sinusoidal flux, star connection",
    "delta connection, harmonics",
)

TORQUE_FROM_FLUX = Working(
    torque_from_flux,
    "1.5 * p * lam * i_q",
    {
        "p": _P,
        "lam": _FLUX,
        "i_q": Symbol("quadrature_current", "A", 1.0, 1500.0, "q-axis current, peak"),
    },
    Symbol("torque_from_flux", "N.m", 0.0, 1e4, "torque"),
    ("krause-2002-pm-machine",),
    "no d-axis current, no saliency",
    "reluctance torque, saturation",
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

AC_POWER = Working(
    ac_power,
    "sqrt(3) * U * I * PF",
    {"U": _ULL, "I": _I, "PF": _PF},
    Symbol("ac_power", "W", 0.0, 1e6, "power at the motor terminals"),
    ("definition-three-phase-power",),
    _SINUSOIDAL,
    "harmonics",
)

DC_CURRENT_FROM_PHASE = Working(
    dc_current_from_phase,
    "sqrt(3) * U * I * PF / (eta * V_dc)",
    {
        "U": _ULL,
        "I": _I,
        "PF": _PF,
        "eta": Symbol("inverter_efficiency", "1", 0.5, 1.0, "inverter efficiency"),
        "V_dc": _VDC,
    },
    Symbol("dc_current_from_phase", "A", 0.0, 1e4, "dc current"),
    ("definition-three-phase-power",),
    _SINUSOIDAL,
    "stall, where the power is only the loss",
)

SYNCHRONOUS_SPEED = Working(
    synchronous_speed,
    "omega_e / p",
    {"omega_e": Symbol("electrical_speed", "rad/s", 2 * pi, 1e4, "electrical speed"), "p": _P},
    Symbol("synchronous_speed", "rad/s", 0.0, 1e4, "speed of the rotating field"),
    ("krause-2002-induction",),
    "steady state",
    "",
)

SLIP_SPEED = Working(
    slip_speed,
    "omega_s * (1 - s)",
    {
        "omega_s": Symbol("field_speed", "rad/s", 1.0, 2000.0, "speed of the rotating field"),
        "s": Symbol("slip", "1", -0.2, 1.0, "slip"),
    },
    Symbol("slip_speed", "rad/s", 0.0, 3e3, "shaft speed"),
    ("krause-2002-induction",),
    "steady state",
    "",
)

WORKINGS: tuple[Working, ...] = (
    MAX_PHASE_VOLTAGE,
    MAX_LINE_VOLTAGE,
    BACK_EMF_AT_SPEED,
    SPEED_AT_BACK_EMF,
    BACK_EMF_FROM_FLUX,
    TORQUE_FROM_FLUX,
    TORQUE_PER_AMP_FROM_BACK_EMF,
    AC_POWER,
    DC_CURRENT_FROM_PHASE,
    SYNCHRONOUS_SPEED,
    SLIP_SPEED,
)
