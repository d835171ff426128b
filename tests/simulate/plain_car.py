"""A plain car for the time step: round numbers, every field open to a test."""

from __future__ import annotations

from typing import Any

import numpy as np

from swapwright.simulate.inputs import Body, Cells, Drive, Pack, Regen, Setup, Unit
from swapwright.standards.cycles import cycle

AMBIENT = 293.15
ENVELOPE_END = 1300.0
LOSS_END = 1100.0
TORQUE_END = 240.0
NO_LIMIT = np.ones((1, 2))
"""A table of the controller that holds nothing back."""


def trace(name: str) -> np.ndarray:
    """Return a cycle's speeds m/s at 1 Hz."""
    return np.array(cycle(name).speeds)


def loss_table(*, scale: float = 1.0) -> np.ndarray:
    """Return motor and inverter losses W over motor speed and torque: copper, iron, drag."""
    speed, torque = np.meshgrid(
        np.linspace(0.0, LOSS_END, 33), np.linspace(-TORQUE_END, TORQUE_END, 49), indexing="ij"
    )
    motor = 0.08 * torque**2 + 0.15 * speed + 4e-4 * speed**2
    inverter = 80.0 + 1.0 * np.abs(torque) + 0.011 * torque**2
    return scale * np.stack([motor, inverter], axis=-1)


def unit(*, gears: int = 1, **changes: Any) -> Unit:
    """Return a drive unit of 200 N.m and 80 kW; further gears are 1.6 times longer each."""
    speeds = np.linspace(0.0, ENVELOPE_END, 64)
    plain = Unit(
        gears=gears,
        speed_ratio=np.array([29.0 * 1.6**-gear for gear in range(gears)]),
        efficiency=np.full(gears, 0.97),
        drag=0.5,
        inertia=0.05,
        max_speed=1050.0,
        torque_cap=200.0,
        peak_power=80e3,
        continuous_torque=100.0,
        continuous_power=45e3,
        test_voltage=350.0,
        envelope=np.minimum(200.0, 90e3 / np.maximum(speeds, 1.0)),
        per_envelope_step=63 / ENVELOPE_END,
        loss=loss_table(),
        per_loss_speed_step=32 / LOSS_END,
        loss_max_torque=TORQUE_END,
        per_loss_torque_step=48 / (2.0 * TORQUE_END),
        share=1.0,
        motor_warming=1 / 2e4,
        motor_conductance=30.0,
        motor_max_temperature=430.0,
        motor_derating=1 / 30.0,
        inverter_warming=1 / 5e3,
        inverter_conductance=30.0,
        inverter_max_temperature=360.0,
        inverter_derating=1 / 20.0,
        gear_share=np.ones(gears),
    )
    return plain._replace(**changes)


def drive(*, gears: int = 1, units: int = 1, shift_time: float = 0.8, **changes: Any) -> Drive:
    """Return a drive of one unit, or of two that share the wheel force 60 to 40."""
    first = unit(gears=gears, **changes)
    if units == 1:
        return Drive(1, first, first, shift_time, 1.0, False, NO_LIMIT, NO_LIMIT, 1.0)
    parts = first._replace(share=0.6), first._replace(share=0.4)
    return Drive(2, *parts, shift_time, 1.0, False, NO_LIMIT, NO_LIMIT, 1.0)


def held_back(
    plain: Drive,
    *,
    by_soc: Any = ((0.1, 0.3), (0.5, 1.0)),
    by_cell: Any = ((263.15, 0.5), (283.15, 1.0)),
    gears: tuple[float, ...] = (),
    pedal_share: float = 1.0,
) -> Drive:
    """Return a drive whose controller allows a share of the torque: tables of (place, share)."""
    shares = np.array(gears) if gears else plain.first.gear_share
    return plain._replace(
        first=plain.first._replace(gear_share=shares),
        second=plain.second._replace(gear_share=shares),
        is_held_back=True,
        by_soc=np.array(by_soc),
        by_cell=np.array(by_cell),
        pedal_share=pedal_share,
    )


def cells(**changes: Any) -> Cells:
    """Return a cell of 60 Ah with a bent rest voltage and resistances that rise in the cold."""
    soc = np.linspace(0.0, 1.0, 101)
    temperatures = 253.15 + 10.0 * np.arange(9)
    cold = np.exp(3000.0 * (1.0 / temperatures - 1.0 / 298.15))
    low = 1.0 + 0.3 * (1.0 - np.linspace(0.0, 1.0, 21))
    resistance = np.stack(
        [np.outer(cold, low) * ohms for ohms in (7e-4, 3e-4, 3e-4)],
        axis=-1,
    )
    warm = np.clip((temperatures - 243.15) / 50.0, 0.0, 1.0)
    plain = Cells(
        ocv=3.0 + 1.2 * soc - 0.02 * np.sin(6.0 * soc) - 0.5 * np.exp(-30.0 * soc),
        resistance=resistance,
        limits=np.outer(warm, [180.0, 400.0, 60.0, 200.0]),
        first_temperature=253.15,
        temperature_step=10.0,
        c1=3e4,
        c2=3e5,
        entropic=0.0,
    )
    return plain._replace(**changes)


def pack(**changes: Any) -> Pack:
    """Return a pack of 96 cells in series and one in parallel."""
    plain = Pack(
        series=96.0,
        parallel=1.0,
        capacity=60.0 * 3600.0,
        per_capacity=1.0 / (60.0 * 3600.0),
        joint_resistance=1e-5,
        min_voltage=2.7,
        max_voltage=4.25,
        current_limit=400.0,
        overload_rate=1 / 30.0,
        warming=1 / 900.0,
        conductance=0.2,
        floor=0.05,
    )
    return plain._replace(**changes)


def body(**changes: Any) -> Body:
    """Return a car of 1400 kg."""
    plain = Body(
        mass=1400.0,
        rolling_mass=1440.0,
        a=140.0,
        b=0.5,
        c=0.45,
        headwind=0.0,
        drive_force_limit=6000.0,
        brake_force_limit=11000.0,
        auxiliary_power=300.0,
    )
    return plain._replace(**changes)


def car(**parts: Any) -> Setup:
    """Return a whole car; give ``body``, ``regen``, ``drive``, ``cells``, ``pack``, ``ambient``."""
    plain = Setup(
        body=body(),
        regen=Regen(0.75, 3000.0, 1 / 2.2, 0.97, 273.15),
        drive=drive(),
        cells=cells(),
        pack=pack(),
        ambient=AMBIENT,
    )
    return plain._replace(**parts)
