"""An assessment as tables another program reads: its figures and its findings as CSV."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Iterator, Sequence

from swapwright.base.figure import Value
from swapwright.base.sources import all_sources
from swapwright.jobs.check import Checked
from swapwright.jobs.drive_document import text_cell
from swapwright.jobs.figure_text import Telling
from swapwright.jobs.grounds import own_sources, working_kind
from swapwright.jobs.telling import against_limit

FIGURE_COLUMNS = (
    "id",
    "label",
    "value_si",
    "unit",
    "low_si",
    "high_si",
    "told",
    "band",
    "assumed",
    "working",
    "source_kinds",
    "sources",
)
FINDING_COLUMNS = (
    "verdict",
    "could_be",
    "accepted",
    "rule",
    "subject",
    "text",
    "remedy",
    "value_si",
    "limit_si",
    "unit",
    "margin",
    "told",
    "needs",
    "assumed",
    "figures",
    "sources",
)


def figures_csv(telling: Telling) -> str:
    """Return every figure of an assessed car as CSV, in SI and as it is told."""
    return _csv(FIGURE_COLUMNS, _figures(telling))


def findings_csv(checked: Checked, profile: str) -> str:
    """Return every finding of an assessed car as CSV, the worst first."""
    return _csv(FINDING_COLUMNS, _findings(checked, profile))


def _figures(telling: Telling) -> Iterator[Sequence[str]]:
    figures = telling.checked.assessment.figures
    texts = telling.figures(tuple(figures))
    known = all_sources()
    for figure_id, figure in figures.items():
        told, value, sources = texts[figure_id], figure.value, own_sources(figure)
        yield (
            figure_id,
            figure.label,
            _number(value.si),
            value.unit,
            _number(value.low),
            _number(value.high),
            told.text,
            told.band,
            told.doubt,
            working_kind(figure),
            _joined(sorted({known[each].kind for each in sources if each in known})),
            _joined(sources),
        )


def _findings(checked: Checked, profile: str) -> Iterator[Sequence[str]]:
    assessment = checked.assessment
    for each in assessment.findings:
        yield (
            each.verdict,
            each.could_be or "",
            "" if each.accepted is None else each.accepted.by,
            each.rule,
            each.subject,
            each.text,
            each.remedy,
            *_ends(each.value, each.limit),
            _number(each.margin),
            against_limit(each, assessment.figures, profile),
            _joined(each.needs),
            _joined(each.assumed),
            _joined(each.figures),
            _joined(each.sources),
        )


def _ends(value: Value | None, limit: Value | None) -> tuple[str, str, str]:
    """Return a value, its limit and their unit."""
    unit = "" if value is None else value.unit
    return (
        "" if value is None else _number(value.si),
        "" if limit is None else _number(limit.si),
        unit or ("" if limit is None else limit.unit),
    )


def _csv(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    buffer = io.StringIO()
    writer = csv.writer(buffer)
    writer.writerow(columns)
    numbers = [at for at, name in enumerate(columns) if name.endswith("_si") or name == "margin"]
    for row in rows:
        writer.writerow(cell if at in numbers else text_cell(cell) for at, cell in enumerate(row))
    return buffer.getvalue()


def _joined(texts: Iterable[str]) -> str:
    return "; ".join(texts)


def _number(number: float | None) -> str:
    return "" if number is None or not math.isfinite(number) else f"{number:.9g}"
