"""The equipment of the shop: its register, each item's page, labels, what is due."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.jobs import shop_equipment as jobs
from swapwright.jobs.calendar import Dated, calendar_text
from swapwright.jobs.equipment_fields import FIELDS
from swapwright.jobs.labels import labels_of
from swapwright.jobs.shop import Actor, Shop
from swapwright.jobs.shop_history import moment_words
from swapwright.standards.equipment import EQUIPMENT
from swapwright.workbench import links
from swapwright.workbench.shop_form import (
    UNSENT,
    Sent,
    act,
    change,
    id_of,
    or_not_found,
    shop_and_actor,
    shown,
)

ALL, ONE = "/shop/equipment", "/shop/equipment/{id:str}"
PAPERS = ("a4", "letter")


def equipment(request: Request, sent: Sent = UNSENT, status: int = 200) -> Response:
    """Show the register, and the form that enters an item of one kind."""
    shop, actor = shop_and_actor(request)
    kind = sent.text("add", "kind") or request.query_params.get("kind", "")
    kind = kind if kind in EQUIPMENT else ""
    return shown(
        request,
        "shop_equipment.html",
        status,
        sent=sent,
        rows=jobs.item_rows(shop, actor),
        kinds=EQUIPMENT,
        kind=kind,
        fields=FIELDS.get(kind, ()),
        here=links.shop("equipment"),
    )


def item(request: Request, sent: Sent = UNSENT, status: int = 200) -> Response:
    """Show one item: what it is, when it is due and why, what happened to it."""
    shop, actor = shop_and_actor(request)
    view = jobs.item_view(shop, actor, id_of(request))
    or_not_found(view, "equipment")
    people = [(each.id, each.name) for each in shop.people().values() if not each.has_left]
    return shown(
        request,
        "shop_item.html",
        status,
        sent=sent,
        view=view,
        people=people,
        today=shop.today().isoformat(),
        here=links.shop("equipment", id_of(request)),
    )


def due(request: Request) -> Response:
    """Show what is due, for the wall: what may not be used first."""
    shop, actor = shop_and_actor(request)
    rows = jobs.due_rows(shop, actor)
    return shown(
        request, "shop_due.html", rows=rows, now=moment_words(shop.now()), here=links.shop("due")
    )


def calendar(request: Request) -> Response:
    """Send the due days as a calendar other programs read."""
    shop, actor = shop_and_actor(request)
    days = [
        Dated(
            row.item.id,
            row.due.until,
            f"{row.item.kind}: {row.item.name} ({row.item.serial}) is due",
            f"{row.due.reason}\n{links.shop('equipment', row.item.id)}",
        )
        for row in jobs.due_rows(shop, actor)
        if row.due.until is not None and not row.item.withdrawn
    ]
    headers = {"content-disposition": 'attachment; filename="due.ics"'}
    text = calendar_text(days, shop.now())
    return Response(text, media_type="text/calendar; charset=utf-8", headers=headers)


def labels(request: Request) -> Response:
    """Show the labels of every item that is in use, or of one, on a sheet to print."""
    shop, actor = shop_and_actor(request)
    only = request.path_params.get("id", "")
    rows = [row for row in jobs.item_rows(shop, actor) if only in ("", row.item.id)]
    or_not_found(rows or not only or None, "equipment")
    paper = request.query_params.get("paper", PAPERS[0])
    return shown(
        request,
        "shop_labels.html",
        labels=labels_of(rows, str(request.base_url)),
        paper=paper if paper in PAPERS else PAPERS[0],
        here=links.shop("labels"),
    )


async def add(request: Request) -> Response:
    """Enter an item."""
    return await act(
        request,
        "add",
        lambda asked: links.shop("equipment", jobs.add_item(asked.shop, asked.actor, asked.given)),
        equipment,
    )


_ACTS: Mapping[str, Callable[[Shop, Actor, str, Mapping[str, str]], object]] = {
    "test": jobs.enter_test,
    "issue": jobs.issue_item,
    "inspect": jobs.inspect_item,
    "withdraw": jobs.withdraw_item,
    "return": jobs.return_item,
}

ROUTES: tuple[BaseRoute, ...] = (
    Route(ALL, equipment),
    Route(ALL, add, methods=["POST"]),
    Route("/shop/due", due),
    Route("/shop/due.ics", calendar),
    Route("/shop/labels", labels),
    Route(ONE, item),
    Route(ONE + "/label", labels),
    Route(ONE + "/{act:str}", change("equipment", _ACTS, item), methods=["POST"]),
)
