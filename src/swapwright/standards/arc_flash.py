"""Direct-current arc flash: distances, times and the constants of its equations."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.base.figure import Value
from swapwright.base.kinds import INCH

CALORIE_PER_SQUARE_CENTIMETRE = 4.184e4
"""In J/m^2."""

MAX_ARC_TIME = Value(2.0, "s", "standard", "nfpa-70e-arc-time")
"""How long an arc counts for where nothing clears it, or clears it later."""

WORKING_DISTANCE = Value(18.0 * INCH, "m", "standard", "nfpa-70e-130.7-dc")
"""From the arc to face and chest: 18 in."""

BOUNDARY_ENERGY = Value(
    1.2 * CALORIE_PER_SQUARE_CENTIMETRE, "J/m^2", "standard", "nfpa-70e-boundary-energy"
)
"""Just no second-degree burn of bare skin: 1.2 cal/cm^2."""

OPEN_AIR = Value(1.0, "1", "standard", "nfpa-70e-d5-box")
BOX_FACTOR = Value(3.0, "1", "standard", "nfpa-70e-d5-box")
"""Incident energy in front of a half-metre box, over that in open air."""

MAX_POWER_MAX_VOLTAGE = Value(1000.0, "V", "standard", "doan-2010-maximum-power")
"""The maximum power method goes no further."""

MODELS_DISAGREE_BELOW = Value(100.0, "V", "standard", "swapwright-arc-clearing-current")
"""Below it the two ways of reckoning part: no small number lowers the caution."""

DEFAULT_GAP = Value(0.025, "m", "standard", "swapwright-arc-gap", 0.010, 0.032)
"""Gap between the conductors where nobody measured it."""


@dataclass(frozen=True)
class StokesOppenlander:
    """Constants of the arc equation, made fit for SI.

    Published as V = (20 + 0.534 z) I^0.12, z in mm, for I above 10 + 0.2 z: 20 V that double over
    20/0.534 mm, and 10 A that double over 50 mm.
    """

    electrode_voltage: Value
    doubling_gap: Value
    reference_current: Value
    exponent: Value
    limit_current: Value
    limit_doubling_gap: Value
    source: str


_EQUATION = "ammerman-2010-stokes-oppenlander"

STOKES_OPPENLANDER = StokesOppenlander(
    electrode_voltage=Value(20.0, "V", "standard", _EQUATION),
    doubling_gap=Value(20.0 / 0.534 * 1e-3, "m", "standard", _EQUATION),
    reference_current=Value(1.0, "A", "standard", _EQUATION),
    exponent=Value(0.12, "1", "standard", _EQUATION),
    limit_current=Value(10.0, "A", "standard", _EQUATION),
    limit_doubling_gap=Value(10.0 / 0.2 * 1e-3, "m", "standard", _EQUATION),
    source=_EQUATION,
)


@dataclass(frozen=True)
class Enclosure:
    """An open enclosure: how far it reaches and which share of an arc it throws forward."""

    name: str
    reach: Value
    focus: Value
    source: str


def _enclosure(name: str, reach: float, focus: float) -> Enclosure:
    source = "wilkins-2004-enclosure"
    return Enclosure(
        name,
        Value(reach, "m", "standard", source),
        Value(focus, "1", "standard", source),
        source,
    )


ENCLOSURES = (
    _enclosure("panelboard", 0.100, 0.127),
    _enclosure("low-voltage switchgear", 0.400, 0.312),
    _enclosure("medium-voltage switchgear", 0.950, 0.416),
)
"""A car's junction box is nearest to the first."""
