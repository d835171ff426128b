"""What a person is asked for where a car lacks an entry: a part itself until it is named."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from swapwright.base.field import Field
from swapwright.build.car import MODULE_CELL, PACK_CELL, Car
from swapwright.build.shape import rows_by_path

_ROW_NUMBER = re.compile(r"\[\d+\]")
_PACK: Mapping[str, str] = MappingProxyType(
    {"pack.series": "pack.modules_per_string", "pack.parallel": "pack.module"}
)
"""What to give for a pack that is neither named as modules nor as cells yet."""


def field_of(path: str) -> Field | None:
    """Return the row of a build path, None for a path that is a section or none at all."""
    return rows_by_path().get(_ROW_NUMBER.sub("[]", path))


def asked_for(path: str, car: Car) -> str:
    """Return the entry to ask for where a car lacks one: the part's place while it is not named.

    A pack of which neither module nor cell is named is asked for its module, which brings the
    cells; data of a module's cell are asked for where the module has its cell.
    """
    if path.startswith("pack.") and not car.has("pack.module") and not car.has(PACK_CELL):
        return _of_a_pack_unnamed(path, car)
    if path.startswith(f"{PACK_CELL}.") and car.has("pack.module"):
        return MODULE_CELL + path.removeprefix(PACK_CELL)
    steps = path.split(".")
    for count in range(1, len(steps)):
        above = ".".join(steps[:count])
        row = field_of(above)
        if row is not None and row.kind.startswith("part:") and not car.has(above):
            return above
    return path


def _of_a_pack_unnamed(path: str, car: Car) -> str:
    is_of_cells = path == PACK_CELL or path.startswith(f"{PACK_CELL}.")
    if car.has("pack.series"):
        return PACK_CELL if is_of_cells else path
    if is_of_cells or path.startswith("pack.module."):
        return "pack.module"
    return _PACK.get(path, path)
