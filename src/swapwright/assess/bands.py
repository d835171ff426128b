"""Bands: what each uncertain input does to every figure, from 2k + 1 cars driven in short.

Each uncertain input is put at its low and at its high end with the others nominal; deviations of
one sign are combined by the root of the sum of squares. A figure's band comes from the design made
again, or from a short run of its own (one cycle where the figure drives the pack empty), whose
deviation is applied in proportion. A figure with neither has no band.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from swapwright.assess.book import FigureBook
from swapwright.assess.quick import Quick
from swapwright.base.figure import Value
from swapwright.build.car import Car

LEAST = 1e-9
"""An input that moves a figure by less than this share does not move it."""

DIFFERENCES = ("1", "K")
"""Units of figures whose deviations are differences, not proportions."""

Design = Callable[[FigureBook], None]


@dataclass(frozen=True)
class Band:
    """The ends of a figure's band, SI, and the share of each uncertain input in it.

    ``swings`` gives for each input the (low end, high end) deviation of the figure, SI.
    """

    low: float
    high: float
    swings: Mapping[str, tuple[float, float]]


class Asked(Mapping[str, Value]):
    """A car's values, remembering which of them were asked for."""

    def __init__(self, values: Mapping[str, Value]) -> None:
        """Wrap the values by build path."""
        self._values = values
        self.paths: set[str] = set()

    def __getitem__(self, path: str) -> Value:
        """Return a value and remember it."""
        self.paths.add(path)
        return self._values[path]

    def __iter__(self) -> Iterator[str]:
        """Go through all paths, which asks for every one."""
        self.paths.update(self._values)
        return iter(self._values)

    def __len__(self) -> int:
        """Return how many values there are."""
        return len(self._values)


class Nominal:
    """The nominal car designed and driven in short, and what its design asked for."""

    def __init__(self, car: Car, design: Design) -> None:
        """Design and drive the car."""
        self.car, self._design = car, design
        asked = Asked(car.values)
        book = FigureBook(replace(car, values=asked), keep=False)
        design(book)
        self._asked = frozenset(asked.paths)
        self._designed = dict(book.values)
        book = self._open(car)
        self._quick = Quick()
        self._quick.drive(book)
        self.values: Mapping[str, Value] = book.values

    def with_value(self, path: str, si: float) -> Mapping[str, Value]:
        """Return the figures with one value changed, designed anew only where that is asked for."""
        changed = self.car.with_values({path: si})
        if path in self._asked:
            book = FigureBook(changed, keep=False)
            self._design(book)
        else:
            book = self._open(changed)
        Quick(self._quick).drive(book)
        return book.values

    def _open(self, car: Car) -> FigureBook:
        book = FigureBook(car, keep=False)
        book.values.update(self._designed)
        return book


def bands(car: Car, full: Mapping[str, Value], design: Design) -> dict[str, Band]:
    """Return the band of every figure that an uncertain input moves.

    ``full`` gives the nominal figures; ``design`` writes the figures that need no run.
    """
    uncertain = car.uncertain()
    if not uncertain:
        return {}
    nominal = Nominal(car, design)
    swings: dict[str, dict[str, tuple[float, float]]] = {}
    for path in uncertain:
        value = car.value(path)
        if value.low is None or value.high is None:
            continue
        low, high = (nominal.with_value(path, end) for end in (value.low, value.high))
        for figure_id, base in nominal.values.items():
            if figure_id not in full or figure_id not in low or figure_id not in high:
                continue
            down, up = low[figure_id].si - base.si, high[figure_id].si - base.si
            if max(abs(down), abs(up)) > LEAST * abs(base.si):
                scale = _scale(full[figure_id], base)
                swings.setdefault(figure_id, {})[path] = (down * scale, up * scale)
    return {
        figure_id: _combined(full[figure_id].si, by_input) for figure_id, by_input in swings.items()
    }


def _scale(full: Value, short: Value) -> float:
    """Return what a short run's deviation is taken times: nothing for shares and temperatures."""
    if full.unit in DIFFERENCES or full.si <= 0.0 or short.si <= 0.0:
        return 1.0
    return full.si / short.si


def _combined(nominal: float, by_input: Mapping[str, tuple[float, float]]) -> Band:
    down = math.sqrt(sum(min(*pair, 0.0) ** 2 for pair in by_input.values()))
    up = math.sqrt(sum(max(*pair, 0.0) ** 2 for pair in by_input.values()))
    return Band(nominal - down, nominal + up, dict(by_input))
