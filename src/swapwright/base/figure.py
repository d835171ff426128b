"""Numbers with their past: Value, Working, Figure, and `record`, the one way to make a figure."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType
from typing import Literal

from swapwright.base.errors import WorkingError

Origin = Literal["entered", "part", "default", "measured", "computed", "standard"]


@dataclass(frozen=True, slots=True)
class Value:
    """One number with its past.

    ``si`` in the SI unit named by ``unit``; ``ref`` is the build path, part id, figure id or source
    id it came from; ``low``/``high`` bound it where it is uncertain.
    """

    si: float
    unit: str
    origin: Origin
    ref: str
    low: float | None = None
    high: float | None = None

    @property
    def is_uncertain(self) -> bool:
        """Tell whether the value is a range."""
        return self.low is not None and self.high is not None

    def within(self, low: float, high: float) -> Value:
        """Return the same value with bounds."""
        return Value(self.si, self.unit, self.origin, self.ref, low, high)


@dataclass(frozen=True)
class Symbol:
    """A letter of an expression: the argument it stands for, its SI unit, its valid range.

    ``low``/``high`` bound the range the expression is valid (and tested) in; ``kind`` is the
    quantity kind for display (`base.quantity`), by default the first kind with that unit.
    """

    argument: str
    unit: str
    low: float
    high: float
    label: str
    kind: str = ""


@dataclass(frozen=True)
class Working:
    """How a function computes: a plain record beside the untouched function."""

    function: Callable[..., float]
    expression: str
    symbols: Mapping[str, Symbol]
    result: Symbol
    sources: tuple[str, ...]
    assumes: str
    not_covered: str
    valid: str = ""

    @cached_property
    def by_argument(self) -> Mapping[str, tuple[str, Symbol]]:
        """Return each argument's letter and symbol."""
        return MappingProxyType(
            {symbol.argument: (letter, symbol) for letter, symbol in self.symbols.items()}
        )


@dataclass(frozen=True)
class SimulatedWorking:
    """What a simulated figure shows: equations, settings, energy ledger, an independent estimate.

    ``ledger`` is in J and sums to zero within 1e-6 of its largest entry.
    """

    equations: tuple[str, ...]
    settings: Mapping[str, str]
    sources: tuple[str, ...]
    ledger: Mapping[str, float]
    estimate: Figure
    deviation: float


@dataclass(frozen=True)
class LookedUp:
    """A number read from a published table or a part's own table."""

    table: str
    row: str
    column: str
    source: str


@dataclass(frozen=True)
class Summed:
    """A sum over a list of things: (label, value) rows."""

    rows: tuple[tuple[str, Value], ...]
    sources: tuple[str, ...] = ()


@dataclass(frozen=True)
class Figure:
    """A computed quantity with its working; ``inputs`` lead to the figures and entries under it."""

    id: str
    label: str
    value: Value
    working: Working | SimulatedWorking | LookedUp | Summed
    inputs: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))
    kind: str = ""


def record(working: Working, figure_id: str, *, label: str = "", **values: Value) -> Figure:
    """Compute a figure from a working and its inputs, keeping both.

    ``values`` are keyed by the function's argument names. Raises WorkingError when a name or a
    unit does not fit the working, or when the result is not a finite number.
    """
    inputs = _inputs(working, figure_id, values)
    function = getattr(working.function, "py_func", working.function)
    result = float(function(**{argument: value.si for argument, value in values.items()}))
    return _recorded(working, figure_id, result, label, inputs)


def record_result(
    working: Working, figure_id: str, result: float, *, label: str, values: Mapping[str, Value]
) -> Figure:
    """Keep a figure that a working's function gave of these values; raises as `record` does."""
    return _recorded(working, figure_id, result, label, _inputs(working, figure_id, values))


def _inputs(working: Working, figure_id: str, values: Mapping[str, Value]) -> Mapping[str, Value]:
    by_argument = working.by_argument
    if values.keys() != by_argument.keys():
        wrong = set(values) ^ set(by_argument)
        raise WorkingError(f"{figure_id}: arguments do not fit the working: {sorted(wrong)}")
    inputs: dict[str, Value] = {}
    for argument, value in values.items():
        letter, symbol = by_argument[argument]
        if value.unit != symbol.unit:
            raise WorkingError(
                f"{figure_id}: {argument} is in {value.unit!r}, the working needs {symbol.unit!r}"
            )
        inputs[letter] = value
    return MappingProxyType(inputs)


def _recorded(
    working: Working, figure_id: str, result: float, label: str, inputs: Mapping[str, Value]
) -> Figure:
    if not math.isfinite(result):
        raise WorkingError(f"{figure_id}: the working gave {result}")
    return Figure(
        id=figure_id,
        label=label or working.result.label,
        value=Value(result, working.result.unit, "computed", figure_id),
        working=working,
        inputs=inputs,
        kind=working.result.kind,
    )


def record_sum(
    figure_id: str, label: str, unit: str, rows: Sequence[tuple[str, Value]], kind: str = ""
) -> Figure:
    """Sum rows that share one SI unit into a figure.

    Raises WorkingError when a row has another unit.
    """
    for name, value in rows:
        if value.unit != unit:
            raise WorkingError(f"{figure_id}: row {name!r} is in {value.unit!r}, not {unit!r}")
    total = math.fsum(value.si for _, value in rows)
    return Figure(
        id=figure_id,
        label=label,
        value=Value(total, unit, "computed", figure_id),
        working=Summed(tuple(rows)),
        inputs=MappingProxyType({f"row_{i}": value for i, (_, value) in enumerate(rows, start=1)}),
        kind=kind,
    )
