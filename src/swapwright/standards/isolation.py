"""Isolation and bonding of the high-voltage circuit: what is asked for, and how it is measured."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.base.figure import Value
from swapwright.base.kinds import INCH

_RESISTANCE = "un-r100-isolation-resistance"
_METHOD = "un-r100-isolation-measurement"
_BONDING = "un-r100-bonding"

DC_OHMS_PER_VOLT = Value(100.0, "ohm/V", "standard", _RESISTANCE)
"""A dc bus by itself, or joined to ac whose every part is mechanically protected for life."""

AC_OHMS_PER_VOLT = Value(500.0, "ohm/V", "standard", _RESISTANCE)
"""An ac bus, and a dc bus joined to one: the normal drive, as long as nothing else is proved."""

MIN_METER_RESISTANCE = Value(10e6, "ohm", "standard", _METHOD)
"""Input resistance of the meter of the voltmeter method."""

RESISTOR_SPREAD = Value(0.20, "1", "standard", _METHOD)
"""How far the known resistor may lie from the ohms per volt asked for, times the voltage."""

MIN_RESISTOR_OHMS_PER_VOLT = Value(100.0, "ohm/V", "standard", "voltmeter-method-practice")
"""A smaller known resistor is refused: it puts more than 10 mA through whatever fails."""

WAIT_MULTIPLES = Value(5.0, "1", "standard", "voltmeter-method-practice")
"""Time constants of leak and Y-capacitors to wait before a reading."""

READINGS_AGREE = Value(0.05, "1", "standard", "swapwright-readings-agree")
"""How far readings of one test may differ and still agree, as a share."""

MONITOR_RESISTANCE = Value(1.2e6, "ohm", "standard", "isolation-monitor-typical", 0.8e6, 2.4e6)
"""An isolation monitor's own resistance to the chassis, both poles together."""

ONE_MONITOR = Value(1.0, "1", "standard", "two-monitors-practice")
"""Isolation monitors at work on one circuit: that many, no fewer and no more."""

MAX_BONDING_RESISTANCE = Value(0.1, "ohm", "standard", _BONDING)
BONDING_TEST_CURRENT = Value(0.2, "A", "standard", _BONDING)
"""An exposed conductive part to the chassis, at this current or more; a weld needs no test."""


@dataclass(frozen=True)
class Approach:
    """Distances from exposed live dc parts, for voltages above ``above`` up to ``up_to``.

    ``limited`` is for people who are not qualified; ``restricted`` for qualified ones without
    gloves and insulated tools, None where it says only *avoid contact*.
    """

    above: Value
    up_to: Value
    limited: Value
    restricted: Value | None
    source: str


def _approach(
    above: float, up_to: float, limited: float, restricted: float | None, source: str
) -> Approach:
    return Approach(
        Value(above, "V", "standard", source),
        Value(up_to, "V", "standard", source),
        Value(limited, "m", "standard", source),
        None if restricted is None else Value(restricted, "m", "standard", source),
        source,
    )


APPROACHES = (
    _approach(50.0, 300.0, 42.0 * INCH, None, "nfpa-70e-130.4-dc-low"),
    _approach(300.0, 1000.0, 42.0 * INCH, 12.0 * INCH, "nfpa-70e-130.4-dc"),
)
"""Fixed parts, 3 ft 6 in and 1 ft."""


def approach(voltage: float) -> Approach | None:
    """Return the approach distances at a voltage; None below 50 V and above 1000 V."""
    for row in APPROACHES:
        if row.above.si < voltage <= row.up_to.si:
            return row
    return None
