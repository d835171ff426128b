"""Every finding of a car, by stage and severity, and what is not judged."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.base.finding import SEVERITY, Verdict
from swapwright.jobs.stage import STAGES, Stage, findings_of
from swapwright.workbench import links
from swapwright.workbench.car_page import CarPage, car_page, render
from swapwright.workbench.finding_row import FindingRow, finding_rows


@dataclass(frozen=True)
class Choice:
    """One verdict to show alone, and how many have it; none is told of *met*."""

    verdict: Verdict
    count: int | None


@dataclass(frozen=True)
class Skipped:
    """One rule or system that is not judged, and why."""

    rule: str
    why: str


@dataclass(frozen=True)
class StageFindings:
    """The findings of one stage, worst first."""

    stage: Stage
    rows: tuple[FindingRow, ...]


@dataclass(frozen=True)
class FindingsView:
    """All findings of a car, or those of one verdict."""

    verdict: str
    choices: tuple[Choice, ...]
    groups: tuple[StageFindings, ...]
    skipped: tuple[Skipped, ...]
    rules_run: int


def findings(request: Request) -> Response:
    """Show the findings of a car; ``verdict`` in the address leaves those of one."""
    page = car_page(request)
    asked = request.query_params.get("verdict", "")
    verdict = asked if asked in SEVERITY else ""
    here = links.findings(page.name, verdict)
    return render(request, "findings.html", page=page, here=here, view=_view(page, verdict))


def _view(page: CarPage, verdict: str) -> FindingsView | None:
    if page.checked is None:
        return None
    assessment = page.checked.assessment
    groups = []
    for stage in STAGES:
        found = [
            each
            for each in findings_of(stage, assessment.findings)
            if verdict in ("", each.verdict)
        ]
        found.sort(key=lambda each: (SEVERITY.index(each.verdict), each.accepted is not None))
        if found:
            rows = finding_rows(page.name, page.checked, found, page.profile)
            groups.append(StageFindings(stage, rows))
    choices = (Choice(each, None if each == "met" else assessment.count(each)) for each in SEVERITY)
    skipped = tuple(_skipped(each) for each in assessment.skipped)
    return FindingsView(verdict, tuple(choices), tuple(groups), skipped, assessment.rules_run)


def _skipped(text: str) -> Skipped:
    rule, _, why = text.partition(": ")
    return Skipped(rule, why) if why else Skipped("", text)


ROUTES: tuple[BaseRoute, ...] = (Route("/findings", findings),)
