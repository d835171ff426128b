"""A motor of which only the plate is known: what is left out is filled with the typical.

Everything is scaled from the rated power and speed, so that a motor of any size has the efficiency
of its kind, a large one a little more than a small one. The shares are typical of road-vehicle
machines (motor-losses-typical) and are held by tests to the efficiency bands of
motor-efficiency-typical; they describe no particular motor.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi
from types import MappingProxyType

import numpy as np

from swapwright.base.table import Line
from swapwright.physics.drive.motor_loss import (
    DC,
    INDUCTION,
    PERMANENT_MAGNET,
    MotorTerms,
)
from swapwright.physics.drive.motor_voltage import torque_per_amp_from_back_emf


@dataclass(frozen=True)
class TypicalMotor:
    """The shares that make a typical motor of one kind.

    ``max_speed`` rad/s and ``test_voltage`` V where the plate gives none; ``corner`` corner speed
    over highest speed; ``current_use`` peak power over test voltage times peak current;
    ``copper`` winding loss at peak torque and 20 degC, ``iron_linear``, ``iron_square``,
    ``drag_linear``, ``drag_cubic`` loss at the highest speed, each over peak power, of a motor of
    `REFERENCE_POWER`; ``no_load``
    magnetising over peak current; ``brush_drop`` V; ``continuous_power``, ``continuous_torque``
    over peak; ``specific_power`` W/kg at peak; ``inertia`` kg.m^2 per N.m of peak torque;
    ``breakdown`` speed over corner speed beyond which the envelope falls with the square of speed.
    """

    source: str
    max_speed: float
    test_voltage: float
    corner: float
    current_use: float
    copper: float
    iron_linear: float
    iron_square: float
    drag_linear: float
    drag_cubic: float
    no_load: float
    brush_drop: float
    continuous_power: float
    continuous_torque: float
    specific_power: float
    inertia: float
    breakdown: float


# Torque with reluctance over torque of the magnets alone, road-vehicle mean of surface and interior
# magnets (motor-losses-typical).
SALIENCY = 1.2

# The shares of winding, iron and drag loss are those of a motor of this power [W]; they fall with
# power to this exponent, as a larger machine loses less of what it passes (motor-size-typical).
REFERENCE_POWER = 80e3
SIZE_EXPONENT = 0.12

_RPM = 2.0 * pi / 60.0

TYPICAL_MOTORS: Mapping[str, TypicalMotor] = MappingProxyType(
    {
        PERMANENT_MAGNET: TypicalMotor(
            source="motor-losses-typical",
            max_speed=10000.0 * _RPM,
            test_voltage=350.0,
            corner=0.30,
            current_use=0.66,
            copper=0.135,
            iron_linear=0.0064,
            iron_square=0.0072,
            drag_linear=0.0011,
            drag_cubic=0.0055,
            no_load=0.0,
            brush_drop=0.0,
            continuous_power=0.50,
            continuous_torque=0.45,
            specific_power=1500.0,
            inertia=1.8e-4,
            breakdown=2.8,
        ),
        INDUCTION: TypicalMotor(
            source="motor-losses-typical",
            max_speed=9000.0 * _RPM,
            test_voltage=320.0,
            corner=0.35,
            current_use=0.80,
            copper=0.075,
            iron_linear=0.0099,
            iron_square=0.0110,
            drag_linear=0.0016,
            drag_cubic=0.0055,
            no_load=0.25,
            brush_drop=0.0,
            continuous_power=0.45,
            continuous_torque=0.45,
            specific_power=1000.0,
            inertia=2.5e-4,
            breakdown=2.0,
        ),
        DC: TypicalMotor(
            source="motor-losses-typical",
            max_speed=5500.0 * _RPM,
            test_voltage=120.0,
            corner=0.45,
            current_use=0.85,
            copper=0.168,
            iron_linear=0.0240,
            iron_square=0.0240,
            drag_linear=0.0216,
            drag_cubic=0.0120,
            no_load=0.0,
            brush_drop=2.5,
            continuous_power=0.40,
            continuous_torque=0.40,
            specific_power=600.0,
            inertia=4.0e-4,
            breakdown=1.3,
        ),
    }
)


@dataclass(frozen=True)
class GenericMotor:
    """A motor with every term filled.

    ``terms`` of its losses; ``envelope`` peak torque [N.m] against speed [rad/s] at the test
    voltage, used where the part gives none; ``continuous_power`` [W], ``continuous_torque`` [N.m],
    ``mass`` [kg], ``inertia`` [kg.m^2]; ``assumed`` names what was filled, in the data sheet's
    names.
    """

    terms: MotorTerms
    envelope: Line
    continuous_power: float
    continuous_torque: float
    mass: float
    inertia: float
    assumed: tuple[str, ...]


class _Filler:
    """What the plate gives, and a note of what it did not."""

    def __init__(self, given: Mapping[str, float]) -> None:
        self.given = given
        self.assumed: list[str] = []

    def get(self, name: str, typical: float) -> float:
        if name in self.given:
            return self.given[name]
        self.assumed.append(name)
        return typical


def complete_motor(kind: str, given: Mapping[str, float]) -> GenericMotor:
    """Return a motor with everything the data sheet leaves out filled with the typical.

    kind: permanent-magnet, induction or dc
    given: SI numbers by the names of a motor part (``peak_power`` [W] at least; ``peak_torque``,
        ``max_speed``, ``test_voltage``, ``torque_per_amp``, ``phase_resistance``, ``back_emf``,
        ``no_load_current``, ``brush_drop``, ``iron_linear``, ``iron_square``, ``drag_linear``,
        ``drag_cubic``, ``continuous_power``, ``continuous_torque``, ``mass``, ``inertia``);
        other names are not used
    result: the filled motor
    raises: KeyError for an unknown kind or without a peak power
    source: motor-losses-typical, motor-size-typical
    """
    typical = TYPICAL_MOTORS[kind]
    fill = _Filler(given)
    terms = _terms(kind, typical, fill)
    corner = terms.peak_power / terms.peak_torque
    return GenericMotor(
        terms=terms,
        envelope=generic_envelope(
            peak_torque=terms.peak_torque,
            peak_power=terms.peak_power,
            max_speed=terms.max_speed,
            breakdown_speed=typical.breakdown * corner,
        ),
        continuous_power=fill.get("continuous_power", typical.continuous_power * terms.peak_power),
        continuous_torque=fill.get(
            "continuous_torque", typical.continuous_torque * terms.peak_torque
        ),
        mass=fill.get("mass", terms.peak_power / typical.specific_power),
        inertia=fill.get("inertia", typical.inertia * terms.peak_torque),
        assumed=tuple(fill.assumed),
    )


def _terms(kind: str, typical: TypicalMotor, fill: _Filler) -> MotorTerms:
    power = fill.given["peak_power"]
    max_speed = fill.get("max_speed", typical.max_speed)
    peak_torque = fill.get("peak_torque", power / (typical.corner * max_speed))
    test_voltage = fill.get("test_voltage", typical.test_voltage)
    current = power / (test_voltage * typical.current_use)
    torque_per_amp = fill.get("torque_per_amp", peak_torque / current)
    current = peak_torque / torque_per_amp
    phases = 1.0 if kind == DC else 3.0
    loss = power * (power / REFERENCE_POWER) ** -SIZE_EXPONENT
    magnets = back_emf = no_load = brush = 0.0
    if kind == PERMANENT_MAGNET:
        magnets = torque_per_amp / torque_per_amp_from_back_emf(back_emf=1.0, saliency=SALIENCY)
        back_emf = fill.get("back_emf", magnets)
    elif kind == INDUCTION:
        no_load = fill.get("no_load_current", typical.no_load * current)
    else:
        brush = fill.get("brush_drop", typical.brush_drop)
    return MotorTerms(
        kind=kind,
        peak_power=power,
        peak_torque=peak_torque,
        max_speed=max_speed,
        test_voltage=test_voltage,
        torque_per_amp=torque_per_amp,
        phase_resistance=fill.get(
            "phase_resistance", typical.copper * loss / (phases * current**2)
        ),
        iron_linear=fill.get("iron_linear", typical.iron_linear * loss / max_speed),
        iron_square=fill.get("iron_square", typical.iron_square * loss / max_speed**2),
        drag_linear=fill.get("drag_linear", typical.drag_linear * loss / max_speed),
        drag_cubic=fill.get("drag_cubic", typical.drag_cubic * loss / max_speed**3),
        back_emf=back_emf,
        no_load_current=no_load,
        brush_drop=brush,
    )


def generic_envelope(
    *, peak_torque: float, peak_power: float, max_speed: float, breakdown_speed: float
) -> Line:
    """Return an envelope from ratings: constant torque, constant power, then the square's fall.

    peak_torque: [N.m]
    peak_power: [W]
    max_speed: [rad/s]
    breakdown_speed: where constant power ends at the test voltage [rad/s]
    result: torque [N.m] against speed [rad/s]
    source: motor-losses-typical
    """
    corner = min(peak_power / peak_torque, max_speed)
    speeds = np.unique(np.concatenate(([0.0, corner], np.linspace(corner, max_speed, 24))))
    running = np.maximum(speeds, corner)
    by_power = peak_power / running * np.minimum(1.0, breakdown_speed / running)
    torques = np.minimum(peak_torque, by_power)
    return Line(tuple(speeds.tolist()), tuple(torques.tolist()), "rad/s", "N.m")
