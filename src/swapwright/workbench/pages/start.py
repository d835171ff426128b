"""The first page: the cars there are, a new one, one dropped in."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from swapwright.base.errors import Problem
from swapwright.base.finding import Finding
from swapwright.jobs.stage import Stage, stage_of_rule
from swapwright.jobs.strip import StripItem
from swapwright.workbench import links
from swapwright.workbench.car_page import CarPage, garage_of, render, settings_in

SHOWN = ("range.combined", "accel.0_60mph", "top_speed.peak", "pack.usable_energy")


@dataclass(frozen=True)
class CarRow:
    """One car of the folder: a few of its figures, and the first finding it stands or falls by."""

    name: str
    title: str
    items: tuple[StripItem, ...]
    first: Finding | None
    stage: Stage | None
    stops: int
    problems: tuple[Problem, ...]


def start(request: Request) -> Response:
    """Show the cars of the folder."""
    garage = garage_of(request)
    settings = settings_in(request)
    rows = []
    for name in garage.names():
        desk = garage.desk(name)
        if desk is not None:
            rows.append(_row(CarPage(name, desk.look(), settings)))
    rows.sort(key=lambda row: (row.stops == 0, row.name))
    return render(
        request,
        "start.html",
        rows=rows,
        folder=str(garage.folder.name),
        passed_over=garage.passed_over(),
    )


def to_first_stage(request: Request) -> Response:
    """Lead from a car's address to its first stage."""
    return RedirectResponse(links.car(request.path_params["car"], "donor"), 303)


def _row(page: CarPage) -> CarRow:
    if page.strip is None or page.checked is None:
        return CarRow(page.name, page.title, (), None, None, 0, page.look.problems)
    findings = page.checked.assessment.findings
    stops = [each for each in findings if each.verdict == "stop"]
    first = next((each for each in findings if each.verdict != "met" and not each.accepted), None)
    return CarRow(
        page.name,
        page.title,
        tuple(item for item in page.strip.items if item.figure.id in SHOWN),
        first,
        None if first is None else stage_of_rule(first.rule),
        len(stops),
        page.look.problems,
    )
