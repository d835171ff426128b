"""Charts: a curve's series over one axis, told apart by line pattern and letter, not by colour."""

from __future__ import annotations

from collections.abc import Sequence

from swapwright.base.curve import Curve
from swapwright.drawing import style
from swapwright.drawing.lettering import wrapped
from swapwright.drawing.plot import PEN, Band, Plot, legend_height, shared_label
from swapwright.drawing.scale import scale_of, step_of
from swapwright.drawing.svg import document, words

__all__ = ["FOOT", "SIDE", "TOP", "Band", "heading", "line_chart", "small_lines"]

LEGEND = 62.0
SIDE = 24.0
EDGE = 6.0
TOP = 21.0
TITLE_ROOM = 10.0
"""mm above the frame that a chart without a title does without."""
FOOT = 17.0
NARROW = 200.0
"""mm; on a narrower sheet the legend stands below the plot, and adds to the height."""
NARROW_SIDE, NARROW_PEN = 18.0, 0.45
NOTE_ROW = 4.2


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
    world: str = "electric",
    has_title: bool = True,
) -> str:
    """Return a curve as an SVG file.

    All series need one quantity kind; a None in one is a gap. ``x_range`` and ``y_range`` [SI] fix
    the ends of the axes, else they come from the points; on a logarithmic axis what is not above
    zero is left out. The curve's marks are drawn as lines with their labels, ``bands`` as shaded
    stretches, ``notes`` as lines below. Without ``has_title`` the title is only the name a reader
    of the file is told: for a page that has it in a heading. Raises ValueError where nothing can be
    drawn.
    """
    kinds = {series.kind for series in curve.ys}
    if len(kinds) != 1:
        raise ValueError(f"{curve.id}: a chart shows one kind of quantity, not {sorted(kinds)}")
    is_narrow = width_mm < NARROW
    side, right = (NARROW_SIDE, width_mm - EDGE) if is_narrow else (SIDE, width_mm - LEGEND)
    names, top = heading(title, width_mm, has_title=has_title)
    told = small_lines(notes, width_mm)
    labels = [*(series.label for series in curve.ys), *(band.label for band in bands)]
    below = legend_height(labels, right - side) if is_narrow else 0.0
    floor = height_mm - FOOT - NOTE_ROW * len(told)
    marks_x = [mark.x for mark in curve.marks if mark.x is not None]
    marks_y = [mark.y for mark in curve.marks if mark.y is not None]
    for band in bands:
        (marks_x if band.is_across else marks_y).extend((band.low, band.high))
    heights = [y for series in curve.ys for y in series.points if y is not None]
    x = scale_of(
        [*curve.x.points, *marks_x],
        (side, right),
        x_range,
        kind=curve.x.kind,
        is_log=log_x,
        profile=profile,
        world=world,
        step=step_of(curve.x.points),
    )
    y = scale_of(
        [*heights, *marks_y],
        (floor, top),
        y_range,
        kind=curve.ys[0].kind,
        is_log=log_y,
        profile=profile,
        world=world,
    )
    plot = Plot(curve, x, y, NARROW_PEN if is_narrow else PEN)
    legend = (side, floor + FOOT - 1.0, right - side)
    if not is_narrow:
        legend = (right + 5.0, top + 3.0, LEGEND - 9.0)
    parts = [
        *names,
        *(plot.band(band) for band in bands),
        plot.grid(),
        *plot.marks(),
        *plot.lines(),
        plot.title_across(curve.x.label),
        plot.title_up(y_label or shared_label(curve.ys), side - 7.0),
        plot.letters(),
        plot.legend(*legend, bands),
    ]
    for place, note in enumerate(told):
        y_of = floor + FOOT + below + NOTE_ROW * place
        parts.append(words(note, side, y_of, size=style.SMALL))
    return document(width_mm, height_mm + below, title, *parts)


def heading(title: str, width: float, *, has_title: bool) -> tuple[list[str], float]:
    """Return the title above a chart, and where the frame begins below it."""
    if not has_title:
        return [], TOP - TITLE_ROOM
    size = style.HEADING if width < NARROW else style.TITLE
    rows = wrapped(title, size, width - SIDE - EDGE, is_bold=True)
    step = size * style.LEADING
    names = [
        words(row, SIDE, 9.0 + step * place, size=size, is_bold=True)
        for place, row in enumerate(rows)
    ]
    return names, TOP + step * max(len(rows) - 1, 0)


def small_lines(notes: Sequence[str], width: float) -> list[str]:
    """Return notes as the lines they take below a chart."""
    return [
        row for note in notes for row in wrapped(note, style.SMALL, width - SIDE - EDGE) or ("",)
    ]
