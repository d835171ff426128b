"""Clearance and creepage of IEC 60664-1, and the impulse voltage the tool takes for a car."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from swapwright.base.figure import Value
from swapwright.base.table import Line

MaterialGroup = Literal["I", "II", "IIIa", "IIIb"]

CREEPAGE_SOURCE = "iec-60664-1-f4-creepage"
CREEPAGE_LOW_SOURCE = "iec-60664-1-f4-creepage-low"
CLEARANCE_SOURCE = "iec-60664-1-f2-clearance"
CLEARANCE_HIGH_SOURCE = "iec-60664-1-f2-clearance-high"
ALTITUDE_SOURCE = "iec-60664-1-a2-altitude"
_GROUPS = "iec-60664-1-material-groups"
_IMPULSE = "swapwright-impulse-battery-circuit"

# V, then mm for pollution degree 2 (material group I, II, III) and 3 (I, II, III).
_CREEPAGE = (
    (50, 0.60, 0.85, 1.2, 1.5, 1.7, 1.9),
    (63, 0.63, 0.90, 1.25, 1.6, 1.8, 2.0),
    (80, 0.67, 0.95, 1.3, 1.7, 1.9, 2.1),
    (100, 0.71, 1.0, 1.4, 1.8, 2.0, 2.2),
    (125, 0.75, 1.05, 1.5, 1.9, 2.1, 2.4),
    (160, 0.80, 1.1, 1.6, 2.0, 2.2, 2.5),
    (200, 1.0, 1.4, 2.0, 2.5, 2.8, 3.2),
    (250, 1.25, 1.8, 2.5, 3.2, 3.6, 4.0),
    (320, 1.6, 2.2, 3.2, 4.0, 4.5, 5.0),
    (400, 2.0, 2.8, 4.0, 5.0, 5.6, 6.3),
    (500, 2.5, 3.6, 5.0, 6.3, 7.1, 8.0),
    (630, 3.2, 4.5, 6.3, 8.0, 9.0, 10.0),
    (800, 4.0, 5.6, 8.0, 10.0, 11.0, 12.5),
    (1000, 5.0, 7.1, 10.0, 12.5, 14.0, 16.0),
)
_SEEN_FROM = 250.0
_COLUMN = {"I": 0, "II": 1, "IIIa": 2, "IIIb": 2}


def _creepages() -> Mapping[tuple[int, int], Line]:
    volts, *columns = zip(*_CREEPAGE, strict=True)
    return MappingProxyType(
        {
            (2 + index // 3, index % 3): Line(
                tuple(float(each) for each in volts),
                tuple(each * 1e-3 for each in column),
                "V",
                "m",
            )
            for index, column in enumerate(columns)
        }
    )


CREEPAGE = _creepages()
"""(pollution degree, column of the material group) -> creepage over voltage, basic insulation."""

MAX_IIIB_VOLTAGE = Value(630.0, "V", "standard", _GROUPS)
"""Above it material group IIIb is not used at pollution degree 3."""

MIN_CTI: Mapping[str, float] = MappingProxyType(
    {"I": 600.0, "II": 400.0, "IIIa": 175.0, "IIIb": 100.0}
)
"""Material group -> least comparative tracking index."""

REINFORCED = Value(2.0, "1", "standard", "iec-60664-1-creepage-rules")
BASIC = Value(1.0, "1", "standard", "iec-60664-1-creepage-rules")
"""Creepage of reinforced and of basic insulation, over the table."""


def creepage(voltage: float, *, pollution_degree: int, group: MaterialGroup) -> Value | None:
    """Return the creepage of basic insulation by a working voltage, straight between the rows.

    None above the table, and for what the table does not allow.
    """
    line = CREEPAGE.get((pollution_degree, _COLUMN[group]))
    if line is None or voltage > line.x[-1]:
        return None
    if group == "IIIb" and pollution_degree == 3 and voltage > MAX_IIIB_VOLTAGE.si:
        return None
    source = CREEPAGE_SOURCE if voltage >= _SEEN_FROM else CREEPAGE_LOW_SOURCE
    return Value(line.at(voltage), "m", "standard", source)


# Impulse voltage in V, then mm for pollution degree 2 and 3: inhomogeneous field, up to 2000 m.
_CLEARANCE = (
    (1500.0, 0.5, 0.8),
    (2500.0, 1.5, 1.5),
    (4000.0, 3.0, 3.0),
    (6000.0, 5.5, 5.5),
    (8000.0, 8.0, 8.0),
    (12000.0, 14.0, 14.0),
)
_SEEN_UP_TO = 6000.0


def clearance(impulse: float, *, pollution_degree: int) -> Value | None:
    """Return the clearance of basic insulation up to 2000 m: that of the next impulse voltage up.

    None above the table and for another pollution degree than 2 and 3.
    """
    if pollution_degree not in (2, 3):
        return None
    for volts, *distances in _CLEARANCE:
        if impulse <= volts:
            source = CLEARANCE_SOURCE if volts <= _SEEN_UP_TO else CLEARANCE_HIGH_SOURCE
            return Value(distances[pollution_degree - 2] * 1e-3, "m", "standard", source)
    return None


ALTITUDE = Line((2000.0, 3000.0, 4000.0, 5000.0), (1.00, 1.14, 1.29, 1.48), "m", "1")
"""Factor on the clearance, not on the creepage, over the altitude."""


def altitude_factor(altitude: float) -> Value | None:
    """Return the factor on clearance at an altitude, straight between rows; None above 5000 m."""
    if altitude > ALTITUDE.x[-1]:
        return None
    return Value(ALTITUDE.at(altitude), "1", "standard", ALTITUDE_SOURCE)


IMPULSE_BY_VOLTAGE = (
    (Value(500.0, "V", "standard", _IMPULSE), Value(2500.0, "V", "standard", _IMPULSE)),
    (Value(1000.0, "V", "standard", _IMPULSE), Value(4000.0, "V", "standard", _IMPULSE)),
)
"""Up to this maximum working voltage -> this impulse voltage. A choice of ours: no standard fixes
it for a circuit fed by a battery."""


def impulse_voltage(voltage: float) -> Value | None:
    """Return the impulse voltage a car's circuit is judged by; None above 1000 V."""
    for up_to, impulse in IMPULSE_BY_VOLTAGE:
        if voltage <= up_to.si:
            return impulse
    return None
