"""What a figure rests on: its sources, the defaults under it, and how its value is told."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from swapwright.assess.assessment import Assessment
from swapwright.base.display import show, written
from swapwright.base.errors import UnitError
from swapwright.base.figure import Figure, LookedUp, SimulatedWorking, Value, Working
from swapwright.base.finding import Finding
from swapwright.base.quantity import kind_of_unit

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
    """Return the quantity kind a finding's value and limit are shown as."""
    for value in (finding.value, finding.limit):
        if value is not None and value.origin == "computed" and value.ref in figures:
            return figure_kind(figures[value.ref])
    for value in (finding.value, finding.limit):
        if value is not None:
            return _kind_of(value.unit)
    return ""


def _kind_of(unit: str) -> str:
    """Return the first quantity kind of an SI unit, empty for a unit only formulas use."""
    try:
        return kind_of_unit(unit)
    except UnitError:
        return ""


def value_text(value: Value, kind: str, profile: str, *, world: str = "electric") -> str:
    """Return a value as people read it, with its band where it has one.

    A value of no kind is shown in its SI unit.
    """
    if not kind:
        return f"{written(value.si)} {value.unit}"
    return show(
        value.si, kind, profile=profile, world=world, low=value.low, high=value.high, digits=3
    )


def own_sources(figure: Figure) -> tuple[str, ...]:
    """Return the ids of the sources a figure's own working names."""
    working = figure.working
    return (working.source,) if isinstance(working, LookedUp) else working.sources


def assumed_under(figures: Mapping[str, Figure]) -> Mapping[str, frozenset[str]]:
    """Return for every figure the source ids of the defaults it rests on, however far down."""
    found: dict[str, frozenset[str]] = {}

    def under(figure_id: str) -> frozenset[str]:
        if figure_id not in found:
            own: set[str] = set()
            for value in figures[figure_id].inputs.values():
                if value.origin == "default":
                    own.add(value.ref)
                elif value.origin == "computed" and value.ref in figures:
                    own |= under(value.ref)
            found[figure_id] = frozenset(own)
        return found[figure_id]

    for figure_id in figures:
        under(figure_id)
    return found


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
