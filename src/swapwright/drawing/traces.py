"""Traces: several quantities over one axis, a panel for each kind, one below the other."""

from __future__ import annotations

from dataclasses import replace

from swapwright.base.curve import Curve
from swapwright.drawing import style
from swapwright.drawing.chart import FOOT, NARROW, heading
from swapwright.drawing.lettering import text_width, wrapped
from swapwright.drawing.plot import (
    MARK_ROW,
    MARK_ROWS,
    Plot,
    letter_sign,
    panels_of,
    shared_label,
    titled,
)
from swapwright.drawing.scale import scale_of, step_of
from swapwright.drawing.svg import document, group, words

SIDE = 15.0
EDGE = 6.0
PANEL, NARROW_PANEL = 27.0, 17.0
FEW = 2
"""So many panels or fewer are twice as high."""
NAME = 6.0
"""mm above a panel's frame, for what it shows."""
PEN = 0.35
TICKS = 3
SAMPLE, NARROW_SAMPLE = 11.0, 7.0


def traces(
    curve: Curve,
    *,
    title: str,
    width_mm: float = 277.0,
    profile: str = "metric",
    world: str = "electric",
    has_title: bool = True,
) -> str:
    """Return a curve as an SVG file of panels over one axis; its height follows their number.

    Series of one kind share a panel, told apart there by line pattern and letter; a None in one is
    a gap. Marks on the axis run through all panels, level ones stand in the first. Raises
    ValueError where nothing can be drawn.
    """
    if not curve.ys:
        raise ValueError(f"{curve.id}: there is nothing to draw")
    names, top = heading(title, width_mm, has_title=has_title)
    panels = panels_of(curve)
    high = NARROW_PANEL if width_mm < NARROW else PANEL
    high *= 2.0 if len(panels) <= FEW else 1.0
    # Labels of marks stand above the first frame, and what that panel shows above them.
    lift = MARK_ROW * MARK_ROWS if any(mark.x is not None for mark in curve.marks) else 0.0
    top += lift
    ends = SIDE, width_mm - EDGE
    x = scale_of(
        [*curve.x.points, *(mark.x for mark in curve.marks if mark.x is not None)],
        ends,
        (min(curve.x.points), max(curve.x.points)),
        kind=curve.x.kind,
        is_log=False,
        profile=profile,
        world=world,
        step=step_of(curve.x.points),
    )
    parts = [*names]
    for number, places in enumerate(panels):
        part = _panel(curve, places, is_first=number == 0)
        upper = top + NAME * number + high * number
        heights = [y for series in part.ys for y in series.points if y is not None]
        levels = [mark.y for mark in part.marks if mark.y is not None]
        y = scale_of(
            [*heights, *levels] or [0.0],
            (upper + high, upper),
            None,
            kind=part.ys[0].kind,
            is_log=False,
            profile=profile,
            world=world,
            most_ticks=TICKS,
        )
        is_last = number == len(panels) - 1
        plot = Plot(part, x, y, PEN)
        parts += [plot.grid(is_numbered=is_last), *plot.marks(), *plot.lines()]
        parts.append(_name(plot, lift if number == 0 else 0.0))
        if len(places) > 1:
            parts.append(plot.letters())
        if is_last:
            parts.append(plot.title_across(curve.x.label))
    height = top + (NAME + high) * len(panels) - NAME + FOOT - 4.0
    return document(width_mm, height, title, *parts)


def _panel(curve: Curve, places: tuple[int, ...], *, is_first: bool) -> Curve:
    """Return the part of a curve one panel shows; only the first names the marks on the axis."""
    marks = curve.marks
    if not is_first:
        marks = tuple(replace(mark, label="") for mark in marks if mark.x is not None)
    return replace(curve, ys=tuple(curve.ys[place] for place in places), marks=marks)


def _name(plot: Plot, lift: float) -> str:
    """Return what a panel shows, and behind it which of its lines is which."""
    series = plot.curve.ys
    name = titled(shared_label(series), plot.y.unit)
    y = plot.top - 1.5 - lift
    parts = [words(name, plot.left, y, size=style.SMALL, is_bold=True)]
    at = plot.left + text_width(name, style.SMALL, is_bold=True) + 4.0
    if len(series) == 1:
        if not plot.runs[0]:
            parts.append(words("(no points)", at, y, size=style.SMALL))
        return group(*parts, class_="legend")
    sample = SAMPLE if plot.right > NARROW else NARROW_SAMPLE
    for place, each in enumerate(series):
        share = (plot.right - at) / (len(series) - place)
        parts.append(letter_sign(place, (at + 2.0, y - 0.9)))
        parts.append(plot.sample(place, at + 5.2, y - 0.9, sample))
        room = share - sample - 9.0
        label = wrapped(_short(each.label, series[0].kind), style.SMALL, room, most=1)[0]
        parts.append(words(label, at + 6.8 + sample, y, size=style.SMALL))
        at += min(share, sample + 10.8 + text_width(label, style.SMALL))
    return group(*parts, class_="legend")


def _short(label: str, kind: str) -> str:
    """Return a series' label without the word its panel has already."""
    return label.removesuffix(kind.replace("_", " ")).strip() or label
