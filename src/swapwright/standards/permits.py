"""How long a work permit may run, when a shift ends, and how long a statement may stand."""

from __future__ import annotations

from swapwright.base.figure import Value

LONGEST = Value(24.0 * 3600.0, "s", "standard", "permit-one-day-practice")
"""From its beginning to its end; the work of another day gets another permit."""
SHIFT_END = Value(18.0 * 3600.0, "s", "standard", "permit-one-day-practice")
"""Time of day a permit ends at unless it says otherwise, from midnight where the shop is."""
STATEMENT_HOLDS = Value(12.0 * 3600.0, "s", "standard", "permit-one-day-practice")
"""How long a statement that absence was verified may stand at most, with nothing else ending it."""
SIGN_WITHIN = Value(30.0 * 60.0, "s", "standard", "permit-one-day-practice")
"""Within what time of the meter's last proof the statement is signed; later the points are read
again."""
