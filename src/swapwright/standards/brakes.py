"""What brakes, tyres, springs and mountings are held to; clauses from memory where not seen."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from swapwright.base.figure import Value
from swapwright.standards.atmosphere import STANDARD_GRAVITY

R13H = "un-r13h-annex-5"

LEAST_GRIP = Value(0.2, "1", "standard", R13H)
GREATEST_GRIP = Value(0.8, "1", "standard", R13H)
LEAST_RATE = Value(0.1, "1", "standard", R13H)
RATE_SLOPE = Value(0.85, "1", "standard", R13H)
"""On grips from 0.2 to 0.8 two axles reach a deceleration of 0.1 + 0.85 (grip - 0.2)."""

HIGHEST_RATE = Value(0.8, "1", "standard", R13H)
"""Up to this deceleration the front axle uses more of its grip than the rear one."""

ALL_IN_FRONT = Value(1.0, "1", "standard", "swapwright-regeneration-axle")
NONE_IN_FRONT = Value(0.0, "1", "standard", "swapwright-regeneration-axle")

SNOW_GRIP = Value(0.2, "1", "standard", "tyre-grip-snow-typical")
"""Grip of packed snow."""

PARKING_GRADE = Value(0.20, "1", "standard", "un-r13h-annex-3-parking")
"""Grade on which the parking brake holds the laden car."""

PAD_TEMPERATURE: Mapping[str, Value] = MappingProxyType(
    {
        "disc": Value(673.15, "K", "standard", "brake-fade-typical"),
        "drum": Value(573.15, "K", "standard", "brake-fade-typical"),
    }
)
"""Where ordinary linings begin to fade: 400 degC of a disc, 300 degC of a drum."""

BEYOND_FADE = Value(150.0, "K", "standard", "brake-fade-typical")
"""So far beyond where linings begin to fade there is next to no braking left."""

BRAKE_LAMPS_AT = Value(1.3, "m/s^2", "standard", "un-r13h-brake-lamps")
"""A car that slows harder than this by regeneration shows its brake lamps."""

LEAST_BOLTS = Value(4.0, "1", "standard", "battery-bolts-practice")
"""Bolts a box of cells is held by at the least: fewer let it turn."""

IRON_SPECIFIC_HEAT = Value(500.0, "J/kg/K", "standard", "cast-iron-specific-heat")

RIDE_HEIGHT_CHANGE = Value(0.020, "m", "standard", "ride-height-change-typical")
"""What lamps, steering and dampers take without being set again."""

SIDE_SHARE = Value(0.53, "1", "standard", "side-share-typical")
"""Share of the weight on the heavier side that is still called even."""

CORNERS_AGREE = Value(0.01, "1", "standard", "corner-weights-agree")
"""How far four pads may be from the kerb mass: a tank that was filled, a person in the car."""

CRASH_ACCELERATION = Value(
    20.0 * STANDARD_GRAVITY.si, "m/s^2", "standard", "battery-restraint-20-g"
)
"""What the mounting of a pack box withstands in its worst direction: forwards, 20 g."""

BOLT_AREA: Mapping[str, Value] = MappingProxyType(
    {
        size: Value(area * 1e-6, "m^2", "standard", "iso-898-1-stress-area")
        for size, area in (("M6", 20.1), ("M8", 36.6), ("M10", 58.0), ("M12", 84.3), ("M16", 157.0))
    }
)
"""Tensile stress area of coarse threads."""

BOLT_STRENGTH: Mapping[str, Value] = MappingProxyType(
    {
        grade: Value(strength * 1e6, "Pa", "standard", "iso-898-1-strength")
        for grade, strength in (("8.8", 800.0), ("10.9", 1000.0))
    }
)
"""Nominal tensile strength by property class."""

BOLT_SHEAR: Mapping[str, Value] = MappingProxyType(
    {
        grade: Value(factor, "1", "standard", "en-1993-1-8-table-3-4")
        for grade, factor in (("8.8", 0.6), ("10.9", 0.5))
    }
)
"""Shear over tensile strength, threads in the plane of shear."""

BOLT_MARGIN = Value(1.25, "1", "standard", "en-1993-1-8-table-3-4")
"""Partial factor of a bolt's resistance."""
