"""Charts: a curve's series over one axis, told apart by line pattern and letter, not by colour."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from swapwright.base.curve import Curve, Mark, Series
from swapwright.drawing import style
from swapwright.drawing.lettering import text_width, wrapped
from swapwright.drawing.scale import Scale, scale_of
from swapwright.drawing.svg import Point, circle, document, group, line, number, tag, words

LEGEND = 62.0
SIDE = 24.0
TOP = 21.0
MARK_ROWS = 2
MARK_ROW = 3.4
"""Rows of labels of marks that have room between the title and the frame."""
FOOT = 17.0
LETTER = 2.1
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True)
class Band:
    """A stretch of an axis to show as a whole: between the lowest and the highest of something."""

    label: str
    low: float
    high: float
    is_across: bool = True
    """Across the x axis; else up the y axis."""


def line_chart(
    curve: Curve,
    *,
    title: str,
    log_x: bool = False,
    log_y: bool = False,
    width_mm: float = 277.0,
    height_mm: float = 190.0,
    x_range: tuple[float, float] | None = None,
    y_range: tuple[float, float] | None = None,
    y_label: str = "",
    bands: Sequence[Band] = (),
    notes: Sequence[str] = (),
    profile: str = "metric",
) -> str:
    """Return a curve as an SVG file.

    All series need one quantity kind; a None in one is a gap. ``x_range`` and ``y_range`` [SI] fix
    the ends of the axes, else they come from the points; on a logarithmic axis what is not above
    zero is left out. The curve's marks are drawn as lines with their labels, ``bands`` as shaded
    stretches, ``notes`` as lines below. Raises ValueError where nothing can be drawn.
    """
    kinds = {series.kind for series in curve.ys}
    if len(kinds) != 1:
        raise ValueError(f"{curve.id}: a chart shows one kind of quantity, not {sorted(kinds)}")
    floor = height_mm - FOOT - 4.2 * len(notes)
    marks_x = [mark.x for mark in curve.marks if mark.x is not None]
    marks_y = [mark.y for mark in curve.marks if mark.y is not None]
    for band in bands:
        (marks_x if band.is_across else marks_y).extend((band.low, band.high))
    heights = [y for series in curve.ys for y in series.points if y is not None]
    unit = curve.ys[0]
    x = scale_of(
        [*curve.x.points, *marks_x],
        (SIDE, width_mm - LEGEND),
        x_range,
        kind=curve.x.kind,
        is_log=log_x,
        profile=profile,
    )
    y = scale_of(
        [*heights, *marks_y],
        (floor, TOP),
        y_range,
        kind=unit.kind,
        is_log=log_y,
        profile=profile,
    )
    plot = _Plot(curve, x, y)
    parts = [
        words(title, SIDE, 9.0, size=style.TITLE, is_bold=True),
        *(plot.band(band) for band in bands),
        plot.grid(),
        *plot.marks(),
        *plot.lines(),
        plot.titles(curve.x.label, y_label or _shared_label(curve)),
        plot.letters(),
        plot.legend(width_mm - LEGEND + 5.0, LEGEND - 9.0, bands),
    ]
    for place, note in enumerate(notes):
        parts.append(words(note, SIDE, floor + FOOT + 4.2 * place, size=style.SMALL))
    return document(width_mm, height_mm, title, *parts)


def _shared_label(curve: Curve) -> str:
    return curve.ys[0].label if len(curve.ys) == 1 else curve.ys[0].kind.replace("_", " ")


class _Plot:
    """A chart being drawn."""

    def __init__(self, curve: Curve, x: Scale, y: Scale) -> None:
        self.curve = curve
        self.x = x
        self.y = y
        self.left, self.right = x.ends
        self.bottom, self.top = y.ends
        self.runs = [self._runs(series) for series in curve.ys]

    def _runs(self, series: Series) -> list[list[Point]]:
        """Return a series as stretches without a gap, cut off at the edges of the plot."""
        runs: list[list[Point]] = [[]]
        before: Point | None = None
        for along, height in zip(self.curve.x.points, series.points, strict=True):
            if height is None or not self.x.has(along) or not self.y.has(height):
                before = None
                runs.append([])
                continue
            point = self.x.at(along), self.y.at(height)
            if before is not None:
                cut = self._inside(before, point)
                if cut is None:
                    runs.append([])
                else:
                    if not runs[-1] or runs[-1][-1] != cut[0]:
                        runs.append([cut[0]])
                    runs[-1].append(cut[1])
            before = point
        return [run for run in runs if len(run) > 1]

    def _inside(self, start: Point, end: Point) -> tuple[Point, Point] | None:
        """Return the stretch of a line that lies inside the plot."""
        low, high = 0.0, 1.0
        steps = end[0] - start[0], end[1] - start[1]
        edges = ((self.left, self.right), (self.top, self.bottom))
        for axis, (least, most) in enumerate(edges):
            if steps[axis] == 0.0:
                if not least <= start[axis] <= most:
                    return None
                continue
            crossed = sorted((edge - start[axis]) / steps[axis] for edge in (least, most))
            low, high = max(low, crossed[0]), min(high, crossed[1])
        if low >= high:
            return None
        places = [
            (start[0] + share * steps[0], start[1] + share * steps[1]) for share in (low, high)
        ]
        return places[0], places[1]

    def grid(self) -> str:
        """Return the grid with its numbers, and the frame around it."""
        parts = []
        for tick in self.x.ticks:
            at = self.x.at(tick.si)
            colour = style.RULE if tick.text else style.GRID
            ends = [(at, self.top), (at, self.bottom)]
            parts.append(line(ends, width=style.HAIR, stroke=colour))
            if tick.text:
                parts.append(
                    words(tick.text, at, self.bottom + 4.2, size=style.SMALL, anchor="middle")
                )
        for tick in self.y.ticks:
            at = self.y.at(tick.si)
            colour = style.RULE if tick.text else style.GRID
            ends = [(self.left, at), (self.right, at)]
            parts.append(line(ends, width=style.HAIR, stroke=colour))
            if tick.text:
                parts.append(
                    words(tick.text, self.left - 1.6, at + 0.9, size=style.SMALL, anchor="end")
                )
        corners = [(self.left, self.top), (self.right, self.top)]
        corners += [(self.right, self.bottom), (self.left, self.bottom)]
        parts.append(line(corners, width=style.OUTLINE, is_closed=True))
        return group(*parts, class_="grid")

    def titles(self, x_label: str, y_label: str) -> str:
        """Return the titles of both axes with their units."""
        middle = (self.left + self.right) / 2.0
        across = words(
            _titled(x_label, self.x.unit),
            middle,
            self.bottom + 9.6,
            size=style.TEXT,
            anchor="middle",
            is_bold=True,
        )
        y = (self.top + self.bottom) / 2.0
        up = group(
            words(
                _titled(y_label, self.y.unit),
                0.0,
                0.0,
                size=style.TEXT,
                anchor="middle",
                is_bold=True,
            ),
            transform=f"translate({number(self.left - 17.0)} {number(y)}) rotate(-90)",
        )
        return across + up

    def lines(self) -> list[str]:
        """Return the series, each with a line pattern of its own."""
        return [
            group(
                *(line(run, width=_width(place), dashes=_dashes(place)) for run in runs),
                class_="series",
                data_series=self.curve.ys[place].label,
            )
            for place, runs in enumerate(self.runs)
        ]

    def band(self, band: Band) -> str:
        """Return a shaded stretch of an axis: rules across it, so that it shows in print."""
        scale = self.x if band.is_across else self.y
        if not (scale.has(band.low) and scale.has(band.high)):
            return ""
        ends = sorted(scale.clipped(each) for each in (band.low, band.high))
        if band.is_across:
            left, right, top, bottom = ends[0], ends[1], self.top, self.bottom
        else:
            left, right, top, bottom = self.left, self.right, ends[0], ends[1]
        shade = tag(
            "rect", x=left, y=top, width=right - left, height=bottom - top, fill=style.SHADE
        )
        edges = [[(left, top), (left, bottom)], [(right, top), (right, bottom)]]
        if not band.is_across:
            edges = [[(left, top), (right, top)], [(left, bottom), (right, bottom)]]
        rules = [line(edge, width=style.OUTLINE, dashes="3 1.2") for edge in edges]
        return group(shade, *rules, class_="band")

    def marks(self) -> list[str]:
        """Return the marks: lines with their labels, those of upright ones above the frame."""
        upright = sorted(
            (mark for mark in self.curve.marks if mark.x is not None and self._has_x(mark)),
            key=lambda mark: mark.x or 0.0,
        )
        parts, taken = [], [-math.inf] * MARK_ROWS
        for mark in upright:
            at = self.x.at(mark.x or 0.0)
            wide = text_width(mark.label, style.SMALL)
            start = min(max(at - wide / 2.0, self.left), self.right - wide)
            level = next((n for n, end in enumerate(taken) if start > end), len(taken) - 1)
            taken[level] = start + wide + 2.0
            y = self.top - 1.4 - MARK_ROW * level
            parts.append(self._mark([(at, self.top), (at, self.bottom)], mark, (start, y)))
        for mark in self.curve.marks:
            if mark.y is not None and self.y.has(mark.y) and self.y.is_inside(mark.y):
                at = self.y.at(mark.y)
                wide = text_width(mark.label, style.SMALL)
                ends = [(self.left, at), (self.right, at)]
                parts.append(self._mark(ends, mark, (self.right - wide - 1.0, at - 1.0)))
        return parts

    def _has_x(self, mark: Mark) -> bool:
        return mark.x is not None and self.x.has(mark.x) and self.x.is_inside(mark.x)

    def _mark(self, ends: list[Point], mark: Mark, at: Point) -> str:
        wide = text_width(mark.label, style.SMALL)
        halo = tag(
            "rect",
            x=at[0] - 0.5,
            y=at[1] - 2.3,
            width=wide + 0.6,
            height=3.0,
            fill=style.PAPER,
        )
        text = words(mark.label, at[0], at[1], size=style.SMALL, is_slanted=True)
        return group(line(ends, width=style.THIN, dashes="0.8 0.8"), halo, text, class_="mark-line")

    def letters(self) -> str:
        """Return a letter on each series, where it is farthest from every other line and letter."""
        placed: list[Point] = []
        parts = []
        for place, runs in enumerate(self.runs):
            choices = [point for run in runs for point in _along(run)]
            inside = [
                (x, y)
                for x, y in choices
                if self.left + 4.0 < x < self.right - 4.0 and self.top + 4.0 < y < self.bottom - 4.0
            ]
            choices = inside or choices
            if not choices:
                continue
            others = [
                point
                for number_of, each in enumerate(self.runs)
                if number_of != place
                for run in each
                for point in _along(run)
            ]
            best = max(choices, key=lambda at: _clearance(at, others, placed))
            placed.append(best)
            parts.append(_letter(place, best))
        return group(*parts, class_="letters")

    def legend(self, left: float, room: float, bands: Sequence[Band]) -> str:
        """Return the legend: letter, line pattern and name of each series."""
        parts, y = [], self.top + 3.0
        for place, series in enumerate(self.curve.ys):
            sample = [(left + 6.0, y), (left + 19.0, y)]
            parts.append(_letter(place, (left + 2.0, y)))
            parts.append(line(sample, width=_width(place), dashes=_dashes(place)))
            text = wrapped(series.label, style.TEXT, room - 21.0, most=3)
            if not self.runs[place]:
                text = (*text, "(not on this sheet)")
            parts += _lines_of(text, left + 21.0, y)
            y += len(text) * style.TEXT * style.LEADING + 3.4
        for band in bands:
            swatch = [(left + 6.0, y - 1.8), (left + 19.0, y - 1.8)]
            swatch += [(left + 19.0, y + 1.8), (left + 6.0, y + 1.8)]
            parts.append(
                line(swatch, width=style.THIN, fill=style.SHADE, is_closed=True, dashes="3 1.2")
            )
            text = wrapped(band.label, style.TEXT, room - 21.0, most=3)
            parts += _lines_of(text, left + 21.0, y)
            y += len(text) * style.TEXT * style.LEADING + 3.4
        return group(*parts, class_="legend")


def _lines_of(text: Sequence[str], x: float, y: float) -> list[str]:
    step = style.TEXT * style.LEADING
    return [
        words(each, x, y + place * step + 1.0, size=style.TEXT) for place, each in enumerate(text)
    ]


def _titled(label: str, unit: str) -> str:
    return f"{label}, {unit}" if unit else label


def _dashes(place: int) -> str | None:
    return style.SERIES_DASHES[place % len(style.SERIES_DASHES)]


def _width(place: int) -> float:
    return 0.6 if place < len(style.SERIES_DASHES) else 1.0


def _letter(place: int, at: Point) -> str:
    x, y = at
    ring = circle(at, LETTER, width=style.THIN)
    name = _LETTERS[place % len(_LETTERS)]
    return ring + words(name, x, y + 0.95, size=2.6, anchor="middle", is_bold=True)


def _along(run: list[Point], step: float = 3.0) -> list[Point]:
    """Return places along a line, a few millimetres apart."""
    places = []
    for (x0, y0), (x1, y1) in itertools.pairwise(run):
        count = max(1, min(40, int(math.hypot(x1 - x0, y1 - y0) / step)))
        places += [
            (x0 + (x1 - x0) * part / count, y0 + (y1 - y0) * part / count) for part in range(count)
        ]
    return [*places[:: max(1, len(places) // 120)], run[-1]]


def _clearance(at: Point, others: list[Point], placed: list[Point]) -> float:
    near = [math.dist(at, other) for other in others]
    near += [0.7 * math.dist(at, other) for other in placed]
    return min(near, default=0.0)
