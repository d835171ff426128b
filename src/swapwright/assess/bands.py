"""Bands: what each uncertain input does to every figure, from 2k + 1 cars driven in short.

Each uncertain input is put at its low and at its high end with the others nominal; deviations of
one sign are combined by the root of the sum of squares. A figure's band comes from the design made
again, in the stages the input reaches, or from a short run of its own (one cycle where the figure
drives the pack empty), whose deviation is applied in proportion. A figure with neither has no band.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import TypeVar, overload

from swapwright.assess.book import FigureBook
from swapwright.assess.quick import Quick
from swapwright.base.figure import Value
from swapwright.build.car import Car

LEAST = 1e-9
"""An input that moves a figure by less than this share does not move it."""

DIFFERENCES = ("1", "K")
"""Units of figures whose deviations are differences, not proportions."""

Stage = Callable[[FigureBook], None]
Figures = Mapping[str, Value]
D = TypeVar("D")


@dataclass(frozen=True)
class Band:
    """The ends of a figure's band, SI, and the share of each uncertain input in it.

    ``swings`` gives for each input the (low end, high end) deviation of the figure, SI.
    """

    low: float
    high: float
    swings: Mapping[str, tuple[float, float]]


class Asked(Mapping[str, Value]):
    """A car's values or a book's figures, remembering which of them were asked for."""

    def __init__(self, values: Mapping[str, Value]) -> None:
        """Look at these values, by build path or figure id."""
        self._values = values
        self.paths: set[str] = set()

    def __getitem__(self, path: str) -> Value:
        """Return a value and remember it."""
        self.paths.add(path)
        return self._values[path]

    def __contains__(self, path: object) -> bool:
        """Tell whether a value is there, which asks for it."""
        self.paths.add(str(path))
        return path in self._values

    @overload
    def get(self, path: str, /) -> Value | None: ...

    @overload
    def get(self, path: str, /, default: Value | D) -> Value | D: ...

    def get(self, path: str, /, default: D | None = None) -> Value | D | None:
        """Return a value or something else, and remember it."""
        self.paths.add(path)
        return self._values.get(path, default)

    def __iter__(self) -> Iterator[str]:
        """Go through all paths, which asks for every one."""
        self.paths.update(self._values)
        return iter(self._values)

    def __len__(self) -> int:
        """Return how many values there are."""
        return len(self._values)


class Written(Asked, MutableMapping[str, Value]):
    """The figures of a book under way: those asked for are remembered, new ones go through."""

    def __init__(self, values: MutableMapping[str, Value]) -> None:
        """Write into these figures."""
        super().__init__(values)
        self._book = values

    def __setitem__(self, path: str, value: Value) -> None:
        """Put a value in, which asks for none."""
        self._book[path] = value

    def __delitem__(self, path: str) -> None:
        """Take a value out, which asks for none."""
        del self._book[path]

    def after(self, first: int) -> dict[str, Value]:
        """Return the values put in after so many were there; this asks for none."""
        return dict(islice(self._book.items(), first, None))


@dataclass(frozen=True)
class Designed:
    """A stage of the nominal design, what it asked for, and what it wrote.

    ``asked`` are build paths and figures of earlier stages, as a stage reads them from its book.
    Where none of them is changed it would write the same again, and what it wrote is taken over.
    """

    stage: Stage
    asked: frozenset[str]
    made: Mapping[str, Value]
    missing: Mapping[str, tuple[str, ...]]
    reasons: Mapping[str, str]

    def write(self, book: FigureBook, stage: Stage, changed: set[str]) -> None:
        """Write the stage's figures into a book, and add to the changed names those that differ."""
        if self.asked.isdisjoint(changed):
            self.take_over(book)
            return
        before = len(book.values)
        stage(book)
        made = dict(islice(book.values.items(), before, None))
        changed.update(
            name for name in {*made, *self.made} if made.get(name) != self.made.get(name)
        )

    def take_over(self, book: FigureBook) -> None:
        """Write into a book what the stage wrote of the nominal car."""
        book.values.update(self.made)
        book.missing.update(self.missing)
        book.reasons.update(self.reasons)

    def without(self, names: frozenset[str]) -> Designed:
        """Return the same stage with some figures not written: those that have no band."""
        if names.isdisjoint(self.made):
            return self
        made = {name: value for name, value in self.made.items() if name not in names}
        return replace(self, made=made)


def designed(book: FigureBook, stages: Sequence[Stage]) -> Iterator[Designed]:
    """Run the stages of a design on a car's book, and give what each asked for and wrote."""
    car, values = book.car, book.values
    figures = Written(values)
    book.values = figures
    for stage in stages:
        entries, figures.paths = Asked(car.values), set()
        book.car = car.with_the_same_paths(entries)
        written, missing, reasons = len(figures), set(book.missing), set(book.reasons)
        stage(book)
        yield Designed(
            stage,
            frozenset(entries.paths | figures.paths),
            figures.after(written),
            {name: paths for name, paths in book.missing.items() if name not in missing},
            {name: reason for name, reason in book.reasons.items() if name not in reasons},
        )
    book.car, book.values = car, values


class Nominal:
    """The nominal car as designed and driven in short, and what each stage of that asked for."""

    def __init__(self, car: Car, design: Sequence[Designed]) -> None:
        """Drive a car whose design is made."""
        self.car, self._quick = car, Quick()
        book = FigureBook(car, keep=False)
        for stage in design:
            stage.take_over(book)
        driven = tuple(designed(book, self._quick.stages))
        unfollowed = self._quick.unfollowed
        self._design = design
        self._driven = tuple(stage.without(unfollowed) for stage in driven)
        self.values: Figures = {
            name: value for name, value in book.values.items() if name not in unfollowed
        }

    def with_value(self, path: str, si: float) -> Figures:
        """Return the figures with one value changed, made anew only where that is asked for."""
        car, quick, changed = self.car.with_values({path: si}), Quick(self._quick), {path}
        book = FigureBook(car, keep=False)
        for made in self._design:
            made.write(book, made.stage, changed)
        for made, stage in zip(self._driven, quick.stages, strict=True):
            made.write(book, stage, changed)
        return book.values


@dataclass(frozen=True)
class Swung:
    """How far each uncertain input moves the figures of a car driven in short.

    ``nominal`` are that car's figures; ``moved`` gives, by figure and input, the (low end, high
    end) deviation, SI.
    """

    nominal: Figures
    moved: Mapping[str, Mapping[str, tuple[float, float]]]


def swung(car: Car, design: Sequence[Designed]) -> Swung:
    """Drive a designed car in short with each uncertain input at its low and at its high end."""
    uncertain = car.uncertain()
    if not uncertain:
        return Swung({}, {})
    nominal = Nominal(car, design)
    moved: dict[str, dict[str, tuple[float, float]]] = {}
    for path in uncertain:
        value = car.value(path)
        if value.low is None or value.high is None:
            continue
        low, high = (nominal.with_value(path, end) for end in (value.low, value.high))
        for figure_id, base in nominal.values.items():
            least, most = low.get(figure_id), high.get(figure_id)
            if least is most is base or least is None or most is None:
                continue
            down, up = least.si - base.si, most.si - base.si
            if max(abs(down), abs(up)) > LEAST * abs(base.si):
                moved.setdefault(figure_id, {})[path] = (down, up)
    return Swung(nominal.values, moved)


def bands(full: Figures, short: Swung) -> dict[str, Band]:
    """Return the band of every figure that an uncertain input moves.

    ``full`` gives the nominal figures, ``short`` what moves those of the short runs.
    """
    found: dict[str, Band] = {}
    for figure_id, by_input in short.moved.items():
        value = full.get(figure_id)
        if value is not None:
            scale = _scale(value, short.nominal[figure_id])
            swings = {path: (down * scale, up * scale) for path, (down, up) in by_input.items()}
            found[figure_id] = _combined(value.si, swings)
    return found


def _scale(full: Value, short: Value) -> float:
    """Return what a short run's deviation is taken times: nothing for shares and temperatures."""
    if full.unit in DIFFERENCES or full.si <= 0.0 or short.si <= 0.0:
        return 1.0
    return full.si / short.si


def _combined(nominal: float, by_input: Mapping[str, tuple[float, float]]) -> Band:
    down = math.sqrt(sum(min(*pair, 0.0) ** 2 for pair in by_input.values()))
    up = math.sqrt(sum(max(*pair, 0.0) ** 2 for pair in by_input.values()))
    return Band(nominal - down, nominal + up, dict(by_input))
