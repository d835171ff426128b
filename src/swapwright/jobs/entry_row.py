"""The row of a build path in the table of fields: what an entry is, and of which kind."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from swapwright.base.field import Field
from swapwright.base.kinds import KINDS
from swapwright.build.shape import rows_by_path

_ROW_NUMBER = re.compile(r"\[\d+\]")


@lru_cache(maxsize=1)
def entry_rows() -> Mapping[str, Field]:
    """Return every row of the table by its build path."""
    return rows_by_path()


def field_of(path: str) -> Field | None:
    """Return the row of a build path, None for a path that is a section or none at all."""
    return entry_rows().get(_ROW_NUMBER.sub("[]", path))


def kind_at(path: str) -> str:
    """Return the quantity kind of a build path's entry; empty where it holds no quantity."""
    row = field_of(path)
    return row.kind if row is not None and row.kind in KINDS else ""
