"""The parts there are, listed by kind, and each of them in full."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.base.errors import InputError, Problem
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.parts import (
    HEADS,
    KIND_WORDS,
    LISTED,
    Entry,
    cell_text,
    entries,
    get_part,
    kinds,
)
from swapwright.workbench import links
from swapwright.workbench.car_page import garage_of, render, settings_in


@dataclass(frozen=True)
class PartRow:
    """One part in the list of its kind: its data under the heads, or what its file has wrong."""

    name: str
    data: tuple[str, ...]
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True)
class KindView:
    """All parts of one kind."""

    kind: str
    many: str
    heads: tuple[str, ...]
    rows: tuple[PartRow, ...]


@dataclass(frozen=True)
class PartInFull:
    """One part: everything its file says; ``values`` in a line each, ``tables`` as tables."""

    kind: str
    one: str
    many: str
    name: str
    file: str
    values: tuple[Entry, ...]
    tables: tuple[Entry, ...]


def catalogue(request: Request) -> Response:
    """Show every part of the catalogue, by kind."""
    profile = settings_in(request).profile("")
    views = tuple(_kind(garage_of(request).catalogue, kind, profile) for kind in kinds())
    return render(request, "catalogue.html", here=links.PARTS, kinds=views)


def part_in_full(request: Request) -> Response:
    """Show one part of the catalogue."""
    kind, name = request.path_params["kind"], request.path_params["name"]
    profile = settings_in(request).profile("")
    try:
        part = get_part(garage_of(request).catalogue, kind, name)
    except InputError as error:
        raise HTTPException(404, error.problems[0].message) from None
    told = entries(part, profile)
    view = PartInFull(
        kind,
        *KIND_WORDS[kind],
        part.name,
        part.file,
        tuple(each for each in told if not each.table),
        tuple(each for each in told if each.table),
    )
    return render(request, "catalogue_part.html", view=view)


def _kind(parts: Catalogue, kind: str, profile: str) -> KindView:
    rows = tuple(_row(parts, kind, name, profile) for name in parts.names(kind))
    heads = tuple(HEADS.get(key, key.replace("_", " ")) for key in LISTED[kind])
    return KindView(kind, KIND_WORDS[kind][1], heads, rows)


def _row(parts: Catalogue, kind: str, name: str, profile: str) -> PartRow:
    try:
        part = parts.get(kind, name)
    except InputError as error:
        return PartRow(name, tuple("" for _ in LISTED[kind]), error.problems)
    return PartRow(name, tuple(cell_text(part, key, profile) for key in LISTED[kind]))


ROUTES: tuple[BaseRoute, ...] = (
    Route(links.PARTS, catalogue),
    Route(links.PARTS + "/{kind:str}/{name:str}", part_in_full),
)
"""Addresses of the workbench itself, not within a car."""
