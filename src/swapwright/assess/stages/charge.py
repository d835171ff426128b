"""Charging: from the supply to the cells."""

from __future__ import annotations

from swapwright.assess.book import FigureBook


def charge(book: FigureBook) -> None:
    """Write nothing yet."""
