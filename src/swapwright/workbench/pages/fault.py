"""What happens if: a short at a place, a precharge or a discharge with something wrong, told."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.datastructures import QueryParams
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.base.errors import InputError, Problem
from swapwright.jobs.account import Account
from swapwright.jobs.check import Checked
from swapwright.jobs.fault import CHARGES, FaultOrder
from swapwright.jobs.fault import fault as told
from swapwright.jobs.fault_choices import FaultChoices, fault_choices
from swapwright.jobs.naming import circuit_in
from swapwright.jobs.precharging import PrechargeOrder
from swapwright.jobs.stage import Stage, stage_of_path
from swapwright.jobs.telling import tell
from swapwright.workbench.car_page import car_page, render

FIELDS = ("at", "pack", "load", "resistor", "leak", "open")
"""The fields of the forms, as the address has them; the job names them with two dashes."""

Refused = dict[str, tuple[Problem, ...]]


@dataclass(frozen=True)
class Asked:
    """What a person asked: ``what`` is one of at, precharge and discharge, or empty."""

    what: str
    at: str
    pack: str
    loads: tuple[str, ...]
    resistor: str
    leak: str
    opened: tuple[str, ...]

    def order(self) -> FaultOrder:
        """Return it as an order."""
        precharge = PrechargeOrder(self.loads, self.resistor or None, self.leak or None)
        return FaultOrder(
            at=self.at if self.what == "at" else None,
            charge=self.pack,
            precharge=precharge if self.what == "precharge" else None,
            is_discharge=self.what == "discharge",
            opened=self.opened,
        )


@dataclass(frozen=True)
class AccountText:
    """What happens, in the person's units: a line for each moment and each fact."""

    title: str
    moments: tuple[tuple[str, str], ...]
    groups: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class FaultPage:
    """The forms of faults with what was asked, and what was told of it."""

    stage: Stage
    choices: FaultChoices
    accounts: tuple[AccountText, ...]


def fault(request: Request) -> Response:
    """Tell what happens in the fault an address names."""
    page = car_page(request)
    asked = _asked(request.query_params)
    view, status = None, 200
    problems: tuple[Problem, ...] = ()
    refused: Refused = {}
    if page.checked is not None:
        accounts: tuple[Account, ...] = ()
        try:
            accounts = _told(page.checked, asked)
        except InputError as error:
            status = 422
            refused = _by_field(error)
            problems = tuple(each for each in error.problems if _field(each) not in FIELDS)
        view = FaultPage(
            stage_of_path("hv"),
            fault_choices(page.checked.opened.car),
            tuple(_text(each, page.profile) for each in accounts),
        )
    return render(
        request,
        "fault.html",
        status=status,
        page=page,
        view=view,
        problems=problems,
        asked=asked,
        refused=refused,
    )


ROUTES: tuple[BaseRoute, ...] = (Route("/fault", fault),)


def _asked(given: QueryParams) -> Asked:
    what = next((each for each in ("at", "precharge", "discharge") if given.get(each)), "")
    return Asked(
        what,
        given.get("at", ""),
        given.get("pack", CHARGES[0]),
        tuple(given.getlist("load")),
        given.get("resistor", "").strip(),
        given.get("leak", "").strip(),
        tuple(given.getlist("open")),
    )


def _told(checked: Checked, asked: Asked) -> tuple[Account, ...]:
    """Return what happens; nothing where nothing was asked."""
    opened = checked.opened
    circuit_in(opened.car, opened.file)
    if not asked.what:
        return ()
    if asked.pack not in CHARGES:
        raise InputError(
            Problem("--pack", "", "no such state of the pack", asked.pack, ", ".join(CHARGES))
        )
    return told(opened, asked.order())


def _field(problem: Problem) -> str:
    return problem.file.removeprefix("--")


def _by_field(error: InputError) -> Refused:
    found: Refused = {}
    for each in error.problems:
        found[_field(each)] = (*found.get(_field(each), ()), each)
    return found


def _text(account: Account, profile: str) -> AccountText:
    groups = (("", account.facts), *account.groups)
    return AccountText(
        account.title,
        tuple((tell(each.time, "time", profile), each.text) for each in account.moments),
        tuple(
            (title, tuple((fact.label.strip(), fact.text(profile)) for fact in facts))
            for title, facts in groups
        ),
        account.notes,
    )
