"""The 12 V system."""

from __future__ import annotations

from swapwright.assess.book import FigureBook


def low_voltage(book: FigureBook) -> None:
    """Write nothing yet."""
