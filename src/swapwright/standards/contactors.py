"""What contactors and precharge are judged by, and typical data where a sheet is silent."""

from __future__ import annotations

from swapwright.base.figure import Value

CONTACT_RESISTANCE = Value(0.0002, "ohm", "standard", "contact-resistance-typical")
"""Closed, of one contactor and its terminals."""

PRECHARGE_SHARES = (
    Value(0.90, "1", "standard", "precharge-shares-practice"),
    Value(0.95, "1", "standard", "precharge-shares-practice"),
    Value(0.98, "1", "standard", "precharge-shares-practice"),
)
"""Shares of the pack's voltage a precharge is timed to."""

PRECHARGE_TIME_CONSTANTS = Value(5.0, "1", "standard", "precharge-shares-practice")
"""After this many time constants a precharge counts as run out: 99.3 %."""

PULSE_RISE = Value(250.0, "K", "standard", "resistor-pulse-typical")
"""What one pulse of its rating warms the wire of a wound resistor by."""

RESISTOR_COOLING_TIME = Value(10.0, "s", "standard", "resistor-cooling-typical")
"""Time constant in which the wire of a housed resistor gives a pulse to its housing."""

TYPICAL_PULSE_TIME = Value(25.0, "s", "standard", "resistor-overload-typical")
"""Pulse energy over rating of a wirewound resistor: five times its power for five seconds."""

RESISTOR_MAX_TEMPERATURE = Value(548.15, "K", "standard", "resistor-pulse-typical")
"""Hottest wire of a housed wound resistor: 275 degC."""

MEASURED_APART = Value(0.02, "1", "standard", "link-voltage-measured-practice")
"""Share by which pack and link, each measured, may be apart and seem equal."""
