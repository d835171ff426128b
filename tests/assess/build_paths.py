"""Every path a build file can have, read from the field tables."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache

from swapwright.build.shape import FIELDS, part_kind
from swapwright.catalogue.fields import PART_FIELDS


def paths_below(path: str, kind: str) -> Iterator[str]:
    for row in PART_FIELDS[kind]:
        yield f"{path}.{row.path}"
        nested = part_kind(row)
        if nested is not None:
            yield from paths_below(f"{path}.{row.path}", nested)


@cache
def build_paths() -> frozenset[str]:
    """Return every path a build file can have, a list's rows as ``mass[0].x``."""
    paths = {row.path for row in FIELDS}
    for row in FIELDS:
        kind = part_kind(row)
        if kind is not None:
            paths |= set(paths_below(row.path, kind))
    paths |= {path[: place.start()] for path in paths for place in re.finditer(r"[.\[]", path)}
    return frozenset(path.replace("[]", "[0]") for path in paths)


@cache
def ranges_of_entries() -> Mapping[str, tuple[float, float]]:
    """Return the lowest and highest value a file may give for what the drive's rules rest on."""
    rows = {row.path: row for row in FIELDS}
    for path in ("drive.motor", "drive.inverter", "drive.gearbox", "pack.module", "pack.cell"):
        kind = path.rsplit(".", 1)[1]
        rows |= {f"{path}.{row.path}": row for row in PART_FIELDS[kind] if row.path != "mass"}
    judged = ("car.", "goals.", "conditions.", "auxiliaries.", "drive.", "pack.", "charging.")
    return {
        path: (row.low, row.high)
        for path, row in rows.items()
        if row.low is not None and row.high is not None and path.startswith(judged)
    }
