"""Cooling loops."""

from __future__ import annotations

from swapwright.assess.book import FigureBook


def cooling(book: FigureBook) -> None:
    """Write nothing yet."""
