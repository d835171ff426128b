"""One figure and its working, as a page shows it: one level deep, each input a step further."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from swapwright.base.display import show
from swapwright.base.figure import Figure, LookedUp, SimulatedWorking, Summed, Value, Working
from swapwright.base.finding import Finding
from swapwright.base.kinds import KINDS, squash
from swapwright.jobs.check import Checked
from swapwright.jobs.entry_row import kind_at
from swapwright.jobs.figure_text import FigureText, Telling
from swapwright.jobs.formula import Formula, formula_of, letter_of, number_of, with_numbers
from swapwright.jobs.grounds import figure_kind, own_sources, value_kind, working_kind
from swapwright.jobs.resting import RestingFindings, above, findings_on, leaves, under
from swapwright.jobs.stage import Stage, stage_of_figure
from swapwright.jobs.telling import in_one_unit, tell, value_text
from swapwright.jobs.whence import Place, SourceText, Whence, Whences, place_of, source_text

MOST_NEAR = 12
"""Entered inputs named under a figure that no uncertain input moves."""
LEAST_SHARE = 1e-9
"""Share of a ledger's largest row below which a row is nothing."""
SUM_DIGITS = 5


@dataclass(frozen=True)
class InputRow:
    """One thing that goes into a figure; ``number`` is what stands in the expression, SI."""

    letter: Formula | None
    label: str
    told: str
    number: Formula
    unit: str
    whence: Whence


@dataclass(frozen=True)
class Mover:
    """One uncertain input, what it is now, and what the figure becomes at its two ends."""

    place: Place
    given: str
    low: str
    high: str


@dataclass(frozen=True)
class Expression:
    """A closed form: with its letters, with its numbers in SI units, and what comes of it."""

    letters: Formula
    numbers: Formula
    result: Formula
    unit: str
    assumes: str
    not_covered: str
    holds_where: str


@dataclass(frozen=True)
class Row:
    """One row of a table of working: its name, its number as shown, a share or a remark."""

    label: str
    text: str
    share: str = ""
    whence: Whence | None = None


@dataclass(frozen=True)
class Simulation:
    """A simulated figure: equations, settings, where the energy went, an independent estimate."""

    equations: tuple[str, ...]
    settings: tuple[tuple[str, str], ...]
    ledger: tuple[Row, ...]
    sum: str
    estimate: FigureText
    deviation: str


@dataclass(frozen=True)
class Sum:
    """A sum: its rows in one unit, and the total."""

    rows: tuple[Row, ...]
    total: str


@dataclass(frozen=True)
class Link:
    """Another figure: its id and label."""

    id: str
    label: str


@dataclass(frozen=True)
class FigurePage:
    """One figure as its page shows it; one of ``expression``, ``simulation``, ``table``, ``sum``.

    ``movers`` are the uncertain inputs that move it, most first; where there are none ``still``
    says so, and ``near`` are the entered inputs nearest to it.
    """

    told: FigureText
    stage: Stage
    how: str
    worlds: tuple[tuple[str, str], ...]
    movers: tuple[Mover, ...]
    still: str
    near: tuple[Place, ...]
    expression: Expression | None
    simulation: Simulation | None
    table: LookedUp | None
    sum: Sum | None
    inputs: tuple[InputRow, ...]
    others: tuple[Link, ...]
    sources: tuple[SourceText, ...]
    findings: RestingFindings
    used_in: tuple[Link, ...]


@dataclass(frozen=True)
class MissingPage:
    """A figure that is not there: why, and the entries that would give it."""

    id: str
    stage: Stage
    why: str
    needs: tuple[Place, ...]
    findings: tuple[Finding, ...]


def figure_page(telling: Telling, figure_id: str) -> FigurePage | MissingPage | None:
    """Return a figure's page, that of one that is not there, or None for an id of neither."""
    assessment = telling.checked.assessment
    if figure_id in assessment.figures:
        return _Page(telling, assessment.figures[figure_id]).made()
    if figure_id not in assessment.missing:
        return None
    told = telling.figure(figure_id)
    return MissingPage(
        figure_id,
        stage_of_figure(figure_id),
        told.why,
        tuple(place_of(telling.checked, path) for path in told.needs),
        tuple(each for each in assessment.findings if figure_id in each.figures),
    )


class _Page:
    """Makes the page of one figure."""

    def __init__(self, telling: Telling, figure: Figure) -> None:
        self.telling, self.figure = telling, figure
        self.checked: Checked = telling.checked
        self.figures = self.checked.assessment.figures
        self.kind = figure_kind(figure)
        self.whences = Whences(self.checked)

    def made(self) -> FigurePage:
        figure, figures = self.figure, self.figures
        working = figure.working
        movers = tuple(self.movers())
        users = above(figures)
        shown = {value.ref for value in figure.inputs.values()}
        return FigurePage(
            self.telling.figure(figure.id),
            stage_of_figure(figure.id),
            working_kind(figure),
            self.worlds(),
            movers,
            "" if movers else self.still(),
            () if movers else tuple(self.near()),
            self.expression(working) if isinstance(working, Working) else None,
            self.simulation(working) if isinstance(working, SimulatedWorking) else None,
            working if isinstance(working, LookedUp) else None,
            self.summed(working) if isinstance(working, Summed) else None,
            () if isinstance(working, Summed | SimulatedWorking) else tuple(self.inputs()),
            tuple(self.link(each) for each in under(figure, figures) if each not in shown),
            tuple(source_text(each) for each in own_sources(figure)),
            findings_on(figure.id, self.checked.assessment.findings, users),
            tuple(self.link(each) for each in users.get(figure.id, ())),
        )

    def worlds(self) -> tuple[tuple[str, str], ...]:
        """Return the value in both worlds; once where they use the same unit."""
        if not self.kind:
            return (("in SI units", value_text(self.figure.value, "", self.telling.profile)),)
        value, kind = self.figure.value, self.kind
        texts = [self.told(value, kind, world) for world in ("electric", "engine")]
        if texts[0] == texts[1]:
            return (("in both worlds", texts[0]),)
        return ("electric", texts[0]), ("engine", texts[1])

    def movers(self) -> Iterator[Mover]:
        swings = self.checked.assessment.swings.get(self.figure.id, {})
        ranked = sorted(swings.items(), key=lambda row: -max(map(abs, row[1])))
        for path, (low, high) in ranked:
            place = place_of(self.checked, path)
            value = self.checked.opened.car.get(path)
            yield Mover(
                place,
                "" if value is None else self.told(value, value_kind(value, {}, kind_at(path))),
                self.moved(low),
                self.moved(high),
            )

    def moved(self, change: float) -> str:
        """Return what the figure becomes when it is moved by so much, and by which share."""
        si = self.figure.value.si
        becomes = self.number(si + change, self.kind)
        if self.kind == "temperature":
            apart = tell(abs(change), "temperature_difference", self.telling.profile, digits=2)
            return f"{becomes} ({'+' if change >= 0.0 else '−'}{apart})"
        share = f"{100.0 * change / si:+.1f} %" if si else "from nothing"
        return f"{becomes} ({share.replace('-', '−')})"

    def still(self) -> str:
        """Return in words why no input is named that moves the figure."""
        if any(value.is_uncertain for value in leaves(self.figure.id, self.figures)):
            return "Uncertain values stand under this figure, but how far they move it is not known"
        return "No uncertain input moves this figure"

    def near(self) -> Iterator[Place]:
        """Yield the entries nearest to the figure, those that are uncertain first."""
        found: dict[str, bool] = {}
        for value in leaves(self.figure.id, self.figures):
            is_default = value.origin == "default"
            path = self.whences.path_of_default(value) if is_default else value.ref
            if path and (is_default or value.origin == "entered"):
                found.setdefault(path, value.is_uncertain)
        ranked = sorted(found, key=lambda path: not found[path])
        yield from (place_of(self.checked, path) for path in ranked[:MOST_NEAR])

    def expression(self, working: Working) -> Expression:
        numbers = {letter: value.si for letter, value in self.figure.inputs.items()}
        return Expression(
            formula_of(working.expression),
            with_numbers(working.expression, numbers),
            number_of(self.figure.value.si),
            _unit(self.figure.value),
            working.assumes,
            working.not_covered,
            working.valid,
        )

    def inputs(self) -> Iterator[InputRow]:
        working = self.figure.working
        for name, value in self.figure.inputs.items():
            if isinstance(working, Working):
                symbol = working.symbols[name]
                letter, label, hint = letter_of(name), symbol.label, symbol.kind
            else:
                letter, label, hint = None, name.replace("_", " "), ""
            kind = value_kind(value, self.figures, hint)
            told = self.told(value, kind)
            yield InputRow(
                letter, label, told, number_of(value.si), _unit(value), self.whences.of(value)
            )

    def simulation(self, working: SimulatedWorking) -> Simulation:
        largest = max((abs(energy) for energy in working.ledger.values()), default=0.0)
        texts = in_one_unit({**working.ledger, "": sum(working.ledger.values())})
        rows = tuple(
            Row(
                name,
                _signed(texts[name]),
                tell(abs(energy) / largest, "fraction", "metric", digits=2),
            )
            for name, energy in working.ledger.items()
            if largest and abs(energy) > LEAST_SHARE * largest
        )
        return Simulation(
            working.equations,
            tuple(working.settings.items()),
            rows,
            _signed(texts[""]),
            self.telling.figure(working.estimate.id),
            f"{100.0 * working.deviation:+.1f} %".replace("-", "−"),
        )

    def summed(self, working: Summed) -> Sum:
        values = [value for _, value in working.rows]
        texts = self.in_one_unit([*values, self.figure.value])
        rows = tuple(
            Row(label, text, whence=self.whences.of(value))
            for (label, value), text in zip(working.rows, texts, strict=False)
        )
        return Sum(rows, texts[-1])

    def in_one_unit(self, values: list[Value]) -> tuple[str, ...]:
        """Return a sum's rows and its total in the total's unit, to the same last digit."""
        if not self.kind or self.kind in ("temperature", "temperature_difference"):
            return tuple(_signed(f"{value.si:.6g} {_unit(value)}".rstrip()) for value in values)
        largest = max(values, key=lambda value: abs(value.si)).si
        shown = show(largest, self.kind, profile=self.telling.profile, world=self.telling.world)
        unit = shown.partition(" ")[2]
        scale = KINDS[self.kind].units[squash(unit)]
        numbers = [scale.from_si(value.si) for value in values]
        whole = len(str(int(max(map(abs, numbers)))))
        places = max(SUM_DIGITS - whole, 0)
        return tuple(_signed(f"{number:.{places}f} {unit}".rstrip()) for number in numbers)

    def told(self, value: Value, kind: str, world: str = "") -> str:
        """Return a value with its band, in the world asked for or else the person's."""
        if not kind:
            return value_text(value, "", self.telling.profile)
        low, high = (value.low, value.high) if value.is_uncertain else (None, None)
        world = world or self.telling.world
        told = tell(value.si, kind, self.telling.profile, world=world, low=low, high=high)
        return told.replace("..", " to ")

    def number(self, si: float, kind: str) -> str:
        return tell(si, kind, self.telling.profile, world=self.telling.world) if kind else f"{si:g}"

    def link(self, figure_id: str) -> Link:
        return Link(figure_id, self.figures[figure_id].label)


def _unit(value: Value) -> str:
    return "" if value.unit == "1" else value.unit


def _signed(text: str) -> str:
    """Return a number's text with a true minus sign, and none before nothing."""
    digits = text.split(" ")[0]
    if digits.startswith("-") and not float(digits):
        return text[1:]
    return text.replace("-", "−", 1) if digits.startswith("-") else text
