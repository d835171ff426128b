"""The part of a pack that is used: energy between two charges, and the charge at a voltage."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working
from swapwright.base.table import Line


def usable_energy(*, energy: float, low: float, high: float) -> float:
    """Return the rated energy between two states of charge, at nominal voltage throughout.

    energy: rated, of the whole pack [J]
    low: lower end of the window [1]
    high: upper end of the window [1]
    result: energy [J]
    source: definition-charge
    """
    return energy * (high - low)


def soc_at_rest_voltage(*, ocv: Line, voltage: float) -> float:
    """Return the highest state of charge whose rest voltage does not pass a voltage.

    On a flat stretch that is its upper end; outside the curve it is 0 or 1.

    ocv: a cell's rest voltage, rising [V], against state of charge [1]
    voltage: of one cell at rest [V]
    result: state of charge [1]
    source: plett-2015-ch2, from memory
    """
    if voltage < ocv.y[0]:
        return ocv.x[0]
    if voltage >= ocv.y[-1]:
        return ocv.x[-1]
    above = next(i for i, y in enumerate(ocv.y) if y > voltage)
    x0, x1 = ocv.x[above - 1], ocv.x[above]
    y0, y1 = ocv.y[above - 1], ocv.y[above]
    return x0 + (x1 - x0) * (voltage - y0) / (y1 - y0)


_LOW = Symbol("low", "1", 0.0, 0.5, "low end of the window", "fraction")
_HIGH = Symbol("high", "1", 0.5, 1.0, "high end of the window", "fraction")

USABLE_ENERGY = Working(
    usable_energy,
    "E * (z_2 - z_1)",
    {"E": Symbol("energy", "J", 1e6, 1e9, "rated energy"), "z_1": _LOW, "z_2": _HIGH},
    Symbol("usable_energy", "J", 0.0, 1e9, "usable energy"),
    ("definition-charge",),
    "nominal voltage at every state of charge",
    "loss in the pack, cold, age",
)

WORKINGS: tuple[Working, ...] = (USABLE_ENERGY,)
