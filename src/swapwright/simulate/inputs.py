"""What the time step works on: named tuples of plain numbers and arrays, SI throughout.

Signs: electrical power and current out of the pack are positive, torque driving the car is
positive, an uphill grade is positive, a headwind is positive.
"""

from __future__ import annotations

from typing import NamedTuple

from swapwright.physics.drive.drive_step import Drive, Regen, Unit
from swapwright.physics.pack.cell_step import Cells, Pack

__all__ = [
    "EMPTY_LEDGER",
    "LIMITS",
    "Body",
    "Cells",
    "Drive",
    "Ledger",
    "Pack",
    "Regen",
    "Setup",
    "State",
    "Unit",
]


class Body(NamedTuple):
    """The car as a moving mass.

    ``mass`` kg, ``rolling_mass`` kg (mass with turning wheels, without motors); road load
    ``a + b v + c (v + headwind)^2`` in N; ``drive_force_limit`` and ``brake_force_limit`` N from
    tyre grip; ``auxiliary_power`` W at the pack.
    """

    mass: float
    rolling_mass: float
    a: float
    b: float
    c: float
    headwind: float
    drive_force_limit: float
    brake_force_limit: float
    auxiliary_power: float


class Setup(NamedTuple):
    """Everything one run needs besides its trace."""

    body: Body
    regen: Regen
    drive: Drive
    cells: Cells
    pack: Pack
    ambient: float


class State(NamedTuple):
    """Where the car is, at the start of a step.

    ``speed`` m/s; ``charge`` C drawn per cell since full; ``v1``, ``v2`` V over the RC pairs;
    ``overload``, ``overload_charge`` A^2 the filtered square of the discharge and of the charge
    current; temperatures K; ``volts`` V at the pack's terminals, last step's
    mean; ``gear`` of each unit, as floats; ``shift_left`` s without torque; ``limit`` what the
    last step met, a code of `LIMITS`.
    """

    speed: float
    charge: float
    v1: float
    v2: float
    overload: float
    overload_charge: float
    cell_temperature: float
    motor_temperature: float
    inverter_temperature: float
    motor_temperature_2: float
    inverter_temperature_2: float
    volts: float
    gear: float
    gear_2: float
    shift_left: float
    limit: float


class Ledger(NamedTuple):
    """Where the energy went, J, and what the run met on its way.

    ``wheel_positive``/``wheel_negative`` at the wheels; ``tyres``, ``aero`` against road load,
    ``climb`` into height; ``driveline``, ``motor``, ``inverter`` losses; ``auxiliaries``;
    ``friction`` into the brakes; ``terminal_out``/``terminal_in`` at the pack; ``ohmic``,
    ``polarisation`` in the cells; ``relaxation`` into the RC pairs' capacitors.
    ``spin_up``/``spin_down`` rotor energy taken and given at gear changes; ``unserved`` asked of an
    empty pack and not delivered. ``current_square`` A^2.s of the pack; ``shortfall`` s in which
    the trace was not followed; ``limit`` the last one met.
    """

    time: float
    distance: float
    wheel_positive: float
    wheel_negative: float
    tyres: float
    aero: float
    climb: float
    driveline: float
    motor: float
    inverter: float
    auxiliaries: float
    friction: float
    terminal_out: float
    terminal_in: float
    ohmic: float
    polarisation: float
    relaxation: float
    spin_up: float
    spin_down: float
    unserved: float
    current_square: float
    shortfall: float
    min_volts: float
    max_volts: float
    max_current: float
    max_charge_current: float
    limit: float


EMPTY_LEDGER = Ledger(
    *(0.0,) * 22, min_volts=1e9, max_volts=0.0, max_current=0.0, max_charge_current=0.0, limit=0.0
)

LIMITS = (
    "none",
    "tyre grip",
    "motor torque",
    "motor power",
    "voltage",
    "dc current",
    "cell current",
    "cell voltage",
    "motor speed",
    "heat",
    "gear change",
    "controller",
)
