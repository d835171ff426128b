"""The revision of a car: a hash of what it is, not of how its file is written."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from swapwright.base.figure import Value
from swapwright.base.table import Line, Map
from swapwright.build.car import MODULE_CELL, Car

SHORT = 12

# The owner's own mark names a revision and so is no part of it.
_OWNERS_MARK = "car.mark"


def revision_of(car: Car, data_version: str) -> str:
    """Return the revision of a car, 64 hexadecimal digits.

    Comments, key order and the owner's mark do not count; every value, the parts written out and
    ``data_version`` (the edition of the standards' data) do. Which values stand on a default
    counts as well: an owner who confirms a default changes what can be judged.
    """
    content = {
        "values": _kept(car.values, _numbers),
        "texts": _kept(car.texts, str),
        "flags": _kept(car.flags, bool),
        "lists": _kept(car.numbers, lambda items: [_numbers(item) for item in items]),
        "tables": _kept(car.tables, _table),
        "dates": _kept(car.dates, lambda day: day.isoformat()),
        "parts": _kept(car.part_names, str),
        "counts": _kept(car.counts, int),
        "assumed": sorted(car.assumed),
        "data_version": data_version,
    }
    canonical = json.dumps(content, sort_keys=True, separators=(",", ":"), allow_nan=False)
    return hashlib.sha256(canonical.encode()).hexdigest()


def short(revision: str) -> str:
    """Return the short form of a revision: its first twelve digits."""
    return revision[:SHORT]


def _kept(entries: Mapping[str, Any], write: Any) -> dict[str, Any]:
    """Return entries written for hashing, without the mark and the cell that stands twice."""
    return {
        path: write(entry)
        for path, entry in entries.items()
        if path != _OWNERS_MARK and not path.startswith(f"{MODULE_CELL}.")
    }


def _numbers(value: Value) -> list[float | None]:
    # An entered 2 and 2.0 are one number: floats throughout.
    return [float(value.si), value.low, value.high]


def _table(table: Line | Map) -> list[Any]:
    if isinstance(table, Line):
        return [table.x, table.y]
    return [table.rows, table.columns, table.z]
