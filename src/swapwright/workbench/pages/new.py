"""A new car: what is known of it asked stage by stage, or one of the cars there are copied."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from swapwright.base.errors import InputError, Problem
from swapwright.build.shape import rows_by_path
from swapwright.jobs.incoming import named_anew, take_in
from swapwright.jobs.shelf import plain_name
from swapwright.jobs.stage import STAGES, Stage, stage_of_path
from swapwright.jobs.starting import (
    MASSES,
    QUESTIONS,
    REGION,
    Question,
    faults_in,
    mass_entries,
    typical,
    write_starter,
)
from swapwright.workbench import links
from swapwright.workbench.car_page import garage_of, render, settings_in
from swapwright.workbench.garage import Garage
from swapwright.workbench.security import text_in, trusted_form

NAME = "car.name"
US = "us"
_BEHIND = ("0.10 m", "4 in")


@dataclass(frozen=True)
class Asked:
    """One thing asked for: its field, an example, what may be chosen, what was typed, its fault.

    ``by_name`` are answers by name, each with the typical value it stands for.
    """

    field: str
    words: str
    example: str
    typed: str
    fault: str
    choices: tuple[str, ...] = ()
    by_name: tuple[tuple[str, str], ...] = ()
    is_needed: bool = False


@dataclass(frozen=True)
class MassRow:
    """One row of the axle ledger asked for: which way, what, its mass, and where it sits."""

    way: str
    what: str
    mass: Asked
    behind: Asked


@dataclass(frozen=True)
class AskedStage:
    """What is asked for one stage of the job."""

    stage: Stage
    asked: tuple[Asked, ...]
    masses: tuple[MassRow, ...]


@dataclass(frozen=True)
class NewCar:
    """The questions for a new car, with the answers that could not be taken yet."""

    stages: tuple[AskedStage, ...]
    cars: tuple[str, ...]
    problems: tuple[str, ...]
    faults: int


def new(request: Request) -> Response:
    """Ask what is known of a new car."""
    return _page(request, {}, {})


async def write_new_car(request: Request) -> Response:
    """Write a new car's build file from what was answered, or say beside each answer why not."""
    form = await trusted_form(request)
    return await run_in_threadpool(_written, request, _answers(form))


async def copy(request: Request) -> Response:
    """Start a new car from one of those there are."""
    form = await trusted_form(request)
    name, source = plain_name(text_in(form, "name")), text_in(form, "source")
    return await run_in_threadpool(_copied, request, source, name)


ROUTES: tuple[BaseRoute, ...] = (
    Route(links.NEW_CAR, new),
    Route(links.NEW_CAR, write_new_car, methods=["POST"]),
    Route(links.COPY, copy, methods=["POST"]),
)
"""Not within a car: these stand beside the first page."""


def _answers(form: FormData) -> dict[str, str]:
    asked = [f"entry:{each.path}" for each in QUESTIONS]
    asked += [f"mass:{at}:{what}" for at in range(len(MASSES)) for what in ("mass", "behind")]
    return {field: text_in(form, field).strip() for field in asked}


def _written(request: Request, answers: Mapping[str, str]) -> Response:
    garage = garage_of(request)
    profile = settings_in(request).profile(answers[f"entry:{REGION}"])
    fields, given = _entries(answers, profile)
    faults = {
        fields.get(path, ""): words for path, words in faults_in(given, garage.catalogue).items()
    }
    if not answers[f"entry:{NAME}"]:
        faults[f"entry:{NAME}"] = "a car needs a name"
    for at in range(len(MASSES)):
        if answers[f"mass:{at}:behind"] and not answers[f"mass:{at}:mass"]:
            faults[f"mass:{at}:mass"] = "say its mass too"
    if faults:
        return _page(request, answers, faults)
    name = garage.free_name(given[NAME])
    try:
        write_starter(garage.path(name), given, garage.catalogue)
    except InputError as error:
        return _page(request, answers, {"": "; ".join(each.message for each in error.problems)})
    return RedirectResponse(links.car(name, "donor"), 303)


def _entries(answers: Mapping[str, str], profile: str) -> tuple[dict[str, str], dict[str, str]]:
    """Return the field each build path was typed in, and what was typed, styles as values."""
    fields: dict[str, str] = {}
    given: dict[str, str] = {}
    for question in QUESTIONS:
        typed = answers[f"entry:{question.path}"]
        if typed:
            fields[question.path] = f"entry:{question.path}"
            given[question.path] = typical(question.path, profile).get(typed, typed)
    number = 0
    for at, row in enumerate(MASSES):
        mass, behind = answers[f"mass:{at}:mass"], answers[f"mass:{at}:behind"]
        for path, typed in mass_entries(number, row, mass, behind).items():
            given[path] = typed
            fields[path] = f"mass:{at}:{'behind' if path.endswith('.x') else 'mass'}"
        number += bool(mass)
    return fields, given


def _copied(request: Request, source: str, name: str) -> Response:
    garage = garage_of(request)
    try:
        desk = garage.desk(source)
        if desk is None:
            raise InputError(Problem("", "", "there is no car of that name here", source[:80]))
        look = desk.look()
        if look.problems:
            raise InputError(*look.problems)
        copied = garage.free_name(name or source)
        text = named_anew(look.text, name)
        take_in(garage.path(copied), text, f"{source}.toml", garage.catalogue)
    except InputError as error:
        return render(request, "problem.html", status=422, problems=error.problems)
    return RedirectResponse(links.car(copied, "donor"), 303)


def _page(request: Request, answers: Mapping[str, str], faults: Mapping[str, str]) -> Response:
    garage = garage_of(request)
    profile = settings_in(request).profile(answers.get(f"entry:{REGION}", ""))
    reader = _Reader(garage, profile, answers, faults)
    stages = tuple(
        AskedStage(stage, asked, masses)
        for stage in STAGES
        for asked in (tuple(reader.asked(stage)),)
        for masses in (tuple(reader.masses(stage)),)
        if asked or masses
    )
    general = tuple(words for field, words in faults.items() if not field)
    view = NewCar(stages, garage.names(), general, len(faults))
    status = 422 if faults else 200
    return render(request, "new.html", status=status, view=view, here=links.NEW_CAR)


@dataclass(frozen=True)
class _Reader:
    """What is asked for, as it stands on the page."""

    garage: Garage
    profile: str
    answers: Mapping[str, str]
    faults: Mapping[str, str]

    def asked(self, stage: Stage) -> Iterator[Asked]:
        for question in QUESTIONS:
            if stage_of_path(question.path) is stage:
                yield self._question(question)

    def masses(self, stage: Stage) -> Iterator[MassRow]:
        if stage_of_path("mass") is not stage:
            return
        for at, row in enumerate(MASSES):
            mass = self._asked(f"mass:{at}:mass", "mass", self._example(row.mass, row.in_us_units))
            behind = self._asked(
                f"mass:{at}:behind", "behind the front axle", self._example(*_BEHIND)
            )
            yield MassRow("out" if row.way == "remove" else "in", row.what, mass, behind)

    def _question(self, question: Question) -> Asked:
        row = rows_by_path()[question.path]
        choices = row.choices
        if question.part_kind:
            choices = self.garage.catalogue.names(question.part_kind)
        return self._asked(
            f"entry:{question.path}",
            question.words,
            self._example(question.example, question.in_us_units),
            tuple(choices),
            tuple(typical(question.path, self.profile).items()),
            is_needed=question.path == NAME,
        )

    def _asked(
        self,
        field: str,
        words: str,
        example: str,
        choices: tuple[str, ...] = (),
        by_name: tuple[tuple[str, str], ...] = (),
        *,
        is_needed: bool = False,
    ) -> Asked:
        typed, fault = self.answers.get(field, ""), self.faults.get(field, "")
        if typed and choices and typed not in choices:
            choices = (*choices, typed)
        return Asked(field, words, example, typed, fault, choices, by_name, is_needed)

    def _example(self, metric: str, in_us_units: str) -> str:
        return in_us_units if self.profile == US and in_us_units else metric
