"""The plot of a chart: frame, grid, lines, marks, letters and legend between two scales."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swapwright.base.curve import Curve, Mark, Series
from swapwright.drawing import style
from swapwright.drawing.lettering import text_width, unit_in_signs, wrapped
from swapwright.drawing.scale import Scale
from swapwright.drawing.svg import Point, circle, group, line, number, tag, words

MARK_ROWS = 2
MARK_ROW = 3.4
"""Rows of labels of marks that have room between the title and the frame."""
LABEL_STEP = 4.0
"""mm between the places tried for the label of a level."""
LETTER = 2.1
DOT = 0.9
"""mm; radius of a point by itself, which no line would show."""
PEN = 0.6
SAMPLE = 21.0
"""mm; a row of the legend up to its words: letter and line pattern."""
THINNED_FROM = 200
THINNED_BY = 0.05
"""mm; how far a line of very many points may leave one of them, far less than it is wide."""
_ROW_GAP = 3.4
APART = 0.03
"""How much a letter gains by standing away from the others, in its distance to the next line."""
SAMPLES = 80
_KIND_WORDS = {"fraction": "share"}
"""What people call a kind of quantity at an axis, where that is not its name."""
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True)
class Band:
    """A stretch of an axis to show as a whole: between the lowest and the highest of something."""

    label: str
    low: float
    high: float
    is_across: bool = True
    """Across the x axis; else up the y axis."""


def panels_of(curve: Curve) -> tuple[tuple[int, ...], ...]:
    """Return the places of a curve's series, those of one kind together, in order."""
    kinds = dict.fromkeys(series.kind for series in curve.ys)
    return tuple(
        tuple(place for place, series in enumerate(curve.ys) if series.kind == kind)
        for kind in kinds
    )


def shared_label(series: Sequence[Series]) -> str:
    """Return what stands at the axis of series of one kind."""
    kind = series[0].kind
    return series[0].label if len(series) == 1 else _KIND_WORDS.get(kind, kind.replace("_", " "))


def letter_of(place: int) -> str:
    """Return the letter of a series by its place."""
    return _LETTERS[place % len(_LETTERS)]


def dashes_of(place: int) -> str | None:
    """Return the line pattern of a series by its place, None for an unbroken line."""
    return style.SERIES_DASHES[place % len(style.SERIES_DASHES)]


def titled(label: str, unit: str) -> str:
    """Return the title of an axis with its unit."""
    return f"{label}, {unit_in_signs(unit)}" if unit else label


@dataclass(frozen=True)
class _Label:
    """Where the label of a level could stand: its left end, its base line, its width."""

    left: float
    base: float
    wide: float

    def hidden(self, taken: Sequence[_Label], points: Sequence[Point]) -> int:
        """Return how badly it would be read here: on other labels, or run over by lines."""
        right = self.left + self.wide
        lying = sum(
            abs(other.base - self.base) < MARK_ROW
            and self.left < other.left + other.wide + 2.0
            and other.left < right + 2.0
            for other in taken
        )
        run_over = sum(
            self.left - 1.0 < x < right + 1.0 and self.base - 3.0 < y < self.base + 1.0
            for x, y in points
        )
        return lying * len(points) + run_over


class Plot:
    """A chart being drawn; ``pen`` is how wide its lines are [mm]."""

    def __init__(self, curve: Curve, x: Scale, y: Scale, pen: float = PEN) -> None:
        """Take a curve whose series are of one kind, and the scales of its axes."""
        self.curve = curve
        self.x = x
        self.y = y
        self.pen = pen
        self.left, self.right = x.ends
        self.bottom, self.top = y.ends
        self.runs = [self._runs(series) for series in curve.ys]

    def _runs(self, series: Series) -> list[list[Point]]:
        """Return a series as stretches without a gap, cut off at the edges of the plot."""
        heights = [each for each in series.points if each is not None]
        along = self.curve.x.points
        if len(heights) == len(along) > 1 and self.x.covers(along) and self.y.covers(heights):
            points = zip(self.x.places(along), self.y.places(heights), strict=True)
            return [thinned(list(points))]
        runs = [thinned(run) for run in self._cut_runs(series) if len(run) > 1]
        return runs + self._alone(series)

    def _alone(self, series: Series) -> list[list[Point]]:
        """Return the points of a series that stand between two gaps, each by itself."""
        around = (None, *series.points), series.points, (*series.points[1:], None)
        return [
            [(self.x.at(along), self.y.at(height))]
            for along, before, height, after in zip(self.curve.x.points, *around, strict=False)
            if height is not None and before is None and after is None
            if self.x.is_inside(along) and self.y.is_inside(height)
        ]

    def _cut_runs(self, series: Series) -> list[list[Point]]:
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
        return runs

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

    def grid(self, *, is_numbered: bool = True) -> str:
        """Return the grid with its numbers, and the frame around it.

        Without ``is_numbered`` the x axis has none: those of the plot below count for both.
        """
        parts = []
        for tick in self.x.ticks:
            at = self.x.at(tick.si)
            colour = style.RULE if tick.text else style.GRID
            ends = [(at, self.top), (at, self.bottom)]
            parts.append(line(ends, width=style.HAIR, stroke=colour))
            if tick.text and is_numbered:
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

    def title_across(self, label: str) -> str:
        """Return the title of the x axis with its unit."""
        return words(
            titled(label, self.x.unit),
            (self.left + self.right) / 2.0,
            self.bottom + 9.6,
            size=style.TEXT,
            anchor="middle",
            is_bold=True,
        )

    def title_up(self, label: str, aside: float = 17.0) -> str:
        """Return the title of the y axis with its unit, so far [mm] to the left of the frame."""
        text = titled(label, self.y.unit)
        y = (self.top + self.bottom) / 2.0
        return group(
            words(text, 0.0, 0.0, size=style.TEXT, anchor="middle", is_bold=True),
            transform=f"translate({number(self.left - aside)} {number(y)}) rotate(-90)",
        )

    def lines(self) -> list[str]:
        """Return the series, each with a line pattern of its own."""
        return [
            group(
                *(self._drawn(run, place) for run in runs),
                class_="series",
                data_series=self.curve.ys[place].label,
            )
            for place, runs in enumerate(self.runs)
        ]

    def _drawn(self, run: list[Point], place: int) -> str:
        if len(run) == 1:
            return circle(run[0], DOT, width=style.THIN, fill=style.INK)
        return line(run, width=self._width(place), dashes=dashes_of(place))

    def _width(self, place: int) -> float:
        return self.pen if place < len(style.SERIES_DASHES) else self.pen + 0.4

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
        return [*self._upright_marks(), *self._level_marks()]

    def _upright_marks(self) -> list[str]:
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
            parts.append(_mark([(at, self.top), (at, self.bottom)], mark.label, (start, y)))
        return parts

    def _level_marks(self) -> list[str]:
        """Return the level marks; labels that would lie on each other stand side by side."""
        levels: dict[float, list[str]] = {}
        for mark in self.curve.marks:
            if mark.y is not None and self.y.has(mark.y) and self.y.is_inside(mark.y):
                levels.setdefault(self.y.at(mark.y), []).append(mark.label)
        crossing = [point for runs in self.runs for run in runs for point in _along(run)]
        parts: list[str] = []
        taken: list[_Label] = []
        for at in sorted(levels):
            label = "; ".join(dict.fromkeys(levels[at]))
            wide = text_width(label, style.SMALL)
            starts = self.right - wide - 1.0, self.left + 1.0
            places = [
                _Label(starts[0] - n * LABEL_STEP, at - 1.0, wide)
                for n in range(max(1, int((starts[0] - starts[1]) / LABEL_STEP) + 1))
            ]
            best = min(places, key=lambda place: place.hidden(taken, crossing))
            taken.append(best)
            parts.append(_mark([(self.left, at), (self.right, at)], label, (best.left, best.base)))
        return parts

    def _has_x(self, mark: Mark) -> bool:
        return mark.x is not None and self.x.has(mark.x) and self.x.is_inside(mark.x)

    def letters(self) -> str:
        """Return a letter on each series, where it is farthest from every other line and letter."""
        placed: list[Point] = []
        parts = []
        reach = min(4.0, (self.bottom - self.top) / 5.0)
        for place, runs in enumerate(self.runs):
            choices = [point for run in runs for point in _along(run)]
            inside = [
                (x, y)
                for x, y in choices
                if self.left + 4.0 < x < self.right - 4.0
                and self.top + reach < y < self.bottom - reach
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
            best = choices[int(np.argmax(_clearances(choices, others, placed)))]
            placed.append(best)
            parts.append(letter_sign(place, best))
        return group(*parts, class_="letters")

    def legend(self, left: float, top: float, room: float, bands: Sequence[Band]) -> str:
        """Return the legend: letter, line pattern and name of each series."""
        parts, y = [], top
        for place, text in enumerate(self._names(room)):
            parts.append(letter_sign(place, (left + 2.0, y)))
            parts.append(self.sample(place, left + 6.0, y))
            parts += _lines_of(text, left + SAMPLE, y)
            y += _row_height(text)
        for band in bands:
            swatch = [(left + 6.0, y - 1.8), (left + 19.0, y - 1.8)]
            swatch += [(left + 19.0, y + 1.8), (left + 6.0, y + 1.8)]
            parts.append(
                line(swatch, width=style.THIN, fill=style.SHADE, is_closed=True, dashes="3 1.2")
            )
            text = wrapped(band.label, style.TEXT, room - SAMPLE, most=3)
            parts += _lines_of(text, left + SAMPLE, y)
            y += _row_height(text)
        return group(*parts, class_="legend")

    def sample(self, place: int, left: float, y: float, length: float = 13.0) -> str:
        """Return a stretch of a series' line pattern."""
        ends = [(left, y), (left + length, y)]
        return line(ends, width=self._width(place), dashes=dashes_of(place))

    def _names(self, room: float) -> list[tuple[str, ...]]:
        names = []
        for place, series in enumerate(self.curve.ys):
            text = wrapped(series.label, style.TEXT, room - SAMPLE, most=3)
            names.append(text if self.runs[place] else (*text, "(not on this sheet)"))
        return names


def legend_height(labels: Sequence[str], room: float) -> float:
    """Return how high [mm] a legend of some labels gets; a line more for what has no points."""
    rows = [wrapped(label, style.TEXT, room - SAMPLE, most=3) for label in labels]
    return sum(map(_row_height, rows))


def letter_sign(place: int, at: Point) -> str:
    """Return the ringed letter of a series."""
    x, y = at
    ring = circle(at, LETTER, width=style.THIN)
    return ring + words(letter_of(place), x, y + 0.95, size=2.6, anchor="middle", is_bold=True)


def thinned(run: list[Point], by: float = THINNED_BY) -> list[Point]:
    """Return a line of very many points without those it passes within ``by`` [mm] anyway."""
    if len(run) < THINNED_FROM:
        return run
    kept, last = [run[0]], run[0]
    low, high = -math.inf, math.inf
    for point in run[1:]:
        if not _is_between(kept[-1], point, low, high):
            kept.append(last)
            low, high = -math.inf, math.inf
        along, up = point[0] - kept[-1][0], point[1] - kept[-1][1]
        if along > 0.0:
            low, high = max(low, (up - by) / along), min(high, (up + by) / along)
        last = point
    return [*kept, last]


def _is_between(start: Point, end: Point, low: float, high: float) -> bool:
    """Tell whether a line to ``end`` passes near all points since ``start``."""
    along = end[0] - start[0]
    return low == -math.inf or (along > 0.0 and low <= (end[1] - start[1]) / along <= high)


def _mark(ends: list[Point], label: str, at: Point) -> str:
    wide = text_width(label, style.SMALL)
    halo = tag("rect", x=at[0] - 0.5, y=at[1] - 2.3, width=wide + 0.6, height=3.0, fill=style.PAPER)
    text = words(label, at[0], at[1], size=style.SMALL, is_slanted=True)
    return group(line(ends, width=style.THIN, dashes="0.8 0.8"), halo, text, class_="mark-line")


def _row_height(text: Sequence[str]) -> float:
    return len(text) * style.TEXT * style.LEADING + _ROW_GAP


def _lines_of(text: Sequence[str], x: float, y: float) -> list[str]:
    step = style.TEXT * style.LEADING
    return [
        words(each, x, y + place * step + 1.0, size=style.TEXT) for place, each in enumerate(text)
    ]


def _along(run: list[Point], step: float = 3.0) -> list[Point]:
    """Return places along a line, a few millimetres apart."""
    places = []
    for (x0, y0), (x1, y1) in itertools.pairwise(run):
        count = max(1, min(40, int(math.hypot(x1 - x0, y1 - y0) / step)))
        places += [
            (x0 + (x1 - x0) * part / count, y0 + (y1 - y0) * part / count) for part in range(count)
        ]
    return [*places[:: max(1, len(places) // SAMPLES)], run[-1]]


def _clearances(
    places: list[Point], others: list[Point], placed: list[Point]
) -> NDArray[np.float64]:
    """Return how free each place is: far from other lines, and from the letters there are."""
    to_lines, to_letters = (_distances(places, each) for each in (others, placed))
    near: NDArray[np.float64] = np.hstack((to_lines, 0.7 * to_letters)).min(axis=1, initial=np.inf)
    if placed:
        near = near + APART * to_letters.min(axis=1)
    return near


def _distances(places: list[Point], others: list[Point]) -> NDArray[np.float64]:
    """Return the distance of each place from each of the others, a row for each place."""
    here, there = (np.asarray(each).reshape(-1, 2) for each in (places, others))
    apart = here[:, None, :] - there[None, :, :]
    distances: NDArray[np.float64] = np.hypot(apart[:, :, 0], apart[:, :, 1])
    return distances
