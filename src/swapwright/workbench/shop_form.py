"""The forms of the shop: sent to a job; what was refused is shown again with what was typed."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from swapwright.base.errors import InputError
from swapwright.jobs.desk import Look
from swapwright.jobs.shop import Actor, Refused, Shop
from swapwright.records.record import new_key
from swapwright.workbench import links
from swapwright.workbench.car_page import garage_of, render
from swapwright.workbench.identity import actor_in, shop_of
from swapwright.workbench.security import MOST_BODY, trusted_form

NOTHING: Mapping[str, str] = MappingProxyType({})
SEPARATOR = "\n"
"""Between the boxes of one name that were ticked."""


@dataclass(frozen=True)
class Sent:
    """What was typed into one form of a page, and what is wrong with it, field by field."""

    form: str = ""
    typed: Mapping[str, str] = field(default_factory=lambda: NOTHING)
    faults: Mapping[str, str] = field(default_factory=lambda: NOTHING)
    general: tuple[str, ...] = ()

    def text(self, form: str, name: str, otherwise: str = "") -> str:
        """Return what a field of a form shows."""
        return self.typed.get(name, "") if form == self.form else otherwise

    def ticked(self, form: str, name: str, value: str) -> bool:
        """Tell whether a box was ticked."""
        return value in self.text(form, name).split(SEPARATOR)

    def fault(self, form: str, name: str) -> str:
        """Return what is wrong with a field of a form, empty where nothing is."""
        return self.faults.get(name, "") if form == self.form else ""

    def told(self, form: str) -> tuple[str, ...]:
        """Return what is wrong with a form as a whole."""
        return self.general if form == self.form else ()


UNSENT = Sent()


@dataclass(frozen=True)
class Asked:
    """A form as it came: who sent it, what was typed, and a file with its name where one was."""

    shop: Shop
    actor: Actor
    given: Mapping[str, str]
    file: bytes = b""
    file_name: str = ""


Do = Callable[[Asked], "str | Response"]
Job = Callable[[Shop, Actor, str, Mapping[str, str]], object]
Endpoint = Callable[[Request], Awaitable[Response]]
Show = Callable[[Request, Sent, int], Response]


async def asked_of(request: Request) -> Asked:
    """Return a form as it came; raise a refusal for one that no page of ours sent."""
    form = await trusted_form(request)
    try:
        data, name = await _file_in(form)
    finally:
        await form.close()
    return Asked(shop_of(request), actor_in(request), _texts(form), data, name)


async def act(request: Request, form: str, do: Do, show: Show) -> Response:
    """Do what a form asks for and lead on, or show its page again and say why not.

    ``do`` returns the address to lead to, or an answer of its own.
    """
    asked = await asked_of(request)
    return await run_in_threadpool(_done, request, form, asked, do, show)


def change(subject: str, acts: Mapping[str, Job], show: Show) -> Endpoint:
    """Return what does one of the things that are done to one of a subject, by its name."""

    async def changed(request: Request) -> Response:
        name = request.path_params["act"]
        or_not_found(acts.get(name), "act")

        def do(asked: Asked) -> str:
            acts[name](asked.shop, asked.actor, id_of(request), asked.given)
            return links.shop(subject, id_of(request))

        return await act(request, name, do, show)

    return changed


def id_of(request: Request) -> str:
    """Return the id in a page's address."""
    found: str = request.path_params["id"]
    return found


def vehicle_look(request: Request, shop: Shop) -> Look | None:
    """Return the file of a vehicle's car as it stands, None where there is none."""
    found = shop.vehicles().get(id_of(request))
    desk = None if found is None else garage_of(request).desk(found.car)
    return None if desk is None else desk.look()


def _done(request: Request, form: str, asked: Asked, do: Do, show: Show) -> Response:
    try:
        found = do(asked)
    except (InputError, Refused) as error:
        status = 403 if isinstance(error, Refused) else 422
        return show(request, _sent(form, asked.given, error), status)
    return RedirectResponse(found, 303) if isinstance(found, str) else found


def shown(request: Request, template: str, status: int = 200, **context: Any) -> Response:
    """Return a page of the shop; every form on it gets a key of its own."""
    return render(request, template, status=status, new_key=new_key, pairs=pairs, **context)


def pairs(words: Iterable[str]) -> list[tuple[str, str]]:
    """Return words as choices of a field, each meaning itself."""
    return [(each, each) for each in words]


def shop_and_actor(request: Request) -> tuple[Shop, Actor]:
    """Return the shop and who asks."""
    return shop_of(request), actor_in(request)


def or_not_found(found: object, what: str) -> None:
    """Raise not found where there is nothing of an id."""
    if found is None:
        raise HTTPException(404, f"there is no {what} of this id")


def _sent(form: str, given: Mapping[str, str], error: InputError | Refused) -> Sent:
    faults: dict[str, str] = {}
    general: list[str] = []
    for each in error.problems:
        words = f"{each.message}; allowed: {each.allowed}" if each.allowed else each.message
        if each.path and not each.file:
            faults[each.path] = words
        else:
            general.append(str(each) if each.file else words)
    return Sent(form, given, MappingProxyType(faults), tuple(general))


def _texts(form: FormData) -> Mapping[str, str]:
    """Return the fields as texts; the boxes of one name that were ticked as lines of one text."""
    found: dict[str, list[str]] = {}
    for name, value in form.multi_items():
        if isinstance(value, str):
            found.setdefault(name, []).append(value)
    return MappingProxyType({name: SEPARATOR.join(each) for name, each in found.items()})


async def _file_in(form: FormData) -> tuple[bytes, str]:
    for _, value in form.multi_items():
        if isinstance(value, UploadFile) and value.filename:
            return await value.read(MOST_BODY + 1), value.filename
    return b"", ""
