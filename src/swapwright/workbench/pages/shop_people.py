"""The people of the shop: who there is, what each may do today and why not more."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.jobs import shop_people as jobs
from swapwright.standards.competence import LEVELS, STAGES
from swapwright.standards.permissions import ROLES
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

PEOPLE, PERSON = "/shop/people", "/shop/people/{id:str}"


def people(request: Request, sent: Sent = UNSENT, status: int = 200) -> Response:
    """Show everybody, and the form that enters somebody."""
    shop, actor = shop_and_actor(request)
    rows = jobs.people_rows(shop, actor)
    return shown(
        request, "shop_people.html", status, sent=sent, rows=rows, here=links.shop("people")
    )


def person(request: Request, sent: Sent = UNSENT, status: int = 200) -> Response:
    """Show one person: roles, competences, what they may do today, what happened."""
    shop, actor = shop_and_actor(request)
    view = jobs.person_view(shop, actor, id_of(request))
    or_not_found(view, "person")
    return shown(
        request,
        "shop_person.html",
        status,
        sent=sent,
        view=view,
        roles=ROLES,
        levels=[(level, f"{level}: {jobs.LEVEL_WORDS[level]}") for level in LEVELS],
        stages=[(f"{s.scheme}: {s.name}", f"{s.scheme}: {s.name} ({s.may})") for s in STAGES],
        is_local=actor.is_local,
        here=links.shop("people", id_of(request)),
    )


async def add(request: Request) -> Response:
    """Enter a person."""
    return await act(
        request,
        "add",
        lambda asked: links.shop("people", jobs.add_person(asked.shop, asked.actor, asked.given)),
        people,
    )


_ACTS = {
    "role": jobs.give_role,
    "take-role": jobs.take_role,
    "competence": jobs.grant_competence,
    "withdraw": jobs.withdraw_competence,
    "left": jobs.person_left,
    "pin": jobs.set_pin_here,
}

ROUTES: tuple[BaseRoute, ...] = (
    Route(PEOPLE, people),
    Route(PEOPLE, add, methods=["POST"]),
    Route(PERSON, person),
    Route(PERSON + "/{act:str}", change("people", _ACTS, person), methods=["POST"]),
)
