"""A flow of energy from part to part, top to bottom: each band is as wide as what goes through it.

Bands down are shaded, bands back up are ruled across, what is lost leaves at the right in white;
each has its name and its number beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swapwright.drawing import style
from swapwright.drawing.lettering import text_width, wrapped
from swapwright.drawing.svg import Point, document, group, line, rectangle, words

WIDTH = 120.0
TOP, FOOT = 3.0, 3.0
LEFT, INSET = 3.0, 2.0
MOST_DOWN, MOST_BACK = 42.0, 15.0
"""mm; the widest a band down and a band back may be."""
BACK_AT = LEFT + INSET + MOST_DOWN + 3.0
BLOCK_END = BACK_AT + MOST_BACK + INSET
OFF_END = BLOCK_END + 11.0
HEAD, POINT = 3.0, 3.0
TEXT_AT = OFF_END + HEAD + 1.5
GAP = 18.0
ROW = 8.6
"""mm; height of the two lines of a name and a number."""
STEP = style.TEXT * style.LEADING
RULED = 1.3


@dataclass(frozen=True)
class Stream:
    """One band: its name, its number as a text, and how much goes through it."""

    label: str
    text: str
    size: float
    is_inward: bool = False
    """For a band at the right: it enters there, it does not leave."""


@dataclass(frozen=True)
class Station:
    """One part: what comes from above, what goes back up, and what leaves at the right."""

    title: str
    down: Stream
    back: Stream | None
    off: tuple[Stream, ...]


def flow_drawing(stations: Sequence[Station], *, title: str) -> str:
    """Return a flow through stations as an SVG file; raise ValueError where nothing flows."""
    most = max((station.down.size for station in stations), default=0.0)
    if most <= 0.0:
        raise ValueError("there is no flow to draw")
    scale = MOST_DOWN / most
    returned = max((each.back.size for each in stations if each.back is not None), default=0.0)
    if returned * scale > MOST_BACK:
        scale = MOST_BACK / returned
    parts, y = [], TOP
    for station in stations:
        parts.append(_down(station.down, y, scale))
        if station.back is not None:
            parts.append(_back(station.back, y, scale))
        y += GAP
        high = max(ROW, *_heights(station, scale), sum(_heights(station, scale))) + 2.0 * INSET
        parts.append(_block(station, y, high, scale))
        y += high
    return document(WIDTH, y + FOOT, title, *parts)


def _heights(station: Station, scale: float) -> list[float]:
    return [max(ROW, each.size * scale + 1.0) for each in station.off] or [0.0]


def _down(stream: Stream, y: float, scale: float) -> str:
    left, wide = LEFT + INSET, stream.size * scale
    right, end = left + wide, y + GAP
    outline = [(left, y), (right, y), (right, end - POINT), (left + wide / 2.0, end)]
    outline.append((left, end - POINT))
    band = line(outline, width=style.THIN, fill=style.SHADE, is_closed=True)
    widest = max(text_width(part, style.TEXT) for part in (stream.text, *stream.label.split()))
    if wide > widest + 2.0:
        text = _text(stream, (left + right) / 2.0, y + 4.2, wide - 1.0, anchor="middle")
    else:
        text = _text(stream, right + 1.5, y + 4.2, BACK_AT - right - 2.0)
    return group(band, text, class_="stream", data_flow=stream.label)


def _back(stream: Stream, y: float, scale: float) -> str:
    left, right, end = BACK_AT, BACK_AT + stream.size * scale, y + GAP
    middle = (left + right) / 2.0
    outline = [(left, end), (right, end), (right, y + POINT), (middle, y), (left, y + POINT)]
    rules = [
        line([(left, y + POINT + RULED * n), (right, y + POINT + RULED * n)], width=style.HAIR)
        for n in range(int((GAP - POINT) / RULED) + 1)
    ]
    band = line(outline, width=style.THIN, fill=style.PAPER, is_closed=True)
    text = _text(stream, right + 2.0, y + 7.0, WIDTH - right - 3.0)
    return group(band, *rules, text, class_="stream", data_flow=stream.label)


def _block(station: Station, y: float, high: float, scale: float) -> str:
    box = rectangle(LEFT, y, BLOCK_END, y + high, width=style.OUTLINE)
    name = words(
        station.title, LEFT + INSET, y + high / 2.0 + 1.1, size=style.HEADING, is_bold=True
    )
    parts, at = [box, name], y + INSET
    for stream, room in zip(station.off, _heights(station, scale), strict=False):
        parts.append(_off(stream, at + room / 2.0, scale))
        at += room
    return group(*parts, class_="station")


def _off(stream: Stream, middle: float, scale: float) -> str:
    half = stream.size * scale / 2.0
    start, end = BLOCK_END, OFF_END
    tip = end + HEAD
    outline: list[Point] = [(start, middle - half), (end, middle - half), (tip, middle)]
    outline += [(end, middle + half), (start, middle + half)]
    if stream.is_inward:
        outline = [(tip + start - x, place) for x, place in outline]
    band = line(outline, width=style.THIN, fill=style.PAPER, is_closed=True)
    text = _text(stream, TEXT_AT, middle - 0.6, WIDTH - TEXT_AT - 1.0)
    return group(band, text, class_="stream", data_flow=stream.label)


def _text(stream: Stream, x: float, y: float, room: float, anchor: str = "start") -> str:
    """Return a band's name and below it its number."""
    rows = wrapped(stream.label, style.TEXT, room, most=2)
    parts = [
        words(row, x, y + STEP * place, size=style.TEXT, anchor=anchor)
        for place, row in enumerate(rows)
    ]
    below = y + STEP * len(rows)
    parts.append(words(stream.text, x, below, size=style.TEXT, anchor=anchor, is_bold=True))
    return group(*parts)
