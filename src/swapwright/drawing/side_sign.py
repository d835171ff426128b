"""The signs of a side view: a mass as a disc, and the quartered circle where the car balances."""

from __future__ import annotations

import math

from swapwright.drawing import style
from swapwright.drawing.side_layout import ADD, LOAD, REMOVE, Disc
from swapwright.drawing.svg import circle, number, tag

HATCH = 1.1
"""mm between the lines across what is carried."""


def disc_sign(disc: Disc) -> str:
    """Return a mass: filled where it goes in, hatched where it is carried, hollow where it goes."""
    kind, x, y, radius = disc.mass.kind, disc.x, disc.y, disc.radius
    if kind == REMOVE:
        return tag(
            "circle",
            cx=x,
            cy=y,
            r=radius,
            fill="none",
            stroke=style.INK,
            stroke_width=style.OUTLINE,
            stroke_dasharray="1.2 0.8",
            class_="disc",
        )
    fill = style.SHADE if kind == ADD else style.PAPER
    ring = tag(
        "circle",
        cx=x,
        cy=y,
        r=radius,
        fill=fill,
        stroke=style.INK,
        stroke_width=style.CONDUCTOR,
        class_="disc",
    )
    return ring + (_hatching(x, y, radius) if kind == LOAD else "")


def _hatching(x: float, y: float, radius: float) -> str:
    """Return slanted lines across a disc."""
    path = ""
    slant = math.sqrt(0.5)
    for step in range(-int(radius // HATCH), int(radius // HATCH) + 1):
        away = step * HATCH
        half = math.sqrt(max(radius**2 - away**2, 0.0))
        ends = [
            (x + (away + turn * half) * slant, y + (away - turn * half) * slant)
            for turn in (-1.0, 1.0)
        ]
        path += "M" + "L".join(f"{number(across)} {number(down)}" for across, down in ends)
    return tag("path", d=path, fill="none", stroke=style.INK, stroke_width=style.HAIR)


def balance_sign(x: float, y: float, radius: float) -> str:
    """Return the mark of a centre of gravity: a circle, two of its quarters in ink."""
    size = number(radius)
    quarters = "".join(
        f"M{number(x)} {number(y)}L{number(x + a * radius)} {number(y)}"
        f"A{size} {size} 0 0 1 {number(x)} {number(y + a * radius)}Z"
        for a in (-1.0, 1.0)
    )
    return circle((x, y), radius, width=style.OUTLINE) + tag(
        "path", d=quarters, fill=style.INK, stroke="none"
    )
