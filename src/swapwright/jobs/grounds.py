"""What a figure rests on: its sources, the defaults under it, its kind of quantity."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from swapwright.assess.assessment import Assessment
from swapwright.assess.book import FigureBook
from swapwright.assess.grounds import Grounds
from swapwright.base.errors import UnitError
from swapwright.base.figure import Figure, LookedUp, SimulatedWorking, Value, Working
from swapwright.base.finding import Finding
from swapwright.base.kinds import KINDS
from swapwright.base.quantity import kind_of_unit
from swapwright.build.car import Car
from swapwright.jobs.entry_row import kind_at

WORKING_KINDS = ("closed form", "simulated", "looked up", "summed")


def working_kind(figure: Figure) -> str:
    """Return how a figure was made, one of `WORKING_KINDS`."""
    if isinstance(figure.working, Working):
        return "closed form"
    if isinstance(figure.working, SimulatedWorking):
        return "simulated"
    return "looked up" if isinstance(figure.working, LookedUp) else "summed"


def count_by_kind(assessment: Assessment) -> Mapping[str, int]:
    """Return how many figures were made in each way."""
    made = [working_kind(figure) for figure in assessment.figures.values()]
    return {kind: made.count(kind) for kind in WORKING_KINDS}


def figure_kind(figure: Figure) -> str:
    """Return the quantity kind a figure is shown as."""
    return figure.kind or _kind_of(figure.value.unit)


def value_kind(value: Value, figures: Mapping[str, Figure], hint: str = "") -> str:
    """Return the quantity kind of a value: its figure's, the hint, or the first of its unit."""
    figure = figures.get(value.ref) if value.origin == "computed" else None
    if figure is not None:
        return figure_kind(figure)
    return hint or _kind_of(value.unit)


def finding_kind(finding: Finding, figures: Mapping[str, Figure]) -> str:
    """Return the quantity kind a finding's value and limit are shown as.

    That of the figure it judges, else of the entry; a bare number is told by what its entry is, so
    that a grade is not told as 0.22.
    """
    for value in (finding.value, finding.limit):
        if value is not None and value.origin == "computed" and value.ref in figures:
            return figure_kind(figures[value.ref])
    values = [value for value in (finding.value, finding.limit) if value is not None]
    paths = (value.ref for value in values if value.origin in ("entered", "default"))
    for path in (*paths, finding.subject, *finding.figures):
        kind = kind_at(path)
        if kind and values and KINDS[kind].unit == values[0].unit:
            return kind
    return _kind_of(values[0].unit) if values else ""


def _kind_of(unit: str) -> str:
    """Return the first quantity kind of an SI unit, empty for a unit only formulas use."""
    try:
        return kind_of_unit(unit)
    except UnitError:
        return ""


def own_sources(figure: Figure) -> tuple[str, ...]:
    """Return the ids of the sources a figure's own working names."""
    working = figure.working
    return (working.source,) if isinstance(working, LookedUp) else working.sources


def defaults_under(
    assessment: Assessment, car: Car, figure_ids: Iterable[str]
) -> Mapping[str, tuple[str, ...]]:
    """Return for each of these figures the build paths of the defaults it rests on."""
    book = FigureBook(car)
    book.figures.update(assessment.figures)
    grounds = Grounds(book)
    return {figure_id: grounds.assumed_under((figure_id,)) for figure_id in figure_ids}


def sources_used(assessment: Assessment) -> tuple[str, ...]:
    """Return the ids of every source the figures, findings and curves name, sorted."""
    return tuple(sorted(set(_sources(assessment))))


def _sources(assessment: Assessment) -> Iterator[str]:
    for figure in assessment.figures.values():
        yield from own_sources(figure)
        for value in figure.inputs.values():
            if value.origin in ("default", "standard"):
                yield value.ref
    for finding in assessment.findings:
        yield from finding.sources
    for curve in assessment.curves.values():
        yield from curve.sources
