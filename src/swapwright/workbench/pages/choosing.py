"""The part at one place of a car: what else could stand there, and the part's own data."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from swapwright.base.errors import InputError
from swapwright.jobs.choice import Candidate, Choice, choose
from swapwright.jobs.desk import Changed, Desk
from swapwright.jobs.form import Group, part_group
from swapwright.jobs.part_place import (
    Standing,
    chosen_at,
    entries_to_put,
    is_in,
    kind_at,
    label_at,
    part_called,
    standing_at,
)
from swapwright.jobs.parts import KIND_WORDS
from swapwright.jobs.progress import IsCancelled, Progress
from swapwright.jobs.stage import Stage, stage_of_path
from swapwright.workbench import links
from swapwright.workbench.car_page import CarPage, car_page, desk_of, garage_of, render, settings_in
from swapwright.workbench.security import text_in, trusted_form
from swapwright.workbench.task import State, Tasks
from swapwright.workbench.typed import Typed

ONLY = "only"
FITS = "fits"


@dataclass(frozen=True)
class PartView:
    """One place for a part in one car.

    ``state`` is how far the comparison is, None where the file as it stands cannot be compared;
    ``shown`` those of its candidates that are asked for.
    """

    stage: Stage
    place: str
    label: str
    kind: str
    one: str
    many: str
    standing: Standing
    state: State[Choice] | None
    shown: tuple[Candidate, ...]
    is_only_fits: bool
    group: Group | None
    opened: str
    typed: Typed | None

    @property
    def query(self) -> dict[str, str]:
        """Return the query that asks for this page as it is filtered."""
        return {ONLY: FITS} if self.is_only_fits else {}

    @property
    def refused(self) -> Typed | None:
        """Return what was not taken where no entry of the page's form can say why."""
        entries = () if self.group is None else self.group.entries
        is_said = self.typed is None or any(each.path == self.typed.path for each in entries)
        return None if is_said else self.typed


def part(request: Request) -> Response:
    """Show the part at a place of a car, and start or join the comparison with the others."""
    page, place = car_page(request), request.path_params["place"]
    if page.checked is not None:
        written = chosen_at(place, page.checked.opened.car)
        if written != place:
            return RedirectResponse(links.part(page.name, written, **request.query_params), 303)
    return part_page(request, page, place)


def part_page(
    request: Request, page: CarPage, place: str, typed: Typed | None = None, status: int = 200
) -> Response:
    """Return the page of a place, with what could not be taken at its entry."""
    view = _view(request, page, place, typed)
    here = "" if request.method == "GET" else links.part(page.name, place)
    return render(request, "choosing.html", status=status, page=page, here=here, view=view)


async def use(request: Request) -> Response:
    """Put a part of the catalogue at a place; what the file says of the one before it goes."""
    form = await trusted_form(request)
    desk, place, name = desk_of(request), request.path_params["place"], text_in(form, "text")
    changed = await run_in_threadpool(
        _put,
        desk,
        place,
        name,
        text_in(form, "based_on"),
        text_in(form, "is_forced") == "yes",
    )
    car = request.path_params["car"]
    if not changed.problems and changed.conflict is None:
        return RedirectResponse(links.entry(car, stage_of_path(place).slug, place), 303)
    page = CarPage(car, changed.look, settings_in(request))
    typed = Typed(place, name, changed.problems, changed.conflict)
    status = 422 if changed.conflict is None else 409
    return await run_in_threadpool(part_page, request, page, place, typed, status)


def watch(request: Request) -> Response:
    """Return only how far the comparison is, or what came of it."""
    page, place = car_page(request), request.path_params["place"]
    view = _view(request, page, place, None)
    back = links.part(page.name, place, **({} if view is None else view.query))
    return render(request, "_candidates.html", page=page, here=back, view=view)


async def steer(request: Request) -> Response:
    """Stop the comparison, or begin it anew."""
    form = await trusted_form(request)
    page, place = await run_in_threadpool(car_page, request), request.path_params["place"]
    tasks = _tasks(request)
    if text_in(form, "do") == "stop":
        tasks.cancel(_subject(page, place))
    else:
        tasks.forget(_subject(page, place))
    query = {ONLY: FITS} if text_in(form, ONLY) == FITS else {}
    return RedirectResponse(links.part(page.name, place, **query), 303)


def _put(desk: Desk, place: str, name: str, based_on: str, is_forced: bool) -> Changed:
    look = desk.look()
    if look.checked is None or look.problems:
        return Changed(look, look.problems)
    try:
        part_called(desk.catalogue, place, name)
    except InputError as error:
        return Changed(look, error.problems)
    entries = entries_to_put(look.checked.opened.build.raw, place, name)
    return desk.change(entries, based_on, is_forced=is_forced)


def _view(request: Request, page: CarPage, place: str, typed: Typed | None) -> PartView | None:
    kind = kind_at(place)
    if kind is None:
        raise HTTPException(404, "no part stands at this place")
    if page.checked is None:
        return None
    car = page.checked.opened.car
    if not is_in(car, place):
        raise HTTPException(404, "this car has no such row")
    state = None if page.look.problems else _state(request, page, place, kind)
    is_only_fits = request.query_params.get(ONLY) == FITS
    found = state.result if state is not None else None
    shown = () if found is None else found.standing if is_only_fits else found.candidates
    return PartView(
        stage_of_path(place),
        place,
        label_at(place),
        kind,
        *KIND_WORDS[kind],
        standing_at(page.checked.opened.build.raw, car, place),
        state,
        shown,
        is_only_fits,
        part_group(page.checked, place, page.profile),
        request.query_params.get("at", "") or ("" if typed is None else typed.path),
        typed,
    )


def _state(request: Request, page: CarPage, place: str, kind: str) -> State[Choice]:
    """Return how far the comparison is for the file as it stands, started unless it runs."""
    garage, checked = garage_of(request), page.checked
    if checked is None:
        raise HTTPException(404, "there is no car to compare with")
    today, world = garage.today(), page.settings.world

    def run(progress: Progress, is_cancelled: IsCancelled) -> Choice:
        return choose(
            checked,
            place,
            garage.catalogue,
            today,
            profile=page.profile,
            world=world,
            progress=progress,
            is_cancelled=is_cancelled,
        )

    version = (page.look.hash, today, garage.catalogue.names(kind))
    return _tasks(request).start(_subject(page, place), version, run).state


def _subject(page: CarPage, place: str) -> tuple[str, ...]:
    return (page.name, place, page.profile, page.settings.world)


def _tasks(request: Request) -> Tasks:
    found: Tasks = request.app.state.tasks
    return found


ROUTES: tuple[BaseRoute, ...] = (
    Route("/parts/{place:path}", part),
    Route("/parts/{place:path}", use, methods=["POST"]),
    Route("/choosing/{place:path}", watch),
    Route("/choosing/{place:path}", steer, methods=["POST"]),
)
"""The addresses within a car."""
