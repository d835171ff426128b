"""Supplies a car is charged from, and what a charge is held against."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from swapwright.base.figure import Value

NEC = "nec-2023-continuous-load"
WHOLE = "iec-60364-7-722-circuit"
US = "US"

CONTINUOUS_SHARE: Mapping[str, Value] = MappingProxyType({US: Value(0.8, "1", "standard", NEC)})
"""Share of a breaker's rating a load of hours may take, where a region has one of its own."""

WHOLE_RATING = Value(1.0, "1", "standard", WHOLE)
"""Elsewhere a circuit of its own carries its rating, and the charge is taken to be all of it."""


@dataclass(frozen=True)
class Socket:
    """A household socket: volts, and amperes it gives for hours."""

    voltage: Value
    current: Value


_US_SOCKET = Socket(
    Value(120.0, "V", "standard", "sae-j1772-level-1"),
    Value(12.0, "A", "standard", "sae-j1772-level-1"),
)
_OTHER_SOCKET = Socket(
    Value(230.0, "V", "standard", "household-socket-typical"),
    Value(10.0, "A", "standard", "household-socket-typical"),
)
SOCKETS: Mapping[str, Socket] = MappingProxyType({US: _US_SOCKET})


def continuous_share(region: str, *, is_said: bool = True) -> Value:
    """Return the share of a breaker's rating a charge may take in a region.

    Where nobody has said the region it is the least of all regions.
    """
    if not is_said:
        return min((*CONTINUOUS_SHARE.values(), WHOLE_RATING), key=lambda share: share.si)
    return CONTINUOUS_SHARE.get(region, WHOLE_RATING)


def socket(region: str) -> Socket:
    """Return the household socket of a region."""
    return SOCKETS.get(region, _OTHER_SOCKET)


PUMP_FLOW = Value(35.0 / 60e3, "m^3/s", "standard", "fuel-pump-typical")
"""35 L/min: what a forecourt nozzle gives."""

TAPER_RATE = Value(0.05, "1", "standard", "charge-taper-typical")
"""C-rate at which a charge at one voltage is called ended: C/20."""

FAST_TO = Value(0.80, "1", "standard", "fast-charge-window-typical")
"""State of charge a fast charge is told to."""

IMBALANCE = Value(0.02, "1", "standard", "cell-imbalance-typical")
"""Spread of charge between cell groups a balancer has to be able to take away: 2 %."""

WINDOW_FILLED = Value(0.98, "1", "standard", "swapwright-window-filled")
"""Share of the usable window's top a charge has to reach for the range to be what is counted."""

NIGHT = Value(10.0 * 3600.0, "s", "standard", "charging-night-typical")
"""A night on the plug: 10 h."""

MAX_EARTH_BOND = Value(0.1, "ohm", "standard", "un-r100-bonding")
"""Resistance between the earth contact of the inlet and the body."""
