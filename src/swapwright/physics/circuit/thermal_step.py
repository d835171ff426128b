"""A current's history through lumps of heat: how high their weighted mean square has stood.

Each lump's mean square x follows x' = (i² - x)/tau. The current is held constant over a step and
the lumps are advanced by their exact exponential. One lump is a cable, whose rise goes with x;
several are the melting element, body and ends of a fuse.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from swapwright.physics.compiled import kernel

FloatArray = NDArray[np.float64]


@kernel
def square_law_response(
    currents: FloatArray,
    dt: float,
    time_constants: FloatArray,
    weights: FloatArray,
    start: float,
    scratch: FloatArray,
) -> float:
    """Return the highest weighted mean square, A², at the start and at the end of each step.

    ``currents`` A of each step of ``dt`` s, either sign; ``time_constants`` s and ``weights`` of
    the lumps; ``start`` A² they all begin at; ``scratch`` of twice as many as there are lumps: it
    is written over, and the lumps' last states, A², stand in its first half afterwards. Not a
    number in the currents comes out as one.
    """
    lumps = len(time_constants)
    total = 0.0
    for k in range(lumps):
        scratch[k] = start
        scratch[lumps + k] = math.exp(-dt / time_constants[k])
        total += weights[k] * start
    highest = total
    for step in range(len(currents)):
        square = currents[step] * currents[step]
        total = 0.0
        for k in range(lumps):
            state = square + (scratch[k] - square) * scratch[lumps + k]
            scratch[k] = state
            total += weights[k] * state
        if total > highest:
            highest = total
    # What is not a number stays one to the end, and would otherwise have been passed over.
    return highest if total == total else total


def peak_response(
    *,
    currents: FloatArray,
    dt: float,
    time_constants: FloatArray,
    weights: FloatArray,
    start: float,
) -> float:
    """Return the highest weighted mean square of a current's history through lumps of heat.

    currents: of each step, either sign [A]
    dt: length of a step [s]
    time_constants: of the lumps [s]
    weights: of the lumps, as many [1]
    start: mean square they begin at [A^2]
    result: the highest of the weighted sum, at the start or the end of a step [A^2]
    source: incropera-2007-ch5
    """
    taus = np.ascontiguousarray(time_constants, dtype=np.float64)
    shares = np.ascontiguousarray(weights, dtype=np.float64)
    if taus.shape != shares.shape:
        raise ValueError(f"{len(taus)} time constants and {len(shares)} weights")
    history = np.ascontiguousarray(currents, dtype=np.float64)
    return float(
        square_law_response(history, float(dt), taus, shares, float(start), np.empty(2 * len(taus)))
    )
