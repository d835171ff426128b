"""A maker's efficiency map turned into losses, which can be interpolated down to nothing."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from swapwright.base.table import Map

FloatArray = NDArray[np.float64]


def loss_from_efficiency(efficiency: Map, speeds: FloatArray, torques: FloatArray) -> FloatArray:
    """Return losses over speeds (rows) and torques (columns) from a motoring efficiency map.

    Losses, not efficiencies, are interpolated: an efficiency means nothing at zero power. Below the
    map's lowest speed and torque the loss stays what it is there. Where the map is blank (0) or
    ends, the loss grows with the square of torque, as copper loss does. Generating is taken to lose
    what motoring loses.

    efficiency: rows speed [rad/s], columns torque [N.m], z shaft power over electrical power [1]
    speeds: shaft speeds, zero or more [rad/s]
    torques: shaft torques, either sign [N.m]
    result: losses [W]
    raises: ValueError when the map has no speed or no torque above zero with an efficiency
    source: motor-efficiency-map-reading
    """
    rows, columns, loss = _loss_table(efficiency)
    wanted = np.abs(np.asarray(torques, dtype=np.float64))
    by_torque = np.array([np.interp(wanted, columns, row) for row in loss])
    by_torque *= (np.maximum(wanted, columns[-1]) / columns[-1]) ** 2
    at = np.asarray(speeds, dtype=np.float64)
    return np.array([np.interp(at, rows, column) for column in by_torque.T]).T


def _loss_table(efficiency: Map) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return the map's speeds and torques above zero and the loss at each, blanks filled."""
    rows = np.array(efficiency.rows)
    columns = np.array(efficiency.columns)
    values = np.array(efficiency.z)[np.ix_(rows > 0.0, columns > 0.0)]
    rows, columns = rows[rows > 0.0], columns[columns > 0.0]
    known = values > 0.0
    usable = known.any(axis=1) if known.size else np.zeros(len(rows), dtype=bool)
    if not usable.any():
        raise ValueError("the efficiency map has no point with power and an efficiency")
    rows, values, known = rows[usable], values[usable], known[usable]
    power = rows[:, np.newaxis] * columns
    loss = np.where(known, power * (1.0 / np.where(known, values, 1.0) - 1.0), np.nan)
    for line, is_known in zip(loss, known, strict=True):
        _fill(line, columns, is_known)
    return rows, columns, loss


def _fill(line: FloatArray, torques: FloatArray, known: NDArray[np.bool_]) -> None:
    """Fill the blanks of one speed in place: interpolated inside, square of torque above."""
    line[:] = np.interp(torques, torques[known], line[known])
    last = torques[known][-1]
    line *= (np.maximum(torques, last) / last) ** 2
