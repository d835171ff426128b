"""Bars about a nominal: what each input alone does to a number, the widest first."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from swapwright.drawing import style
from swapwright.drawing.lettering import in_signs, text_width, wrapped
from swapwright.drawing.svg import document, group, line, rectangle, tag, words

WIDTH = 120.0
EDGE = 3.0
ENDS = (26.0, 94.0)
"""mm; between them lie the bars, beyond them the numbers at their ends."""
HEAD = 19.0
ROW = 13.0
BAR_AT, BAR = 5.0, 4.6
"""mm; where in its row a bar begins, and how high it is."""
FOOT = 3.0
RULED = 1.1


@dataclass(frozen=True)
class Bar:
    """One input: its name, its ends in words, and the number with it at its low and high end.

    ``link`` is where the input is entered, empty for none.
    """

    label: str
    ends: str
    low: float
    high: float
    low_text: str
    high_text: str
    link: str = ""


def tornado_drawing(bars: Sequence[Bar], *, nominal: float, nominal_text: str, title: str) -> str:
    """Return bars about a nominal as an SVG file; raise ValueError where there is none to draw."""
    reach = max((abs(end - nominal) for bar in bars for end in (bar.low, bar.high)), default=0.0)
    if reach <= 0.0:
        raise ValueError("there is no bar to draw")
    height = HEAD + ROW * len(bars) + FOOT
    middle = (ENDS[0] + ENDS[1]) / 2.0
    half = (ENDS[1] - ENDS[0]) / 2.0

    def at(value: float) -> float:
        return middle + (value - nominal) / reach * half

    parts = [
        *_key(),
        words(nominal_text, middle, 14.0, size=style.HEADING, anchor="middle", is_bold=True),
        line([(middle, 15.2), (middle, HEAD - 0.8)], width=style.OUTLINE),
    ]
    parts += [_row(bar, HEAD + ROW * place, at, middle) for place, bar in enumerate(bars)]
    return document(WIDTH, height, title, *parts, role="group")


def _key() -> list[str]:
    """Return what the two fills of a bar mean."""
    parts, left = [], EDGE
    for is_high, text in ((False, "input at its low end"), (True, "input at its high end")):
        parts.append(_fill(left, left + 9.0, 3.0, is_high=is_high))
        parts.append(words(text, left + 11.0, 6.4, size=style.TEXT))
        left += 16.0 + text_width(text, style.TEXT)
    return parts


def _row(bar: Bar, y: float, at: Callable[[float], float], middle: float) -> str:
    told = in_signs(bar.ends)
    wide = text_width(told, style.SMALL)
    room = WIDTH - 2.0 * EDGE - wide - 3.0
    label = wrapped(bar.label, style.TEXT, room, most=1)[0]
    name = words(label, EDGE, y + 3.2, size=style.TEXT)
    if bar.link:
        name = tag("a", name, href=bar.link, text_decoration="underline")
    parts = [
        line([(EDGE, y), (WIDTH - EDGE, y)], width=style.HAIR, stroke=style.GRID),
        name,
        words(told, WIDTH - EDGE, y + 3.2, size=style.SMALL, anchor="end"),
    ]
    top = y + BAR_AT + 0.6
    ends = [(at(bar.low), False, bar.low_text), (at(bar.high), True, bar.high_text)]
    # The longer first: two bars on one side both stay in sight.
    for end, is_high, _ in sorted(ends, key=lambda each: -abs(each[0] - middle)):
        parts.append(_fill(min(middle, end), max(middle, end), top, is_high=is_high))
    parts.append(line([(middle, top - 1.2), (middle, top + BAR + 1.2)], width=style.OUTLINE))
    parts += _numbers(ends, middle, top)
    return group(*parts, class_="bar", data_bar=bar.label)


def _numbers(ends: Sequence[tuple[float, bool, str]], middle: float, top: float) -> list[str]:
    """Return the numbers at a bar's ends; of two on one side the nearer stands across from it."""
    parts, ordered = [], sorted(ends)
    is_one_sided = (ordered[0][0] < middle) == (ordered[1][0] < middle)
    if is_one_sided:
        far = ordered[0] if ordered[0][0] < middle else ordered[1]
        near = ordered[1] if far is ordered[0] else ordered[0]
        is_left = far[0] < middle
        sides = [(far[0], far[2], is_left), (middle, near[2], not is_left)]
    else:
        sides = [(ordered[0][0], ordered[0][2], True), (ordered[1][0], ordered[1][2], False)]
    for end, text, is_left in sides:
        x, anchor = (end - 1.4, "end") if is_left else (end + 1.4, "start")
        parts.append(words(text, x, top + 3.4, size=style.TEXT, anchor=anchor))
    return parts


def _fill(left: float, right: float, top: float, *, is_high: bool) -> str:
    """Return half a bar: white, or shaded and ruled for the high end of an input."""
    fill = style.SHADE if is_high else style.PAPER
    parts = [rectangle(left, top, right, top + BAR, width=style.THIN, fill=fill)]
    if is_high:
        for step in range(1, int((right - left) / RULED) + 1):
            x = left + RULED * step
            if x < right:
                parts.append(line([(x, top), (x, top + BAR)], width=style.HAIR))
    return group(*parts)
