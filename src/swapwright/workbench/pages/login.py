"""Logging in and out, and one's own account: password, PIN, sessions, the certificate."""

from __future__ import annotations

from asyncio import Semaphore
from collections.abc import Callable
from urllib.parse import urlencode

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from swapwright.base.errors import InputError, Problem
from swapwright.jobs import shop_access
from swapwright.jobs.network import Network
from swapwright.jobs.shop import Refused, Shop
from swapwright.records.secrets import Which
from swapwright.workbench import links
from swapwright.workbench.car_page import render
from swapwright.workbench.identity import (
    Browser,
    browser_of,
    problems_of,
    shop_of,
    visit_in,
    with_session,
)
from swapwright.workbench.security import text_in, trusted_form

AT_ONCE = 2
"""Passwords tried at once: each takes a good part of a processor, and 64 MB."""
LOGGED_OUT, SET_ANEW = "logged out", "password set: log in with it"
NOT_TWICE = Problem("", "again", "this is not what was typed above")
_SAID = {"out": LOGGED_OUT, "anew": SET_ANEW}


async def show_login(request: Request) -> Response:
    """Show where a person logs in; whoever is logged in already is led on."""
    shop = shop_of(request)
    back = _back(request.query_params.get("next", ""))
    if getattr(request.state, "visit", None) is not None:
        return RedirectResponse(back, 303)
    said = _SAID.get(request.query_params.get("said", ""), "")
    return await run_in_threadpool(_login_page, request, shop, back, "", {}, said)


async def log_in(request: Request) -> Response:
    """Take a name and a password, and give the browser a session of its own."""
    form, shop, browser = await trusted_form(request), shop_of(request), browser_of(request)
    back, name = _back(text_in(form, "next")), text_in(form, "name")
    if not request.app.state.network.is_open and not await run_in_threadpool(
        shop_access.needs_login, shop
    ):
        return RedirectResponse(back, 303)

    def trying() -> str:
        password = text_in(form, "password")
        return shop_access.log_in(
            shop, name, password, browser.address, browser.agent, browser.token
        )

    try:
        async with _turn(request):
            token = await run_in_threadpool(trying)
    except Refused as error:
        problems = problems_of(error)
        return await run_in_threadpool(_login_page, request, shop, back, name, problems, "", 401)
    has_news = await run_in_threadpool(_has_news, shop, token, browser)
    leads = f"{links.ACCOUNT}?{urlencode({'next': back})}" if has_news else back
    return with_session(request, RedirectResponse(leads, 303), token)


async def log_out(request: Request) -> Response:
    """End the session."""
    await trusted_form(request)
    await run_in_threadpool(shop_access.log_out, shop_of(request), browser_of(request).token)
    return with_session(request, RedirectResponse(f"{links.LOGIN}?said=out", 303), "")


async def log_out_everywhere(request: Request) -> Response:
    """End every session of the person."""
    await trusted_form(request)
    actor = visit_in(request).actor
    await run_in_threadpool(shop_access.log_out_everywhere, shop_of(request), actor)
    return with_session(request, RedirectResponse(f"{links.LOGIN}?said=out", 303), "")


async def account(request: Request) -> Response:
    """Show the account of whoever asks."""
    return await run_in_threadpool(_account_page, request, shop_of(request))


async def set_password(request: Request) -> Response:
    """Set one's own password, after which everybody logs in anew who was in as this person."""
    return await _set(request, "password")


async def set_pin(request: Request) -> Response:
    """Set one's own PIN, with which a person signs."""
    return await _set(request, "pin")


async def set_for_another(request: Request) -> Response:
    """Set a password for somebody else, who has to change it."""
    form, shop, actor = await trusted_form(request), shop_of(request), visit_in(request).actor
    person, password = text_in(form, "person"), text_in(form, "password")

    def setting() -> None:
        _twice(form, "password")
        shop_access.set_for_another(shop, actor, person, password)

    return await _done(request, setting, "another", links.ACCOUNT)


async def first_account(request: Request) -> Response:
    """Make the first account, an admin's; from then on everybody logs in."""
    form, shop, actor = await trusted_form(request), shop_of(request), visit_in(request).actor
    name, password = text_in(form, "name"), text_in(form, "password")

    def setting() -> None:
        _twice(form, "password")
        shop_access.first_account(shop, actor, name, password)

    return await _done(request, setting, "first", f"{links.LOGIN}?said=anew")


async def _set(request: Request, which: Which) -> Response:
    form, shop, actor = await trusted_form(request), shop_of(request), visit_in(request).actor

    def setting() -> None:
        _twice(form, which)
        current = text_in(form, "current")
        shop_access.set_own_secret(shop, actor, which, current, text_in(form, which))

    leads = f"{links.LOGIN}?said=anew" if which == "password" else links.ACCOUNT
    return await _done(request, setting, which, leads)


async def _done(request: Request, setting: Callable[[], None], form: str, leads: str) -> Response:
    """Do what a form of the account asks, or show it again with what is wrong beside its field."""
    try:
        async with _turn(request):
            await run_in_threadpool(setting)
    except (Refused, InputError) as error:
        shop, problems = shop_of(request), problems_of(error)
        return await run_in_threadpool(_account_page, request, shop, form, problems, 422)
    return RedirectResponse(leads, 303)


def _twice(form: FormData, field: str) -> None:
    """Raise InputError where what was to be typed twice was not."""
    if text_in(form, field) != text_in(form, "again"):
        raise InputError(NOT_TWICE)


def _has_news(shop: Shop, token: str, browser: Browser) -> bool:
    """Tell whether somebody else tried to be this person: from elsewhere, or with their session."""
    visit = shop_access.visit_of(shop, token, browser.address, browser.agent)
    if visit is None:
        return False
    news = shop_access.news_of(shop, visit.actor.person)
    return any(each.is_theft or each.address != browser.address for each in news)


def _login_page(
    request: Request,
    shop: Shop,
    back: str,
    name: str,
    problems: dict[str, str],
    said: str,
    status: int = 200,
) -> Response:
    return render(
        request,
        "login.html",
        status=status,
        next=back,
        name=name[: shop_access.LONGEST_NAME],
        problems=problems,
        said=said,
        has_accounts=shop_access.needs_login(shop),
    )


def _account_page(
    request: Request,
    shop: Shop,
    form: str = "",
    problems: dict[str, str] | None = None,
    status: int = 200,
) -> Response:
    """Show an account; ``problems`` by field are those of the form that was sent."""
    visit = visit_in(request)
    network: Network = request.app.state.network
    people = shop.people() if shop_access.needs_login(shop) else {}
    return render(
        request,
        "account.html",
        status=status,
        here=links.ACCOUNT,
        next=_back(request.query_params.get("next", "")),
        person=people.get(visit.actor.person),
        others=[
            each for each in people.values() if not each.has_left and each.id != visit.actor.person
        ],
        news=shop_access.news_of(shop, visit.actor.person) if people else (),
        form=form,
        problems=problems or {},
        certificate=network.certificate,
        may_reset="admin" in visit.actor.roles,
    )


def _back(given: str) -> str:
    """Return where to go on to after logging in: never out of here, nor in a circle."""
    found = links.inside(given)
    return links.START if found.startswith((links.LOGIN, links.LOGOUT)) else found


def _turn(request: Request) -> Semaphore:
    """Return what lets few try a password at once, and the others wait without a thread."""
    turn: Semaphore = request.app.state.trying
    return turn


ROUTES: tuple[BaseRoute, ...] = (
    Route(links.LOGIN, show_login),
    Route(links.LOGIN, log_in, methods=["POST"]),
    Route(links.LOGOUT, log_out, methods=["POST"]),
    Route(links.ACCOUNT, account),
    Route(links.account("password"), set_password, methods=["POST"]),
    Route(links.account("pin"), set_pin, methods=["POST"]),
    Route(links.account("sessions"), log_out_everywhere, methods=["POST"]),
    Route(links.account("another"), set_for_another, methods=["POST"]),
    Route(links.account("first"), first_account, methods=["POST"]),
)
