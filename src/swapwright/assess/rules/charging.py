"""Charging: the charger's voltage window against the pack, from empty to the end of the charge."""

from __future__ import annotations

from swapwright.assess.rules.compare import asks_for, compare
from swapwright.standards.margins import NO_BAND

SHEET = ("part-data-sheet",)
NO_CHARGER = "no charger is named"

RULES = (
    compare(
        "charging.window_high",
        subject="charging.charger",
        value="charging.charger.max_voltage",
        limit="charging.end_voltage",
        sense="at_least",
        outside="stop",
        inside_text="The charger reaches the voltage a charge ends at.",
        outside_text="The charge ends above the charger's highest output: it cannot fill the pack, and a full pack stands on an output that is not made for it.",
        remedy="Fit a charger whose output reaches the whole pack's charge end voltage, or fewer cells in series.",
        sources=SHEET,
        applies=asks_for("charging.charger"),
        skip_reason=NO_CHARGER,
        watch=NO_BAND,
    ),
    compare(
        "charging.window_low",
        subject="charging.charger",
        value="charging.charger.min_voltage",
        limit="pack.voltage_empty",
        sense="at_most",
        outside="fix",
        inside_text="The charger starts on an empty pack.",
        outside_text="An empty pack stands below the charger's lowest output: it will not start, and a car driven to empty cannot be charged.",
        remedy="Fit a charger with a lower window, more cells in series, or keep the low end of the usable window above it.",
        sources=SHEET,
        applies=asks_for("charging.charger"),
        skip_reason=NO_CHARGER,
        watch=NO_BAND,
    ),
)
