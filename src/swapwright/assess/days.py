"""The days a car is assessed on: what its figures end in, how warm it is, and what it is called."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from swapwright.assess.book import FigureBook

MILD, COLD, HOT, GOAL = "", "_cold", "_hot", "_goal"

AMBIENT: Mapping[str, str] = MappingProxyType(
    {
        MILD: "conditions.temperature",
        COLD: "conditions.cold_day",
        HOT: "conditions.hot_day",
        GOAL: "goals.range.at_temperature",
    }
)

WORDS: Mapping[str, str] = MappingProxyType(
    {
        MILD: "mild day",
        COLD: "cold day",
        HOT: "hot day",
        GOAL: "at the goal's temperature",
    }
)


def days(book: FigureBook) -> tuple[str, ...]:
    """Return the days of a car: the goal's own only where its temperature is given."""
    return (MILD, COLD, HOT, GOAL) if book.has(AMBIENT[GOAL]) else (MILD, COLD, HOT)


def on_day(words: str, day: str) -> str:
    """Return a figure's label with its day, a mild one unsaid."""
    return f"{words}, {WORDS[day]}" if day else words
