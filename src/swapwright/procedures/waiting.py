"""How much of a wait is left, whatever is done to the clocks meanwhile.

A moment is kept as two clocks: the time of day, which anybody may set, and the seconds a machine
has counted since it started, which nobody can. A wait is never shorter than it has to be; it may
be longer.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


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
