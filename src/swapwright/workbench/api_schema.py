"""The shapes of the HTTP interface's answers, for its description: the published schemas, named."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from swapwright.jobs.circuit_schema import circuit_schema
from swapwright.jobs.output_schema import (
    TEXT,
    VERSION,
    Schema,
    check_schema,
    problems_schema,
    record,
)

_PLACE = "#/components/schemas/"


def components() -> Mapping[str, Schema]:
    """Return every shape by its name, each pointing to the others within an OpenAPI document."""
    published = check_schema()["$defs"]
    car = published["car"]["properties"]
    kinds = {"figures": "figure", "curves": "curve"}
    of_car = {"file": TEXT, "revision": TEXT}
    row = record(name=TEXT, file=TEXT)
    shapes: dict[str, Schema] = {
        **published,
        **{kind: car[many]["additionalProperties"] for many, kind in kinds.items()},
        "finding": car["findings"]["items"],
        "cars": _answer(cars={"type": "array", "items": row}),
        "figures": _answer(**of_car, figures=_by_id("figure")),
        "one_figure": _answer(**of_car, id=TEXT, figure=_shape("figure")),
        "findings": _answer(**of_car, findings={"type": "array", "items": _shape("finding")}),
        "curves": _answer(**of_car, curves=_by_id("curve")),
        "one_curve": _answer(**of_car, id=TEXT, curve=_shape("curve")),
        "circuit": circuit_schema(),
        "problems": problems_schema(),
        "schema": {"type": "object", "description": "the JSON Schema of a build file"},
    }
    return {name: _within(shape) for name, shape in shapes.items()}


def answers(shape: str, words: str) -> dict[int | str, dict[str, Any]]:
    """Return what an operation may answer: the shape named, or problems."""
    return {
        200: _content(words, shape),
        404: _content("there is no such thing, or no such address", "problems"),
        422: _content("what was asked, or the build file, cannot be used", "problems"),
    }


def refusals() -> dict[int | str, dict[str, Any]]:
    """Return what an operation that reads a body may answer before it reads what it says."""
    return {
        400: _content("the body cannot be read", "problems"),
        403: _content("the request comes from another site", "problems"),
        413: _content("the body is too large", "problems"),
    }


def _content(words: str, shape: str) -> dict[str, Any]:
    return {"description": words, "content": {"application/json": {"schema": _shape(shape)}}}


def _answer(**properties: Schema) -> Schema:
    return record(schema_version=VERSION, **properties)


def _shape(name: str) -> Schema:
    return {"$ref": f"{_PLACE}{name}"}


def _by_id(name: str) -> Schema:
    return {"type": "object", "additionalProperties": _shape(name)}


def _within(shape: Any) -> Any:
    """Return a schema with its pointers led to where it stands now, without what heads a page."""
    if isinstance(shape, list):
        return [_within(each) for each in shape]
    if not isinstance(shape, dict):
        return shape
    return {
        key: each.replace("#/$defs/", _PLACE) if key == "$ref" else _within(each)
        for key, each in shape.items()
        if key not in ("$schema", "$defs")
    }
