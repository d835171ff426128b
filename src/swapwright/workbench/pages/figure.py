"""The working behind any figure of a car, one level at a time."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.jobs.figure_page import FigurePage, MissingPage, figure_page
from swapwright.jobs.formula import plain
from swapwright.jobs.working import near_figures
from swapwright.workbench import links
from swapwright.workbench.car_page import CarPage, car_page, render


def figure(request: Request) -> Response:
    """Show a figure and its working; one that is not there, why; near names of no figure."""
    page = car_page(request)
    wanted = request.path_params["figure"]
    if page.telling is None or page.checked is None:
        return _shown(request, page, wanted, None, ())
    view = figure_page(page.telling, wanted)
    near = near_figures(page.checked, wanted) if view is None else ()
    return _shown(request, page, wanted, view, near)


def _shown(
    request: Request,
    page: CarPage,
    wanted: str,
    view: FigurePage | MissingPage | None,
    near: tuple[str, ...],
) -> Response:
    return render(
        request,
        "figure.html",
        status=404 if view is None else 200,
        page=page,
        here=links.figure(page.name, wanted),
        view=view,
        wanted=wanted,
        near=near,
        plain=plain,
    )


ROUTES: tuple[BaseRoute, ...] = (Route("/figures/{figure:str}", figure),)
