"""Work permits: issued, accepted with a PIN, withdrawn, handed back, printed with their tag."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.jobs import shop_permit as jobs
from swapwright.jobs.labels import qr_svg
from swapwright.jobs.shop import Actor, Shop
from swapwright.jobs.shop_history import moment_words
from swapwright.jobs.shop_ledger import checkpoint_at
from swapwright.procedures.competence import standing
from swapwright.workbench import links
from swapwright.workbench.shop_form import (
    SEPARATOR,
    UNSENT,
    Asked,
    Sent,
    act,
    change,
    id_of,
    or_not_found,
    shop_and_actor,
    shown,
)

ALL, ONE = "/shop/permits", "/shop/permits/{id:str}"
PAPERS = ("a4", "letter")
LONGEST_NUMBER = 12


def permits(request: Request, sent: Sent = UNSENT, status: int = 200) -> Response:
    """Show every permit, and the form that issues one."""
    shop, actor = shop_and_actor(request)
    since, until = jobs.default_times(shop)
    people = [
        (each.id, each.name, standing(each, shop.today()).level or "no competence")
        for each in shop.people().values()
        if not each.has_left
    ]
    return shown(
        request,
        "shop_permits.html",
        status,
        sent=sent,
        rows=jobs.permit_rows(shop, actor),
        vehicles=[(each.id, each.name) for each in shop.vehicles().values()],
        vehicle=request.query_params.get("vehicle", ""),
        people=people,
        levels=[(level, f"{level}: {words}") for level, words in jobs.LEVEL_WORDS.items()],
        since=since,
        until=until,
        zone=f"{shop.now().astimezone():%Z}",
        hours=jobs.LONGEST_HOURS,
        here=links.shop("permits"),
    )


def permit(request: Request, sent: Sent = UNSENT, status: int = 200) -> Response:
    """Show one permit."""
    shop, actor = shop_and_actor(request)
    view = jobs.permit_view(shop, actor, id_of(request))
    or_not_found(view, "permit")
    return shown(
        request,
        "shop_permit.html",
        status,
        sent=sent,
        view=view,
        level_words=jobs.LEVEL_WORDS,
        actor=actor,
        here=links.shop("permits", id_of(request)),
    )


def printed(request: Request) -> Response:
    """Show a permit and its tag as they are printed, with the checkpoint signed for it."""
    shop, actor = shop_and_actor(request)
    view = jobs.permit_view(shop, actor, id_of(request))
    or_not_found(view, "permit")
    number = request.query_params.get("checkpoint", "")
    is_number = number.isdecimal() and len(number) < LONGEST_NUMBER
    checkpoint = checkpoint_at(shop, int(number)) if is_number else None
    or_not_found(checkpoint, "checkpoint")
    address = f"{str(request.base_url).rstrip('/')}{links.shop('permits', id_of(request))}"
    paper = request.query_params.get("paper", PAPERS[0])
    return shown(
        request,
        "shop_permit_print.html",
        view=view,
        level_words=jobs.LEVEL_WORDS,
        checkpoint=checkpoint,
        code=qr_svg(address),
        checkpoint_code=qr_svg(checkpoint.document) if checkpoint is not None else "",
        address=address,
        now=moment_words(shop.now()),
        paper=paper if paper in PAPERS else PAPERS[0],
        here=links.shop("permits", id_of(request)),
    )


async def issue(request: Request) -> Response:
    """Issue a permit."""

    def do(asked: Asked) -> str:
        people = [each for each in asked.given.get("people", "").split(SEPARATOR) if each]
        made = jobs.issue_permit(asked.shop, asked.actor, asked.given, people)
        return links.shop("permits", made)

    return await act(request, "issue", do, permits)


async def print_it(request: Request) -> Response:
    """Sign a checkpoint for a permit and lead to its print."""

    def do(asked: Asked) -> str:
        made = jobs.print_permit(asked.shop, asked.actor, id_of(request))
        return links.shop("permits", id_of(request), "print", checkpoint=str(made.number))

    return await act(request, "print", do, permit)


_ACTS: Mapping[str, Callable[[Shop, Actor, str, Mapping[str, str]], None]] = {
    "accept": jobs.accept_permit,
    "withdraw": jobs.withdraw_permit,
    "close": jobs.close_permit,
}

ROUTES: tuple[BaseRoute, ...] = (
    Route(ALL, permits),
    Route(ALL, issue, methods=["POST"]),
    Route(ONE, permit),
    Route(ONE + "/print", printed),
    Route(ONE + "/print", print_it, methods=["POST"]),
    Route(ONE + "/{act:str}", change("permits", _ACTS, permit), methods=["POST"]),
)
