"""Of which kind the quantity at a build path is."""

from __future__ import annotations

from swapwright.base.kinds import KINDS
from swapwright.build.asked import field_of


def kind_at(path: str) -> str:
    """Return the quantity kind of a build path's entry; empty where it holds no quantity."""
    row = field_of(path)
    return row.kind if row is not None and row.kind in KINDS else ""
