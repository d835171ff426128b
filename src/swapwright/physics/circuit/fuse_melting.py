"""When a fuse melts: on a steady current, on a rising fault, and as a small network of heat.

A melting curve is two tuples: currents, rising [A], and the times they take, falling [s]. Between
its points it is straight on logarithmic axes; below its least current nothing melts; above its
greatest the I2t of its last point holds, for then no heat has time to leave.
"""

from __future__ import annotations

from math import exp, inf, log, sqrt

import numpy as np
from numpy.typing import NDArray

from swapwright.physics.circuit.fault_current import fault_i2t

Points = tuple[float, ...]
_SETTLED = 3600.0  # s: a fuse is then as warm as a current makes it
_HALVINGS = 100
_PER_DECADE = 1.5
_BETWEEN = 3


def melting_time(*, current: float, currents: Points, times: Points) -> float:
    """Return how long a steady current takes to melt a cold fuse; infinite where it never does.

    current: [A]
    currents, times: the melting curve [A], [s]
    result: time [s]
    source: iec-60269-1-2014-i2t, from memory
    """
    if current < currents[0]:
        return inf
    if current >= currents[-1]:
        return times[-1] * (currents[-1] / current) ** 2
    return exp(float(np.interp(log(current), np.log(currents), np.log(times))))


def melting_current(*, time: float, currents: Points, times: Points) -> float:
    """Return the steady current that melts a cold fuse in a time.

    time: [s]
    currents, times: the melting curve [A], [s]
    result: current [A]; the least of the curve for any longer time
    source: iec-60269-1-2014-i2t, from memory
    """
    if time >= times[0]:
        return currents[0]
    if time <= times[-1]:
        return currents[-1] * sqrt(times[-1] / time)
    return exp(float(np.interp(log(time), np.log(times[::-1]), np.log(currents[::-1]))))


def clearing_time(
    *, current: float, currents: Points, times: Points, tolerance: float, arc_time: float = 0.0
) -> float:
    """Return the longest a fuse of this curve may take to open a current, arc and all.

    current: [A]
    currents, times: the melting curve of the middle of its make [A], [s]
    tolerance: by how much a slow one needs more current [1]
    arc_time: it goes on arcing once melted [s]
    result: time [s]; infinite where a slow one never melts
    source: fuse-curve-tolerance-typical
    """
    slow = current / (1.0 + tolerance)
    return melting_time(current=slow, currents=currents, times=times) + arc_time


def melting_time_on_fault(
    *,
    prospective: float,
    time_constant: float,
    pre_arcing_i2t: float,
    currents: Points = (),
    times: Points = (),
) -> float:
    """Return when a fuse melts on a fault that rises towards its prospective current.

    The fault must bring the I2t that melts the fuse: its pre-arcing I2t, or, where the current is
    too low for that, what the curve asks of a steady current of that size. Without a curve the
    pre-arcing I2t alone decides, which is right only for high faults.

    prospective: current the fault would settle at [A]
    time_constant: L/R of the loop [s]
    pre_arcing_i2t: of the fuse [A^2.s]
    currents, times: the melting curve, where there is one [A], [s]
    result: time since the fault began [s]; infinite where it never melts
    source: iec-60269-1-2014-i2t, from memory (virtual time)
    """
    needed = pre_arcing_i2t
    if currents:
        steady = melting_time(current=prospective, currents=currents, times=times)
        if steady == inf:
            return inf
        if prospective < currents[-1]:
            needed = max(needed, prospective**2 * steady)
    if needed <= 0.0 or prospective <= 0.0:
        return 0.0 if prospective > 0.0 else inf
    # The rise costs at most one and a half time constants of the full current.
    low = needed / prospective**2
    high = low + 1.5 * time_constant
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        reached = fault_i2t(prospective=prospective, time_constant=time_constant, time=middle)
        low, high = (middle, high) if reached < needed else (low, middle)
        if high - low <= 1e-15 * high:
            break
    return 0.5 * (low + high)


def melting_model(*, currents: Points, times: Points) -> tuple[Points, Points]:
    """Return a small network of heat that melts where the curve says.

    It melts at current I after the time t at which

        I^2 * sum(weight * (1 - exp(-t/time constant))) = 1

    and so answers for any course of current. The weights are the best of those not below zero,
    fitted on the curve and between its points.

    currents, times: the melting curve [A], [s]
    result: time constants, rising [s]; their weights, above zero [1/A^2]
    source: fuse-melting-network
    """
    ends = np.log(times[::-1])
    places = np.arange(len(times) - 1 + 1e-9, step=1.0 / (_BETWEEN + 1))
    log_time = np.interp(places, np.arange(len(times)), ends)
    log_current = np.interp(log_time, ends, np.log(currents[::-1]))
    at, squared = np.exp(log_time), np.exp(2.0 * log_current)
    # A curve that stops early has not yet shown its slowest part.
    longest = max(times[0], min(3.0 * times[0], _SETTLED))
    decades = (ends[-1] - ends[0]) / log(10.0)
    count = max(2, round(_PER_DECADE * decades) + 2)
    constants = np.geomspace(times[-1] / 3.0, longest, count)
    heated = -squared[:, np.newaxis] * np.expm1(-at[:, np.newaxis] / constants)
    # Of two columns of very unlike size the small one would be lost in the rounding.
    scale = np.linalg.norm(heated, axis=0)
    weights = _least_squares_not_below_zero(heated / scale, np.ones(len(at))) / scale
    kept = weights > 0.0
    return tuple(constants[kept].tolist()), tuple(weights[kept].tolist())


def _least_squares_not_below_zero(
    columns: NDArray[np.float64], wanted: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return x, nowhere below zero, that brings columns @ x nearest to what is wanted.

    The active-set method of Lawson and Hanson: lawson-hanson-1974-ch23.
    """
    count = columns.shape[1]
    found = np.zeros(count)
    free = np.zeros(count, dtype=bool)
    enough = 1e-10 * float(np.linalg.norm(columns.T @ wanted))
    for _ in range(3 * count):
        pull = columns.T @ (wanted - columns @ found)
        pull[free] = -inf
        if free.all() or float(pull.max()) <= enough:
            break
        free[int(pull.argmax())] = True
        while True:
            tried = np.zeros(count)
            tried[free] = np.linalg.lstsq(columns[:, free], wanted, rcond=None)[0]
            below = free & (tried <= 0.0)
            if not below.any():
                break
            gap = found[below] - tried[below]
            step = float(np.divide(found[below], gap, out=np.zeros_like(gap), where=gap > 0).min())
            found = found + step * (tried - found)
            free &= found > 1e-14 * float(found.max(initial=0.0))
            found[~free] = 0.0
        found = tried
    return found
