"""Speeds, distances and states of charge that cars are compared at."""

from __future__ import annotations

from swapwright.base import kinds
from swapwright.base.figure import Value
from swapwright.standards.atmosphere import STANDARD_GRAVITY

_MARKS = "definition-speed-marks"

THIRTY_MPH = Value(30.0 * kinds.MPH, "m/s", "standard", _MARKS)
SIXTY_MPH = Value(60.0 * kinds.MPH, "m/s", "standard", _MARKS)
HUNDRED_KMH = Value(100.0 * kinds.KMH, "m/s", "standard", _MARKS)

ROLLOUT = Value(kinds.FOOT, "m", "standard", _MARKS)
"""What a car rolls before a drag strip starts the clock: one foot."""

EIGHTH_MILE = Value(kinds.MILE / 8.0, "m", "standard", _MARKS)
QUARTER_MILE = Value(kinds.MILE / 4.0, "m", "standard", _MARKS)

FIFTY_MPH = Value(50.0 * kinds.MPH, "m/s", "standard", "trade-rule-50-mph")
"""Speed an older car's needed power is quoted at."""

LAUNCH_ACCELERATION = Value(
    0.4 * STANDARD_GRAVITY.si, "m/s^2", "standard", "swapwright-transfer-at-04g"
)
"""Acceleration load transfer is stated at: 0.4 g."""

ACCELERATION_SOC = Value(0.80, "1", "standard", "swapwright-acceleration-charge")
"""State of charge acceleration and climbs are run from."""

HALF_SOC = Value(0.50, "1", "standard", "swapwright-map-half-charge")
"""State of charge of the drive map, top speeds and the pack's usual resistance."""

LOW_SOC = Value(0.20, "1", "standard", "swapwright-low-charge-check")
"""State of charge of a nearly empty pack."""
