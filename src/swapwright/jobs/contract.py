"""The JSON other programs read: an assessment as plain dicts, lists, texts and finite numbers."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from swapwright.assess.assessment import SCHEMA_VERSION, Assessment
from swapwright.base.curve import Curve
from swapwright.base.errors import Problem
from swapwright.base.figure import Figure, LookedUp, SimulatedWorking, Summed, Value, Working
from swapwright.base.finding import Acceptance, Finding
from swapwright.build.car import Car
from swapwright.jobs.assumptions import assumed_of
from swapwright.jobs.check import Checked
from swapwright.jobs.grounds import (
    defaults_under,
    figure_kind,
    finding_kind,
    own_sources,
    working_kind,
)
from swapwright.jobs.telling import value_text

Json = dict[str, Any]


def check_document(checked: Sequence[Checked], profile: str, *, is_list: bool) -> Json:
    """Return the document of `check --json`: of one file the object itself, else a list of them.

    ``is_list`` tells that several files were asked for; ``profile`` is that of the texts.
    """
    documents = [
        {
            "schema_version": SCHEMA_VERSION,
            "file": each.opened.file,
            **assessment_document(each.assessment, each.opened.car, profile),
        }
        for each in checked
    ]
    return {"schema_version": SCHEMA_VERSION, "files": documents} if is_list else documents[0]


def problems_document(problems: Iterable[Problem]) -> Json:
    """Return what is said of input that cannot be used."""
    return {
        "schema_version": SCHEMA_VERSION,
        "problems": [
            {
                "file": each.file,
                "line": each.line,
                "path": each.path,
                "message": each.message,
                "given": each.given,
                "allowed": each.allowed,
                "nearest": each.nearest,
            }
            for each in problems
        ],
    }


def assessment_document(assessment: Assessment, car: Car, profile: str) -> Json:
    """Return an assessment's content; every number in it is finite.

    A figure that is no finite number stands under ``missing`` instead.
    """
    figures = {
        key: figure for key, figure in assessment.figures.items() if math.isfinite(figure.value.si)
    }
    missing = {key: list(paths) for key, paths in assessment.missing.items()}
    missing.update({key: [] for key in assessment.figures if key not in figures})
    under = defaults_under(assessment, car, figures)
    return {
        "name": assessment.name,
        "revision": assessment.revision,
        "region": assessment.region,
        "data_version": assessment.data_version,
        "figures": {
            key: _figure(figure, profile, _sources(under[key], car), assessment.swings.get(key, {}))
            for key, figure in figures.items()
        },
        "findings": [
            _finding(finding, assessment.figures, profile) for finding in assessment.findings
        ],
        "missing": missing,
        "assumed": list(assumed_of(assessment)),
        "skipped": list(assessment.skipped),
        "rules_run": assessment.rules_run,
        "curves": {key: _curve(curve) for key, curve in assessment.curves.items()},
    }


def _sources(paths: Sequence[str], car: Car) -> list[str]:
    """Return the source ids of the defaults at these paths; what is no path is one itself."""
    entries = {path: car.get(path) for path in paths}
    return sorted({path if entry is None else entry.ref for path, entry in entries.items()})


def _figure(
    figure: Figure,
    profile: str,
    assumed: Sequence[str],
    swings: Mapping[str, tuple[float, float]],
) -> Json:
    value, kind = figure.value, figure_kind(figure)
    document: Json = {
        "label": figure.label,
        "kind": kind,
        "value": value.si,
        "unit": value.unit,
        "text": value_text(value, kind, profile),
        "assumed": list(assumed),
        "sources": list(own_sources(figure)),
        "working": _working(figure),
    }
    if value.is_uncertain:
        document["low"], document["high"] = value.low, value.high
        document["swings"] = {path: list(ends) for path, ends in swings.items()}
    return document


def _working(figure: Figure) -> Json:
    working = figure.working
    kind = {"kind": working_kind(figure)}
    inputs = {letter: _value(value) for letter, value in figure.inputs.items()}
    if isinstance(working, Working):
        return {
            **kind,
            "expression": working.expression,
            "symbols": {
                letter: {"label": working.symbols[letter].label, **value}
                for letter, value in inputs.items()
            },
            "assumes": working.assumes,
            "not_covered": working.not_covered,
            "valid": working.valid,
        }
    if isinstance(working, SimulatedWorking):
        return {
            **kind,
            "equations": list(working.equations),
            "settings": dict(working.settings),
            "ledger_j": dict(working.ledger),
            "estimate": working.estimate.id,
            "deviation": _finite(working.deviation),
        }
    if isinstance(working, LookedUp):
        return {
            **kind,
            "table": working.table,
            "row": working.row,
            "column": working.column,
            "inputs": inputs,
        }
    return {**kind, "rows": _rows(working)}


def _rows(working: Summed) -> list[Json]:
    return [{"label": label, **_value(value)} for label, value in working.rows]


def _value(value: Value) -> Json:
    document: Json = {
        "value": _finite(value.si),
        "unit": value.unit,
        "origin": value.origin,
        "ref": value.ref,
    }
    if value.is_uncertain:
        document["low"], document["high"] = value.low, value.high
    return document


def _finding(finding: Finding, figures: Mapping[str, Figure], profile: str) -> Json:
    kind = finding_kind(finding, figures)

    def told(value: Value | None) -> Json | None:
        if value is None or not math.isfinite(value.si):
            return None
        return {**_value(value), "text": value_text(value, kind, profile)}

    return {
        "rule": finding.rule,
        "subject": finding.subject,
        "also": list(finding.also),
        "verdict": finding.verdict,
        "could_be": finding.could_be,
        "text": finding.text,
        "remedy": finding.remedy,
        "value": told(finding.value),
        "limit": told(finding.limit),
        "sense": finding.sense,
        "margin": None if finding.margin is None else _finite(finding.margin),
        "sources": list(finding.sources),
        "needs": list(finding.needs),
        "assumed": list(finding.assumed),
        "figures": list(finding.figures),
        "accepted": None if finding.accepted is None else _acceptance(finding.accepted),
    }


def _acceptance(accepted: Acceptance) -> Json:
    return {
        "reason": accepted.reason,
        "by": accepted.by,
        "date": accepted.date.isoformat(),
        "until": None if accepted.until is None else accepted.until.isoformat(),
    }


def _curve(curve: Curve) -> Json:
    return {
        "label": curve.label,
        "x": {
            "label": curve.x.label,
            "kind": curve.x.kind,
            "unit": curve.x.unit,
            "points": [_finite(point) for point in curve.x.points],
        },
        "ys": [
            {
                "label": series.label,
                "kind": series.kind,
                "unit": series.unit,
                "points": [None if point is None else _finite(point) for point in series.points],
                "notes": list(series.notes),
            }
            for series in curve.ys
        ],
        "marks": [{"label": mark.label, "x": mark.x, "y": mark.y} for mark in curve.marks],
        "sources": list(curve.sources),
    }


def _finite(number: float) -> float | None:
    return number if math.isfinite(number) else None
