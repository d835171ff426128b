"""A person in the circuit: current through the body, what of it the heart sees, and its zone.

Nothing here is a limit: no current is shown as harmless because of its zone.
"""

from __future__ import annotations

from itertools import pairwise
from math import exp, log

from swapwright.base.figure import Symbol, Working
from swapwright.base.table import Line


def body_current(*, voltage: float, impedance: float) -> float:
    """Return the current through a body at a voltage.

    voltage: that stands across the body [V]
    impedance: of the body at that voltage [ohm]
    result: current [A]
    source: definition-ohm
    """
    return voltage / impedance


def heart_current(*, factor: float, current: float) -> float:
    """Return the current from left hand to feet that is as great a danger to the heart.

    factor: heart-current factor of the path [1]
    current: through the body on that path [A]
    result: current [A]
    source: iec-60479-1-heart-factor
    """
    return factor * current


def threshold_current(*, curve: Line, time: float, error: float) -> float:
    """Return the current of a zone's curve at a time, lowered by what the reading may be off.

    Straight in logarithms between the points, as the curves are drawn; the end points hold beyond
    them.

    curve: current over time [A], [s]
    time: the current lasts [s]
    error: share the curve may be off [1]
    result: current [A]
    source: iec-60479-1-dc-zones, from memory
    """
    within = min(max(time, curve.x[0]), curve.x[-1])
    points = tuple(zip(curve.x, curve.y, strict=True))
    current = curve.y[-1]
    for (early, high), (late, low) in pairwise(points):
        if within <= late:
            share = log(within / early) / log(late / early)
            current = exp(log(high) + share * log(low / high))
            break
    return current * (1.0 - error)


def dc_zone(
    *,
    current: float,
    heart: float,
    time: float,
    perception: float,
    curve_b: Line,
    curve_c1: Line,
    error: float,
) -> str:
    """Return the zone of effects of a direct current, DC-1 to DC-4; on a line, the worse one.

    For information beside the current, never a pass: the curves are read off a drawing.

    current: through the body [A]
    heart: the same as the heart sees it, see heart_current [A]
    time: it lasts [s]
    perception: current that is just felt [A]
    curve_b: current over time above which muscles are held [A], [s]
    curve_c1: current over time above which the heart may fibrillate [A], [s]
    error: share the curves may be off; they are lowered by it [1]
    result: zone
    source: iec-60479-1-dc-zones, from memory
    """
    if heart >= threshold_current(curve=curve_c1, time=time, error=error):
        return "DC-4"
    if current >= threshold_current(curve=curve_b, time=time, error=error):
        return "DC-3"
    return "DC-2" if current >= perception else "DC-1"


BODY_CURRENT = Working(
    body_current,
    "V / Z",
    {
        "V": Symbol("voltage", "V", 1.0, 1500.0, "voltage across the body"),
        "Z": Symbol("impedance", "ohm", 200.0, 1e4, "impedance of the body"),
    },
    Symbol("body_current", "A", 0.0, 10.0, "current through the body"),
    ("definition-ohm",),
    "hand to hand, large contact; alternating-current values hold for dc",
    "shoes, gloves and clothes; broken skin; other paths, which may be of less impedance",
)

HEART_CURRENT = Working(
    heart_current,
    "F * I",
    {
        "F": Symbol("factor", "1", 0.04, 1.5, "heart-current factor of the path", "factor"),
        "I": Symbol("current", "A", 0.0, 10.0, "current through the body"),
    },
    Symbol("heart_current", "A", 0.0, 15.0, "left-hand-to-feet current of the same danger"),
    ("iec-60479-1-heart-factor",),
    "",
    "burns and held muscles, which go by the current itself",
)

WORKINGS: tuple[Working, ...] = (BODY_CURRENT, HEART_CURRENT)
