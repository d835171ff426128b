"""Parts list, cost and goals."""

from __future__ import annotations

from swapwright.assess.book import FigureBook


def cost(book: FigureBook) -> None:
    """Write nothing yet."""
