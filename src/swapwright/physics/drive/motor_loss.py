"""Where a motor's power goes: copper, rotor, brushes, iron and drag."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from swapwright.base.figure import Symbol, Working

FloatArray = NDArray[np.float64]

PERMANENT_MAGNET = "permanent-magnet"
INDUCTION = "induction"
DC = "dc"

REFERENCE_TEMPERATURE = 293.15  # K, iec-60028-1925
# The temperature at which the straight line of copper's resistance reaches zero:
# 0.00393 per kelvin at 20 degC (iec-60028-1925).
COPPER_ZERO_RESISTANCE = REFERENCE_TEMPERATURE - 1.0 / 0.00393
# Cage resistance, seen from the stator, over stator resistance (motor-rotor-resistance-typical).
ROTOR_RESISTANCE_RATIO = 0.8
# The least flux an induction motor is left with at light load, over the flux of its rated no-load
# current (motor-light-load-flux-assumed).
MIN_FLUX = 0.4
# The range an induction motor's no-load current is held to, over its peak current: outside it the
# data cannot be of one motor (motor-light-load-flux-assumed).
MIN_NO_LOAD, MAX_NO_LOAD = 0.05, 0.9
# The least flux drop across a permanent-magnet motor's inductance at peak current, over the magnet
# flux: it bounds the demagnetising current of data that do not fit (motor-inductance-assumed).
MIN_FLUX_DROP = 0.5


def resistance_at_temperature(
    *,
    resistance: float,
    temperature: float,
    reference_temperature: float = REFERENCE_TEMPERATURE,
    zero_resistance_temperature: float = COPPER_ZERO_RESISTANCE,
) -> float:
    """Return a winding's resistance at a temperature.

    resistance: at the reference temperature [ohm]
    temperature: of the winding [K]
    reference_temperature: by default 20 degC [K]
    zero_resistance_temperature: where the straight line crosses zero; by default copper [K]
    result: resistance [ohm]
    source: iec-60028-1925, from memory
    """
    span = reference_temperature - zero_resistance_temperature
    return resistance * (temperature - zero_resistance_temperature) / span


def copper_loss(*, phase_current: float, phase_resistance: float) -> float:
    """Return the heat in the three phase windings.

    phase_current: rms [A]
    phase_resistance: of one phase at its temperature [ohm]
    result: loss [W]
    source: krause-2002-pm-machine, from memory
    """
    return 3.0 * phase_current**2 * phase_resistance


def iron_loss(*, iron_linear: float, iron_square: float, speed: float) -> float:
    """Return the hysteresis and eddy-current loss in the iron.

    iron_linear: hysteresis, per rad/s [W/(rad/s)]
    iron_square: eddy currents, per (rad/s)^2 [W/(rad/s)^2]
    speed: shaft speed [rad/s]
    result: loss [W]
    source: krause-2002-iron-loss, from memory
    """
    return iron_linear * speed + iron_square * speed**2


def drag_loss(*, drag_linear: float, drag_cubic: float, speed: float) -> float:
    """Return the bearing, seal and windage loss.

    drag_linear: constant drag torque [N.m]
    drag_cubic: windage, per (rad/s)^3 [W/(rad/s)^3]
    speed: shaft speed [rad/s]
    result: loss [W]
    source: motor-drag-form
    """
    return drag_linear * speed + drag_cubic * speed**3


def brush_loss(*, brush_drop: float, current: float) -> float:
    """Return the heat at a dc motor's brushes.

    brush_drop: of both brush sets together [V]
    current: armature current [A]
    result: loss [W]
    source: motor-brush-drop-typical
    """
    return brush_drop * current


def motor_efficiency(*, torque: float, speed: float, loss: float) -> float:
    """Return a motor's efficiency at a motoring point.

    torque: shaft torque, motoring [N.m]
    speed: shaft speed [rad/s]
    loss: all losses of the motor at that point [W]
    result: shaft power over electrical power [1]
    source: definition-machine-efficiency
    """
    power = torque * speed
    return power / (power + loss)


@dataclass(frozen=True)
class MotorTerms:
    """The terms a motor's losses are made of.

    ``kind`` is permanent-magnet, induction or dc; ``peak_power`` [W], ``peak_torque`` [N.m],
    ``max_speed`` [rad/s], ``test_voltage`` [V]; ``torque_per_amp`` [N.m/A rms; armature amperes
    for dc]; ``phase_resistance`` at 20 degC [ohm; armature and field for dc]; ``back_emf`` peak
    line-to-line [V/(rad/s)]; ``no_load_current`` [A rms]; ``brush_drop`` [V]; ``iron_linear``
    [W/(rad/s)], ``iron_square`` [W/(rad/s)^2], ``drag_linear`` [N.m], ``drag_cubic``
    [W/(rad/s)^3].
    """

    kind: str
    peak_power: float
    peak_torque: float
    max_speed: float
    test_voltage: float
    torque_per_amp: float
    phase_resistance: float
    iron_linear: float
    iron_square: float
    drag_linear: float
    drag_cubic: float
    back_emf: float = 0.0
    no_load_current: float = 0.0
    brush_drop: float = 0.0

    @property
    def peak_current(self) -> float:
        """Return the current at peak torque below base speed [A rms]."""
        return self.peak_torque / self.torque_per_amp

    @property
    def corner_speed(self) -> float:
        """Return the corner speed at the test voltage [rad/s]."""
        return self.peak_power / self.peak_torque


@dataclass(frozen=True)
class MotorLosses:
    """Losses over a grid of speeds and torques [W], and the phase current there [A rms]."""

    current: FloatArray
    copper: FloatArray
    rotor: FloatArray
    brush: FloatArray
    iron: FloatArray
    drag: FloatArray

    @property
    def total(self) -> FloatArray:
        """Return the sum of all losses [W]."""
        return self.copper + self.rotor + self.brush + self.iron + self.drag


def motor_losses(
    *,
    terms: MotorTerms,
    speeds: FloatArray,
    torques: FloatArray,
    dc_voltage: float,
    winding_temperature: float,
) -> MotorLosses:
    """Return each loss over every pair of a speed and a torque.

    Motoring and generating at the same torque are taken to lose the same.

    terms: the motor's loss terms
    speeds: shaft speeds, zero or more [rad/s]; the first axis of the result
    torques: shaft torques, either sign [N.m]; the second axis
    dc_voltage: at the inverter's terminals [V]
    winding_temperature: [K]
    result: losses and current
    source: krause-2002-pm-machine, krause-2002-induction, motor-rotor-resistance-typical
    """
    speed = np.asarray(speeds, dtype=np.float64)[:, np.newaxis]
    torque = np.abs(np.asarray(torques, dtype=np.float64))[np.newaxis, :]
    none = np.zeros(np.broadcast_shapes(speed.shape, torque.shape))
    resistance = resistance_at_temperature(
        resistance=terms.phase_resistance, temperature=winding_temperature
    )
    rotor = brush = none
    phases = 3.0
    if terms.kind == PERMANENT_MAGNET:
        current = _permanent_magnet_current(terms, speed, torque, dc_voltage)
    elif terms.kind == INDUCTION:
        magnetising, producing = _induction_currents(terms, speed, torque, dc_voltage)
        current = np.hypot(magnetising, producing)
        rotor = phases * producing**2 * resistance * ROTOR_RESISTANCE_RATIO
    else:
        phases = 1.0
        weakening = np.maximum(1.0, terms.torque_per_amp * speed / dc_voltage)
        current = torque / terms.torque_per_amp * weakening
        brush = terms.brush_drop * current
    return MotorLosses(
        current=current + none,
        copper=phases * current**2 * resistance + none,
        rotor=rotor + none,
        brush=brush + none,
        iron=terms.iron_linear * speed + terms.iron_square * speed**2 + none,
        drag=terms.drag_linear * speed + terms.drag_cubic * speed**3 + none,
    )


def _permanent_magnet_current(
    terms: MotorTerms, speed: FloatArray, torque: FloatArray, dc_voltage: float
) -> FloatArray:
    """Return the rms phase current, with the demagnetising part above the voltage ceiling.

    All flux linkages are per rad/s of the shaft, so the pole pairs cancel. The inductance is the
    one that uses up the test voltage at the corner with peak current.
    """
    magnet = terms.back_emf / sqrt(3.0)
    producing = torque / terms.torque_per_amp * sqrt(2.0)
    if magnet == 0.0:
        return producing / sqrt(2.0)
    corner_flux = terms.test_voltage / sqrt(3.0) / terms.corner_speed
    drop = sqrt(max(corner_flux**2 - magnet**2, (MIN_FLUX_DROP * magnet) ** 2))
    inductance = drop / (terms.peak_current * sqrt(2.0))
    flux_allowed = dc_voltage / sqrt(3.0) / np.maximum(speed, 1e-9)
    cross = inductance * producing
    direct = np.sqrt(np.maximum(flux_allowed**2 - cross**2, 0.0))
    demagnetising = np.maximum(magnet - direct, 0.0) / inductance
    return np.hypot(producing, demagnetising) / sqrt(2.0)


def _induction_currents(
    terms: MotorTerms, speed: FloatArray, torque: FloatArray, dc_voltage: float
) -> tuple[FloatArray, FloatArray]:
    """Return the rms magnetising and torque-producing currents.

    The magnetising current is the one with which stator and rotor lose least, at most the one held
    at full torque, which falls as one over speed above base speed.
    """
    base = terms.corner_speed * dc_voltage / terms.test_voltage
    peak = terms.peak_current
    held = min(max(terms.no_load_current, MIN_NO_LOAD * peak), MAX_NO_LOAD * peak)
    product = torque * held * sqrt(peak**2 - held**2) / terms.peak_torque
    best = np.sqrt(product) * (1.0 + ROTOR_RESISTANCE_RATIO) ** 0.25
    most = held * base / np.maximum(speed, base)
    magnetising = np.minimum(most, np.maximum(best, MIN_FLUX * held))
    return magnetising, product / np.maximum(magnetising, 1e-9)


_SPEED = Symbol("speed", "rad/s", 1.0, 1500.0, "shaft speed")
_TORQUE = Symbol("torque", "N.m", 1.0, 500.0, "shaft torque")

RESISTANCE_AT_TEMPERATURE = Working(
    resistance_at_temperature,
    "R * (T - T_0) / (T_ref - T_0)",
    {
        "R": Symbol("resistance", "ohm", 1e-4, 1.0, "resistance at the reference temperature"),
        "T": Symbol("temperature", "K", 230.0, 480.0, "winding temperature"),
        "T_ref": Symbol("reference_temperature", "K", 273.15, 313.15, "reference temperature"),
        "T_0": Symbol(
            "zero_resistance_temperature", "K", 30.0, 50.0, "zero of the resistance line"
        ),
    },
    Symbol("resistance_at_temperature", "ohm", 0.0, 2.0, "resistance"),
    ("iec-60028-1925",),
    "resistance rises in a straight line",
    "skin and proximity effect",
)

COPPER_LOSS = Working(
    copper_loss,
    "3 * I**2 * R",
    {
        "I": Symbol("phase_current", "A", 0.1, 1000.0, "phase current, rms"),
        "R": Symbol("phase_resistance", "ohm", 1e-4, 0.5, "phase resistance"),
    },
    Symbol("copper_loss", "W", 0.0, 1e6, "copper loss"),
    ("krause-2002-pm-machine",),
    "the three phases carry the same current",
    "skin and proximity effect",
)

IRON_LOSS = Working(
    iron_loss,
    "k_1 * omega + k_2 * omega**2",
    {
        "k_1": Symbol("iron_linear", "W/(rad/s)", 0.0, 5.0, "hysteresis term"),
        "k_2": Symbol("iron_square", "W/(rad/s)^2", 0.0, 1e-2, "eddy-current term"),
        "omega": _SPEED,
    },
    Symbol("iron_loss", "W", 0.0, 1e5, "iron loss"),
    ("krause-2002-iron-loss",),
    "flux as at no load",
    "less iron loss in a weakened field, more from harmonics",
)

DRAG_LOSS = Working(
    drag_loss,
    "c * omega + d * omega**3",
    {
        "c": Symbol("drag_linear", "N.m", 0.0, 2.0, "constant drag torque"),
        "d": Symbol("drag_cubic", "W/(rad/s)^3", 0.0, 1e-5, "windage term"),
        "omega": _SPEED,
    },
    Symbol("drag_loss", "W", 0.0, 1e5, "drag loss"),
    ("motor-drag-form",),
    "warm bearings and lubricant",
    "cold oil in the rotor space",
)

BRUSH_LOSS = Working(
    brush_loss,
    "V_b * I",
    {
        "V_b": Symbol("brush_drop", "V", 0.0, 5.0, "brush drop"),
        "I": Symbol("current", "A", 0.0, 1500.0, "armature current"),
    },
    Symbol("brush_loss", "W", 0.0, 1e4, "brush loss"),
    ("motor-brush-drop-typical",),
    "the same drop at every current",
    "worn or bouncing brushes",
)

MOTOR_EFFICIENCY = Working(
    motor_efficiency,
    "T * omega / (T * omega + P_loss)",
    {
        "T": _TORQUE,
        "omega": _SPEED,
        "P_loss": Symbol("loss", "W", 1.0, 1e5, "motor loss"),
    },
    Symbol("motor_efficiency", "1", 0.0, 1.0, "motor efficiency, motoring", "fraction"),
    ("definition-machine-efficiency",),
    "motoring",
    "",
)

WORKINGS: tuple[Working, ...] = (
    RESISTANCE_AT_TEMPERATURE,
    COPPER_LOSS,
    IRON_LOSS,
    DRAG_LOSS,
    BRUSH_LOSS,
    MOTOR_EFFICIENCY,
)
