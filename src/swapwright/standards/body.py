"""The human body in a circuit: impedance by voltage, share of people, and skin; heart; zones.

Impedances are hand to hand with large contact, for ac of 50 and 60 Hz; they hold for dc too, where
only the lowest voltage was ever measured.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from swapwright.base.figure import Value
from swapwright.base.table import Line

Skin = Literal["dry", "water-wet", "saltwater-wet"]

DRY_SOURCE = "iec-60479-1-2005-impedance"
WATER_SOURCE = "iec-60479-1-1994-wet"
SALTWATER_SOURCE = "iec-60479-1-2005-saltwater"

PERCENTILES = (5, 50, 95)
"""Share of people, in per cent, whose impedance is not above the column: 5 is the worst case."""

_DRY = (
    (25.0, 1750.0, 3250.0, 6100.0),
    (50.0, 1375.0, 2500.0, 4600.0),
    (75.0, 1125.0, 2000.0, 3600.0),
    (100.0, 990.0, 1725.0, 3125.0),
    (125.0, 900.0, 1550.0, 2675.0),
    (150.0, 850.0, 1400.0, 2350.0),
    (175.0, 825.0, 1325.0, 2175.0),
    (200.0, 800.0, 1275.0, 2050.0),
    (225.0, 775.0, 1225.0, 1900.0),
    (400.0, 700.0, 950.0, 1275.0),
    (500.0, 625.0, 850.0, 1150.0),
    (700.0, 575.0, 775.0, 1050.0),
    (1000.0, 575.0, 775.0, 1050.0),
)

# From 400 V on wet skin is no different: what is left is the inside of the body.
_SALTWATER = (
    (25.0, 960.0, 1300.0, 1755.0),
    (100.0, 880.0, 1225.0, 1655.0),
    (225.0, 770.0, 1115.0, 1505.0),
    *(row for row in _DRY if row[0] >= 400.0),
)

WATER_FACTOR = Line((50.0, 150.0), (0.75, 1.0), "V", "1")
"""Plain water takes up to a quarter off up to 50 V, and little above 150 V; straight between."""


def _lines(rows: tuple[tuple[float, ...], ...]) -> Mapping[int, Line]:
    volts, *columns = zip(*rows, strict=True)
    pairs = zip(PERCENTILES, columns, strict=True)
    return MappingProxyType({share: Line(volts, ohms, "V", "ohm") for share, ohms in pairs})


DRY = _lines(_DRY)
SALTWATER = _lines(_SALTWATER)
"""Share of people in per cent -> impedance over voltage. The ends hold beyond the table: below 25 V
that is less than the truth."""


def body_impedance(voltage: float, *, percentile: int = 5, skin: Skin = "dry") -> Value:
    """Return the impedance of a body, hand to hand; by default of the most exposed twentieth.

    Raises KeyError for a share of people that has no column.
    """
    if skin == "saltwater-wet":
        return Value(SALTWATER[percentile].at(voltage), "ohm", "standard", SALTWATER_SOURCE)
    dry = DRY[percentile].at(voltage)
    if skin == "water-wet":
        # Salt water bounds plain water; the line between its few rows would cross it otherwise.
        wet = max(dry * WATER_FACTOR.at(voltage), SALTWATER[percentile].at(voltage))
        return Value(wet, "ohm", "standard", WATER_SOURCE)
    return Value(dry, "ohm", "standard", DRY_SOURCE)


_HEART = "iec-60479-1-heart-factor"

HEART_FACTORS: Mapping[str, Value] = MappingProxyType(
    {
        path: Value(factor, "1", "standard", _HEART)
        for path, factor in (
            ("left hand to feet", 1.0),
            ("both hands to feet", 1.0),
            ("right hand to feet", 0.8),
            ("hand to hand", 0.4),
            ("chest to left hand", 1.5),
            ("chest to right hand", 1.3),
            ("back to left hand", 0.7),
            ("back to right hand", 0.3),
            ("seat to hands", 0.7),
            ("foot to foot", 0.04),
        )
    }
)
"""Path through the body -> how the heart sees its current against left hand to feet."""

_ZONES = "iec-60479-1-dc-zones"

DC_PERCEPTION = Value(2e-3, "A", "standard", _ZONES)
"""Above it a direct current is felt: zone DC-1 ends."""

DC_CURVE_B = Line((0.01, 2.0, 10.0), (0.200, 0.030, 0.025), "s", "A")
"""Above it muscles may be held: zone DC-2 ends."""

DC_CURVE_C1 = Line((0.01, 0.2, 1.0, 10.0), (0.500, 0.500, 0.150, 0.140), "s", "A")
"""Above it the heart may fibrillate: zone DC-3 ends. Left hand to feet, feet positive."""

DC_CURVE_ERROR = Value(0.20, "1", "standard", _ZONES)
"""How far the curves, read off a drawing from memory, may be off. Never the limit of anything."""
