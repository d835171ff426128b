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
    ratios = unit.speed_ratio[:, np.newaxis]
    turning = speeds * ratios
    torque = forces / (ratios * unit.efficiency[:, np.newaxis]) + unit.drag
    motors, inverters = _read(unit, turning, torque)
    motors = np.where(turning > unit.max_speed, np.inf, motors)
    best = np.argmin(motors + inverters, axis=0)
    places = np.arange(len(speeds))
    return motors[best, places], inverters[best, places]


def _read(unit: Unit, turning: FloatArray, torque: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the loss W of motor and inverter, straight between a map's points."""
    rows, columns = unit.loss.shape[0] - 1, unit.loss.shape[1] - 1
    row = np.clip(turning * unit.per_loss_speed_step, 0.0, rows - INSIDE)
    column = np.clip(
        (torque + unit.loss_max_torque) * unit.per_loss_torque_step, 0.0, columns - INSIDE
    )
    i, j = row.astype(np.int64), column.astype(np.int64)
    down, across = (row - i)[..., np.newaxis], (column - j)[..., np.newaxis]
    low, high = (
        unit.loss[line, j] * (1.0 - across) + unit.loss[line, j + 1] * across for line in (i, i + 1)
    )
    read: FloatArray = low * (1.0 - down) + high * down
    return read[..., 0], read[..., 1]
