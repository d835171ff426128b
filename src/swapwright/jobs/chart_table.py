"""A curve as numbers people read: one unit to a column; as rows of a table, as CSV, as JSON."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from swapwright.assess.assessment import SCHEMA_VERSION
from swapwright.base.curve import Curve
from swapwright.base.display import written
from swapwright.base.kinds import Unit
from swapwright.drawing.lettering import in_signs, unit_in_signs
from swapwright.drawing.plot import dashes_of, letter_of, panels_of, shared_label, titled
from swapwright.drawing.scale import log_unit, shown_unit, step_of
from swapwright.jobs.drive_document import text_cell

MOST_ROWS = 80
MOST_DECIMALS = 8
NOTHING = 1e-7
"""Share of a column's largest number up to which one is what arithmetic leaves over."""


@dataclass(frozen=True)
class Column:
    """Numbers of one unit; None is a gap. ``notes`` may say something at each of them."""

    label: str
    unit: str
    numbers: tuple[float | None, ...]
    notes: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """The label with the unit."""
        return titled(self.label, self.unit)


@dataclass(frozen=True)
class Panel:
    """What series of one kind share: label, unit, ends of the axis where they are fixed.

    ``columns`` are the places of its columns among those of the table.
    """

    label: str
    unit: str
    columns: tuple[int, ...]
    ends: tuple[float, float] | None = None


@dataclass(frozen=True)
class TableMark:
    """A named place on the axis, or a level in the first panel; ``text`` is it with its unit."""

    label: str
    text: str
    x: float | None = None
    y: float | None = None


@dataclass(frozen=True)
class ChartTable:
    """A curve in the units of a person's country and trade.

    ``is_around_lines`` where levels far from every line are told below it, not drawn.
    """

    id: str
    label: str
    x: Column
    columns: tuple[Column, ...]
    panels: tuple[Panel, ...]
    marks: tuple[TableMark, ...]
    is_log: bool
    is_around_lines: bool = False


@dataclass(frozen=True)
class ShownRows:
    """Some rows of a table, evenly spaced: the axis, then (number, note) of each column."""

    rows: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
    of: int
    """Rows there are in all."""


def chart_table(
    curve: Curve,
    profile: str,
    world: str = "electric",
    *,
    is_log: bool = False,
    y_range: tuple[float, float] | None = None,
    is_around_lines: bool = False,
) -> ChartTable:
    """Return a curve in display units, as a chart of it shows them.

    Series of one kind have one unit, that of the largest; on a logarithmic axis only what is
    above zero has a place. ``y_range`` [SI] are the ends of such an axis.
    """
    x_unit = _unit(
        [*curve.x.points, *_set(mark.x for mark in curve.marks)],
        curve.x.kind,
        profile,
        world,
        is_log=is_log,
        step=step_of(curve.x.points),
    )
    columns: dict[int, Column] = {}
    panels, y_units = [], []
    for number, places in enumerate(panels_of(curve)):
        series = [curve.ys[place] for place in places]
        values = [value for each in series for value in each.points if value is not None]
        levels = [] if number else _set(mark.y for mark in curve.marks)
        spanned = y_range or (*values, *levels)
        unit = _unit(spanned, series[0].kind, profile, world, is_log=is_log)
        y_units.append(unit)
        for place, each in zip(places, series, strict=True):
            numbers = _numbers(each.points, unit[1], is_log=is_log)
            columns[place] = Column(each.label, unit[0], numbers, each.notes)
        ends = None if y_range is None else _ends(y_range, unit[1])
        panels.append(Panel(shared_label(series), unit[0], places, ends))
    along = _numbers(curve.x.points, x_unit[1], is_log=is_log)
    return ChartTable(
        curve.id,
        curve.label,
        Column(curve.x.label, x_unit[0], along),
        tuple(columns[place] for place in sorted(columns)),
        tuple(panels),
        tuple(
            _mark(mark.label, mark.x, mark.y, x_unit, y_units[0]) for mark in curve.marks if y_units
        ),
        is_log,
        is_around_lines,
    )


def shown_rows(table: ChartTable, most: int = MOST_ROWS) -> ShownRows:
    """Return rows of a table as texts: all, or ``most`` of them from the first to the last."""
    count = len(table.x.numbers)
    picked = list(range(count))
    if count > most:
        picked = [round(n * (count - 1) / (most - 1)) for n in range(most)]
    along = _along([table.x.numbers[place] for place in picked], is_log=table.is_log)
    rows = tuple(
        (text, tuple(_cell(column, place) for column in table.columns))
        for text, place in zip(along, picked, strict=True)
    )
    return ShownRows(rows, count)


def csv_of(table: ChartTable) -> str:
    """Return every row of a table as CSV: units in the header, an empty cell for a gap."""
    buffer = io.StringIO()
    writer = csv.writer(buffer)
    header = [_header(table.x)]
    for column in table.columns:
        header.append(_header(column))
        if column.notes:
            header.append(text_cell(f"{column.label}: limited by"))
    writer.writerow(header)
    for place, along in enumerate(table.x.numbers):
        row = [_plain(along)]
        for column in table.columns:
            row.append(_plain(column.numbers[place]))
            if column.notes:
                row.append(text_cell(column.notes[place]))
        writer.writerow(row)
    return buffer.getvalue()


def document_of(table: ChartTable) -> dict[str, Any]:
    """Return a table as the document a script draws from: display units, every number finite."""
    return {
        "schema_version": SCHEMA_VERSION,
        "id": table.id,
        "label": table.label,
        "is_log": table.is_log,
        "is_around_lines": table.is_around_lines,
        "x": _column(table.x),
        "panels": [
            {
                "label": panel.label,
                "unit": unit_in_signs(panel.unit),
                "ends": None if panel.ends is None else list(panel.ends),
                "series": [
                    _column(table.columns[column]) | _pen(place)
                    for place, column in enumerate(panel.columns)
                ],
            }
            for panel in table.panels
        ],
        "marks": [
            {"label": mark.label, "text": in_signs(mark.text), "x": mark.x, "y": mark.y}
            for mark in table.marks
        ],
    }


def _set(values: Iterable[float | None]) -> list[float]:
    return [value for value in values if value is not None]


def _unit(
    values: Sequence[float],
    kind: str,
    profile: str,
    world: str,
    *,
    is_log: bool,
    step: float = 0.0,
) -> tuple[str, Unit]:
    finite = [value for value in values if math.isfinite(value)]
    if is_log:
        return log_unit(finite, kind)
    return shown_unit(finite or [0.0], kind, profile, world, step=step)


def _numbers(
    points: Sequence[float | None], unit: Unit, *, is_log: bool
) -> tuple[float | None, ...]:
    """Return points in a unit; on an even axis what is nothing beside the largest is nothing."""
    numbers = [_number(value, unit, is_log=is_log) for value in points]
    largest = max((abs(number) for number in numbers if number is not None), default=0.0)
    least = 0.0 if is_log else NOTHING * largest
    return tuple(
        0.0 if number is not None and abs(number) <= least else number for number in numbers
    )


def _number(si: float | None, unit: Unit, *, is_log: bool) -> float | None:
    """Return a number in a unit; a gap where there is none, or none that has a place."""
    if si is None or not math.isfinite(si) or (is_log and si <= 0.0):
        return None
    number = unit.from_si(si)
    return number if math.isfinite(number) else None


def _ends(y_range: tuple[float, float], unit: Unit) -> tuple[float, float]:
    low, high = sorted(unit.from_si(end) for end in y_range)
    return low, high


def _mark(
    label: str,
    x: float | None,
    y: float | None,
    x_unit: tuple[str, Unit],
    y_unit: tuple[str, Unit],
) -> TableMark:
    along = None if x is None else x_unit[1].from_si(x)
    level = None if y is None else y_unit[1].from_si(y)
    told = [
        f"{written(number)} {unit}".strip()
        for number, unit in ((along, x_unit[0]), (level, y_unit[0]))
        if number is not None
    ]
    return TableMark(label, ", ".join(told), along, level)


def _along(numbers: Sequence[float | None], *, is_log: bool) -> list[str]:
    """Return the axis' numbers as texts, to as many decimals as tell its steps apart."""
    if is_log:
        return ["" if number is None else written(number) for number in numbers]
    known = [number for number in numbers if number is not None]
    span = max(known, default=0.0) - min(known, default=0.0)
    step = span / max(len(known) - 1, 1)
    decimals = 1 - math.floor(math.log10(step) + 1e-9) if step > 0.0 else 2
    decimals = min(max(decimals, 0), MOST_DECIMALS)
    return ["" if number is None else f"{number:.{decimals}f}" for number in numbers]


def _cell(column: Column, place: int) -> tuple[str, str]:
    number = column.numbers[place]
    note = column.notes[place] if column.notes else ""
    return ("" if number is None else written(number)), note


def _header(column: Column) -> str:
    return text_cell(f"{column.label} [{column.unit}]" if column.unit else column.label)


def _plain(number: float | None) -> str:
    return "" if number is None else f"{number:.9g}"


def _column(column: Column) -> dict[str, Any]:
    return {
        "label": column.label,
        "unit": unit_in_signs(column.unit),
        "points": [None if number is None else float(f"{number:.7g}") for number in column.numbers],
        "notes": list(column.notes),
    }


def _pen(place: int) -> dict[str, Any]:
    """Return letter and line pattern [mm] of a series by its place in its panel."""
    dashes = dashes_of(place)
    lengths = [] if dashes is None else [float(each) for each in dashes.split()]
    return {"letter": letter_of(place), "dashes": lengths}
