"""A car as files: the build file itself, tables of figures and findings, the assessment."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.base.errors import Problem
from swapwright.jobs.assessment_tables import figures_csv, findings_csv
from swapwright.jobs.contract import check_document
from swapwright.workbench.car_page import CarPage, car_page, render

BUILD_FILE = "build.toml"


@dataclass(frozen=True)
class ExportedFile:
    """One file that is made of a car: what its address ends in, its type, what it holds."""

    name: str
    media: str
    words: str
    write: Callable[[CarPage], str]


@dataclass(frozen=True)
class ExportedChart:
    """One chart of a car."""

    curve: str
    label: str


def _figures(page: CarPage) -> str:
    return "" if page.telling is None else figures_csv(page.telling)


def _findings(page: CarPage) -> str:
    return "" if page.checked is None else findings_csv(page.checked, page.profile)


def _assessment(page: CarPage) -> str:
    if page.checked is None:
        return ""
    document = check_document([page.checked], page.profile, is_list=False)
    return json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


FILES: tuple[ExportedFile, ...] = (
    ExportedFile(
        BUILD_FILE,
        "application/toml",
        "the build file, byte for byte as it stands on disk",
        lambda page: page.look.text,
    ),
    ExportedFile(
        "figures.csv",
        "text/csv",
        "every figure: in SI, as told here, its band, how it was made and from which sources",
        _figures,
    ),
    ExportedFile(
        "findings.csv",
        "text/csv",
        "every finding: verdict, value against limit, remedy, sources",
        _findings,
    ),
    ExportedFile(
        "assessment.json",
        "application/json",
        "the whole assessment with its workings and curves, for other programs",
        _assessment,
    ),
)


def export(request: Request) -> Response:
    """Show what can be had of a car as a file."""
    page = car_page(request)
    curves = () if page.checked is None else page.checked.assessment.curves.items()
    charts = tuple(ExportedChart(curve_id, curve.label) for curve_id, curve in curves)
    files = FILES[:1] if page.look.is_stale else FILES
    return render(request, "export.html", page=page, files=files, charts=charts)


def exported(request: Request) -> Response:
    """Hand out one file; none but the build file while that cannot be assessed."""
    wanted = request.path_params["file"]
    file = next((each for each in FILES if each.name == wanted), None)
    if file is None:
        raise HTTPException(404, "there is no such file to be had")
    page = car_page(request)
    is_build = file.name == BUILD_FILE
    if page.look.is_stale and not (is_build and page.look.is_readable):
        message = "the file on disk cannot be assessed: nothing is made of it until it is put right"
        problems = (Problem("", "", message), *page.look.problems)
        return render(request, "problem.html", status=409, problems=problems)
    name = f"{page.name}.toml" if is_build else f"{page.name}-{file.name}"
    return attachment(file.write(page), name, file.media)


ROUTES: tuple[BaseRoute, ...] = (
    Route("/export", export),
    Route("/export/{file:str}", exported),
)


def attachment(text: str, name: str, media: str) -> Response:
    """Return a text as a file to keep; ``name`` is made of a car's name and words of ours."""
    headers = {"content-disposition": f'attachment; filename="{name}"'}
    return Response(text.encode("utf-8"), media_type=media, headers=headers)
