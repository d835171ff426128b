"""Charging: from the supply to the cells, how long it takes, and what it is worth on the road."""

from __future__ import annotations

from swapwright.assess.book import FigureBook
from swapwright.assess.stages.charge_fast import fast
from swapwright.assess.stages.charge_supply import supply
from swapwright.assess.stages.charge_time import charge_times
from swapwright.assess.stages.charge_worth import worth


def charge(book: FigureBook) -> None:
    """Write supply, charge on a mild and on a cold day, fast charge, and what they are worth."""
    supply(book)
    charge_times(book)
    worth(book)
    fast(book)
