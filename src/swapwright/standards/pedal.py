"""What a pedal is judged by."""

from __future__ import annotations

from swapwright.base.figure import Value

FULL_SHARE = Value(1.0, "1", "standard", "swapwright-controller-shares")
"""All of the torque the controller allows: what a floored pedal should ask for."""
