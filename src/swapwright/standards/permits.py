"""How long a work permit may run, and when a shift ends."""

from __future__ import annotations

from swapwright.base.figure import Value

LONGEST = Value(24.0 * 3600.0, "s", "standard", "permit-one-day-practice")
"""From its beginning to its end; the work of another day gets another permit."""
SHIFT_END = Value(18.0 * 3600.0, "s", "standard", "permit-one-day-practice")
"""Time of day a permit ends at unless it says otherwise, from midnight where the shop is."""
