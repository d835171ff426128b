"""What moves a figure most: bars about its nominal, and the table of them."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.drawing.svg import inline
from swapwright.jobs.figure_text import FigureText
from swapwright.jobs.stage import Stage, stage_of_figure
from swapwright.jobs.tornado import ALONE, Tornado, tornado, tornado_svg
from swapwright.workbench import links
from swapwright.workbench.car_page import CarPage, car_page, render
from swapwright.workbench.words import entry_link


@dataclass(frozen=True)
class MovesView:
    """What moves one figure of one car, the picture of it, and how it is read."""

    tornado: Tornado
    figure: FigureText
    svg: Markup
    alone: str
    picture: str
    stage: Stage


def moves(request: Request) -> Response:
    """Show what moves a figure."""
    page = car_page(request)
    return render(request, "moves.html", page=page, view=_view(page, request.path_params["figure"]))


def moves_picture(request: Request) -> Response:
    """Return the picture as a file."""
    page = car_page(request)
    found = _found(page, request.path_params["figure"])
    if found is None or not found.rows:
        raise HTTPException(404, "no uncertain input moves this figure: there is nothing to draw")
    return Response(_svg(page, found), media_type="image/svg+xml")


def _svg(page: CarPage, found: Tornado) -> str:
    return tornado_svg(found, lambda path: entry_link(page.name, path), page.title)


def _found(page: CarPage, figure_id: str) -> Tornado | None:
    if page.checked is None:
        return None
    return tornado(page.checked, figure_id, page.profile, page.settings.world)


def _view(page: CarPage, figure_id: str) -> MovesView | None:
    if page.checked is None or page.telling is None:
        return None
    found = _found(page, figure_id)
    if found is None:
        raise HTTPException(404, "this car has no such figure")
    return MovesView(
        found,
        page.telling.figure(figure_id),
        Markup(inline(_svg(page, found), "tornado")) if found.rows else Markup(""),
        ALONE,
        links.moves(page.name, figure_id, ".svg"),
        stage_of_figure(figure_id),
    )


ROUTES: tuple[BaseRoute, ...] = (
    Route("/moves/{figure}.svg", moves_picture),
    Route("/moves/{figure:str}", moves),
)
