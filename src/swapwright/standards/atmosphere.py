"""The standard atmosphere from sea level to 11 km (ISO 2533)."""

from __future__ import annotations

from swapwright.base.figure import Value

SOURCE = "iso-2533-1975"

SEA_LEVEL_TEMPERATURE = Value(288.15, "K", "standard", SOURCE)
SEA_LEVEL_PRESSURE = Value(101325.0, "Pa", "standard", SOURCE)
SEA_LEVEL_DENSITY = Value(1.225, "kg/m^3", "standard", SOURCE)

LAPSE_RATE = Value(0.0065, "K/m", "standard", SOURCE)
"""Fall of temperature with altitude."""

STANDARD_GRAVITY = Value(9.80665, "m/s^2", "standard", SOURCE)
