"""A run of a procedure on a tablet: the page, what is sent from it, its record on paper."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, RedirectResponse, Response
from starlette.routing import BaseRoute, Route
from starlette.templating import Jinja2Templates

from swapwright.jobs.clock import clock_mark
from swapwright.jobs.labels import qr_svg
from swapwright.jobs.shop import Shop
from swapwright.jobs.shop_history import moment_words
from swapwright.jobs.shop_ledger import checkpoint_at
from swapwright.jobs.shop_run import Result, run_acts
from swapwright.jobs.shop_run_act import ACTS, LAPSES, Act
from swapwright.jobs.shop_run_begin import begin_run, beginning
from swapwright.jobs.shop_run_record import print_run, run_record
from swapwright.jobs.shop_run_view import RunView, run_view
from swapwright.jobs.shop_vehicle import HAPPENINGS
from swapwright.records.record import Json, new_key
from swapwright.workbench import links
from swapwright.workbench.identity import actor_in
from swapwright.workbench.security import token_for
from swapwright.workbench.shop_form import (
    SEPARATOR,
    UNSENT,
    Asked,
    Sent,
    act,
    asked_of,
    id_of,
    or_not_found,
    shop_and_actor,
    shown,
    vehicle_look,
)

WORKER = "/shop/run-worker.js"
SCOPE = "/shop/runs/"
RUN = "/shop/runs/{id:str}"
BEGIN = "/shop/vehicles/{id:str}/begin/{kind:str}"
PAPERS = ("a4", "letter")
MOST_ACTS = 100
LONGEST_NUMBER = 12
UNITS: Mapping[str, tuple[str, ...]] = {
    "dc voltage": ("V",),
    "ac voltage": ("V",),
    "resistance": ("mohm", "ohm", "kohm", "Mohm", "Gohm"),
    "current": ("mA", "A"),
    "temperature": ("degC",),
}
MODES = ("fixed range", "auto range", "low impedance")
SCRIPTS = ("run", "run-judge", "run-kept", "run-pads", "run-photo", "run-queue", "run-standing")
PARTS = ("sheet.css", "shop.css", "run.css", "mark.svg", *(f"{each}.js" for each in SCRIPTS))
"""What the page is made of, kept on the device together with it."""
_KEY = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{7,79}")


def run(request: Request, status: int = 200, notes: tuple[str, ...] = ()) -> Response:
    """Show a run: the step that is due, and how it stands."""
    view, shop = _view(request)
    return shown(
        request,
        "shop_run.html",
        status,
        view=view,
        picks_person=actor_in(request).is_local,
        notes=notes,
        data=_data(request, view, shop),
        happenings={name: each.words for name, each in HAPPENINGS.items()},
        UNITS=UNITS,
        MODES=MODES,
        here=links.shop("runs", view.id),
    )


def state(request: Request) -> Response:
    """Send how a run stands, to a page that is open."""
    view, _ = _view(request)
    return JSONResponse(_state(request, view))


async def do(request: Request) -> Response:
    """Take what a page without script sends, and lead back to the run."""
    asked = await asked_of(request)
    return await run_in_threadpool(_done, request, asked)


async def acts(request: Request) -> Response:
    """Take what a device did, in its order, and say what became of each and how it stands."""
    asked = await asked_of(request)
    return await run_in_threadpool(_acted, request, asked)


def record(request: Request, sent: Sent = UNSENT, status: int = 200) -> Response:
    """Show the record of a run as it is printed; the checkpoint where one was signed for it."""
    shop, actor = shop_and_actor(request)
    found = run_record(shop, actor, id_of(request))
    or_not_found(found, "run")
    number = request.query_params.get("checkpoint", "")
    is_number = number.isdecimal() and len(number) < LONGEST_NUMBER
    checkpoint = checkpoint_at(shop, int(number)) if is_number else None
    address = f"{str(request.base_url).rstrip('/')}{links.shop('runs', id_of(request), 'record')}"
    paper = request.query_params.get("paper", PAPERS[0])
    view = run_view(shop, actor, id_of(request), _clock(shop))
    return shown(
        request,
        "shop_run_record.html",
        status,
        sent=sent,
        record=found,
        view=view,
        checkpoint=checkpoint,
        code=qr_svg(address),
        checkpoint_code="" if checkpoint is None else qr_svg(checkpoint.document),
        address=address,
        now=moment_words(shop.now()),
        paper=paper if paper in PAPERS else PAPERS[0],
        here=links.shop("runs", id_of(request), "record"),
    )


async def print_it(request: Request) -> Response:
    """Sign a checkpoint for a run's record and lead to its print."""

    def sign(asked: Asked) -> str:
        made = print_run(asked.shop, asked.actor, id_of(request))
        return links.shop("runs", id_of(request), "record", checkpoint=str(made.number))

    return await act(request, "print", sign, record)


def begin_page(request: Request, sent: Sent = UNSENT, status: int = 200) -> Response:
    """Show what a run is begun with: who, and which equipment."""
    shop, actor = shop_and_actor(request)
    kind = request.path_params["kind"]
    found = beginning(shop, actor, id_of(request), kind, vehicle_look(request, shop))
    here = links.shop("vehicles", id_of(request), "begin", kind)
    return shown(request, "shop_run_begin.html", status, sent=sent, view=found, here=here)


async def begin(request: Request) -> Response:
    """Begin a run and lead to it."""

    def made(asked: Asked) -> str:
        given, kind = asked.given, request.path_params["kind"]
        people = [each for each in given.get("people", "").split(SEPARATOR) if each]
        items = [value for name, value in given.items() if name.startswith("item.") and value]
        look = vehicle_look(request, asked.shop)
        found = begin_run(asked.shop, asked.actor, id_of(request), kind, look, given, people, items)
        return links.shop("runs", found)

    return await act(request, "begin", made, begin_page)


def worker(request: Request) -> Response:
    """Send the script that keeps a run's page on the device."""
    file = Path(__file__).parent.parent / "static" / "run-worker.js"
    return FileResponse(
        file, media_type="text/javascript", headers={"service-worker-allowed": SCOPE}
    )


ROUTES: tuple[BaseRoute, ...] = (
    Route(WORKER, worker),
    Route(BEGIN, begin_page),
    Route(BEGIN, begin, methods=["POST"]),
    Route(RUN, run),
    Route(RUN + "/state", state),
    Route(RUN + "/do", do, methods=["POST"]),
    Route(RUN + "/acts", acts, methods=["POST"]),
    Route(RUN + "/record", record),
    Route(RUN + "/record", print_it, methods=["POST"]),
)


def _view(request: Request) -> tuple[RunView, Shop]:
    shop, actor = shop_and_actor(request)
    found = run_view(shop, actor, id_of(request), _clock(shop))
    if found is None:
        raise HTTPException(404, "there is no run of this id")
    return found, shop


def _clock(shop: Shop) -> dict[str, Any]:
    """Return this machine's moment, as a record's clock."""
    return {"server": dict(clock_mark(shop.now()))}


def _done(request: Request, asked: Asked) -> Response:
    """Do what one form says; a photo sent with a step is kept before the step is done."""
    given, clock = dict(asked.given), _clock(asked.shop)
    key = given.get("key", "")
    one = Act(
        key if _KEY.fullmatch(key) else new_key(),
        given.get("do", ""),
        given.get("by", ""),
        given,
        clock,
        photo=asked.file,
    )
    wanted = [one]
    if asked.file and one.name == "step.done":
        shows = {"step": one.step, "what": "photo of the step"}
        taken = Act(f"photo-{one.key}", "photo.added", one.by, shows, clock, photo=asked.file)
        wanted.insert(0, taken)
    results = run_acts(asked.shop, asked.actor, id_of(request), wanted)
    told = tuple(words for each in results for words in (each.refused, each.again) if words)
    if told:
        return run(request, 422, told)
    return RedirectResponse(links.shop("runs", id_of(request)), 303)


def _acted(request: Request, asked: Asked) -> Response:
    sent = _sent(asked)
    results = run_acts(asked.shop, asked.actor, id_of(request), sent)
    view, _ = _view(request)
    return JSONResponse(
        {"results": [_result(each) for each in results], "state": _state(request, view)}
    )


def _result(result: Result) -> dict[str, Any]:
    return {
        "key": result.key,
        "number": result.number,
        "refused": result.refused,
        "again": result.again,
    }


def _sent(asked: Asked) -> list[Act]:
    """Return the acts of a request; raise a refusal for what is none."""
    try:
        rows = json.loads(asked.given.get("acts", ""))
        if not isinstance(rows, list) or len(rows) > MOST_ACTS:
            raise ValueError("acts")
        photo = asked.file if len(rows) == 1 else b""
        return [_act_of(row, photo, _clock(asked.shop)) for row in rows]
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        raise HTTPException(400, "refused: these are no acts of a run") from None


def _act_of(row: Mapping[str, Any], photo: bytes, clock: dict[str, Any]) -> Act:
    key, sequence = str(row["key"]), row.get("sequence")
    if not _KEY.fullmatch(key):
        raise ValueError(key)
    fields = {_text(name): _text(value) for name, value in row["fields"].items()}
    device = _device_clock(row.get("clock"))
    return Act(
        key,
        str(row["do"]),
        fields.get("by", ""),
        fields,
        {**device, **clock},
        _text(row.get("device", ""))[:80],
        sequence if isinstance(sequence, int) else None,
        _text(row.get("read_at", ""))[:40],
        photo,
    )


def _text(value: object) -> str:
    """Return a text that can be kept: half a letter is none."""
    return str(value).encode("utf-8", "replace").decode("utf-8")


def _device_clock(told: object) -> dict[str, Json]:
    """Return a device's moment; nothing where it tells none that can be counted by."""
    if not isinstance(told, Mapping):
        return {}
    try:
        ticks = float(told["ticks"])
    except (KeyError, TypeError, ValueError):
        return {}
    if not math.isfinite(ticks):
        return {}
    young, old = (_seconds(told.get(each)) for each in ("young", "old"))
    wall, boot = _text(told.get("wall", ""))[:40], _text(told.get("boot", ""))[:80]
    device: dict[str, Json] = {"wall": wall, "boot": boot, "ticks": ticks}
    return {"device": device, "young": young, "old": max(young, old)}


def _seconds(told: object) -> float:
    """Return how long ago a device says something was, s; 0 where it says nothing of the kind."""
    is_number = isinstance(told, int | float) and not isinstance(told, bool)
    found = float(told) if isinstance(told, int | float) and is_number else 0.0
    return max(found, 0.0) if math.isfinite(found) else 0.0


def _data(request: Request, view: RunView, shop: Shop) -> dict[str, Any]:
    """Return what the page's script works by; no expectation is shown before its reading."""
    own = links.shop("runs", view.id)
    return {
        "run": view.id,
        "acts": f"{own}/acts",
        "state_at": f"{own}/state",
        "live": links.shop("live"),
        "worker": WORKER,
        "own": "" if actor_in(request).is_local else actor_in(request).person,
        "people": {each.id: each.name for each in shop.people().values()},
        "parts": [links.static(each) for each in PARTS],
        "lapses": list(LAPSES),
        "names": {name: each.words for name, each in ACTS.items()},
        "steps": [_step(row.step) for row in view.rows],
        "state": _state(request, view),
    }


def _step(step: Any) -> dict[str, Any]:
    spec = step.reading
    reading = None
    if spec is not None:
        reading = {
            "quantity": spec.quantity,
            "low": spec.expected.low,
            "high": spec.expected.high,
            "limit": spec.limit,
            "first": spec.first,
            "after": spec.after,
        }
    return {
        "id": step.id,
        "act": step.act,
        "title": step.title,
        "photo": step.photo,
        "wait": step.wait or 0.0,
        "people": step.people,
        "reading": reading,
    }


def _state(request: Request, view: RunView) -> dict[str, Any]:
    templates: Jinja2Templates = request.app.state.templates

    def part(name: str) -> str:
        return templates.env.get_template(name).render(view=view)

    return {
        "head": view.head,
        "token": token_for(request),
        "done": [row.step.id for row in view.rows if row.is_done],
        "current": "" if view.current is None else view.current.step.id,
        "signed": {row.step.id: list(row.signed) for row in view.rows if row.signed},
        "left": {row.step.id: row.left for row in view.rows if row.left is not None},
        "begun": {
            row.step.id: row.begun["device"]
            for row in view.rows
            if row.begun and "device" in row.begun
        },
        "seen": view.seen,
        "free": [each.id for each in view.locks],
        "hung": [[each.value, each.words] for each in view.hung],
        "entered": {name: {"si": si, "step": step} for name, (si, step) in view.entered.items()},
        "stop": view.stop is not None,
        "clear": view.stop is not None and view.stop.can_be_cleared,
        "held": bool(view.held),
        "ended": bool(view.ended),
        "now_html": part("_shop_run_now.html"),
        "conditions_html": part("_shop_run_conditions.html"),
    }
