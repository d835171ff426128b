"""Outside temperatures at which a cabin's heater and air conditioner are on."""

from __future__ import annotations

from swapwright.base.figure import Value

HEATED_BELOW = Value(288.15, "K", "standard", "cabin-heating-typical")
"""15 degC."""

COOLED_ABOVE = Value(301.15, "K", "standard", "cabin-cooling-typical")
"""28 degC."""
