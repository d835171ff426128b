"""Brake vacuum: what boosters want, what still helps, and how often a driver brakes."""

from __future__ import annotations

from swapwright.base.figure import Value

WANTED_VACUUM = Value(60955.0, "Pa", "standard", "brake-vacuum-wanted-practice")
"""18 inches of mercury."""

LEAST_VACUUM = Value(35000.0, "Pa", "standard", "brake-vacuum-least-practice")
"""A little over 10 inches of mercury; low-vacuum lamps are set about here."""

LEAST_STOPS = Value(1.0, "1", "standard", "brake-reserve-practice")
PUMP_REACH = Value(0.87, "1", "standard", "vacuum-pump-reach-practice")
"""Deepest vacuum a pump of the trade draws, as a share of the air's pressure."""

STOP_INTERVAL = Value(40.0, "s", "standard", "town-braking-assumed")
MOST_PUMP_DUTY = Value(0.30, "1", "standard", "vacuum-pump-duty-practice")
