"""Constants of nature and of the air that the vehicle formulas use, each with its source."""

from __future__ import annotations

from swapwright.base.figure import Value

GRAVITY = Value(9.80665, "m/s^2", "standard", "cgpm-1901-standard-gravity")
"""Standard acceleration of free fall."""

DRY_AIR_GAS_CONSTANT = Value(287.055, "J/kg/K", "standard", "ashrae-2005-fundamentals-ch6")
"""Specific gas constant of dry air."""

WATER_VAPOUR_GAS_CONSTANT = Value(461.495, "J/kg/K", "standard", "ashrae-2005-fundamentals-ch6")
"""Specific gas constant of water vapour."""

ICE_POINT = Value(273.15, "K", "standard", "bipm-si-9-celsius")
"""Zero of the Celsius scale."""

MAGNUS_PRESSURE = Value(610.94, "Pa", "standard", "alduchov-eskridge-1996-eq21")
"""Saturation pressure of water at the ice point in the Magnus form."""

MAGNUS_TEMPERATURE = Value(243.04, "K", "standard", "alduchov-eskridge-1996-eq21")
"""Temperature constant of the Magnus form."""

RADIAL_CIRCUMFERENCE_RATIO = Value(3.05, "1", "standard", "etrto-2019-rolling-circumference")
"""Rolling circumference of a radial tyre at 60 km/h over its outside diameter."""
