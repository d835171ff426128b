"""The workbench as an application: its addresses, its templates, what guards it."""

from __future__ import annotations

from asyncio import Semaphore
from collections.abc import Sequence
from pathlib import Path

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.templating import Jinja2Templates

from swapwright.base.errors import InputError
from swapwright.drawing.lettering import in_signs
from swapwright.jobs.network import THIS_MACHINE, Network
from swapwright.jobs.shop import Refused, Shop
from swapwright.workbench import links
from swapwright.workbench.api import interface, refused
from swapwright.workbench.garage import Garage
from swapwright.workbench.identity import Identified
from swapwright.workbench.pages import (
    catalogue,
    changing,
    chart,
    choosing,
    circuit,
    drop,
    export,
    fault,
    figure,
    findings,
    flow,
    glossary,
    live,
    login,
    moves,
    new,
    revisions,
    shop_board,
    shop_equipment,
    shop_incident,
    shop_ledger,
    shop_people,
    shop_permit,
    shop_run,
    shop_vehicle,
    side,
    stage,
    start,
)
from swapwright.workbench.security import LOOPBACK, Guarded, new_token
from swapwright.workbench.task import Tasks
from swapwright.workbench.words import (
    breakable,
    counted,
    drawn,
    entry_link,
    finding_link,
    share,
    source_words,
    term_link,
)

HERE = Path(__file__).parent
SHOP_ROUTES: tuple[BaseRoute, ...] = (
    *shop_board.ROUTES,
    *shop_people.ROUTES,
    *shop_equipment.ROUTES,
    *shop_vehicle.ROUTES,
    *shop_permit.ROUTES,
    *shop_run.ROUTES,
    *shop_incident.ROUTES,
    *shop_ledger.ROUTES,
    *live.ROUTES,
)
"""The pages of the shop; each says by itself where there is none."""
ACTS = ("/edit", "/rows", "/undo", "/redo")
"""What is sent to a car; whoever comes back to such an address by hand is led to the car."""


def application(
    garage: Garage,
    *,
    hosts: Sequence[str] = LOOPBACK,
    shop: Shop | None = None,
    network: Network = THIS_MACHINE,
) -> Starlette:
    """Return the workbench over a folder of cars, and over a shop where one is given.

    ``hosts`` are the names it answers to, ``network`` how it is reached.
    """
    app = Starlette(
        routes=[*_routes(), Mount(links.API, interface(garage))],
        middleware=[
            Middleware(Guarded, is_known=network.is_known),
            Middleware(TrustedHostMiddleware, allowed_hosts=list(hosts), www_redirect=False),
            Middleware(Identified, shop=shop, network=network),
        ],
        exception_handlers={
            HTTPException: _not_there,
            InputError: changing.unusable,
            Refused: changing.refused_here,
        },
    )
    app.state.garage = garage
    app.state.shop = shop
    app.state.network = network
    app.state.trying = Semaphore(login.AT_ONCE)
    app.state.token = new_token()
    app.state.templates = _templates()
    app.state.tasks = Tasks()
    return app


def _routes() -> list[BaseRoute]:
    own = [
        Route("/", start.to_first_stage),
        *(Route(act, start.to_first_stage) for act in ACTS),
        Route("/edit", changing.edit, methods=["POST"]),
        Route("/rows", changing.add_row, methods=["POST"]),
        Route("/undo", changing.undo, methods=["POST"]),
        Route("/redo", changing.redo, methods=["POST"]),
        *chart.ROUTES,
        *export.ROUTES,
        *revisions.ROUTES,
        *flow.ROUTES,
        *moves.ROUTES,
        *side.ROUTES,
        *choosing.ROUTES,
        *circuit.ROUTES,
        *fault.ROUTES,
        *figure.ROUTES,
        *findings.ROUTES,
        Route("/{stage:str}", stage.stage),
    ]
    return [
        Route("/", start.start),
        *new.ROUTES,
        *drop.ROUTES,
        Route("/settings", changing.choose_settings, methods=["POST"]),
        *catalogue.ROUTES,
        *glossary.ROUTES,
        *login.ROUTES,
        *SHOP_ROUTES,
        Mount("/cars/{car:str}", routes=own),
        Mount("/static", StaticFiles(directory=HERE / "static")),
    ]


async def _not_there(request: Request, error: Exception) -> Response:
    """Answer people with a page, and other programs with the document they expect."""
    if request.url.path.startswith(f"{links.API}/"):
        return await refused(request, error)
    return changing.not_there(request, error)


def _templates() -> Jinja2Templates:
    templates = Jinja2Templates(directory=HERE / "templates")
    environment = templates.env
    environment.trim_blocks = True
    environment.lstrip_blocks = True
    environment.globals.update(
        links=links,
        entry_link=entry_link,
        source_words=source_words,
        breakable=breakable,
        counted=counted,
        drawn=drawn,
        share=share,
        inked=in_signs,
        finding_link=finding_link,
        term_link=term_link,
    )
    return templates
