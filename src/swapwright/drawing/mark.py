"""The marks of the five verdicts: a shape each, and its word beside it."""

from __future__ import annotations

import math

from swapwright.base.finding import SEVERITY
from swapwright.drawing.style import INK, OUTLINE, PAPER
from swapwright.drawing.svg import Point, circle, group, line, words

MARKS = SEVERITY
SIZE = 3.2
"""A mark's width and height."""


def mark(verdict: str, x: float, y: float) -> str:
    """Return a verdict's shape around a point; what is no known verdict is drawn as *unknown*."""
    drawn = {"stop": _octagon, "fix": _triangle, "watch": _diamond, "met": _tick}
    shape = drawn.get(verdict, _question)(x, y)
    return group(shape, class_=f"mark mark-{verdict if verdict in drawn else 'unknown'}")


def _octagon(x: float, y: float) -> str:
    radius = SIZE / 2.0
    turns = [math.radians(22.5 + 45.0 * step) for step in range(8)]
    points = [(x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns]
    bar: list[Point] = [(x - radius * 0.55, y), (x + radius * 0.55, y)]
    return line(points, width=OUTLINE, fill=INK, is_closed=True) + line(
        bar, width=0.6, stroke=PAPER
    )


def _triangle(x: float, y: float) -> str:
    half = SIZE / 2.0
    points = [(x, y - half), (x + half, y + half * 0.85), (x - half, y + half * 0.85)]
    return line(points, width=OUTLINE, fill=PAPER, is_closed=True) + line(
        [(x, y - half * 0.25), (x, y + half * 0.45)], width=OUTLINE
    )


def _diamond(x: float, y: float) -> str:
    half = SIZE / 2.0
    points = [(x, y - half), (x + half, y), (x, y + half), (x - half, y)]
    return line(points, width=OUTLINE, fill=PAPER, is_closed=True)


def _tick(x: float, y: float) -> str:
    half = SIZE / 2.0
    points = [
        (x - half * 0.8, y),
        (x - half * 0.2, y + half * 0.7),
        (x + half * 0.9, y - half * 0.8),
    ]
    return line(points, width=0.6)


def _question(x: float, y: float) -> str:
    ring = circle((x, y), SIZE / 2.0, width=OUTLINE)
    return ring + words("?", x, y + 0.85, size=2.4, anchor="middle", is_bold=True)
