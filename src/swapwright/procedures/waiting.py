"""How much of a wait is left, whatever is done to the clocks meanwhile.

A moment is kept as two clocks: the time of day, which anybody may set, and the seconds a machine
has counted since it started, which nobody can. A wait is never shorter than it has to be; it may
be longer.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from swapwright.records.record import Json


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
    on gives nothing, nor one that was set back.
    """
    if begun.boot == now.boot:
        return max(now.ticks - begun.ticks, 0.0)
    by_wall = (now.wall - begun.wall).total_seconds()
    return max(min(by_wall, now.ticks), 0.0)


def left(begun: Moment, now: Moment, needed: float) -> float:
    """Return how many s of a wait of ``needed`` s are left; 0 where it is over."""
    return max(needed - elapsed(begun, now), 0.0)


def gone(begun: Json, now: Json, since: Json = None) -> float:
    """Return the seconds that have certainly gone by between two clocks as records keep them.

    Each has the moment of the server that kept it, ``server``, and that of the device that told
    it, ``device``. A device's moments count only against its own: the times of day of two devices
    say nothing of each other. What a device tells is never more than the server counted since
    ``since``, when the whole run was begun.
    """
    served = _between(begun, now, "server")
    one, other = _moment(begun, "device"), _moment(now, "device")
    told = 0.0
    if one is not None and other is not None and one.boot == other.boot:
        told = elapsed(one, other)
    return max(served, min(told, _between(since, now, "server")))


def _between(begun: Json, now: Json, which: str) -> float:
    one, other = _moment(begun, which), _moment(now, which)
    return 0.0 if one is None or other is None else elapsed(one, other)


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
