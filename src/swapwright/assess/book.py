"""The book a solve writes its figures into: each made from entries and other figures by name."""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Iterator, Mapping, MutableMapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from types import MappingProxyType

from swapwright.assess.runs import RecordedRun
from swapwright.base.curve import Curve
from swapwright.base.errors import Missing
from swapwright.base.figure import Figure, LookedUp, Value, Working, record_result, record_sum
from swapwright.build.car import Car
from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.model import Circuit
from swapwright.build.network import Network, network_of
from swapwright.physics.workings import ALL
from swapwright.simulate.inputs import Setup
from swapwright.standards.ratings import STEP_BUDGET

Source = str | Value
NO_NUMBER = "no finite number comes of these inputs"


@lru_cache(maxsize=1)
def _workings() -> Mapping[Callable[..., float], Working]:
    return MappingProxyType({working.function: working for working in ALL})


@dataclass(frozen=True)
class _Formula:
    """A formula as a book asks it: in plain Python, with the values of what it may leave out."""

    working: Working
    function: Callable[..., float]
    defaults: Mapping[str, Value]


@lru_cache(maxsize=512)
def _formula(function: Callable[..., float]) -> _Formula:
    working = _workings()[function]
    units = {symbol.argument: symbol.unit for symbol in working.symbols.values()}
    defaults = {
        name: Value(parameter.default, units[name], "standard", working.sources[0])
        for name, parameter in inspect.signature(function).parameters.items()
        if parameter.default is not inspect.Parameter.empty
    }
    return _Formula(working, getattr(function, "py_func", function), defaults)


def standard(si: float, unit: str, source: str) -> Value:
    """Return a value that a standard, a textbook or the trade gives: SI number, unit, source id."""
    return Value(si, unit, "standard", source)


def _number(function: Callable[..., float], numbers: Mapping[str, float]) -> float:
    """Return what a formula gives; outside the range it has an answer in that is no number."""
    try:
        return float(function(**numbers))
    except (ArithmeticError, ValueError):
        return math.nan


class FigureBook:
    """The figures of one car while they are being made, and why others could not be.

    Names are figure ids or build paths; a name that is neither is missing, and so is every figure
    that needs it. With ``keep=False`` only the numbers are kept, for the many runs of a band.
    ``curves`` are those a stage makes of what it has at hand.
    ``steps_left`` is what the runs to empty may still take; whoever makes one takes its steps off.
    ``recorded`` holds runs that later stages look at again, by name. ``kits`` are the car as the
    kernel drives it, by whether every gear may be used.
    """

    def __init__(self, car: Car, *, keep: bool = True) -> None:
        """Open an empty book on a car."""
        self.car = car
        self.keep = keep
        self.figures: dict[str, Figure] = {}
        self.values: MutableMapping[str, Value] = {}
        self.missing: dict[str, tuple[str, ...]] = {}
        self.reasons: dict[str, str] = {}
        self.assumed: list[str] = []
        self.recorded: dict[str, RecordedRun] = {}
        self.kits: dict[bool, Setup] = {}
        self.curves: dict[str, Curve] = {}
        self.steps_left = int(STEP_BUDGET.si)

    @cached_property
    def circuit(self) -> Circuit:
        """The car's high-voltage circuit."""
        return circuit_of(self.car)

    @cached_property
    def network(self) -> Network:
        """The car's buses, messages and lines."""
        return network_of(self.car)

    def value(self, name: str) -> Value:
        """Return a figure's or an entry's value; raise Missing, with what would give it."""
        found = self.values.get(name)
        if found is not None:
            return found
        if name in self.missing:
            raise Missing(*self.missing[name], reason=self.reasons.get(name, ""))
        return self.car.value(name)

    def number(self, name: str) -> float:
        """Return the SI number of a figure or an entry; raise Missing as `value` does."""
        return self.value(name).si

    def get(self, name: str) -> float | None:
        """Return the SI number of a figure or an entry, or None where there is none."""
        found = self.values.get(name)
        if found is None and name not in self.missing:
            found = self.car.get(name)
        return None if found is None else found.si

    def has(self, *names: str) -> bool:
        """Tell whether every one of these figures or entries is there."""
        return all(self.get(name) is not None for name in names)

    def add(self, figure: Figure) -> None:
        """Keep a figure; its id must be new."""
        if figure.id in self.values:
            raise ValueError(f"figure {figure.id} is made twice")
        self.figures[figure.id] = figure
        self.values[figure.id] = figure.value

    def assume(self, path: str, si: float, unit: str, source: str) -> Value:
        """Put what is typical of its kind at a build path that says nothing, listed as assumed."""
        if path not in self.values:
            self.values[path] = Value(si, unit, "default", source)
            self.assumed.append(path)
        return self.values[path]

    def is_number(self, figure_id: str, si: float) -> bool:
        """Tell whether a figure's number is finite; where it is not, note it as missing."""
        if math.isfinite(si):
            return True
        self.note_missing(figure_id, Missing(reason=f"{figure_id} has no value: {NO_NUMBER}"))
        return False

    def _keeps_number_only(self, figure_id: str, si: float, unit: str) -> bool:
        """Tell whether the book keeps numbers only; if so, keep this one."""
        if not self.keep:
            self.values[figure_id] = Value(si, unit, "computed", figure_id)
        return not self.keep

    def note_missing(self, figure_id: str, *lacking: Missing) -> None:
        """Note why a figure could not be made: the inputs that are not there, or the reasons."""
        paths = dict.fromkeys(path for missing in lacking for path in missing.paths)
        reasons = dict.fromkeys(missing.reason for missing in lacking if missing.reason)
        self.missing[figure_id] = tuple(paths)
        if reasons:
            self.reasons[figure_id] = "; ".join(reasons)

    def make(
        self, function: Callable[..., float], figure_id: str, *, label: str = "", **sources: Source
    ) -> None:
        """Make a figure by a formula, each argument from a figure, an entry or a Value.

        See `make_from`.
        """
        self.make_from(function, figure_id, label, sources)

    def make_from(
        self,
        function: Callable[..., float],
        figure_id: str,
        label: str,
        sources: Mapping[str, Source],
    ) -> None:
        """Make a figure by a formula, with its arguments' sources in a mapping.

        Arguments with a default in the formula (physical constants) may be left out. Where an input
        is missing the figure is noted as missing, with the paths that would give it; where no
        finite number comes of them (a power no current can give) it is missing too, and says so.
        """
        # The most called of all: a solve makes more than a thousand figures here.
        formula, made = _formula(function), self.values
        lacking: list[Missing] = []
        values: dict[str, Value] = {}
        for argument, source in sources.items():
            if isinstance(source, Value):
                values[argument] = source
                continue
            found = made.get(source)
            if found is None:
                try:
                    found = self.value(source)
                except Missing as missing:
                    lacking.append(missing)
                    continue
            values[argument] = found
        if lacking:
            self.note_missing(figure_id, *lacking)
            return
        if formula.defaults:
            values = {**formula.defaults, **values}
        number = _number(formula.function, {name: value.si for name, value in values.items()})
        if not self.is_number(figure_id, number):
            return
        working = formula.working
        if not self._keeps_number_only(figure_id, number, working.result.unit):
            self.add(record_result(working, figure_id, number, label=label, values=values))

    def total(
        self,
        figure_id: str,
        label: str,
        unit: str,
        rows: Sequence[tuple[str, Source, float]],
        kind: str = "",
    ) -> None:
        """Make a figure that is a sum of rows (label, name or Value, sign +1 or -1)."""
        lacking: list[Missing] = []
        summed: list[tuple[str, Value]] = []
        numbers: list[float] = []
        for name, source, sign in rows:
            try:
                value = source if isinstance(source, Value) else self.value(source)
            except Missing as missing:
                lacking.append(missing)
                continue
            numbers.append(value.si if sign > 0 else -value.si)
            if self.keep:
                summed.append((name, value if sign > 0 else replace(value, si=-value.si)))
        if lacking:
            self.note_missing(figure_id, *lacking)
            return
        si = math.fsum(numbers)
        if self.is_number(figure_id, si) and not self._keeps_number_only(figure_id, si, unit):
            self.add(record_sum(figure_id, label, unit, summed, kind))

    def look_up(
        self,
        figure_id: str,
        label: str,
        si: float,
        unit: str,
        cell: LookedUp,
        kind: str = "",
        **inputs: Value,
    ) -> None:
        """Make a figure of a number read from a table; one that is not finite is missing."""
        if not self.is_number(figure_id, si) or self._keeps_number_only(figure_id, si, unit):
            return
        self.add(
            Figure(
                figure_id,
                label,
                Value(si, unit, "computed", figure_id),
                cell,
                MappingProxyType(inputs),
                kind,
            )
        )

    @contextmanager
    def attempt(self, *figure_ids: str) -> Iterator[None]:
        """Run a block that makes these figures; where it lacks an input, note them as missing."""
        try:
            yield
        except Missing as missing:
            for figure_id in figure_ids:
                if figure_id not in self.values:
                    self.note_missing(figure_id, missing)
