"""The car from the side: its masses where they sit, to be moved, and what the axles then carry."""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import BaseRoute, Route

from swapwright.base.errors import InputError, Problem
from swapwright.base.finding import SEVERITY
from swapwright.build.shape import rows_by_path
from swapwright.drawing.svg import inline
from swapwright.jobs.form import Form, form_of
from swapwright.jobs.side_drawing import side_view_of
from swapwright.jobs.stage import Stage, stage_called
from swapwright.jobs.weights import PLACE, Weights, weights_of
from swapwright.workbench import links
from swapwright.workbench.car_page import CarPage, car_page, render
from swapwright.workbench.security import trusted_form
from swapwright.workbench.typed import Typed, TypedRow

STAGE = "weight"
MOVED = "x:"
"""What the field of a moved row begins with; its number follows."""


@dataclass(frozen=True)
class SideView:
    """The side view of one car, its ledger and its loads.

    ``svg`` is None where the wheelbase is not known, ``undrawn`` the rows without mass or place;
    ``ends`` are the places [m] a mass can be between.
    """

    stage: Stage | None
    svg: Markup | None
    weights: Weights
    form: Form
    undrawn: tuple[str, ...]
    ends: tuple[float, float]
    verdicts: tuple[str, ...]
    opened: str
    typed: Typed | None = None
    typed_row: TypedRow | None = None


def side(request: Request) -> Response:
    """Show a car from the side."""
    return side_page(request, car_page(request))


def side_page(
    request: Request,
    page: CarPage,
    typed: Typed | None = None,
    typed_row: TypedRow | None = None,
    status: int = 200,
) -> Response:
    """Return the side view's page, with what could not be taken at its entry."""
    opened = request.query_params.get("at", "") if typed is None else typed.path
    view = _view(page, opened, typed, typed_row)
    here = "" if request.method == "GET" else links.car(page.name, "side")
    return render(request, "side.html", status=status, page=page, here=here, view=view)


def side_file(request: Request) -> Response:
    """Return the side view as a file."""
    page = car_page(request)
    svg = None if page.checked is None else side_view_of(page.checked, page.profile)
    if svg is None:
        raise HTTPException(404, "there is no side view without a wheelbase")
    return Response(svg, media_type="image/svg+xml")


async def weights(request: Request) -> Response:
    """Answer what stands on the wheels with some masses elsewhere; nothing is kept of it."""
    form = await trusted_form(request)
    try:
        positions = _positions(form)
        answer = await run_in_threadpool(_answer, request, positions)
    except InputError as error:
        return JSONResponse({"problem": _words(error)}, 422)
    return JSONResponse(answer)


def _view(
    page: CarPage, opened: str, typed: Typed | None, typed_row: TypedRow | None
) -> SideView | None:
    stage = stage_called(STAGE)
    if page.checked is None or stage is None:
        return None
    found = weights_of(page.checked, page.profile)
    svg = side_view_of(page.checked, page.profile, weights=found, is_movable=True)
    field = rows_by_path()[PLACE]
    return SideView(
        stage,
        None if svg is None else Markup(inline(svg, "side-view")),
        found,
        form_of(stage, page.checked, page.profile),
        tuple(
            f"{each.row + 1} {each.name}"
            for each in found.ledger
            if each.mass is None or each.x is None
        ),
        (field.low or 0.0, field.high or 0.0),
        SEVERITY,
        opened,
        typed,
        typed_row,
    )


def _positions(form: FormData) -> dict[int, float]:
    """Return the places a request gives by row; raise InputError for what is none."""
    found: dict[int, float] = {}
    for name, value in form.items():
        if not name.startswith(MOVED):
            continue
        row = name.removeprefix(MOVED)
        try:
            place = float(value) if isinstance(value, str) else math.nan
        except ValueError:
            place = math.nan
        if not (row.isascii() and row.isdecimal() and len(row) < 6) or not math.isfinite(place):
            raise InputError(Problem("", "", "this is no place of a row", given=str(value)[:40]))
        found[int(row)] = place
    return found


def _answer(request: Request, positions: dict[int, float]) -> dict[str, object]:
    """Return texts, verdicts and places by the keys the drawing and the table have them under."""
    page = car_page(request)
    if page.checked is None:
        raise InputError(*(page.look.problems or (Problem("", "", "there is no car to show"),)))
    found = weights_of(page.checked, page.profile, positions)
    texts: dict[str, str] = {}
    for load in found.loads:
        for part in ("unladen", "loaded", "limit"):
            texts[f"{load.key}.{part}"] = getattr(load, part) or "unknown"
    texts |= {f"{centre.key}.x": centre.text for centre in found.centres}
    return {
        "texts": texts,
        "verdicts": {load.key: load.verdict for load in found.loads},
        "places": {f"{centre.key}.x": centre.x for centre in found.centres},
        "rows": {str(row): found.ledger[row].x_text for row in positions},
        "told": found.told,
    }


def _words(error: InputError) -> str:
    problem = error.problems[0]
    return f"{problem.message}; allowed: {problem.allowed}" if problem.allowed else problem.message


ROUTES: tuple[BaseRoute, ...] = (
    Route("/side", side),
    Route("/side.svg", side_file),
    Route("/weights", weights, methods=["POST"]),
)
