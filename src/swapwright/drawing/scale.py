"""The scale of a chart's axis: where a value stands, and the numbers at the grid."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from swapwright.base.display import show
from swapwright.base.kinds import KINDS, Unit, squash

FEW_DECADES = 3
MOST_TICKS = 8

FINEST_IN_MINUTES = 3.0
"""s; what is told in finer steps stays in seconds: 0.0167 min is no place to look."""


@dataclass(frozen=True)
class Tick:
    """A line of the grid; one without text stands between two that have some."""

    si: float
    text: str


@dataclass(frozen=True)
class Scale:
    """An axis: the values at its ends [SI], the places of its ends [mm], its unit and its ticks."""

    low: float
    high: float
    ends: tuple[float, float]
    is_log: bool
    unit: str
    ticks: tuple[Tick, ...]

    def has(self, si: float) -> bool:
        """Tell whether a value has a place on this kind of axis at all."""
        return math.isfinite(si) and not (self.is_log and si <= 0.0)

    def is_inside(self, si: float) -> bool:
        """Tell whether a value lies between the ends."""
        slack = 1e-9 * (abs(self.low) + abs(self.high))
        return self.low - slack <= si <= self.high + slack

    def at(self, si: float) -> float:
        """Return the place of a value [mm]; outside the ends where it is outside."""
        if self.is_log:
            share = math.log(si / self.low) / math.log(self.high / self.low)
        else:
            share = (si - self.low) / (self.high - self.low)
        return self.ends[0] + share * (self.ends[1] - self.ends[0])

    def covers(self, values: Sequence[float]) -> bool:
        """Tell whether every one of many values has a place between the ends."""
        is_there = bool(values) and all(map(math.isfinite, values))
        return is_there and self.low <= min(values) and max(values) <= self.high

    def places(self, values: Sequence[float]) -> list[float]:
        """Return the places of many values [mm], as `at` does of one."""
        if self.is_log:
            return [self.at(each) for each in values]
        (start, end), low = self.ends, self.low
        slope = (end - start) / (self.high - low)
        return [start + (each - low) * slope for each in values]

    def clipped(self, si: float) -> float:
        """Return the place of a value, at an end where it is outside."""
        return self.at(min(max(si, self.low), self.high))


def scale_of(
    values: Sequence[float],
    ends: tuple[float, float],
    fixed: tuple[float, float] | None,
    *,
    kind: str,
    is_log: bool,
    profile: str,
    world: str = "electric",
    most_ticks: int = MOST_TICKS,
    step: float = 0.0,
) -> Scale:
    """Return the scale of an axis that shows some values, or a fixed stretch.

    ``step`` [SI] is how far apart the points along it are, nothing where they are no steps.
    """
    usable = [each for each in values if math.isfinite(each) and (each > 0.0 or not is_log)]
    if fixed is not None:
        usable = list(fixed)
    if not usable or (is_log and min(usable) <= 0.0):
        raise ValueError(f"there is no {kind} to draw an axis for")
    low, high = min(usable), max(usable)
    if is_log:
        return _log_scale(low, high, ends, fixed is not None, log_unit((low, high), kind))
    unit, scale = shown_unit((low, high), kind, profile, world, step=step)
    return _level_scale(low, high, ends, fixed is not None, (unit, scale), most_ticks)


def shown_unit(
    values: Sequence[float],
    kind: str,
    profile: str,
    world: str = "electric",
    *,
    step: float = 0.0,
) -> tuple[str, Unit]:
    """Return the one unit several values [SI] of a kind are shown in: that of the largest.

    A unit that has no number for nothing (miles per gallon) gives way where a value is not above
    zero. Minutes are for what goes on in long steps: ``step`` [SI] says how long.
    """
    largest = max(map(abs, values), default=0.0)
    spelling = _spelling(largest, kind, profile, world)
    if KINDS[kind].units[squash(spelling)].inverse and min(values) <= 0.0:
        spelling = _spelling(-largest, kind, profile, world)
    if spelling == "min" and step < FINEST_IN_MINUTES:
        spelling = "s"
    return spelling, KINDS[kind].units[squash(spelling)]


def log_unit(values: Sequence[float], kind: str) -> tuple[str, Unit]:
    """Return the unit of a logarithmic axis: plain SI, but the fitting one of seconds to days.

    Data sheets draw fuses over plain amperes, however many; hours in seconds nobody reads.
    """
    ends = [each for each in values if math.isfinite(each) and each > 0.0]
    if kind != "time" or not ends:
        return KINDS[kind].unit, Unit(1.0)
    spelling = _spelling(math.sqrt(min(ends) * max(ends)), kind, "metric", "electric")
    return spelling, KINDS[kind].units[squash(spelling)]


def step_of(points: Sequence[float]) -> float:
    """Return how far apart the points of an axis are on average, nothing for less than two."""
    return (max(points) - min(points)) / (len(points) - 1) if len(points) > 1 else 0.0


def _spelling(si: float, kind: str, profile: str, world: str) -> str:
    return show(si, kind, profile=profile, world=world).partition(" ")[2]


def _log_scale(
    low: float,
    high: float,
    ends: tuple[float, float],
    is_fixed: bool,
    shown: tuple[str, Unit],
) -> Scale:
    """Return a scale of decades, numbered in the unit shown."""
    unit, scale = shown
    first, last = scale.from_si(low), scale.from_si(high)
    if not is_fixed:
        first, last = _step_down(first), _step_up(last)
    if first == last:
        first, last = first / 2.0, last * 2.0
    decades = range(math.floor(math.log10(first)) - 1, math.ceil(math.log10(last)) + 1)
    is_short = math.log10(last / first) <= FEW_DECADES
    ticks = []
    for decade in decades:
        for step in range(1, 10):
            number = step * 10.0**decade
            if first * (1.0 - 1e-9) <= number <= last * (1.0 + 1e-9):
                is_named = step == 1 or (is_short and step in (2, 5))
                ticks.append(Tick(scale.to_si(number), plain(number) if is_named else ""))
    return Scale(scale.to_si(first), scale.to_si(last), ends, True, unit, tuple(ticks))


def _step_down(value: float) -> float:
    decade = 10.0 ** math.floor(math.log10(value) + 1e-12)
    return max(step * decade for step in (1.0, 2.0, 5.0) if step * decade <= value * (1.0 + 1e-9))


def _step_up(value: float) -> float:
    decade = 10.0 ** math.floor(math.log10(value) + 1e-12)
    steps = (1.0, 2.0, 5.0, 10.0)
    return min(step * decade for step in steps if step * decade >= value * (1.0 - 1e-9))


def _level_scale(
    low: float,
    high: float,
    ends: tuple[float, float],
    is_fixed: bool,
    shown: tuple[str, Unit],
    most_ticks: int,
) -> Scale:
    """Return an even scale with steps of 1, 2 or 5 in the unit shown."""
    unit, scale = shown
    first, last = sorted((scale.from_si(low), scale.from_si(high)))
    if not is_fixed and 0.0 < first < 0.5 * last:
        first = 0.0
    if first == last:
        first, last = first - 0.5, last + 0.5
    step = _step_up((last - first) / most_ticks)
    if not is_fixed:
        first = math.floor(first / step + 1e-9) * step
        last = math.ceil(last / step - 1e-9) * step
    numbers = [
        place * step
        for place in range(math.ceil(first / step - 1e-9), math.floor(last / step + 1e-9) + 1)
    ]
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    ticks = tuple(Tick(scale.to_si(each), f"{each:,.{decimals}f}") for each in numbers)
    edges = sorted((scale.to_si(first), scale.to_si(last)))
    return Scale(edges[0], edges[1], ends, False, unit, ticks)


def plain(value: float) -> str:
    """Return a round number as it is written at an axis: ``0.001``, ``10,000``."""
    if value >= 1.0:
        return f"{round(value):,}"
    decimals = max(0, -math.floor(math.log10(value) + 1e-9))
    return f"{value:.{decimals}f}"
