"""The sheet a drawing stands on: border, title block, legend, the caution; fitted to paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from swapwright.drawing import style
from swapwright.drawing.lettering import in_signs, wrapped
from swapwright.drawing.svg import document, escaped, group, line, number, rectangle, tag, words

Paper = Literal["A3", "A4"]
SIZES: dict[Paper, tuple[float, float]] = {"A3": (420.0, 297.0), "A4": (297.0, 210.0)}
"""Width and height lying, as ISO 216 has them."""

BORDER = 8.0
PADDING = 5.0
STRIP = 47.0
CAUTION_HEIGHT = 7.0
BLOCK = 172.0
LEGEND_ROWS = 5
MOST_ENLARGED = 1.25
LEAST_REDUCED = 0.5
"""Below this text gets too small to read: the sheet grows instead."""


@dataclass(frozen=True)
class SheetText:
    """What the title block says: its title, then lines of (name, text)."""

    title: str
    lines: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class LegendItem:
    """One row of the legend: a sample about 12 mm wide and 7 high around a point, and its word."""

    sample: str
    text: str


def on_sheet(
    drawing: str,
    size: tuple[float, float],
    text: SheetText,
    legend: Sequence[tuple[LegendItem, ...]],
    *,
    paper: Paper = "A3",
    role: str = "img",
) -> str:
    """Return a drawing on its sheet.

    ``drawing`` is markup of ``size`` with its corner at the origin; ``legend`` holds groups of
    items. The drawing is fitted to the room there is; the sheet grows where it would get too small
    to read. ``role`` is "group" where a person can go into it.
    """
    full, high = SIZES["A3"]
    inside = 2.0 * (BORDER + PADDING)
    room = full - inside, high - inside - STRIP - CAUTION_HEIGHT
    scale = min(room[0] / size[0], room[1] / size[1], MOST_ENLARGED)
    if scale < LEAST_REDUCED:
        scale = LEAST_REDUCED
        full = max(full, size[0] * scale + inside)
        high = max(high, size[1] * scale + inside + STRIP + CAUTION_HEIGHT)
        room = full - inside, high - inside - STRIP - CAUTION_HEIGHT
    left = BORDER + PADDING + (room[0] - size[0] * scale) / 2.0
    top = BORDER + PADDING + CAUTION_HEIGHT + (room[1] - size[1] * scale) / 2.0
    placed = group(
        drawing,
        transform=f"translate({number(left)} {number(top)}) scale({scale:.4f})",
        class_="drawing",
    )
    parts = (_frame(full, high), placed, _block(full, high, text), _legend(full, high, legend))
    return _fitted(document(full, high, text.title, *parts, role=role), (full, high), paper)


def _fitted(whole: str, size: tuple[float, float], paper: Paper) -> str:
    """Give the document the size of its paper; what is drawn stays as it is."""
    shrink = SIZES[paper][0] / SIZES["A3"][0]
    given = SIZES[paper] if size == SIZES["A3"] else (size[0] * shrink, size[1] * shrink)
    return whole.replace(_size(size), _size(given), 1)


def _size(size: tuple[float, float]) -> str:
    return f'width="{number(size[0])}mm" height="{number(size[1])}mm"'


def _frame(full: float, high: float) -> str:
    foot = high - BORDER - STRIP
    caution_y = BORDER + CAUTION_HEIGHT - 2.0
    return group(
        rectangle(BORDER, BORDER, full - BORDER, high - BORDER, width=0.5, fill="none"),
        line([(BORDER, foot), (full - BORDER, foot)], width=0.5),
        line(
            [(BORDER, BORDER + CAUTION_HEIGHT), (full - BORDER, BORDER + CAUTION_HEIGHT)],
            width=style.THIN,
        ),
        words(
            style.CAUTION, full / 2.0, caution_y, size=style.HEADING, anchor="middle", is_bold=True
        ),
        class_="frame",
    )


def _block(full: float, high: float, text: SheetText) -> str:
    """Draw the title block, in the lower right corner."""
    left, right = full - BORDER - BLOCK, full - BORDER
    top = high - BORDER - STRIP
    parts = [line([(left, top), (left, high - BORDER)], width=0.5)]
    title = wrapped(text.title, style.TITLE, BLOCK - 8.0, is_bold=True, most=1)
    for each in title:
        parts.append(words(each, left + 4.0, top + 7.5, size=style.TITLE, is_bold=True))
    parts.append(line([(left, top + 10.5), (right, top + 10.5)], width=style.THIN))
    status = style.STATUS
    rows = [*text.lines, ("status", status)]
    columns = 2 if len(rows) <= 10 else 3
    per = -(-len(rows) // columns)
    pitch = (STRIP - 11.0) / per
    wide = BLOCK / columns
    for place, (name, said) in enumerate(rows):
        x = left + 4.0 + (place // per) * wide
        y = top + 10.5 + (place % per) * pitch
        parts.append(_cell(name, said, x, y, wide - 8.0, pitch))
    return group(*parts, class_="title-block")


def _cell(name: str, said: str, x: float, y: float, room: float, pitch: float) -> str:
    """Write one line of the title block: its name small, its text under or beside it."""
    heads = wrapped(name, style.SMALL, 27.0, most=2)
    offset = 29.0
    size = style.TEXT + 0.2
    text = wrapped(in_signs(said), size, room - offset, is_bold=True, most=2 if pitch > 6.4 else 1)
    middle = y + pitch / 2.0
    start = middle + size * 0.36 - (len(text) - 1) * size * 0.6
    above = middle + style.SMALL * 0.36 - (len(heads) - 1) * style.SMALL * 0.6
    parts = [
        words(each, x, above + place * style.SMALL * 1.2, size=style.SMALL)
        for place, each in enumerate(heads)
    ]
    for number_of_line, each in enumerate(text):
        parts.append(
            words(each, x + offset, start + number_of_line * size * 1.2, size=size, is_bold=True)
        )
    return group(tag("title", escaped(said)), *parts)


def _legend(full: float, high: float, groups: Sequence[tuple[LegendItem, ...]]) -> str:
    """Draw the legend, in the lower left corner, in columns."""
    left, top = BORDER + PADDING, high - BORDER - STRIP + 3.0
    right = full - BORDER - BLOCK - 3.0
    items = [item for each in groups for item in each]
    rows, scale = (LEGEND_ROWS, 0.62) if len(items) <= 5 * LEGEND_ROWS else (LEGEND_ROWS + 2, 0.5)
    pitch = (STRIP - 5.0) / rows
    columns = max(-(-len(items) // rows), 1)
    wide = min((right - left) / columns, 56.0)
    parts = []
    for place, item in enumerate(items):
        x = left + (place // rows) * wide
        y = top + (place % rows) * pitch + pitch / 2.0
        parts.append(
            group(
                item.sample,
                transform=f"translate({number(x + 5.0)} {number(y)}) scale({scale:.2f})",
            )
        )
        room = wide - 12.5
        text = wrapped(item.text, style.SMALL, room, most=2)
        start = y + 0.8 - (len(text) - 1) * style.SMALL * 0.6
        for number_of_line, each in enumerate(text):
            parts.append(
                words(each, x + 11.0, start + number_of_line * style.SMALL * 1.2, size=style.SMALL)
            )
    return group(*parts, class_="legend")
