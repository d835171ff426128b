"""What heat leaves of a drive: at speeds held for good, and over a run."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from swapwright.assess.runs import RecordedRun
from swapwright.simulate.inputs import Drive, Setup, Unit
from swapwright.simulate.run import COLUMNS

FloatArray = NDArray[np.float64]

PEAK, NOTHING = 1.0, -1.0
"""The ends of the heat factor: the whole peak, and not even the continuous rating."""

INSIDE = 1e-9
"""How far within a loss table's last point a place is kept, so that there is a next point to it."""


def heat_left(setup: Setup, speeds: FloatArray, forces: FloatArray) -> FloatArray:
    """Return what heat leaves once each speed m/s has been held for good at a road force N.

    The factor is that of `drive_step.heat_factor`, the least of all motors and inverters: each is
    as much warmer than the ambient as its loss over its heat path makes it.
    """
    left: FloatArray = np.full(len(speeds), PEAK)
    for unit in _units(setup.drive):
        motor, inverter = _losses(unit, speeds, np.maximum(forces, 0.0) * unit.share)
        left = np.minimum(
            left,
            _left(
                unit,
                setup.ambient + motor / unit.motor_conductance,
                setup.ambient + inverter / unit.inverter_conductance,
            ),
        )
    kept: FloatArray = np.maximum(left, NOTHING)
    return kept


def least_heat_left(run: RecordedRun) -> float:
    """Return the least factor a recorded run met; of a second unit, the one at its end."""
    first, second = run.setup.drive.first, run.setup.drive.second
    columns = (COLUMNS.index(f"{part}_temperature") for part in ("motor", "inverter"))
    met = float(np.min(_left(first, *(run.trace[:, column] for column in columns)), initial=PEAK))
    if run.setup.drive.units > 1:
        ends = run.after.motor_temperature_2, run.after.inverter_temperature_2
        met = min(met, float(_left(second, *(np.array(end) for end in ends))))
    return max(met, NOTHING)


def _units(drive: Drive) -> tuple[Unit, ...]:
    return (drive.first, drive.second)[: drive.units]


def _left(unit: Unit, motor: FloatArray, inverter: FloatArray) -> FloatArray:
    """Return what temperatures K of winding and plate leave."""
    return np.minimum(
        (unit.motor_max_temperature - motor) * unit.motor_derating,
        (unit.inverter_max_temperature - inverter) * unit.inverter_derating,
    )


def _losses(unit: Unit, speeds: FloatArray, forces: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return motor and inverter loss W at road speeds and forces, in the gear that loses least."""
    motors, inverters = [], []
    for gear in range(unit.gears):
        ratio = unit.speed_ratio[gear]
        turning = speeds * ratio
        torque = forces / (ratio * unit.efficiency[gear]) + unit.drag
        motor, inverter = (_read(unit, side, turning, torque) for side in (0, 1))
        motors.append(np.where(turning > unit.max_speed, np.inf, motor))
        inverters.append(inverter)
    best = np.argmin(np.array(motors) + np.array(inverters), axis=0)
    places = np.arange(len(speeds))
    return np.array(motors)[best, places], np.array(inverters)[best, places]


def _read(unit: Unit, side: int, turning: FloatArray, torque: FloatArray) -> FloatArray:
    """Return the loss W of the motor (side 0) or inverter (1), straight between a map's points."""
    rows, columns = unit.loss.shape[0] - 1, unit.loss.shape[1] - 1
    row = np.clip(turning * unit.per_loss_speed_step, 0.0, rows - INSIDE)
    column = np.clip(
        (torque + unit.loss_max_torque) * unit.per_loss_torque_step, 0.0, columns - INSIDE
    )
    i, j = row.astype(np.int64), column.astype(np.int64)
    low, high = unit.loss[i, :, side], unit.loss[i + 1, :, side]
    places = np.arange(len(turning))
    across = [
        line[places, j] * (1.0 - (column - j)) + line[places, j + 1] * (column - j)
        for line in (low, high)
    ]
    read: FloatArray = across[0] * (1.0 - (row - i)) + across[1] * (row - i)
    return read
