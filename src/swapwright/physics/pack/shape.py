"""The space a cell takes."""

from __future__ import annotations

from math import pi

from swapwright.base.figure import Symbol, Working


def box_volume(*, length: float, width: float, height: float) -> float:
    """Return the volume of a prismatic or pouch cell.

    length, width, height: outside [m]
    result: volume [m^3]
    source: definition-volume
    """
    return length * width * height


def cylinder_volume(*, diameter: float, height: float) -> float:
    """Return the volume of a cylindrical cell.

    diameter, height: outside [m]
    result: volume [m^3]
    source: definition-volume
    """
    return pi * diameter**2 / 4.0 * height


_HEIGHT = Symbol("height", "m", 0.01, 0.5, "height")

WORKINGS: tuple[Working, ...] = (
    Working(
        box_volume,
        "l * w * h",
        {
            "l": Symbol("length", "m", 0.01, 1.0, "length"),
            "w": Symbol("width", "m", 0.002, 0.5, "width"),
            "h": _HEIGHT,
        },
        Symbol("box_volume", "m^3", 0.0, 1.0, "cell volume", "volume"),
        ("definition-volume",),
        "the outside dimensions",
        "terminals, swelling and gaps between cells",
    ),
    Working(
        cylinder_volume,
        "pi * d**2 / 4 * h",
        {"d": Symbol("diameter", "m", 0.01, 0.1, "diameter"), "h": _HEIGHT},
        Symbol("cylinder_volume", "m^3", 0.0, 1.0, "cell volume", "volume"),
        ("definition-volume",),
        "the outside dimensions",
        "the gaps between round cells",
    ),
)
