"""Workings as trees, down to what the owner typed and what was assumed."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from swapwright.base.errors import InputError, Problem
from swapwright.base.figure import Figure, LookedUp, SimulatedWorking, Summed, Value, Working
from swapwright.base.finding import Finding
from swapwright.jobs.check import Checked
from swapwright.jobs.grounds import figure_kind, value_kind
from swapwright.jobs.headline import headline_ids
from swapwright.jobs.lacking import lacks_of, reason_of

MOST_NEAR = 3
LEAST_WORD = 4
DRIVE_MAP = "swapwright-drive-map"
MAP_IS_MADE_OF = (
    "unit.peak_force",
    "unit.top_speed",
    "unit2.peak_force",
    "unit2.top_speed",
    "tyre.radius",
    "traction.limit",
    "road.a",
    "road.b",
    "road.c",
    "pack.voltage_nominal",
    "pack.resistance",
)
"""What the drive map is made of beside the inputs a figure read from it names."""


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
    """A figure and what it is made of.

    ``is_repeated`` where it stands opened further up, ``is_cut`` where it lies too deep to be.
    ``rows`` of a sum are its branches and leaves in order, each label a row's name.
    """

    symbol: str
    label: str
    figure: Figure
    kind: str
    children: tuple[Branch | Leaf, ...]
    is_repeated: bool = False
    is_cut: bool = False


@dataclass(frozen=True)
class Shown:
    """A figure's tree, and what moves it most: (build path, low end, high end) of its band, SI."""

    root: Branch
    moved_by: tuple[tuple[str, float, float], ...]


@dataclass(frozen=True)
class Answer:
    """What was asked for: one figure, or the findings of a rule with the figures they rest on."""

    findings: tuple[Finding, ...]
    shown: tuple[Shown, ...]


def working_of(checked: Checked, name: str, depth: int | None = None) -> Answer:
    """Return the working of one figure, or of every figure under the findings of one rule.

    ``depth`` is how many levels of workings are opened, None for all. Raises InputError where there
    is neither, naming near ones or what the figure lacks.
    """
    assessment = checked.assessment
    if name in assessment.figures:
        return Answer((), (_shown(checked, name, depth),))
    found = tuple(finding for finding in assessment.findings if finding.rule == name)
    if not found:
        raise InputError(_no_such(checked, name))
    ids = dict.fromkeys(each for finding in found for each in _rests_on(finding))
    made = (each for each in ids if each in assessment.figures)
    return Answer(found, tuple(_shown(checked, each, depth) for each in made))


def _rests_on(finding: Finding) -> Iterator[str]:
    """Yield the ids a finding names: its figures, and its value and limit."""
    yield from finding.figures
    for value in (finding.value, finding.limit):
        if value is not None and value.origin == "computed":
            yield value.ref


def _shown(checked: Checked, figure_id: str, depth: int | None) -> Shown:
    root = _Tree(checked, depth).branch("", "", figure_id, 0)
    swings = checked.assessment.swings.get(figure_id, {})
    moved = [(path, low, high) for path, (low, high) in swings.items()]
    moved.sort(key=lambda row: -max(abs(row[1]), abs(row[2])))
    return Shown(root, tuple(moved))


def _no_such(checked: Checked, name: str) -> Problem:
    assessment, file = checked.assessment, checked.opened.file
    if name in assessment.missing:
        why = reason_of(assessment, name)
        if not why:
            needs = lacks_of(assessment, checked.opened.car, name)
            why = f"the build does not give {', '.join(needs)}"
        return Problem(file, "", f"the figure {name} cannot be made: {why}")
    known = [*assessment.figures, *assessment.missing]
    known += [finding.rule for finding in assessment.findings]
    return Problem(
        file,
        "",
        "there is no such figure or rule",
        given=name,
        allowed=f"such as {', '.join(_EXAMPLES)}; --names tells those of the page",
        nearest=" or ".join(_near(name, known, assessment.figures)),
    )


_EXAMPLES = ("range.combined", "accel.0_60mph", "top_speed.peak", "pack.energy", "mass.kerb")


def near_figures(checked: Checked, name: str) -> tuple[str, ...]:
    """Return up to three ids of figures, made or missing, that are like a name."""
    assessment = checked.assessment
    return _near(name, [*assessment.figures, *assessment.missing], assessment.figures)


def _near(name: str, known: Sequence[str], figures: Mapping[str, Figure]) -> tuple[str, ...]:
    """Return up to three ids like a name: those that hold the word, headline figures first."""
    from difflib import get_close_matches

    word = name.strip().casefold()
    ordered = dict.fromkeys([*(each for each in headline_ids() if each in known), *known])
    if len(word) >= LEAST_WORD:
        labels = {each: figures[each].label.casefold() for each in ordered if each in figures}
        holding = [each for each in ordered if word in each or word in labels.get(each, "")]
        if holding:
            return tuple(holding[:MOST_NEAR])
    return tuple(get_close_matches(word[:200], ordered, n=MOST_NEAR, cutoff=0.7))


def _row_label(label: str, value: Value) -> str:
    """Return a row's label, saying where a sum takes it away."""
    return f"less {label}" if value.si < 0.0 and value.origin == "computed" else label


class _Tree:
    """A tree being made: each figure is opened once, down to a depth."""

    def __init__(self, checked: Checked, depth: int | None) -> None:
        self.figures: Mapping[str, Figure] = checked.assessment.figures
        self.build = checked.opened.build
        self.depth = math.inf if depth is None else depth
        self.opened: set[str] = set()

    def branch(self, symbol: str, label: str, figure_id: str, level: int) -> Branch:
        figure = self.figures[figure_id]
        is_repeated = figure_id in self.opened and bool(figure.inputs)
        is_cut = not is_repeated and level >= self.depth
        children: tuple[Branch | Leaf, ...] = ()
        if not is_repeated and not is_cut:
            self.opened.add(figure_id)
            children = tuple(self.children(figure, level + 1))
        return Branch(
            symbol,
            label or figure.label,
            figure,
            figure_kind(figure),
            children,
            is_repeated,
            is_cut,
        )

    def children(self, figure: Figure, level: int) -> Iterator[Branch | Leaf]:
        working = figure.working
        if isinstance(working, Summed):
            for label, value in working.rows:
                yield self.child("", _row_label(label, value), value, figure_kind(figure), level)
        elif isinstance(working, Working):
            for letter, value in figure.inputs.items():
                symbol = working.symbols[letter]
                yield self.child(letter, symbol.label, value, symbol.kind, level)
        elif isinstance(working, SimulatedWorking):
            label = f"short estimate: {working.estimate.label}"
            yield self.branch("", label, working.estimate.id, level)
        elif isinstance(working, LookedUp):
            for name, value in figure.inputs.items():
                yield self.child("", name.replace("_", " "), value, "", level)
            if working.source == DRIVE_MAP:
                for figure_id in filter(self.figures.__contains__, MAP_IS_MADE_OF):
                    yield self.branch("", "", figure_id, level)

    def child(self, symbol: str, label: str, value: Value, kind: str, level: int) -> Branch | Leaf:
        if value.origin == "computed" and value.ref in self.figures:
            return self.branch(symbol, label, value.ref, level)
        line = self.build.line(value.ref) if value.origin == "entered" else None
        return Leaf(symbol, label, value, value_kind(value, self.figures, kind), line)
