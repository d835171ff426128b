"""What is commonly said of first aid after an electric accident. Emergency services come first."""

from __future__ import annotations

from dataclasses import dataclass

OUTRANKED = "Emergency services and a trained first-aider outrank every line here."


@dataclass(frozen=True)
class FirstAid:
    """One caution and the source it goes back to."""

    words: str
    source: str


FIRST_AID = (
    FirstAid(
        "Do not touch anybody who hangs on a live part: cut the source, or pull them off with the "
        "rescue hook.",
        source="rescue-practice",
    ),
    FirstAid(
        "Call the emergency number and say: electric accident, high voltage.",
        source="rescue-practice",
    ),
    FirstAid(
        "No answer and no normal breathing: begin resuscitation at once, fetch the defibrillator "
        "and do what it says.",
        source="rescue-practice",
    ),
    FirstAid(
        "Any electric shock goes to hospital for the heart to be watched, however well the person "
        "feels.",
        source="shock-hospital-practice",
    ),
    FirstAid(
        "Burns: cool running water for about 20 minutes. Leave on what sticks to the skin, take "
        "rings off early, cover loosely, no ice and no grease.",
        source="first-aid-burn-practice",
    ),
    FirstAid(
        "After an arc: a doctor looks at eyes and breathing, also when nothing hurts yet.",
        source="first-aid-arc-practice",
    ),
    FirstAid(
        "Electrolyte: rinse skin or eyes with much running water, and get out of the vapour.",
        source="first-aid-electrolyte-practice",
    ),
)
"""In the order they are needed."""
