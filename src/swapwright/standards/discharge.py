"""When stored charge counts as gone, how far parts stray, how long a shop waits at least."""

from __future__ import annotations

from swapwright.base.figure import Value

DISCHARGED_VOLTAGE = Value(60.0, "V", "standard", "iso-6469-3-voltage-class")
"""Up to and including this a dc voltage is of class A."""

DISCHARGED_ENERGY = Value(0.2, "J", "standard", "iso-6469-4-2015-5.2.3")
"""Energy a touch may meet."""

SHOP_WAIT = Value(300.0, "s", "standard", "shop-wait-practice")
"""No section is waited for less than this, whatever is computed."""

ABSENCE_VOLTAGE = Value(12.0, "V", "standard", "absence-voltage-practice")
"""Highest reading at which absence may be verified; the class boundary is no target."""

ABSENCE_WATCH_TIME = Value(60.0, "s", "standard", "absence-watch-practice")
"""For so long a reading must not rise."""

CAPACITOR_TOLERANCE = Value(0.20, "1", "standard", "capacitor-tolerance-typical")
RESISTOR_TOLERANCE = Value(0.05, "1", "standard", "resistor-tolerance-typical")
RESISTOR_TEMPERATURE_FACTOR = Value(0.0003, "1/K", "standard", "resistor-tolerance-typical")
RESISTOR_RISE = Value(100.0, "K", "standard", "resistor-tolerance-typical")
"""How much hotter a bleed resistor runs than the room its ohms are marked at."""

ACTIVE_DISCHARGE_TIME = Value(5.0, "s", "standard", "bus-discharge-practice")
PASSIVE_DISCHARGE_TIME = Value(120.0, "s", "standard", "bus-discharge-practice")
"""To 60 V, as most inverter makers design it; no vehicle rule asks for it in service."""
