"""The JSON Schema of what `procedure --json` prints."""

from __future__ import annotations

from typing import get_args

from swapwright.build.schema import DRAFT
from swapwright.jobs.output_schema import NUMBER, TEXT, TEXTS, VERSION, Schema, or_null, record
from swapwright.procedures.document import FORMAT
from swapwright.procedures.step import Act, Kind, Level, Quantity

_FLAG: Schema = {"type": "boolean"}


def procedure_schema() -> Schema:
    """Return the schema of `procedure --json`; a run of a procedure keeps the same document."""
    return {
        "$schema": DRAFT,
        "title": "procedure",
        "description": "what swapwright procedure --json prints",
        **record(schema_version=VERSION, procedure=_procedure(), exit_status={"type": "integer"}),
    }


def _procedure() -> Schema:
    source = record(name=TEXT, elements=TEXTS, gap=TEXT, words=TEXT)
    remaining = record(where=TEXT, words=TEXT, figures=TEXTS)
    return record(
        format={"const": FORMAT},
        kind={"enum": list(get_args(Kind))},
        **dict.fromkeys(("car", "revision", "mark", "region"), TEXT),
        is_generic=_FLAG,
        highest=or_null(NUMBER),
        is_class_b=_FLAG,
        sources={"type": "array", "items": source},
        steps={"type": "array", "items": _step()},
        remaining={"type": "array", "items": remaining},
        **dict.fromkeys(("no_absence", "cautions", "not_covered", "figures"), TEXTS),
    )


def _step() -> Schema:
    return record(
        act={"enum": list(get_args(Act))},
        **dict.fromkeys(("id", "phase", "title", "words", "why", "no_wait"), TEXT),
        **dict.fromkeys(("about", "needs", "ppe", "cautions", "sources"), TEXTS),
        who={"enum": list(get_args(Level))},
        people={"type": "integer", "minimum": 1},
        reading=or_null(_reading()),
        wait=or_null(NUMBER),
        photo=_FLAG,
    )


def _reading() -> Schema:
    points = {**TEXTS, "minItems": 2, "maxItems": 2}
    return record(
        quantity={"enum": list(get_args(Quantity))},
        unit=TEXT,
        points=points,
        expected=record(low=NUMBER, high=NUMBER, words=TEXT),
        limit=or_null(NUMBER),
        first=TEXT,
        after=NUMBER,
    )
