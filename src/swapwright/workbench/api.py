"""The HTTP interface: what other programs may ask of the cars here, or of a build they send.

It only reads and assesses: nothing behind it changes a file.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Any, Literal

from fastapi import APIRouter, FastAPI, Query, Request
from fastapi import Path as PathPart
from fastapi.exceptions import RequestValidationError
from fastapi.openapi.utils import get_openapi
from fastapi.responses import JSONResponse
from pydantic import BaseModel, ConfigDict, Field
from starlette.exceptions import HTTPException

from swapwright.assess.assessment import SCHEMA_VERSION
from swapwright.base.errors import InputError, Problem
from swapwright.base.finding import Verdict
from swapwright.base.nearest import nearest
from swapwright.build.load import MAX_BYTES
from swapwright.build.schema import schema as build_schema
from swapwright.jobs.check import Checked, check_text
from swapwright.jobs.circuit import circuit_view
from swapwright.jobs.circuit_document import circuit_document
from swapwright.jobs.contract import check_document, problems_document
from swapwright.workbench.api_schema import answers, components, refusals
from swapwright.workbench.garage import Garage, is_car_name
from swapwright.workbench.settings import Settings

TITLE = "Swapwright"
WORDS = "Reads and assesses; changes nothing. Numbers are SI and finite."
SENT = "sent.toml"
LONGEST_GIVEN = 60
MOST_TOLD = 100
"""Problems one answer tells; what is wrong with a request or a file may be said in thousands."""

Json = dict[str, Any]
Profile = Literal["metric", "us", "uk"]
Units = Annotated[
    Profile | None, Query(description="units of the texts; by default those of the car's region")
]
CarName = Annotated[str, PathPart(description="a build file's name without its ending")]
Verdicts = Annotated[
    list[Verdict], Query(default_factory=list, description="the verdicts wanted; none for all")
]

router = APIRouter()


class NotHereError(InputError):
    """What an address names is not there."""


class BuildSent(BaseModel):
    """A build to assess: the text of a build file, and the name problems are told under."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)

    build: Annotated[
        str, Field(max_length=MAX_BYTES, description="the text of a build file (TOML)")
    ]
    file: Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9 ._-]{0,119}$")] = SENT
    units: Profile | None = None


def interface(garage: Garage) -> FastAPI:
    """Return the interface over a folder of cars, with its description at ``/openapi.json``."""
    app = FastAPI(
        title=TITLE,
        description=WORDS,
        version=str(SCHEMA_VERSION),
        docs_url=None,
        redoc_url=None,
        redirect_slashes=False,
        exception_handlers={
            NotHereError: _not_here,
            InputError: _unusable,
            RequestValidationError: _not_asked_rightly,
            HTTPException: refused,
        },
    )
    app.state.garage = garage
    app.include_router(router)
    vars(app)["openapi"] = lambda: _description(app)
    return app


def _description(app: FastAPI) -> Json:
    """Return the description: the operations, and the published shapes of their answers."""
    if not app.openapi_schema:
        found = get_openapi(
            title=app.title, version=app.version, description=WORDS, routes=app.routes
        )
        shapes = found.setdefault("components", {}).setdefault("schemas", {})
        shapes.update(components())
        app.openapi_schema = found
    return app.openapi_schema


@router.get("/cars", responses=answers("cars", "the build files here, by name"))
def cars(request: Request) -> JSONResponse:
    """List the cars of the folder."""
    rows = [{"name": name, "file": f"{name}.toml"} for name in _garage(request).names()]
    return _answer(cars=rows)


@router.get("/cars/{car}/assessment", responses=answers("car", "the whole assessment"))
def assessment(request: Request, car: CarName, units: Units = None) -> JSONResponse:
    """Assess a car: figures with their workings, findings, curves, what is missing and assumed."""
    return JSONResponse(_document(_checked(request, car), units))


@router.get("/cars/{car}/figures", responses=answers("figures", "every figure, by id"))
def figures(request: Request, car: CarName, units: Units = None) -> JSONResponse:
    """Return every figure that could be made."""
    document = _document(_checked(request, car), units)
    return _of(document, figures=document["figures"])


@router.get("/cars/{car}/figures/{figure_id}", responses=answers("one_figure", "one figure"))
def figure(request: Request, car: CarName, figure_id: str, units: Units = None) -> JSONResponse:
    """Return one figure with its working."""
    document = _document(_checked(request, car), units)
    if figure_id in document["missing"]:
        needs = ", ".join(document["missing"][figure_id])
        raise _none(document["file"], figure_id, "this figure cannot be made yet", needs)
    found = _one(document, "figures", figure_id, "there is no such figure of this car")
    return _of(document, id=figure_id, figure=found)


@router.get("/cars/{car}/findings", responses=answers("findings", "findings, worst first"))
def findings(
    request: Request, car: CarName, verdict: Verdicts, units: Units = None
) -> JSONResponse:
    """Return the findings, or those of some verdicts."""
    document = _document(_checked(request, car), units)
    kept = [each for each in document["findings"] if not verdict or each["verdict"] in verdict]
    return _of(document, findings=kept)


@router.get("/cars/{car}/curves", responses=answers("curves", "every curve, by id"))
def curves(request: Request, car: CarName) -> JSONResponse:
    """Return every curve: the points that charts are drawn from."""
    document = _document(_checked(request, car), None)
    return _of(document, curves=document["curves"])


@router.get("/cars/{car}/curves/{curve_id}", responses=answers("one_curve", "one curve"))
def curve(request: Request, car: CarName, curve_id: str) -> JSONResponse:
    """Return one curve."""
    document = _document(_checked(request, car), None)
    found = _one(document, "curves", curve_id, "there is no such curve of this car")
    return _of(document, id=curve_id, curve=found)


@router.get("/cars/{car}/circuit", responses=answers("circuit", "the circuit, device by device"))
def circuit(request: Request, car: CarName) -> JSONResponse:
    """Return the high-voltage circuit, as designed: nothing in it was measured on the car."""
    checked = _checked(request, car)
    document = circuit_document(checked, circuit_view(checked))
    return JSONResponse({**document, "file": checked.opened.file})


@router.post("/assess", responses={**answers("car", "the whole assessment"), **refusals()})
def assess(request: Request, sent: BuildSent) -> JSONResponse:
    """Assess a build that is sent; it is kept nowhere."""
    garage = _garage(request)
    checked = check_text(sent.build, sent.file, garage.folder, garage.catalogue, garage.today())
    return JSONResponse(_document(checked, sent.units))


@router.get("/schema", responses=answers("schema", "the JSON Schema of a build file"))
def schema() -> JSONResponse:
    """Return the JSON Schema of a build file."""
    return JSONResponse(build_schema())


def _garage(request: Request) -> Garage:
    found: Garage = request.app.state.garage
    return found


def _checked(request: Request, car: str) -> Checked:
    """Return a car as its file stands now; raise not found, or InputError for a broken file."""
    garage = _garage(request)
    desk = garage.desk(car)
    if desk is None:
        near = nearest(car, garage.names()) if is_car_name(car) else ""
        raise NotHereError(
            Problem("", "", "there is no car of that name here", _plain(car), "", near)
        )
    look = desk.look()
    if look.problems or look.checked is None:
        raise InputError(*look.problems)
    checked = look.checked
    return replace(checked, opened=replace(checked.opened, file=desk.path.name))


def _document(checked: Checked, units: str | None) -> Json:
    profile = Settings(units=units or "").profile(checked.assessment.region)
    return check_document([checked], profile, is_list=False)


def _answer(**content: Any) -> JSONResponse:
    return JSONResponse({"schema_version": SCHEMA_VERSION, **content})


def _of(document: Json, **content: Any) -> JSONResponse:
    return _answer(file=document["file"], revision=document["revision"], **content)


def _one(document: Json, kind: str, wanted: str, words: str) -> Json:
    found: Json | None = document[kind].get(wanted)
    if found is None:
        raise _none(document["file"], wanted, words, "", nearest(wanted, document[kind]))
    return found


def _none(file: str, path: str, words: str, allowed: str = "", near: str = "") -> NotHereError:
    return NotHereError(Problem(file, _plain(path), words, "", allowed, near))


def _told(
    status: int, problems: Sequence[Problem], headers: dict[str, str] | None = None
) -> JSONResponse:
    """Return problems as an answer; of a file its name alone, never the folder it lies in."""
    named = [
        replace(each, file=Path(each.file).name, given=_plain(each.given))
        for each in problems[:MOST_TOLD]
    ]
    if len(problems) > MOST_TOLD:
        named.append(Problem("", "", f"and {len(problems) - MOST_TOLD} more"))
    return JSONResponse(problems_document(named), status_code=status, headers=headers)


async def _not_here(_: Request, error: Exception) -> JSONResponse:
    return _told(404, error.problems if isinstance(error, InputError) else ())


async def _unusable(_: Request, error: Exception) -> JSONResponse:
    return _told(422, error.problems if isinstance(error, InputError) else ())


async def _not_asked_rightly(_: Request, error: Exception) -> JSONResponse:
    """Tell which part of a request is not what the description asks for."""
    faults = error.errors() if isinstance(error, RequestValidationError) else ()
    return _told(
        422,
        [
            Problem(
                "",
                _plain(".".join(str(step) for step in fault["loc"])),
                str(fault["msg"]),
                "" if fault["type"] == "missing" else str(fault["input"])[:LONGEST_GIVEN],
            )
            for fault in faults
        ],
    )


async def refused(_: Request, error: Exception) -> JSONResponse:
    """Tell that an address leads nowhere, or that a request was refused."""
    status, detail, headers = 500, "something went wrong here", None
    if isinstance(error, HTTPException):
        status, detail, headers = error.status_code, error.detail, dict(error.headers or {})
    return _told(status, [Problem("", "", str(detail))], headers)


def _plain(text: str) -> str:
    """Return a text that can be sent, of bounded length, whatever was in it."""
    return text[:LONGEST_GIVEN].encode("utf-8", "replace").decode("utf-8")
