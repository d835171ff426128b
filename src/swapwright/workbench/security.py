"""What every answer carries and every request is asked for, so that only this page acts here."""

from __future__ import annotations

import json
import secrets
from collections.abc import Mapping
from types import MappingProxyType

from starlette.datastructures import FormData, Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from swapwright.base.errors import Problem
from swapwright.jobs.contract import problems_document
from swapwright.jobs.shop_access import Visit
from swapwright.workbench import links

MOST_FORM_FIELDS = 400
MOST_BODY = 20_000_000
"""Bytes a request may send."""
LONGEST_FIELD = 200_000
"""Letters one field of a form may have; a file that is dropped is no such field."""
LONGEST_LENGTH = 12
ELSEWHERE = "refused: this request comes from another site"
FAULT = "something went wrong here; go back and look at how things stand"

STRICT_TRANSPORT, A_YEAR = "strict-transport-security", "max-age=31536000"

LOOPBACK = ("127.0.0.1", "localhost", "[::1]")

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "connect-src 'self'",
        "worker-src 'self'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
    )
)

NOTHING_MORE: Mapping[str, str] = MappingProxyType({})

_HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=()",
}


class Guarded:
    """An application whose answers carry the headers above, and whose requests are bounded."""

    def __init__(self, app: ASGIApp, is_known: bool = False) -> None:
        """Take the application; ``is_known`` where browsers know its certificate by themselves.

        Only then are they told to come under TLS and no other way: with one made here a person
        could not look past a warning any more.
        """
        self.app = app
        self.headers = {**_HEADERS, **({STRICT_TRANSPORT: A_YEAR} if is_known else {})}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        refusal = _refusal(scope["method"], headers)
        if refusal:
            await plain(scope, send, *refusal)
            return
        is_begun = False

        async def guarded(message: Message) -> None:
            nonlocal is_begun
            if message["type"] == "http.response.start":
                is_begun = True
                sent = MutableHeaders(scope=message)
                for name, value in self.headers.items():
                    sent.setdefault(name, value)
                sent.setdefault("cache-control", "no-store")
            await send(message)

        try:
            await self.app(scope, _bounded(receive), guarded)
        except Exception:
            # It is told where the workbench was started; what went wrong is no page's business.
            if not is_begun:
                await plain(scope, send, 500, FAULT)
            raise


def _refusal(method: str, headers: Headers) -> tuple[int, str] | None:
    """Return the status and words with which a request is refused outright, None where it is not.

    A browser says where a request comes from. What another site asks for is refused, but for a
    page a person goes to: a link that leads here, and no picture, frame or script.
    """
    length = headers.get("content-length", "0")
    if not length.isdecimal() or len(length) > LONGEST_LENGTH or int(length) > MOST_BODY:
        return 413, f"too large: up to {MOST_BODY} bytes are read"
    is_ours = headers.get("sec-fetch-site", "same-origin") in ("same-origin", "none")
    if method in ("GET", "HEAD", "OPTIONS"):
        return None if is_ours or _is_led_here(headers) else (403, ELSEWHERE)
    origin = headers.get("origin")
    is_own = origin is None or origin in _own_origins(headers.get("host", ""))
    return None if is_ours and is_own else (403, ELSEWHERE)


def _is_led_here(headers: Headers) -> bool:
    """Tell whether a browser opens a page in a window of its own."""
    asked = headers.get("sec-fetch-mode"), headers.get("sec-fetch-dest")
    return asked == ("navigate", "document")


def _own_origins(host: str) -> tuple[str, ...]:
    """Return what a browser calls the origin of our own pages."""
    return (f"http://{host}", f"https://{host}") if host else ()


def _bounded(receive: Receive) -> Receive:
    """Return what hands on a request's body as far as it may go."""
    read = 0

    async def bounded() -> Message:
        nonlocal read
        message = await receive()
        read += len(message.get("body", b""))
        if read > MOST_BODY:
            raise HTTPException(413, f"too large: up to {MOST_BODY} bytes are read")
        return message

    return bounded


async def plain(
    scope: Scope, send: Send, status: int, words: str, more: Mapping[str, str] = NOTHING_MORE
) -> None:
    """Answer in words; where other programs ask, as the document they expect."""
    of_programs = scope["path"].startswith(f"{links.API}/")
    kind = "application/json" if of_programs else "text/plain; charset=utf-8"
    document = problems_document([Problem("", "", words)])
    body = (json.dumps(document) if of_programs else words).encode()
    headers = {"content-type": kind, "content-length": str(len(body)), "connection": "close"}
    whole = {**headers, **_HEADERS, **more}
    sent = [(name.encode(), value.encode()) for name, value in whole.items()]
    await send({"type": "http.response.start", "status": status, "headers": sent})
    await send({"type": "http.response.body", "body": body})


def new_token() -> str:
    """Return a token no other site can guess; it lives as long as the process."""
    return secrets.token_urlsafe(32)


async def trusted_form(request: Request) -> FormData:
    """Return a request's form; raise a refusal where it lacks the token of its session.

    Where nobody logs in the token is this process's own.
    """
    kind = request.headers.get("content-type", "").lower()
    if "multipart" in kind and "charset" in kind:
        # No browser says one; some of them have letters no file can.
        raise HTTPException(400, "refused: a form is read as UTF-8 and nothing else")
    form = await request.form(max_files=1, max_fields=MOST_FORM_FIELDS, max_part_size=MOST_BODY)
    given = form.get("token")
    if not isinstance(given, str) or not is_token(request, given):
        raise HTTPException(
            403, "refused: open the page again, it is of an earlier start or session"
        )
    if any(isinstance(each, str) and len(each) > LONGEST_FIELD for _, each in form.multi_items()):
        raise HTTPException(413, f"too long: a field has up to {LONGEST_FIELD} characters")
    return form


def token_for(request: Request) -> str:
    """Return the token the forms of a page carry: the session's, or this process's own."""
    visit = getattr(request.state, "visit", None)
    own: str = request.app.state.token
    return visit.form_token or own if isinstance(visit, Visit) else own


def is_token(request: Request, given: str) -> bool:
    """Tell whether a token is the one the forms of whoever asks carry."""
    token = token_for(request)
    return secrets.compare_digest(given.encode("utf-8", "replace"), token.encode("utf-8"))


def text_in(form: FormData, name: str) -> str:
    """Return a field of a form as text; empty where it is not there or no text."""
    found = form.get(name)
    return found if isinstance(found, str) else ""
