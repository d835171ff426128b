"""A build file dropped in: taken under a free name, or refused with every fault and its line."""

from __future__ import annotations

import re

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from swapwright.base.errors import InputError, Problem
from swapwright.build.load import MAX_BYTES
from swapwright.jobs.incoming import take_in, text_of
from swapwright.jobs.shelf import plain_name
from swapwright.workbench import links
from swapwright.workbench.car_page import garage_of, render
from swapwright.workbench.security import trusted_form

LONGEST_SHOWN = 80


async def drop(request: Request) -> Response:
    """Take in one build file; nothing that is there is written over."""
    form = await trusted_form(request)
    try:
        given = form.get("file")
        if not isinstance(given, UploadFile) or not given.filename:
            return _refused(request, "", (Problem("", "", "no file was chosen"),))
        data = await given.read(MAX_BYTES + 1)
        name = plain_name(re.split(r"[/\\]", given.filename)[-1])[:LONGEST_SHOWN]
    finally:
        await form.close()
    return await run_in_threadpool(_taken, request, data, name)


ROUTES: tuple[BaseRoute, ...] = (Route(links.DROP, drop, methods=["POST"]),)
"""Not within a car: it stands beside the first page."""


def _taken(request: Request, data: bytes, name: str) -> Response:
    garage = garage_of(request)
    free = garage.free_name(name.rpartition(".")[0] or name)
    try:
        take_in(garage.path(free), text_of(data, name), name, garage.catalogue)
    except InputError as error:
        return _refused(request, name, error.problems)
    return RedirectResponse(links.car(free, "donor"), 303)


def _refused(request: Request, name: str, problems: tuple[Problem, ...]) -> Response:
    return render(request, "drop.html", status=422, dropped=name, problems=problems)
