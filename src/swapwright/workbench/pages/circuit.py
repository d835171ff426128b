"""The high-voltage circuit of a car: its drawing, its switches, and what each device bears."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from markupsafe import Markup
from starlette.datastructures import QueryParams
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.assess.queries import STATES
from swapwright.base.errors import InputError, Problem
from swapwright.base.finding import Finding, Verdict
from swapwright.jobs.check import Checked
from swapwright.jobs.circuit import (
    HIGHEST,
    THROWN,
    CircuitView,
    SectionRow,
    circuit_view,
    words_of_state,
)
from swapwright.jobs.circuit_drawing import diagram_of
from swapwright.jobs.circuit_words import (
    CABLE_HEADS,
    CABLE_TITLE,
    COIL_HEADS,
    COIL_TITLE,
    DEVICE_HEADS,
    DEVICE_NOTE,
    PLACE_HEADS,
    PLACE_TITLE,
    SECTION_NOTE,
    UNKNOWN,
    Cell,
    CircuitWords,
    entry_path,
)
from swapwright.jobs.earthing import BODY_NOTE
from swapwright.jobs.fault_choices import FaultChoices, fault_choices
from swapwright.jobs.figure_text import FigureText
from swapwright.jobs.fitting import CABLE_NOTES, COIL_NOTES
from swapwright.jobs.section_words import cell_words, emptying_words, reach_lines
from swapwright.jobs.stage import Stage, stage_of_path
from swapwright.jobs.switches import Thrown, switch_words, thrown, thrown_to
from swapwright.workbench.car_page import CarPage, car_page, render
from swapwright.workbench.finding_row import FindingRow, finding_rows
from swapwright.workbench.one_line import one_line

PEOPLE = (
    "people.glove_voltage",
    "people.meter_voltage",
    "people.current_dry",
    "people.current_wet",
)
FIRST = STATES[0]
"""The state a person meets the page in: the car at rest with the key off."""


@dataclass(frozen=True)
class TableRow:
    """One row of a table: what it is of, the entry it is changed at, its cells, what ends it."""

    name: str
    path: str
    cells: tuple[Cell, ...]
    verdict: Verdict | None = None
    tightest: Finding | None = None
    last: str = ""


@dataclass(frozen=True)
class Table:
    """A table with what is to know beside it."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[TableRow, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class SectionLine:
    """One section in the state the switches are in; ``glance`` is the short of it."""

    name: str
    glance: str
    word: str
    reached: tuple[str, ...]
    volts: str
    spans: str
    wait: Cell
    notes: tuple[str, ...]


@dataclass(frozen=True)
class SwitchedPage:
    """The switches as thrown and what comes of them."""

    thrown: Thrown
    names: tuple[tuple[str, str], ...]
    words: str
    query: tuple[tuple[str, str], ...]
    sections: tuple[SectionLine, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class CircuitPage:
    """The circuit of one car."""

    stage: Stage
    drawing: Markup
    highest: FigureText
    switched: SwitchedPage
    devices: Table
    places: Table
    cables: Table
    coils: Table
    people: tuple[FigureText, ...]
    people_findings: tuple[FindingRow, ...]
    people_note: str
    choices: FaultChoices


def circuit(request: Request) -> Response:
    """Show the circuit with its switches as the address has them."""
    page = car_page(request)
    view, status = None, 200
    problems: tuple[Problem, ...] = ()
    if page.checked is not None:
        try:
            view = _page(page, page.checked, request.query_params)
        except InputError as error:
            problems = error.problems
        else:
            status = 422 if view.switched.thrown.problems else 200
    return render(
        request, "circuit.html", status=status, page=page, view=view, problems=problems, **BLANK
    )


def drawing(request: Request) -> Response:
    """Send the diagram as a file; its sections are told where the address has switches."""
    page = car_page(request)
    if page.checked is None:
        raise HTTPException(404, "the file has no car to draw")
    asked = _thrown(page.checked, request.query_params, "")
    state = None if asked is None else asked.state
    try:
        view = circuit_view(page.checked, () if state is None else (state,))
    except InputError as error:
        raise HTTPException(404, error.problems[0].message) from None
    text = diagram_of(page.checked, view, page.profile, state)
    return Response(text, media_type="image/svg+xml")


def sheet(request: Request) -> Response:
    """Show the diagram alone, for the printer and for a screen as wide as there is."""
    page = car_page(request)
    svg = Markup("")
    problems: tuple[Problem, ...] = ()
    query: tuple[tuple[str, str], ...] = ()
    if page.checked is not None:
        asked = _thrown(page.checked, request.query_params, "")
        query = () if asked is None else _query(asked)
        state = None if asked is None else asked.state
        try:
            view = circuit_view(page.checked, () if state is None else (state,))
            svg = one_line(page, page.checked, view, state)
        except InputError as error:
            problems = error.problems
    return render(request, "circuit_sheet.html", page=page, svg=svg, query=query, problems=problems)


BLANK: dict[str, Any] = {"asked": None, "refused": {}}
"""What the forms of faults show where nothing has been asked of them."""

ROUTES: tuple[BaseRoute, ...] = (
    Route("/circuit", circuit),
    Route("/circuit.svg", drawing),
    Route("/circuit/sheet", sheet),
)


def _thrown(checked: Checked, given: QueryParams, otherwise: str) -> Thrown | None:
    """Return the switches an address has, or a named state; None where there is neither."""
    car = checked.opened.car
    if any(name in given for name in ("thrown", "closed", "joined")):
        return thrown(car, given.getlist("closed"), given.getlist("joined"))
    named = given.get("state", otherwise)
    return thrown_to(car, named) if named else None


def _query(found: Thrown) -> tuple[tuple[str, str], ...]:
    """Return what an address says of the switches."""
    if found.named:
        return (("state", found.named),)
    closed = (("closed", each.name) for each in found.switches if each.is_closed)
    joined = (("joined", each.name) for each in found.outside if each.is_joined)
    return (("thrown", "yes"), *closed, *joined)


def _page(page: CarPage, checked: Checked, given: QueryParams) -> CircuitPage:
    found = _thrown(checked, given, FIRST) or thrown_to(checked.opened.car, FIRST)
    view = circuit_view(checked, (found.state,))
    words = CircuitWords(checked, page.profile)
    telling = page.telling
    told = {} if telling is None else telling.figures((HIGHEST, *PEOPLE))
    findings = (each for each in view.findings if each.rule.startswith("people."))
    return CircuitPage(
        stage_of_path("hv"),
        one_line(page, checked, view, found.state),
        told.get(HIGHEST, FigureText(HIGHEST, "", "")),
        _switched(checked, view, words, found),
        Table("Device by device", DEVICE_HEADS, _devices(view, words), (DEVICE_NOTE,)),
        Table(PLACE_TITLE, PLACE_HEADS, _places(view, words), words.nothing_clears(view.places)),
        Table(CABLE_TITLE, CABLE_HEADS, _cables(view, words), CABLE_NOTES),
        Table(COIL_TITLE, COIL_HEADS, _coils(view, words), COIL_NOTES),
        tuple(each for each in told.values() if each.id in PEOPLE and each.text),
        finding_rows(page.name, checked, findings, page.profile),
        BODY_NOTE,
        fault_choices(checked.opened.car),
    )


def _switched(
    checked: Checked, view: CircuitView, words: CircuitWords, found: Thrown
) -> SwitchedPage:
    gaps = words.gaps(view.gaps)
    return SwitchedPage(
        found,
        tuple((each, words_of_state(each, view.gaps)) for each in STATES),
        words_of_state(found.named or THROWN, view.gaps)
        if found.named
        else switch_words(checked.opened.car, found.state),
        _query(found),
        tuple(_section(row, words) for row in view.sections),
        (*((gaps,) if gaps else ()), SECTION_NOTE),
    )


def _section(row: SectionRow, words: CircuitWords) -> SectionLine:
    ((_, state),), (spans,) = row.states, row.spans
    word, volts = cell_words(state), words.highest(spans)
    return SectionLine(
        row.name,
        f"{word}, voltage not known" if volts == UNKNOWN else f"{word}, up to {volts}",
        word,
        reach_lines(state),
        volts,
        "" if spans is None else words.spans(spans),
        words.wait_in(row, state),
        (*((emptying_words(row.emptied_by),) if row.stores else ()), *words.stranded(row)),
    )


def _devices(view: CircuitView, words: CircuitWords) -> tuple[TableRow, ...]:
    return tuple(
        TableRow(
            row.device.name,
            entry_path(row.device),
            words.device(row),
            row.verdict,
            row.tightest,
        )
        for row in view.devices
    )


def _places(view: CircuitView, words: CircuitWords) -> tuple[TableRow, ...]:
    return tuple(TableRow(row.place.name, "", words.place(row)) for row in view.places)


def _cables(view: CircuitView, words: CircuitWords) -> tuple[TableRow, ...]:
    return tuple(
        TableRow(row.device.name, entry_path(row.device), words.cable(row), last=row.limits)
        for row in view.cables
    )


def _coils(view: CircuitView, words: CircuitWords) -> tuple[TableRow, ...]:
    return tuple(
        TableRow(row.device.name, entry_path(row.device), words.coil(row)) for row in view.coils
    )
