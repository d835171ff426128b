"""Saved revisions of a car: kept, compared, brought back; and what the file on disk is now."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from swapwright.base.errors import InputError, Problem
from swapwright.build.revision import short
from swapwright.jobs.check import Checked
from swapwright.jobs.desk import Changed, Desk
from swapwright.jobs.difference import Difference, FindingChange, difference
from swapwright.jobs.shelf import Saved
from swapwright.workbench import links
from swapwright.workbench.car_page import CarPage, car_page, desk_of, render, settings_in
from swapwright.workbench.pages.changing import way_back
from swapwright.workbench.pages.export import attachment
from swapwright.workbench.security import text_in, trusted_form

NOW = "now"


@dataclass(frozen=True)
class SavedRow:
    """One saved revision: its number as addresses carry it, its name, when, its short hash."""

    number: str
    name: str
    at: str
    revision: str
    is_current: bool


@dataclass(frozen=True)
class Compared:
    """Two cars side by side: what they are called, and what changed from the one to the other.

    ``appeared`` and ``gone`` are the findings only one of them has, ``moved`` those whose verdict
    is another. ``is_now`` tells that the second is the car as it stands.
    """

    one: str
    other: str
    changed: Difference
    appeared: tuple[FindingChange, ...]
    gone: tuple[FindingChange, ...]
    moved: tuple[FindingChange, ...]
    is_now: bool


def revisions(request: Request) -> Response:
    """Show the saved revisions of a car, the latest first."""
    return _listed(request, car_page(request))


async def save_revision(request: Request) -> Response:
    """Keep the file as it stands under a name."""
    form = await trusted_form(request)
    desk, name = desk_of(request), text_in(form, "name")
    try:
        changed = await run_in_threadpool(desk.save_revision, name)
    except InputError as error:
        changed = Changed(await run_in_threadpool(desk.look), error.problems)
    if changed.problems:
        page = CarPage(request.path_params["car"], changed.look, settings_in(request))
        return _listed(request, page, name, changed.problems)
    return RedirectResponse(way_back(request, text_in(form, "from")), 303)


def _listed(
    request: Request, page: CarPage, typed: str = "", problems: tuple[Problem, ...] = ()
) -> Response:
    """Show the saved revisions, with a name that could not be taken and why."""
    return render(
        request,
        "revisions.html",
        status=422 if problems else 200,
        page=page,
        here=links.car(page.name, "revisions"),
        rows=_rows(request, page),
        now=NOW,
        typed=typed,
        problems=problems,
    )


def compare(request: Request) -> Response:
    """Show two revisions side by side, or one and the car as it stands."""
    page = car_page(request)
    desk = desk_of(request)
    one_name, one = _chosen(page, desk, request.query_params.get("one", ""))
    wanted = request.query_params.get("other", NOW)
    other_name, other = _chosen(page, desk, wanted)
    changed = difference(one, other, page.profile, page.settings.world)
    view = Compared(
        one_name,
        other_name,
        changed,
        tuple(each for each in changed.findings if each.before is None),
        tuple(each for each in changed.findings if each.after is None),
        tuple(each for each in changed.findings if each.before and each.after),
        wanted == NOW,
    )
    rows = _rows(request, page)
    chosen = (request.query_params.get("one", ""), wanted)
    return render(
        request, "compare.html", page=page, compared=view, rows=rows, chosen=chosen, now=NOW
    )


def revision_text(request: Request) -> Response:
    """Hand out the build file of a saved revision."""
    desk = desk_of(request)
    saved = _saved(desk, request.path_params["number"])
    name = f"{request.path_params['car']}-revision-{saved.number}.toml"
    return attachment(desk.shelf.text_of(saved), name, "application/toml")


async def bring_back(request: Request) -> Response:
    """Put a saved revision in the place of the file; it can be undone."""
    form = await trusted_form(request)
    desk = desk_of(request)
    number, based_on = text_in(form, "number"), text_in(form, "based_on")
    is_over_broken = text_in(form, "is_over_broken") == "yes"

    def put() -> Changed:
        text = desk.shelf.text_of(_saved(desk, number))
        return desk.replace_text(text, based_on, is_over_broken=is_over_broken)

    return _answer(request, await run_in_threadpool(put), text_in(form, "from"))


async def restore(request: Request) -> Response:
    """Put the last text that could be assessed in the place of a broken file."""
    form = await trusted_form(request)
    desk = desk_of(request)
    changed = await run_in_threadpool(desk.restore, text_in(form, "based_on"))
    return _answer(request, changed, text_in(form, "from"))


def hash_now(request: Request) -> Response:
    """Tell the mark of the file as it stands on disk."""
    return PlainTextResponse(desk_of(request).mark())


ROUTES: tuple[BaseRoute, ...] = (
    Route("/revisions", revisions),
    Route("/revisions", save_revision, methods=["POST"]),
    Route("/revisions/back", bring_back, methods=["POST"]),
    Route("/revisions/{number:str}.toml", revision_text),
    Route("/compare", compare),
    Route("/restore", restore, methods=["POST"]),
    Route("/hash", hash_now),
)


def _answer(request: Request, changed: Changed, back: str) -> Response:
    if changed.problems:
        return render(request, "problem.html", status=422, problems=changed.problems)
    return RedirectResponse(way_back(request, back), 303)


def _rows(request: Request, page: CarPage) -> tuple[SavedRow, ...]:
    current = "" if page.checked is None else page.checked.assessment.revision
    return tuple(
        SavedRow(
            str(each.number),
            each.name,
            _time(each.at),
            short(each.revision),
            bool(current) and each.revision == current and not page.look.is_stale,
        )
        for each in reversed(desk_of(request).shelf.all())
    )


def _time(at: str) -> str:
    """Return a moment as a person reads it; as it is where it is written in another way."""
    day, _, time = at.partition("T")
    return f"{day} {time[:5]} UTC" if time.endswith("+00:00") else at


def _chosen(page: CarPage, desk: Desk, wanted: str) -> tuple[str, Checked]:
    """Return what is compared: its name and its car; raise not found, or InputError."""
    if wanted == NOW:
        if page.checked is None or page.look.is_stale:
            raise InputError(*page.look.problems)
        return "the car as it stands", page.checked
    saved = _saved(desk, wanted)
    return f"{saved.number}: {saved.name}", desk.of_revision(saved)


def _saved(desk: Desk, number: str) -> Saved:
    saved = desk.shelf.get(int(number)) if number.isdecimal() and len(number) < 10 else None
    if saved is None:
        raise HTTPException(404, "there is no such revision of this car")
    return saved
