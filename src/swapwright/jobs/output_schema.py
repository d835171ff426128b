"""The JSON Schemas of what the tool prints for other programs; the circuit's stand beside."""

from __future__ import annotations

from typing import Any

from swapwright.assess.assessment import SCHEMA_VERSION
from swapwright.base.finding import SEVERITY
from swapwright.build.schema import DRAFT
from swapwright.jobs.grounds import WORKING_KINDS

Schema = dict[str, Any]

TEXT: Schema = {"type": "string"}
NUMBER: Schema = {"type": "number"}
TEXTS: Schema = {"type": "array", "items": TEXT}
_NUMBERS_BY_NAME: Schema = {"type": "object", "additionalProperties": NUMBER}
VERSION: Schema = {"const": SCHEMA_VERSION}
_ORIGINS = ("entered", "part", "default", "measured", "computed", "standard")


def check_schema() -> Schema:
    """Return the schema of `check --json`: one car, or several under ``files``."""
    cars = {"type": "array", "items": {"$ref": "#/$defs/car"}}
    several = record(schema_version=VERSION, files=cars)
    return {
        "$schema": DRAFT,
        "title": "assessment",
        "description": "what swapwright check --json prints",
        "oneOf": [{"$ref": "#/$defs/car"}, several],
        "$defs": {"car": _car(), "value": _value(), "working": _working()},
    }


def drive_schema() -> Schema:
    """Return the schema of `drive --json`."""
    measures = (
        "distance_m",
        "duration_s",
        "wheel_energy_positive_j",
        "wheel_energy_negative_j",
        "battery_energy_j",
        "wall_energy_j",
        "shortfall_s",
        "soc_start",
        "soc_end",
        "min_voltage_v",
        "max_voltage_v",
        "max_current_a",
        "max_charge_current_a",
        "max_motor_temperature_k",
        "max_inverter_temperature_k",
        "max_cell_temperature_k",
        "auxiliary_power_w",
    )
    return {
        "$schema": DRAFT,
        "title": "drive",
        "description": "what swapwright drive --json prints",
        **record(
            schema_version=VERSION,
            name=TEXT,
            revision=TEXT,
            cycle=TEXT,
            day={"enum": ["mild", "cold", "hot"]},
            until_empty={"type": "boolean"},
            **dict.fromkeys(measures, NUMBER),
            wall_wh_per_mi=record(value=NUMBER, low=NUMBER, high=NUMBER),
            energy_split_j=_NUMBERS_BY_NAME,
            limits_s=_NUMBERS_BY_NAME,
            assumed=TEXTS,
        ),
    }


def problems_schema() -> Schema:
    """Return the schema of what is said of input that cannot be used."""
    line = or_null({"type": "integer"})
    words = ("file", "path", "message", "given", "allowed", "nearest")
    problem = record(**dict.fromkeys(words, TEXT), line=line)
    return record(schema_version=VERSION, problems={"type": "array", "items": problem})


def record(**properties: Schema) -> Schema:
    """Return the schema of an object with exactly these keys."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _with_band(schema: Schema, **extra: Schema) -> Schema:
    """Return an object's schema that may also have the ends of a band."""
    band = {"low": NUMBER, "high": NUMBER, **extra}
    return {**schema, "properties": {**schema["properties"], **band}}


def or_null(schema: Schema) -> Schema:
    """Return a schema that may also be null."""
    return {"anyOf": [schema, {"type": "null"}]}


def _car() -> Schema:
    return record(
        schema_version=VERSION,
        file=TEXT,
        name=TEXT,
        revision=TEXT,
        region=TEXT,
        data_version=TEXT,
        figures={"type": "object", "additionalProperties": _figure()},
        findings={"type": "array", "items": _finding()},
        missing={"type": "object", "additionalProperties": TEXTS},
        assumed=TEXTS,
        skipped=TEXTS,
        rules_run={"type": "integer"},
        curves={"type": "object", "additionalProperties": _curve()},
    )


def _value() -> Schema:
    number = or_null(NUMBER)
    plain = record(value=number, unit=TEXT, origin={"enum": list(_ORIGINS)}, ref=TEXT)
    return _with_band(plain, text=TEXT, label=TEXT)


def _figure() -> Schema:
    ends = {"type": "array", "items": NUMBER, "minItems": 2, "maxItems": 2}
    plain = record(
        label=TEXT,
        kind=TEXT,
        value=NUMBER,
        unit=TEXT,
        text=TEXT,
        assumed=TEXTS,
        sources=TEXTS,
        working={"$ref": "#/$defs/working"},
    )
    return _with_band(plain, swings={"type": "object", "additionalProperties": ends})


def _working() -> Schema:
    """Return the schema of the four ways a figure is made, told apart by ``kind``."""
    value = {"$ref": "#/$defs/value"}
    values = {"type": "object", "additionalProperties": value}
    kinds = {kind: {"const": kind} for kind in WORKING_KINDS}
    return {
        "oneOf": [
            record(
                kind=kinds["closed form"],
                expression=TEXT,
                symbols=values,
                assumes=TEXT,
                not_covered=TEXT,
                valid=TEXT,
            ),
            record(
                kind=kinds["simulated"],
                equations=TEXTS,
                settings={"type": "object", "additionalProperties": TEXT},
                ledger_j=_NUMBERS_BY_NAME,
                estimate=TEXT,
                deviation=or_null(NUMBER),
            ),
            record(kind=kinds["looked up"], table=TEXT, row=TEXT, column=TEXT, inputs=values),
            record(kind=kinds["summed"], rows={"type": "array", "items": value}),
        ]
    }


def _finding() -> Schema:
    verdict = {"enum": list(SEVERITY)}
    value = or_null({"$ref": "#/$defs/value"})
    return record(
        rule=TEXT,
        subject=TEXT,
        also=TEXTS,
        verdict=verdict,
        could_be=or_null(verdict),
        text=TEXT,
        remedy=TEXT,
        value=value,
        limit=value,
        sense={"enum": ["at_most", "at_least", "within"]},
        margin=or_null(NUMBER),
        sources=TEXTS,
        needs=TEXTS,
        assumed=TEXTS,
        figures=TEXTS,
        accepted=or_null(record(reason=TEXT, by=TEXT, date=TEXT, until=or_null(TEXT))),
    )


def _curve() -> Schema:
    points = {"type": "array", "items": or_null(NUMBER)}
    axis = record(label=TEXT, kind=TEXT, unit=TEXT, points=points)
    series = record(label=TEXT, kind=TEXT, unit=TEXT, points=points, notes=TEXTS)
    mark = record(label=TEXT, x=or_null(NUMBER), y=or_null(NUMBER))
    return record(
        label=TEXT,
        x=axis,
        ys={"type": "array", "items": series},
        marks={"type": "array", "items": mark},
        sources=TEXTS,
    )
