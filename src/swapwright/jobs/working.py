"""One figure's working as a tree, down to what the owner typed and what was assumed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from swapwright.assess.assessment import Assessment
from swapwright.base.errors import InputError, Problem
from swapwright.base.figure import Figure, LookedUp, SimulatedWorking, Summed, Value, Working
from swapwright.base.nearest import nearest
from swapwright.jobs.check import Checked
from swapwright.jobs.grounds import figure_kind, value_kind


@dataclass(frozen=True)
class Leaf:
    """A value at the end of a branch: entered, of a part, of a standard or assumed.

    ``symbol`` is its letter in the expression above it; ``line`` its line in the build file.
    """

    symbol: str
    label: str
    value: Value
    kind: str
    line: int | None


@dataclass(frozen=True)
class Branch:
    """A figure and what it is made of; ``is_repeated`` where it stands in full further up.

    ``rows`` of a sum are its branches and leaves in order, each label a row's name.
    """

    symbol: str
    label: str
    figure: Figure
    kind: str
    children: tuple[Branch | Leaf, ...]
    is_repeated: bool = False


@dataclass(frozen=True)
class Shown:
    """A figure's tree, and what moves it most: (build path, low end, high end) of its band, SI."""

    root: Branch
    moved_by: tuple[tuple[str, float, float], ...]


def working_of(checked: Checked, figure_id: str) -> Shown:
    """Return one figure's working.

    Raises InputError where there is no such figure, naming the nearest or what it lacks.
    """
    assessment = checked.assessment
    if figure_id not in assessment.figures:
        raise InputError(_no_such_figure(checked, figure_id))
    root = _Tree(checked).branch("", "", figure_id)
    swings = assessment.swings.get(figure_id, {})
    moved = [(path, low, high) for path, (low, high) in swings.items()]
    moved.sort(key=lambda row: -max(abs(row[1]), abs(row[2])))
    return Shown(root, tuple(moved))


def _no_such_figure(checked: Checked, figure_id: str) -> Problem:
    assessment = checked.assessment
    if figure_id in assessment.missing:
        needs = ", ".join(assessment.missing[figure_id])
        message = f"the figure {figure_id} cannot be made: the build does not give {needs}"
        return Problem(checked.opened.file, "", message)
    close = nearest(figure_id, _ids(assessment))
    return Problem(
        checked.opened.file, "", "there is no such figure", given=figure_id, nearest=close
    )


def _ids(assessment: Assessment) -> Iterator[str]:
    yield from assessment.figures
    yield from assessment.missing


def _row_label(label: str, value: Value) -> str:
    """Return a row's label, saying where a sum takes it away."""
    return f"less {label}" if value.si < 0.0 and value.origin == "computed" else label


class _Tree:
    """A tree being made: each figure is opened once, where it first stands."""

    def __init__(self, checked: Checked) -> None:
        self.figures: Mapping[str, Figure] = checked.assessment.figures
        self.build = checked.opened.build
        self.opened: set[str] = set()

    def branch(self, symbol: str, label: str, figure_id: str) -> Branch:
        figure = self.figures[figure_id]
        is_repeated = figure_id in self.opened and bool(figure.inputs)
        self.opened.add(figure_id)
        children = () if is_repeated else tuple(self.children(figure))
        return Branch(
            symbol, label or figure.label, figure, figure_kind(figure), children, is_repeated
        )

    def children(self, figure: Figure) -> Iterator[Branch | Leaf]:
        working = figure.working
        if isinstance(working, Summed):
            for label, value in working.rows:
                yield self.child("", _row_label(label, value), value, figure_kind(figure))
        elif isinstance(working, Working):
            for letter, value in figure.inputs.items():
                symbol = working.symbols[letter]
                yield self.child(letter, symbol.label, value, symbol.kind)
        elif isinstance(working, SimulatedWorking):
            yield self.branch("", f"short estimate: {working.estimate.label}", working.estimate.id)
        elif isinstance(working, LookedUp):
            for name, value in figure.inputs.items():
                yield self.child("", name.replace("_", " "), value, "")

    def child(self, symbol: str, label: str, value: Value, kind: str) -> Branch | Leaf:
        if value.origin == "computed" and value.ref in self.figures:
            return self.branch(symbol, label, value.ref)
        line = self.build.line(value.ref) if value.origin == "entered" else None
        return Leaf(symbol, label, value, value_kind(value, self.figures, kind), line)
