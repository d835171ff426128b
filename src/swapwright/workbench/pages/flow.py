"""Where the energy of the city cycle goes: a picture of bands, and the table beside it."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.drawing.svg import inline
from swapwright.jobs.energy_flow import Flow, energy_flow, flow_svg
from swapwright.jobs.figure_text import FigureText
from swapwright.jobs.stage import Stage, stage_of_figure
from swapwright.workbench.car_page import CarPage, car_page, render


@dataclass(frozen=True)
class FlowView:
    """The flow of one car, its picture, and the figures it belongs to; None where there is none."""

    flow: Flow | None
    svg: Markup
    figures: tuple[FigureText, ...]
    why: str
    stage: Stage


FIGURES = ("consumption.city", "range.city", "energy.city")


def flow(request: Request) -> Response:
    """Show where the energy goes."""
    page = car_page(request)
    return render(request, "flow.html", page=page, view=_view(page))


def flow_picture(request: Request) -> Response:
    """Return the picture as a file."""
    page = car_page(request)
    found = None if page.checked is None else energy_flow(page.checked, page.profile)
    if found is None:
        raise HTTPException(404, "this car has no city range, and so no flow of energy to draw")
    return Response(flow_svg(found, page.title), media_type="image/svg+xml")


def _view(page: CarPage) -> FlowView | None:
    if page.checked is None or page.telling is None:
        return None
    found = energy_flow(page.checked, page.profile)
    told = page.telling.figures(FIGURES)
    return FlowView(
        found,
        Markup("") if found is None else Markup(inline(flow_svg(found, page.title), "energy-flow")),
        tuple(each for each in told.values() if each.text),
        told[FIGURES[0]].why,
        stage_of_figure(FIGURES[1]),
    )


ROUTES: tuple[BaseRoute, ...] = (
    Route("/flow", flow),
    Route("/flow.svg", flow_picture),
)
