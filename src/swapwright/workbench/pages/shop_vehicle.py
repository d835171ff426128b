"""The vehicles of the shop: each with its revision, what fits it, its procedures, its history."""

from __future__ import annotations

from typing import get_args

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.jobs import shop_vehicle as jobs
from swapwright.jobs.procedure_sheet import sheet_of
from swapwright.jobs.shop_board import board_row
from swapwright.jobs.shop_history import moment_words
from swapwright.jobs.shop_incident import incident_rows
from swapwright.jobs.shop_permit import permit_rows
from swapwright.procedures.step import Kind
from swapwright.workbench import links
from swapwright.workbench.car_page import garage_of
from swapwright.workbench.shop_form import (
    UNSENT,
    Asked,
    Sent,
    act,
    id_of,
    or_not_found,
    shop_and_actor,
    shown,
    vehicle_look,
)

ALL, ONE = "/shop/vehicles", "/shop/vehicles/{id:str}"
KINDS: tuple[Kind, ...] = get_args(Kind)
PAPERS = ("a4", "letter")
WHO = {"aware": "anybody made aware", "isolation": "may isolate", "live": "may work live"}
"""Levels of competence as a sheet of paper tells them."""


def vehicles(request: Request, sent: Sent = UNSENT, status: int = 200) -> Response:
    """Show every vehicle, and the form that enters one from a car of the folder."""
    shop, actor = shop_and_actor(request)
    shop.allow(actor, "read records")
    return shown(
        request,
        "shop_vehicles.html",
        status,
        sent=sent,
        rows=tuple(shop.vehicles().values()),
        cars=garage_of(request).names(),
        car=request.query_params.get("car", ""),
        here=links.shop("vehicles"),
    )


def vehicle(request: Request, sent: Sent = UNSENT, status: int = 200) -> Response:
    """Show one vehicle."""
    shop, actor = shop_and_actor(request)
    name = id_of(request)
    view = jobs.vehicle_view(shop, actor, name, vehicle_look(request, shop))
    or_not_found(view, "vehicle")
    return shown(
        request,
        "shop_vehicle.html",
        status,
        sent=sent,
        view=view,
        row=board_row(shop, actor, name),
        kinds=KINDS,
        happenings=jobs.HAPPENINGS,
        permits=permit_rows(shop, actor, name),
        incidents=incident_rows(shop, actor, name),
        here=links.shop("vehicles", name),
    )


def procedure(request: Request) -> Response:
    """Show a procedure of a vehicle as it is printed: no expectation stands on it."""
    shop, actor = shop_and_actor(request)
    kind, paper = request.path_params["kind"], request.query_params.get("paper", PAPERS[0])
    or_not_found(kind if kind in KINDS else None, "procedure")
    look = vehicle_look(request, shop)
    found = jobs.printed_procedure(shop, actor, id_of(request), kind, look)
    known = jobs.known_vehicle(shop, id_of(request))
    return shown(
        request,
        "shop_procedure.html",
        procedure=found,
        vehicle=known,
        sheet=sheet_of(found),
        who=WHO,
        file=jobs.file_state(known, look),
        now=moment_words(shop.now()),
        paper=paper if paper in PAPERS else PAPERS[0],
        here=links.shop("vehicles", id_of(request), "procedure", kind),
    )


def history(request: Request) -> Response:
    """Send a vehicle's whole history as a file that can be verified elsewhere."""
    shop, actor = shop_and_actor(request)
    text = jobs.history_file(shop, actor, id_of(request))
    headers = {"content-disposition": f'attachment; filename="history-{id_of(request)}.json"'}
    return Response(f"{text}\n", media_type="application/json", headers=headers)


def photo(request: Request) -> Response:
    """Send a photo: to be looked at on a page, or as a file where that is asked for."""
    shop, actor = shop_and_actor(request)
    name = request.path_params["hash"]
    found = jobs.photo_content(shop, actor, name)
    or_not_found(found, "photo")
    how = "attachment" if "download" in request.query_params else "inline"
    headers = {"content-disposition": f'{how}; filename="photo-{name[:12]}.jpg"'}
    return Response(found, media_type="image/jpeg", headers=headers)


async def add(request: Request) -> Response:
    """Enter a vehicle."""
    cars = garage_of(request).names()

    def do(asked: Asked) -> str:
        made = jobs.add_vehicle(asked.shop, asked.actor, asked.given, cars)
        return links.shop("vehicles", made)

    return await act(request, "add", do, vehicles)


async def enter_revision(request: Request) -> Response:
    """Enter the car's file as it is as the vehicle's revision."""

    def do(asked: Asked) -> str:
        look = vehicle_look(request, asked.shop)
        jobs.enter_revision(asked.shop, asked.actor, id_of(request), look, asked.given)
        return links.shop("vehicles", id_of(request))

    return await act(request, "revision", do, vehicle)


async def happening(request: Request) -> Response:
    """Put on record what ends absence of voltage."""

    def do(asked: Asked) -> str:
        jobs.tell_happening(asked.shop, asked.actor, id_of(request), asked.given)
        return links.shop("vehicles", id_of(request))

    return await act(request, "happening", do, vehicle)


async def add_photo(request: Request) -> Response:
    """Take in a photo of a vehicle."""

    def do(asked: Asked) -> str:
        jobs.add_photo(asked.shop, asked.actor, id_of(request), asked.file, asked.given)
        return links.shop("vehicles", id_of(request))

    return await act(request, "photo", do, vehicle)


ROUTES: tuple[BaseRoute, ...] = (
    Route(ALL, vehicles),
    Route(ALL, add, methods=["POST"]),
    Route(ONE, vehicle),
    Route(ONE + "/procedure/{kind:str}", procedure),
    Route(ONE + "/history.json", history),
    Route(ONE + "/revision", enter_revision, methods=["POST"]),
    Route(ONE + "/happening", happening, methods=["POST"]),
    Route(ONE + "/photos", add_photo, methods=["POST"]),
    Route("/shop/photos/{hash:str}", photo),
)
