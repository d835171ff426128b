"""Brakes, springs and tyres."""

from __future__ import annotations

from swapwright.assess.book import FigureBook


def brakes(book: FigureBook) -> None:
    """Write nothing yet."""
