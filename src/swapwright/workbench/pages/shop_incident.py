"""Incidents and near misses: a short form, what to do first, and what was said, for good."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.jobs import shop_incident as jobs
from swapwright.jobs.first_aid import FIRST_AID, OUTRANKED
from swapwright.workbench import links
from swapwright.workbench.shop_form import (
    UNSENT,
    Asked,
    Sent,
    act,
    id_of,
    or_not_found,
    shop_and_actor,
    shown,
)

ALL, ONE = "/shop/incidents", "/shop/incidents/{id:str}"


def incidents(request: Request, sent: Sent = UNSENT, status: int = 200) -> Response:
    """Show every incident, what to do first, and the form that reports one."""
    shop, actor = shop_and_actor(request)
    now = shop.now().astimezone()
    return shown(
        request,
        "shop_incidents.html",
        status,
        sent=sent,
        rows=jobs.incident_rows(shop, actor),
        first_aid=FIRST_AID,
        outranked=OUTRANKED,
        vehicles=[(each.id, each.name) for each in shop.vehicles().values()],
        vehicle=request.query_params.get("vehicle", ""),
        step=request.query_params.get("step", ""),
        happened=f"{now:%Y-%m-%dT%H:%M}",
        zone=f"{now:%Z}",
        here=links.shop("incidents"),
    )


def incident(request: Request, sent: Sent = UNSENT, status: int = 200) -> Response:
    """Show one incident, and the form that adds to it."""
    shop, actor = shop_and_actor(request)
    view = jobs.incident_view(shop, actor, id_of(request))
    or_not_found(view, "incident")
    return shown(
        request,
        "shop_incident.html",
        status,
        sent=sent,
        view=view,
        here=links.shop("incidents", id_of(request)),
    )


async def report(request: Request) -> Response:
    """Put an incident on record."""

    def do(asked: Asked) -> str:
        return links.shop("incidents", jobs.report_incident(asked.shop, asked.actor, asked.given))

    return await act(request, "report", do, incidents)


async def add_to(request: Request) -> Response:
    """Add to an incident."""

    def do(asked: Asked) -> str:
        jobs.add_to_incident(asked.shop, asked.actor, id_of(request), asked.given)
        return links.shop("incidents", id_of(request))

    return await act(request, "add", do, incident)


ROUTES: tuple[BaseRoute, ...] = (
    Route(ALL, incidents),
    Route(ALL, report, methods=["POST"]),
    Route(ONE, incident),
    Route(ONE, add_to, methods=["POST"]),
)
