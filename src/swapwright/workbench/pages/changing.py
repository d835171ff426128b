"""Everything that changes a car's file: an entry, a row, undo, redo, a saved revision."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from swapwright.base.errors import InputError, Problem
from swapwright.catalogue.read import is_part_name
from swapwright.jobs.desk import Changed, Desk
from swapwright.jobs.merging import value_at
from swapwright.jobs.part_place import entries_to_put, is_in, kind_at, part_place
from swapwright.jobs.shop import Refused
from swapwright.jobs.stage import stage_called, stage_of_path
from swapwright.workbench import links
from swapwright.workbench.car_page import CarPage, desk_of, render, settings_in
from swapwright.workbench.pages.choosing import part_page
from swapwright.workbench.pages.side import side_page
from swapwright.workbench.pages.stage import stage_page
from swapwright.workbench.security import text_in, trusted_form
from swapwright.workbench.settings import COOKIE
from swapwright.workbench.typed import Typed, TypedRow

YEAR = 31_536_000
SIDE = "side"
NOTHING_TYPED = Problem("", "", "nothing was typed for this row")
NOT_ALONE = Problem("", "", "another row came into the file meanwhile: send yours again")


async def edit(request: Request) -> Response:
    """Change one entry, or take it out where nothing is typed."""
    form = await trusted_form(request)
    path, text = text_in(form, "path"), text_in(form, "text")
    desk = desk_of(request)
    is_forced = text_in(form, "is_forced") == "yes"
    entries = await run_in_threadpool(_entries, desk, path, text)
    changed = await run_in_threadpool(
        desk.change, entries, text_in(form, "based_on"), is_forced=is_forced
    )
    return await _answer(request, changed, path, text, text_in(form, "from"))


def _entries(desk: Desk, path: str, text: str) -> Mapping[str, str | None]:
    """Return what a typed text changes: of a part's name also what was the old part's own.

    Emptying what says nothing changes nothing.
    """
    checked = desk.look().checked
    if not text.strip():
        is_said = checked is None or value_at(checked.opened.build.raw, path) is not None
        return {path: None} if is_said else {}
    if checked is not None and kind_at(path) is not None and is_part_name(text.strip()):
        return entries_to_put(checked.opened.build.raw, path, text.strip())
    return {path: text}


async def add_row(request: Request) -> Response:
    """Add a row to a list from what was typed for it."""
    form = await trusted_form(request)
    typed = {
        name.removeprefix("entry:"): value
        for name, value in form.items()
        if name.startswith("entry:") and isinstance(value, str) and value.strip()
    }
    where, back = text_in(form, "list"), way_back(request, text_in(form, "from"))
    desk = desk_of(request)
    changed = await run_in_threadpool(desk.change, typed, text_in(form, "based_on"))
    page = CarPage(request.path_params["car"], changed.look, settings_in(request))
    if typed and not changed.problems and changed.conflict is None:
        return await _shown(request, page, back)
    problems = changed.problems or (NOT_ALONE if changed.conflict else NOTHING_TYPED,)
    row = TypedRow(where, typed, problems)
    return await run_in_threadpool(_with_row, request, page, back, row)


def _with_row(request: Request, page: CarPage, back: str, row: TypedRow) -> Response:
    """Show a new row that was not taken on the page it was typed on."""
    if links.stage_in(page.name, back)[0] == SIDE:
        return side_page(request, page, typed_row=row, status=422)
    slug = stage_of_path(row.list_path).slug
    return stage_page(request, page, slug, status=422, typed_row=row)


async def undo(request: Request) -> Response:
    """Take the last change back."""
    return await _step(request, "undo")


async def redo(request: Request) -> Response:
    """Make the last change taken back again."""
    return await _step(request, "redo")


async def choose_settings(request: Request) -> Response:
    """Keep the units, the world and the paper a person chose, and lead back."""
    form = await trusted_form(request)
    given = {name: value for name, value in form.items() if isinstance(value, str)}
    chosen = settings_in(request).with_choice(given)
    answer = RedirectResponse(links.inside(text_in(form, "from")), 303)
    answer.set_cookie(COOKIE, chosen.text(), max_age=YEAR, samesite="lax", httponly=True)
    return answer


async def _step(request: Request, which: str) -> Response:
    form = await trusted_form(request)
    desk = desk_of(request)
    try:
        step = desk.undo if which == "undo" else desk.redo
        await run_in_threadpool(step, text_in(form, "based_on") or None)
    except InputError as error:
        return _refused(request, error.problems)
    return RedirectResponse(way_back(request, text_in(form, "from")), 303)


async def _answer(request: Request, changed: Changed, path: str, text: str, back: str) -> Response:
    """Lead back to where the entry stands, or show there why it was not taken."""
    page = CarPage(request.path_params["car"], changed.look, settings_in(request))
    back = way_back(request, back)
    if not changed.problems and changed.conflict is None:
        return await _shown(request, page, back)
    path = path if changed.conflict is None else changed.conflict.path
    typed = Typed(path, text, changed.problems, changed.conflict)
    status = 409 if changed.conflict is not None else 422
    return await run_in_threadpool(_with_entry, request, page, back, typed, status)


def _with_entry(request: Request, page: CarPage, back: str, typed: Typed, status: int) -> Response:
    """Show an entry that was not taken on the page it stands on."""
    place = part_place(typed.path)
    if place is not None and page.checked is not None and is_in(page.checked.opened.car, place):
        return part_page(request, page, place, typed, status)
    if links.stage_in(page.name, back)[0] == SIDE:
        return side_page(request, page, typed, status=status)
    return stage_page(request, page, stage_of_path(typed.path).slug, typed, status)


async def _shown(request: Request, page: CarPage, back: str) -> Response:
    """Show a stage as it is now at once where script asks: that spares a round. Else lead there."""
    slug, opened = links.stage_in(page.name, back)
    if request.headers.get("hx-request") == "true" and stage_called(slug) is not None:
        return await run_in_threadpool(stage_page, request, page, slug, opened=opened)
    return RedirectResponse(back, 303)


def _refused(request: Request, problems: tuple[Problem, ...], status: int = 422) -> Response:
    return render(request, "problem.html", status=status, problems=problems)


def way_back(request: Request, given: str) -> str:
    """Return the address to lead back to: one of this car's, else its first stage."""
    own = links.car(request.path_params["car"])
    is_own = given.startswith(own) and given == links.inside(given)
    return given if is_own else links.car(request.path_params["car"], "donor")


def unusable(request: Request, error: Exception) -> Response:
    """Show why what was asked for cannot be had."""
    return _refused(request, error.problems if isinstance(error, InputError) else ())


def refused_here(request: Request, error: Exception) -> Response:
    """Show why somebody may not do what they asked for."""
    return _refused(request, error.problems if isinstance(error, Refused) else (), 403)


def not_there(request: Request, error: Exception) -> Response:
    """Show that an address leads nowhere, or that a request was refused."""
    status = error.status_code if isinstance(error, HTTPException) else 500
    words = error.detail if isinstance(error, HTTPException) else "something went wrong here"
    return render(request, "problem.html", status=status, problems=(Problem("", "", words),))
