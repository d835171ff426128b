"""A small writer of SVG: text always escaped, numbers short and fixed, nothing from outside."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from swapwright.drawing.style import FONT, INK, PAPER

Point = tuple[float, float]

_ESCAPES = {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"}
_PLAIN = re.compile(r"[ !#-%(-;=?-~]*")
"""Text nothing has to be done to: a path of thousands of numbers is most of a drawing."""


def number(value: float) -> str:
    """Return a length as it is written: two decimals at most, no exponent, no minus zero."""
    if not math.isfinite(value):
        raise ValueError(f"{value} is no place on a sheet")
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def escaped(text: str) -> str:
    """Return text that stands for itself in SVG; what XML has no way to write is left out."""
    if _PLAIN.fullmatch(text):
        return text
    return "".join(_ESCAPES.get(each, each) for each in text if _is_character(each))


def _is_character(each: str) -> bool:
    code = ord(each)
    if code < 0x20:
        return each in "\t\n"
    return code < 0xD800 or 0xE000 <= code < 0xFFFE or code >= 0x10000


def tag(name: str, *children: str, **attributes: str | float | None) -> str:
    """Return an element of SVG; an attribute of None is left out, ``_`` in a name is written ``-``.

    Children are markup already: words go in through `words` or `escaped`.
    """
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_attribute(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    inside = "".join(children)
    return f"<{name}{written}>{inside}</{name}>" if inside else f"<{name}{written}/>"


def _attribute(value: str | float) -> str:
    return escaped(value) if isinstance(value, str) else number(value)


def group(*children: str, **attributes: str | float | None) -> str:
    """Return markup as one group."""
    return tag("g", *children, **attributes)


def line(
    points: Iterable[Point],
    *,
    stroke: str = INK,
    width: float,
    dashes: str | None = None,
    fill: str = "none",
    is_closed: bool = False,
    cap: str | None = None,
) -> str:
    """Return a line through points, or a shape of them."""
    path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return tag(
        "path",
        d=path + ("Z" if is_closed else ""),
        fill=fill,
        stroke=stroke,
        stroke_width=width,
        stroke_dasharray=dashes,
        stroke_linecap=cap,
        stroke_linejoin="round",
    )


def rectangle(
    left: float,
    top: float,
    right: float,
    bottom: float,
    *,
    width: float,
    stroke: str = INK,
    fill: str = PAPER,
    dashes: str | None = None,
) -> str:
    """Return a rectangle by its edges."""
    return tag(
        "rect",
        x=left,
        y=top,
        width=right - left,
        height=bottom - top,
        fill=fill,
        stroke=stroke,
        stroke_width=width,
        stroke_dasharray=dashes,
    )


def circle(
    centre: Point, radius: float, *, width: float, stroke: str = INK, fill: str = PAPER
) -> str:
    """Return a circle."""
    x, y = centre
    return tag("circle", cx=x, cy=y, r=radius, fill=fill, stroke=stroke, stroke_width=width)


def words(
    text: str,
    x: float,
    y: float,
    *,
    size: float,
    anchor: str = "start",
    is_bold: bool = False,
    is_slanted: bool = False,
    fill: str = INK,
) -> str:
    """Return a line of text with its base line at ``y``."""
    return tag(
        "text",
        escaped(text),
        x=x,
        y=y,
        font_size=size,
        text_anchor=None if anchor == "start" else anchor,
        font_weight="bold" if is_bold else None,
        font_style="italic" if is_slanted else None,
        fill=fill,
        stroke="none",
    )


HEADER = '<?xml version="1.0" encoding="UTF-8"?>\n'
_OPENING = re.compile(r"<svg[^>]*>")
_SIZE = re.compile(r' (?:width|height)="[^"]*"')


def document(
    width: float,
    height: float,
    title: str,
    *children: str,
    role: str = "img",
    **attributes: str | float | None,
) -> str:
    """Return a whole SVG file of so many millimetres, with its name and a paper background.

    ``role`` is "group" where a person can go into it; further attributes stand at its root.
    """
    return (
        HEADER
        + tag(
            "svg",
            tag("title", escaped(title)),
            "\n",
            tag("rect", x=0, y=0, width=width, height=height, fill=PAPER, stroke="none"),
            "\n",
            *(f"{child}\n" for child in children),
            xmlns="http://www.w3.org/2000/svg",
            role=role,
            viewBox=f"0 0 {number(width)} {number(height)}",
            width=f"{number(width)}mm",
            height=f"{number(height)}mm",
            font_family=FONT,
            font_variant="tabular-nums",
            **attributes,
        )
        + "\n"
    )


def inline(document: str, class_: str) -> str:
    """Return an SVG file as it stands within a page: no XML header, as wide as the page lets it.

    ``class_`` is the class a page knows it by; its shape is kept by its view box.
    """
    bare = document.removeprefix(HEADER).strip()
    found = _OPENING.match(bare)
    if found is None:
        raise ValueError("there is no drawing to stand in a page")
    opening = _SIZE.sub("", found[0]).replace("<svg", f'<svg class="{escaped(class_)}"', 1)
    return opening + bare[found.end() :]
