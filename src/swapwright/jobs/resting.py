"""What rests on what: the figures under a figure, those above it, and the findings on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from swapwright.base.figure import Figure, LookedUp, SimulatedWorking, Value
from swapwright.base.finding import Finding
from swapwright.jobs.working import DRIVE_MAP, MAP_IS_MADE_OF

Figures = Mapping[str, Figure]


@dataclass(frozen=True)
class RestingFindings:
    """The findings on a figure: those that name it, and those it reaches through other figures."""

    direct: tuple[Finding, ...]
    through: tuple[Finding, ...]


def under(figure: Figure, figures: Figures) -> Iterator[str]:
    """Yield the ids of the figures a figure is made of, each once."""
    ids = [value.ref for value in figure.inputs.values() if value.origin == "computed"]
    working = figure.working
    if isinstance(working, SimulatedWorking):
        ids.append(working.estimate.id)
    if isinstance(working, LookedUp) and working.source == DRIVE_MAP:
        ids.extend(MAP_IS_MADE_OF)
    yield from (each for each in dict.fromkeys(ids) if each in figures and each != figure.id)


def above(figures: Figures) -> Mapping[str, tuple[str, ...]]:
    """Return for each figure the ids of those that are made of it."""
    found: dict[str, list[str]] = {}
    for figure in figures.values():
        for each in under(figure, figures):
            found.setdefault(each, []).append(figure.id)
    return {figure_id: tuple(ids) for figure_id, ids in found.items()}


def leaves(figure_id: str, figures: Figures) -> Iterator[Value]:
    """Yield the values under a figure that are no figures, nearest first."""
    seen, waiting = {figure_id}, [figure_id]
    while waiting:
        further: list[str] = []
        for each in waiting:
            figure = figures[each]
            yield from (v for v in figure.inputs.values() if v.ref not in figures)
            new = [below for below in under(figure, figures) if below not in seen]
            seen.update(new)
            further += new
        waiting = further


def findings_on(
    figure_id: str, findings: Iterable[Finding], users: Mapping[str, tuple[str, ...]]
) -> RestingFindings:
    """Return the findings that rest on a figure; ``users`` are the figures above each."""
    reached = _reached(figure_id, users)
    direct, through = [], []
    for finding in findings:
        named = _named(finding)
        if figure_id in named:
            direct.append(finding)
        elif named & reached:
            through.append(finding)
    return RestingFindings(tuple(direct), tuple(through))


def _named(finding: Finding) -> frozenset[str]:
    ends = (finding.value, finding.limit)
    computed = (v.ref for v in ends if v is not None and v.origin == "computed")
    return frozenset((*finding.figures, *computed))


def _reached(figure_id: str, users: Mapping[str, tuple[str, ...]]) -> frozenset[str]:
    found: set[str] = set()
    waiting = [figure_id]
    while waiting:
        for each in users.get(waiting.pop(), ()):
            if each not in found:
                found.add(each)
                waiting.append(each)
    return frozenset(found)
