"""Drive cycles of the regulations: speed against time at 1 Hz, and their phases."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import pairwise

from swapwright.base.errors import InputError, Problem
from swapwright.base.kinds import KMH, MPH

_TENTH = {"mph": 0.1 * MPH, "km/h": 0.1 * KMH}
"""One tenth of a cycle's legal unit, m/s."""


@dataclass(frozen=True)
class Phase:
    """A named part of a cycle, from the second ``start`` to the second ``end``."""

    name: str
    start: int
    end: int


@dataclass(frozen=True)
class Cycle:
    """A drive cycle: speeds in m/s at 1 Hz from second 0, the regulation it is from, its phases."""

    name: str
    title: str
    speeds: tuple[float, ...]
    source: str
    phases: tuple[Phase, ...]

    @property
    def duration(self) -> int:
        """Return the duration in s: one less than the number of points."""
        return len(self.speeds) - 1

    @property
    def distance(self) -> float:
        """Return the distance in m, speed taken as straight between the points."""
        return self.distance_between(0, self.duration)

    def distance_between(self, start: int, end: int) -> float:
        """Return the distance in m between two seconds of the cycle."""
        return sum(0.5 * (a + b) for a, b in pairwise(self.speeds[start : end + 1]))


@dataclass(frozen=True)
class _Row:
    title: str
    unit: str
    source: str
    phases: tuple[Phase, ...]


_WLTC_LOW_MEDIUM = (Phase("low", 0, 589), Phase("medium", 589, 1022))
_WLTC = (*_WLTC_LOW_MEDIUM, Phase("high", 1022, 1477), Phase("extra-high", 1477, 1800))

_ROWS = {
    "udds": _Row(
        "UDDS, city",
        "mph",
        "us-40cfr86-app1-a",
        (Phase("cold", 0, 505), Phase("stabilised", 505, 1369)),
    ),
    "hwfet": _Row("HWFET, highway", "mph", "us-40cfr600-app1", (Phase("whole", 0, 765),)),
    "us06": _Row("US06, hard driving", "mph", "us-40cfr86-app1-g", (Phase("whole", 0, 600),)),
    "nycc": _Row("NYCC, dense city", "mph", "us-epa-dds-nycc", (Phase("whole", 0, 598),)),
    "wltc-1": _Row("WLTC class 1", "km/h", "un-gtr15-annex1-class1", _WLTC_LOW_MEDIUM),
    "wltc-2": _Row("WLTC class 2", "km/h", "un-gtr15-annex1-class2", _WLTC),
    "wltc-3a": _Row("WLTC class 3a", "km/h", "un-gtr15-annex1-class3a", _WLTC),
    "wltc-3b": _Row("WLTC class 3b", "km/h", "un-gtr15-annex1-class3b", _WLTC),
}

CYCLES = tuple(_ROWS)
"""The names of the cycles, in the order they are listed to a person."""


@cache
def cycle(name: str) -> Cycle:
    """Return a drive cycle by name, one of `CYCLES`; raise InputError for any other name."""
    row = _ROWS.get(name)
    if row is None:
        raise InputError(
            Problem(
                file="drive cycle",
                path="",
                message="there is no drive cycle of this name",
                given=name,
                allowed=", ".join(CYCLES),
            )
        )
    text = (files(__package__) / "cycles" / f"{name}.txt").read_text(encoding="ascii")
    numbers = " ".join(line for line in text.splitlines() if not line.startswith("#")).split()
    tenth = _TENTH[row.unit]
    return Cycle(name, row.title, tuple(int(n) * tenth for n in numbers), row.source, row.phases)
