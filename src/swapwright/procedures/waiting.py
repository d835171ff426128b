"""How much of a wait is left, whatever is done to the clocks meanwhile.

A moment is kept as two clocks: the time of day, which anybody may set, and the seconds a machine
has counted since it started, which nobody can. A wait is never shorter than it has to be; it may
be longer.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from swapwright.records.record import Json

AT_ONCE = 1.0
"""Seconds within which two things told by different ways are taken to be at once."""
LONGEST_AGE = 366.0 * 86_400.0
MACHINE = "/"
"""Between the name of a machine and that of its start."""


@dataclass(frozen=True)
class Moment:
    """A moment: the time of day (UTC), which start of which machine, and seconds since then."""

    wall: datetime
    boot: str
    ticks: float


def elapsed(begun: Moment, now: Moment) -> float:
    """Return the seconds that have certainly gone by between two moments.

    Within one start of a machine its own count decides. After a restart no more has certainly gone
    by than the machine has counted since, and no more than the time of day says: one that was set
    on gives nothing, nor one that was set back. Between two machines nothing is certain.
    """
    if begun.boot == now.boot:
        return max(now.ticks - begun.ticks, 0.0)
    if begun.boot.partition(MACHINE)[0] != now.boot.partition(MACHINE)[0] and MACHINE in now.boot:
        return 0.0
    by_wall = (now.wall - begun.wall).total_seconds()
    return max(min(by_wall, now.ticks), 0.0)


def gone(begun: Json, now: Json, since: Json = None) -> float:
    """Return the seconds that have certainly gone by between two clocks as records keep them.

    Each has the moment of the server that kept it, ``server``; that of the device that told it,
    ``device``; and how old it was when it was sent, ``young`` s at least and ``old`` s at most. Two
    moments of one device count by that device, and never for more than the server counted since
    ``since``, when the whole run was begun. Otherwise the server's count, at its shortest.
    """
    one, other = _moment(begun, "device"), _moment(now, "device")
    if one is not None and other is not None and one.boot == other.boot:
        return min(elapsed(one, other), _served(since, now))
    return _served(begun, now)


def aged(begun: Json, begun_at: datetime, now: Json, now_at: datetime) -> float:
    """Return the seconds that may have gone by at most between two clocks as records keep them.

    ``begun_at`` and ``now_at`` are the times of day they were kept at, for want of a clock.
    """
    one, other = _shifted(begun, begun_at, "old"), _shifted(now, now_at, "young")
    by_wall = (other.wall - one.wall).total_seconds()
    return max(by_wall, other.ticks - one.ticks if _is_one_start(one, other) else by_wall)


def is_older(act: Json, act_at: datetime, event: Json, event_at: datetime) -> bool:
    """Tell whether something may have been done before something else happened."""
    one, other = _shifted(act, act_at, "old"), _shifted(event, event_at, "young")
    if _is_one_start(one, other):
        return one.ticks < other.ticks - AT_ONCE
    return (one.wall - other.wall).total_seconds() < -AT_ONCE


def _served(begun: Json, now: Json) -> float:
    one, other = _moment(begun, "server"), _moment(now, "server")
    if one is None or other is None:
        return 0.0
    return elapsed(_earlier(one, _age(begun, "young")), _earlier(other, _age(now, "old")))


def _shifted(clock: Json, at: datetime, which: str) -> Moment:
    """Return when something was done by the server's clock, at its earliest or its latest."""
    found = _moment(clock, "server")
    return _earlier(Moment(at, "", 0.0) if found is None else found, _age(clock, which))


def _earlier(moment: Moment, seconds: float) -> Moment:
    wall = moment.wall - timedelta(seconds=min(seconds, LONGEST_AGE))
    return Moment(wall, moment.boot, moment.ticks - seconds)


def _is_one_start(one: Moment, other: Moment) -> bool:
    return bool(one.boot) and one.boot == other.boot


def _age(clock: Json, which: str) -> float:
    """Return how old something was when it was sent, s: at least (young) or at most (old)."""
    told = clock.get(which) if isinstance(clock, Mapping) else None
    is_number = isinstance(told, int | float) and not isinstance(told, bool)
    return max(float(told), 0.0) if is_number and isinstance(told, int | float) else 0.0


def _moment(clock: Json, which: str) -> Moment | None:
    """Return a moment of a record's clock, None where it has none that can be read."""
    told = clock.get(which) if isinstance(clock, Mapping) else None
    if not isinstance(told, Mapping):
        return None
    try:
        wall = datetime.fromisoformat(str(told["wall"]))
        ticks = float(str(told["ticks"]))
    except (KeyError, ValueError):
        return None
    if not math.isfinite(ticks):
        return None
    return Moment(wall.replace(tzinfo=wall.tzinfo or UTC), str(told.get("boot", "")), ticks)
