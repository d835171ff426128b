"""The JSON Schemas of what the tool prints for other programs."""

from __future__ import annotations

from typing import Any

from swapwright.assess.assessment import SCHEMA_VERSION
from swapwright.base.finding import SEVERITY
from swapwright.build.schema import DRAFT
from swapwright.jobs.grounds import WORKING_KINDS

Schema = dict[str, Any]

_TEXT: Schema = {"type": "string"}
_NUMBER: Schema = {"type": "number"}
_TEXTS: Schema = {"type": "array", "items": _TEXT}
_NUMBERS_BY_NAME: Schema = {"type": "object", "additionalProperties": _NUMBER}
_VERSION: Schema = {"const": SCHEMA_VERSION}
_ORIGINS = ("entered", "part", "default", "measured", "computed", "standard")


def check_schema() -> Schema:
    """Return the schema of `check --json`: one car, or several under ``files``."""
    cars = {"type": "array", "items": {"$ref": "#/$defs/car"}}
    several = _object(schema_version=_VERSION, files=cars)
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
        **_object(
            schema_version=_VERSION,
            name=_TEXT,
            revision=_TEXT,
            cycle=_TEXT,
            day={"enum": ["mild", "cold", "hot"]},
            until_empty={"type": "boolean"},
            **dict.fromkeys(measures, _NUMBER),
            wall_wh_per_mi=_object(value=_NUMBER, low=_NUMBER, high=_NUMBER),
            energy_split_j=_NUMBERS_BY_NAME,
            limits_s=_NUMBERS_BY_NAME,
            assumed=_TEXTS,
        ),
    }


def _object(**properties: Schema) -> Schema:
    """Return the schema of an object with exactly these keys."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _with_band(schema: Schema, **extra: Schema) -> Schema:
    """Return an object's schema that may also have the ends of a band."""
    band = {"low": _NUMBER, "high": _NUMBER, **extra}
    return {**schema, "properties": {**schema["properties"], **band}}


def _or_null(schema: Schema) -> Schema:
    return {"anyOf": [schema, {"type": "null"}]}


def _car() -> Schema:
    return _object(
        schema_version=_VERSION,
        file=_TEXT,
        name=_TEXT,
        revision=_TEXT,
        region=_TEXT,
        data_version=_TEXT,
        figures={"type": "object", "additionalProperties": _figure()},
        findings={"type": "array", "items": _finding()},
        missing={"type": "object", "additionalProperties": _TEXTS},
        assumed=_TEXTS,
        skipped=_TEXTS,
        rules_run={"type": "integer"},
        curves={"type": "object", "additionalProperties": _curve()},
    )


def _value() -> Schema:
    number = _or_null(_NUMBER)
    plain = _object(value=number, unit=_TEXT, origin={"enum": list(_ORIGINS)}, ref=_TEXT)
    return _with_band(plain, text=_TEXT, label=_TEXT)


def _figure() -> Schema:
    ends = {"type": "array", "items": _NUMBER, "minItems": 2, "maxItems": 2}
    plain = _object(
        label=_TEXT,
        kind=_TEXT,
        value=_NUMBER,
        unit=_TEXT,
        text=_TEXT,
        assumed=_TEXTS,
        sources=_TEXTS,
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
            _object(
                kind=kinds["closed form"],
                expression=_TEXT,
                symbols=values,
                assumes=_TEXT,
                not_covered=_TEXT,
                valid=_TEXT,
            ),
            _object(
                kind=kinds["simulated"],
                equations=_TEXTS,
                settings={"type": "object", "additionalProperties": _TEXT},
                ledger_j=_NUMBERS_BY_NAME,
                estimate=_TEXT,
                deviation=_or_null(_NUMBER),
            ),
            _object(kind=kinds["looked up"], table=_TEXT, row=_TEXT, column=_TEXT, inputs=values),
            _object(kind=kinds["summed"], rows={"type": "array", "items": value}),
        ]
    }


def _finding() -> Schema:
    verdict = {"enum": list(SEVERITY)}
    value = _or_null({"$ref": "#/$defs/value"})
    return _object(
        rule=_TEXT,
        subject=_TEXT,
        verdict=verdict,
        could_be=_or_null(verdict),
        text=_TEXT,
        remedy=_TEXT,
        value=value,
        limit=value,
        sense={"enum": ["at_most", "at_least", "within"]},
        margin=_or_null(_NUMBER),
        sources=_TEXTS,
        needs=_TEXTS,
        assumed=_TEXTS,
        figures=_TEXTS,
        accepted=_or_null(_object(reason=_TEXT, by=_TEXT, date=_TEXT, until=_or_null(_TEXT))),
    )


def _curve() -> Schema:
    points = {"type": "array", "items": _or_null(_NUMBER)}
    axis = _object(label=_TEXT, kind=_TEXT, unit=_TEXT, points=points)
    series = _object(label=_TEXT, kind=_TEXT, unit=_TEXT, points=points, notes=_TEXTS)
    mark = _object(label=_TEXT, x=_or_null(_NUMBER), y=_or_null(_NUMBER))
    return _object(
        label=_TEXT,
        x=axis,
        ys={"type": "array", "items": series},
        marks={"type": "array", "items": mark},
        sources=_TEXTS,
    )
