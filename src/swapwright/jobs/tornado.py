"""Which uncertain inputs move a figure, and how far: each alone, the others at their nominal."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from swapwright.base.figure import Value
from swapwright.build.shape import rows_by_path
from swapwright.drawing.tornado import Bar, tornado_drawing
from swapwright.jobs.check import Checked
from swapwright.jobs.grounds import figure_kind
from swapwright.jobs.telling import tell, value_text

MOST_ROWS = 12
ALONE = "each input alone at its two ends, all others at their nominal"
_ROW = re.compile(r"\[\d+\]")


@dataclass(frozen=True)
class TornadoRow:
    """One uncertain input: its ends as texts, and the figure with it at its low and high end."""

    path: str
    label: str
    low: str
    high: str
    at_low: str
    at_high: str
    low_si: float
    high_si: float


@dataclass(frozen=True)
class Tornado:
    """A figure, and the inputs that move it, the one that moves it most first.

    ``left_out`` counts those that are not shown because they move it least.
    """

    figure: str
    label: str
    nominal: str
    nominal_si: float
    rows: tuple[TornadoRow, ...]
    left_out: int


def tornado(checked: Checked, figure_id: str, profile: str, world: str) -> Tornado | None:
    """Return what moves a figure of a car; None where it has no such figure."""
    assessment, car = checked.assessment, checked.opened.car
    figure = assessment.figures.get(figure_id)
    if figure is None:
        return None
    nominal, kind = figure.value.si, figure_kind(figure)
    swings = sorted(
        assessment.swings.get(figure_id, {}).items(), key=lambda each: -max(map(abs, each[1]))
    )

    def told(si: float) -> str:
        if not kind:
            return value_text(Value(si, figure.value.unit, "computed", figure_id), kind, profile)
        return tell(si, kind, profile, world=world)

    rows = [
        TornadoRow(
            path,
            *_input(path, car.value(path), profile),
            told(nominal + low),
            told(nominal + high),
            nominal + low,
            nominal + high,
        )
        for path, (low, high) in swings[:MOST_ROWS]
    ]
    return Tornado(
        figure_id,
        figure.label,
        told(nominal),
        nominal,
        tuple(rows),
        max(len(swings) - MOST_ROWS, 0),
    )


def _input(path: str, value: Value, profile: str) -> tuple[str, str, str]:
    """Return an input's label and its ends as texts."""
    row = rows_by_path().get(_ROW.sub("[]", path))
    label, kind = (path, "") if row is None else (row.label, row.kind)
    low, high = (
        "" if end is None else value_text(Value(end, value.unit, value.origin, path), kind, profile)
        for end in (value.low, value.high)
    )
    return label, low, high


def tornado_svg(found: Tornado, link: Callable[[str], str], name: str) -> str:
    """Return the picture of what moves a car's figure; ``link`` gives the address of an entry."""
    return tornado_drawing(
        [
            Bar(
                row.label,
                f"{row.low} to {row.high}",
                row.low_si,
                row.high_si,
                row.at_low,
                row.at_high,
                link(row.path),
            )
            for row in found.rows
        ],
        nominal=found.nominal_si,
        nominal_text=found.nominal,
        title=f"{name}: what moves it most, {found.label}",
    )
