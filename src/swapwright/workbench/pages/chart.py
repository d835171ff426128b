"""One curve of a car: its chart, its numbers as a table, and the files of both."""

from __future__ import annotations

import json
from dataclasses import dataclass

from markupsafe import Markup
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.drawing.svg import inline
from swapwright.jobs.chart_table import (
    ChartTable,
    ShownRows,
    csv_of,
    document_of,
    shown_rows,
)
from swapwright.jobs.check import Checked
from swapwright.jobs.curve_drawing import (
    curve_of,
    is_curve_of_stage,
    stage_of_curve,
    svg_of,
    table_of,
    words_of,
)
from swapwright.jobs.stage import Stage
from swapwright.workbench.car_page import CarPage, car_page, render

NO_CURVE = "there is no such curve of this car"


@dataclass(frozen=True)
class ChartView:
    """One curve of one car; without ``table`` the car has none of this id yet."""

    id: str
    label: str
    words: str
    stage: Stage | None
    svg: Markup
    table: ChartTable | None
    shown: ShownRows
    sources: tuple[str, ...]


def chart(request: Request) -> Response:
    """Show a curve of a car: chart, table, files."""
    page, curve_id = car_page(request), request.path_params["curve"]
    return render(request, "chart.html", page=page, view=_view(page, curve_id))


def drawing(request: Request) -> Response:
    """Return a curve's chart as an SVG file."""
    page, checked, curve_id = _asked(request)
    svg = svg_of(checked, curve_id, page.profile, page.settings.world)
    return _file(request, svg, "svg", "image/svg+xml", is_shown=True)


def table(request: Request) -> Response:
    """Return every row of a curve as a CSV file."""
    page, checked, curve_id = _asked(request)
    made = table_of(checked, curve_id, page.profile, page.settings.world)
    return _file(request, csv_of(made), "csv", "text/csv; charset=utf-8")


def numbers(request: Request) -> Response:
    """Return a curve in display units, as a script draws it."""
    page, checked, curve_id = _asked(request)
    document = document_of(table_of(checked, curve_id, page.profile, page.settings.world))
    text = json.dumps(document, allow_nan=False, ensure_ascii=False)
    return _file(request, text, "json", "application/json", is_shown=True)


def _view(page: CarPage, curve_id: str) -> ChartView:
    checked = page.checked
    curve = None if checked is None else curve_of(checked, curve_id)
    stage = stage_of_curve(curve_id)
    if checked is None or curve is None:
        if not is_curve_of_stage(curve_id):
            raise HTTPException(404, NO_CURVE)
        empty = ShownRows((), 0)
        return ChartView(curve_id, curve_id, "", stage, Markup(), None, empty, ())
    profile, world = page.profile, page.settings.world
    made = table_of(checked, curve_id, profile, world)
    return ChartView(
        curve_id,
        curve.label,
        words_of(curve_id),
        stage,
        Markup(inline(svg_of(checked, curve_id, profile, world), "chart-full")),
        made,
        shown_rows(made),
        curve.sources,
    )


def _asked(request: Request) -> tuple[CarPage, Checked, str]:
    """Return the car and the curve an address names; raise not found."""
    page, curve_id = car_page(request), request.path_params["curve"]
    checked = page.checked
    if checked is None or curve_of(checked, curve_id) is None:
        raise HTTPException(404, NO_CURVE)
    return page, checked, curve_id


def _file(
    request: Request, text: str, ending: str, media_type: str, *, is_shown: bool = False
) -> Response:
    """Return a file named after car and curve; both are names no header can be broken with."""
    name = f"{request.path_params['car']}-{request.path_params['curve']}.{ending}"
    how = "inline" if is_shown else "attachment"
    headers = {"content-disposition": f'{how}; filename="{name}"'}
    return Response(text, media_type=media_type, headers=headers)


ROUTES: tuple[BaseRoute, ...] = (
    Route("/charts/{curve:str}.svg", drawing),
    Route("/charts/{curve:str}.csv", table),
    Route("/charts/{curve:str}.json", numbers),
    Route("/charts/{curve:str}", chart),
)
