"""The network: buses, messages, signals."""

from __future__ import annotations

from swapwright.assess.book import FigureBook


def network(book: FigureBook) -> None:
    """Write nothing yet."""
