"""Worst-case response times on a CAN bus: the revised analysis, with all instances looked at.

A message waits for the longest frame of lower priority that has just begun, for all of higher
priority queued before it gets the bus, and for earlier instances of itself.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from swapwright.base.figure import Symbol, Working

MOST_ROUNDS = 300
MOST_INSTANCES = 100
_ROUNDING = 1e-12
"""What the last digits of a number may add to a count of arrivals that is whole."""
_SETTLED = 1e-9


@dataclass(frozen=True)
class Stream:
    """One message as its bus sees it: time of a frame, period, how late it may be queued [s]."""

    frame_time: float
    period: float
    jitter: float


@dataclass(frozen=True)
class Delay:
    """Which instance of a message waits longest to be done, and how long it was queued [s].

    ``queued`` is counted from the start of the busy period; ``instance`` from 0.
    """

    queued: float
    instance: int


def response(
    *, jitter: float, queued: float, instance: float, period: float, frame_time: float
) -> float:
    """Return the longest from the event that queues a message until it is received.

    jitter: it may be queued this late [s]
    queued: from the start of the busy period until this instance gets the bus [s]
    instance: of the message in that busy period, from 0 [1]
    period: [s]
    frame_time: [s]
    result: [s]
    source: Davis, Burns, Bril and Lukkien 2007, section 3, from memory
    """
    return jitter + queued - instance * period + frame_time


def least_timeout(*, period: float, missed: float, response: float) -> float:
    """Return the least time-out that outlasts some frames lost on the way.

    period: [s]
    missed: frames lost in a row that must not stop the car [1]
    response: worst case, by which the next may come late [s]
    result: [s]
    source: can-timeout-practice
    """
    return (missed + 1.0) * period + response


def worst_delay(
    *, own: Stream, higher: tuple[Stream, ...], blocking: float, bit_time: float
) -> Delay | None:
    """Return the delay of the instance with the longest response; None where there is no bound.

    There is none where messages of this priority and above fill the bus, or come so near to it
    that the busy period is not over in a reasonable number of rounds.

    own: the message
    higher: those of higher priority on its bus
    blocking: longest frame of lower priority on its bus [s]
    bit_time: [s]
    result: instance and its queueing delay
    source: Davis, Burns, Bril and Lukkien 2007, section 3, from memory
    """
    level = (*higher, own)
    if sum(each.frame_time / each.period for each in level) >= 1.0:
        return None
    above, whole = _Arrivals(higher), _Arrivals(level)
    busy = _settled(own.frame_time, lambda time: blocking + whole.work(time, 0.0))
    if busy is None:
        return None
    worst: tuple[float, Delay] | None = None
    wait = blocking
    for instance in range(_arrived(busy + own.jitter, own.period)):
        found = _settled(wait, _waiting(blocking + instance * own.frame_time, above, bit_time))
        if found is None or instance > MOST_INSTANCES:
            return None
        wait = found
        late = wait - instance * own.period
        if worst is None or late > worst[0] + _SETTLED * own.period:
            worst = (late, Delay(wait, instance))
    return worst[1] if worst is not None else None


class _Arrivals:
    """What some messages bring onto the bus within a time."""

    def __init__(self, streams: tuple[Stream, ...]) -> None:
        self._frames = np.array([each.frame_time for each in streams])
        self._periods = np.array([each.period for each in streams])
        self._jitters = np.array([each.jitter for each in streams])

    def work(self, time: float, bit_time: float) -> float:
        """Return the time on the bus of all frames queued within a time, and a bit after it."""
        shares: NDArray[np.float64] = (time + self._jitters + bit_time) / self._periods
        return float(np.ceil(shares - _ROUNDING) @ self._frames)


def _waiting(before: float, above: _Arrivals, bit_time: float) -> Callable[[float], float]:
    return lambda time: before + above.work(time, bit_time)


def _arrived(time: float, period: float) -> int:
    return max(1, ceil(time / period - _ROUNDING))


def _settled(start: float, following: Callable[[float], float]) -> float | None:
    """Return the least fixed point at or above a start; None where it is not reached in time."""
    time = start
    for _ in range(MOST_ROUNDS):
        then = following(time)
        if abs(then - time) <= _SETTLED * abs(time):
            return then
        time = then
    return None


_PERIOD = Symbol("period", "s", 1e-3, 3600.0, "sent every", "time")

RESPONSE = Working(
    response,
    "J + w - q*T + C",
    {
        "J": Symbol("jitter", "s", 0.0, 1.0, "may be queued this late", "time"),
        "w": Symbol("queued", "s", 0.0, 10.0, "queued since the busy period began", "time"),
        "q": Symbol("instance", "1", 0.0, 100.0, "instance, from 0", "count"),
        "T": _PERIOD,
        "C": Symbol("frame_time", "s", 1e-5, 0.1, "time of its frame", "time"),
    },
    Symbol("R", "s", 0.0, 3600.0, "worst-case response", "time"),
    ("can-response-davis-2007",),
    "each controller offers its most urgent message first; every frame at its longest; w solves "
    "w = B + q*C + the sum over more urgent messages of ceil((w + J_k + one bit)/T_k)*C_k",
    "errors and frames sent again, controllers that send in order of queueing, gateways",
)

LEAST_TIMEOUT = Working(
    least_timeout,
    "(m + 1)*T + R",
    {
        "m": Symbol("missed", "1", 0.0, 10.0, "frames lost in a row", "count"),
        "T": _PERIOD,
        "R": Symbol("response", "s", 0.0, 10.0, "worst-case response", "time"),
    },
    Symbol("t", "s", 0.0, 4e4, "least time-out", "time"),
    ("can-timeout-practice",),
    "the receiver counts from the last frame it took",
    "what it does once the time is over",
)

WORKINGS: tuple[Working, ...] = (RESPONSE, LEAST_TIMEOUT)
