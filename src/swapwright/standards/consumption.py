"""Constants of the fuel-economy label of an electric car."""

from __future__ import annotations

from swapwright.base import kinds
from swapwright.base.figure import Value

GASOLINE_GALLON_ENERGY = Value(
    kinds.GASOLINE_GALLON_ENERGY, "J", "standard", "cfr-40-600-gasoline-energy"
)
"""Energy of one US gallon of gasoline behind MPGe: 33.705 kWh."""

LABEL_GALLON_ENERGY = Value(33.7 * kinds.KILOWATT_HOUR, "J", "standard", "fr-76-39478-2011")
"""The same as the label rule prints it, rounded: 33.7 kWh."""

LABEL_ADJUSTMENT = Value(0.7, "1", "standard", "us-40cfr600-two-cycle-adjustment")
"""Label economy over unadjusted economy where only the city and highway cycles were run."""

CITY_SHARE = Value(0.55, "1", "standard", "us-40cfr600-210-combined")
"""City share of the distance in the combined figure: consumption is weighted, economy harmonically.
"""
