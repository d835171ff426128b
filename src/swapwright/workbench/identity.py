"""Who asks: the session behind a request, and what is refused to whoever has none."""

from __future__ import annotations

from dataclasses import dataclass
from http import HTTPStatus

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from swapwright.base.errors import InputError
from swapwright.jobs.network import Network
from swapwright.jobs.shop import Actor, Refused, Shop
from swapwright.jobs.shop_access import LOCAL_VISIT, Visit, needs_login, visit_of
from swapwright.workbench import links
from swapwright.workbench.security import plain

SESSION = "swapwright-session"
SESSION_UNDER_TLS = f"__Host-{SESSION}"
"""The cookie's name; browsers let no other host set one that begins so, and send it by TLS only."""
CHANGE_A_CAR = "change a car"
LOG_IN_FIRST = "log in first; nothing was done"
OWN_PASSWORD_FIRST = "set a password of your own first: the present one was chosen by another"
_BY_ITSELF = (links.shop("live"), links.shop("board"))
_CARS = ("/cars", links.NEW_CAR, links.COPY, links.DROP)
"""Where what is sent changes the files of cars."""


@dataclass(frozen=True)
class Browser:
    """What a session is held against: its token, the address and the agent it comes from."""

    token: str
    address: str
    agent: str


class Identified:
    """An application that knows who asks, and lets nobody in who has to log in and has not."""

    def __init__(self, app: ASGIApp, shop: Shop | None, network: Network) -> None:
        """Take the application, its shop where it has one, and how it is reached."""
        self.app = app
        self.shop = shop
        self.network = network

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
        if scope["type"] != "http":
            return
        # Of the scope, as routing takes it: a request's own URL is made of its host's name too.
        request, path = Request(scope), str(scope["path"])
        if _is_below(path, links.STATIC):
            await self.app(scope, receive, send)
            return
        visit = await run_in_threadpool(self._visit, browser_of(request), _is_use(path))
        if visit is None and path != links.LOGIN:
            await _to_log_in(request, scope, receive, send)
            return
        if visit is not None:
            request.state.visit = visit
            refusal = await run_in_threadpool(self._refusal, visit, request.method, path)
            if refusal:
                await _refused(request, visit, refusal, scope, receive, send)
                return
        await self.app(scope, receive, send)

    def _visit(self, browser: Browser, is_use: bool) -> Visit | None:
        """Return who asks, None for somebody who has to log in.

        Whoever others can reach never falls back to the one local user: not when the last
        account goes either.
        """
        if self.shop is None:
            return None if self.network.is_open else LOCAL_VISIT
        if not (self.network.is_open or needs_login(self.shop)):
            return LOCAL_VISIT
        return visit_of(self.shop, browser.token, browser.address, browser.agent, is_use=is_use)

    def _refusal(self, visit: Visit, method: str, path: str) -> str:
        """Return why somebody who is logged in may not send this, empty where they may."""
        is_own = path == links.LOGOUT or _is_below(path, links.ACCOUNT)
        if visit.must_change and not is_own:
            return OWN_PASSWORD_FIRST
        changes = method not in ("GET", "HEAD", "OPTIONS")
        if self.shop is None or not changes or not any(_is_below(path, each) for each in _CARS):
            return ""
        try:
            self.shop.allow(visit.actor, CHANGE_A_CAR)
        except Refused as refusal:
            return str(refusal.problems[0].message)
        return ""


def actor_in(request: Request) -> Actor:
    """Return who acts."""
    return visit_in(request).actor


def visit_in(request: Request) -> Visit:
    """Return who asks; raise a refusal where nobody is logged in and somebody has to be."""
    found = getattr(request.state, "visit", None)
    if not isinstance(found, Visit):
        raise HTTPException(HTTPStatus.UNAUTHORIZED, LOG_IN_FIRST)
    return found


def shop_of(request: Request) -> Shop:
    """Return the shop; raise not found where the workbench was started without one."""
    found = request.app.state.shop
    if not isinstance(found, Shop):
        raise HTTPException(404, "this workbench was started without a shop")
    return found


def browser_of(request: Request) -> Browser:
    """Return what a session is held against."""
    address = "" if request.client is None else request.client.host
    token = request.cookies.get(_cookie(request), "")
    return Browser(token[:200], address, request.headers.get("user-agent", ""))


def with_session(request: Request, answer: Response, token: str) -> Response:
    """Return an answer that gives the browser its session; an empty token takes it away.

    No script reads it, no other site sends it, and it ends with the browser.
    """
    name, is_tls = _cookie(request), _is_tls(request)
    if token:
        answer.set_cookie(name, token, secure=is_tls, httponly=True, samesite="strict")
    else:
        answer.delete_cookie(name, secure=is_tls, httponly=True, samesite="strict")
    return answer


def problems_of(error: Refused | InputError) -> dict[str, str]:
    """Return what is wrong by field, in words."""
    return {
        each.path: f"{each.message}; allowed: {each.allowed}" if each.allowed else each.message
        for each in error.problems
    }


def _cookie(request: Request) -> str:
    return SESSION_UNDER_TLS if _is_tls(request) else SESSION


def _is_tls(request: Request) -> bool:
    return bool(request.scope.get("scheme") == "https")


def _is_use(path: str) -> bool:
    """Tell whether a person asks: not a page that is open and asks how things stand."""
    return path not in _BY_ITSELF and not path.endswith("/state")


def _is_below(path: str, start: str) -> bool:
    return path == start or path.startswith(f"{start}/")


def _is_page(request: Request) -> bool:
    """Tell whether a person goes to a page: not a program, nor script of a page that is open."""
    if request.method not in ("GET", "HEAD") or _is_below(str(request.scope["path"]), links.API):
        return False
    mode = request.headers.get("sec-fetch-mode")
    if mode is not None:
        return mode == "navigate"
    return "text/html" in request.headers.get("accept", "")


async def _to_log_in(request: Request, scope: Scope, receive: Receive, send: Send) -> None:
    """Lead a person to where they log in, and tell all others in words."""
    query = f"?{request.url.query}" if request.url.query else ""
    where = links.login(links.inside(f"{scope['path']}{query}"))
    if _is_page(request):
        await RedirectResponse(where, 303)(scope, receive, send)
        return
    await plain(scope, send, 401, LOG_IN_FIRST, {"hx-redirect": links.LOGIN})


async def _refused(
    request: Request, visit: Visit, words: str, scope: Scope, receive: Receive, send: Send
) -> None:
    if visit.must_change and _is_page(request):
        await RedirectResponse(links.ACCOUNT, 303)(scope, receive, send)
        return
    await plain(scope, send, 403, f"not done: {words}")
