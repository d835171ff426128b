"""Tables kept in a CSV file beside the file that names them: ``{ csv = "map.csv" }``.

A curve has two columns under a row of their units (``rpm,N.m``). A map has its columns' values in
the first row and its rows' values in the first column; the corner names the three units
(``rpm N.m %``): of the rows, of the columns, of the cells. A blank cell is zero.
"""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from swapwright.base.errors import UnitError

LARGEST = 1_000_000
"""Bytes a table file may have."""

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._ -]*\.csv")
_ALLOWED_NAME = 'the name of a CSV file in the same folder: { csv = "map.csv" }'


def with_csv_tables(
    raw: Mapping[str, Any], folder: Path
) -> tuple[dict[str, Any], tuple[tuple[str, UnitError], ...]]:
    """Return raw TOML tables with every ``{ csv = "name.csv" }`` replaced by the file's table.

    Beside them the (dotted path, error) of each table that could not be read; it is left out.
    """
    faults: list[tuple[str, UnitError]] = []
    return _filled_table(raw, "", folder, faults), tuple(faults)


def _filled_table(
    raw: Mapping[str, Any], path: str, folder: Path, faults: list[tuple[str, UnitError]]
) -> dict[str, Any]:
    filled: dict[str, Any] = {}
    for key, item in raw.items():
        at = f"{path}.{key}" if path else key
        if isinstance(item, dict) and set(item) == {"csv"}:
            try:
                filled[key] = csv_table(item["csv"], folder)
            except UnitError as error:
                faults.append((at, error))
        elif isinstance(item, dict):
            filled[key] = _filled_table(item, at, folder, faults)
        elif isinstance(item, list):
            filled[key] = [
                _filled_table(each, f"{at}[{n}]", folder, faults)
                if isinstance(each, dict)
                else each
                for n, each in enumerate(item)
            ]
        else:
            filled[key] = item
    return filled


def csv_table(name: object, folder: Path) -> dict[str, Any]:
    """Return the raw curve or map a CSV file holds, as it would be written out in TOML.

    ``name`` is a plain file name in ``folder``. Raises UnitError where it cannot be read.
    """
    if not isinstance(name, str) or not _NAME.fullmatch(name):
        raise UnitError(f"{name!r} is not the name of a table file", _ALLOWED_NAME)
    path = folder / name
    if not path.is_file():
        raise UnitError(f"there is no file {name!r} beside this one", _ALLOWED_NAME)
    if path.stat().st_size > LARGEST:
        raise UnitError(f"{name} is larger than {LARGEST} bytes", "a smaller table")
    try:
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise UnitError(f"{name} is not a text file", "a CSV file in UTF-8") from None
    except OSError as error:
        raise UnitError(f"{name} cannot be read: {error.strerror}", _ALLOWED_NAME) from None
    try:
        rows = [row for row in csv.reader(io.StringIO(text)) if any(cell.strip() for cell in row)]
    except csv.Error as error:
        raise UnitError(f"{name} is no sound table: {error}", "a CSV file in UTF-8") from None
    if len(rows) < 3:
        raise UnitError(f"{name} has fewer than three rows", "a row of units and rows of numbers")
    units = rows[0][0].split()
    if len(units) == 3:
        return _map(name, rows, units)
    if len(rows[0]) == 2:
        return _curve(name, rows)
    raise UnitError(
        f"{name}: the first cell {rows[0][0]!r} does not name the units",
        "three units in the corner of a map (rpm N.m %), or a row of two units over a curve",
    )


def _curve(name: str, rows: list[list[str]]) -> dict[str, Any]:
    pairs = [
        [_number(name, line, cell) for cell in row] for line, row in enumerate(rows[1:], start=2)
    ]
    if any(len(pair) != 2 for pair in pairs):
        raise UnitError(f"{name}: a row does not have two columns", "two numbers a row")
    return {
        "x": [pair[0] for pair in pairs],
        "y": [pair[1] for pair in pairs],
        "x_unit": rows[0][0].strip(),
        "y_unit": rows[0][1].strip(),
    }


def _map(name: str, rows: list[list[str]], units: list[str]) -> dict[str, Any]:
    columns = [_number(name, 1, cell) for cell in rows[0][1:]]
    z = []
    for line, row in enumerate(rows[1:], start=2):
        if len(row) != len(columns) + 1:
            raise UnitError(
                f"{name}: row {line} has {len(row)} columns, the first has {len(columns) + 1}",
                "as many columns in every row",
            )
        z.append([0.0 if not cell.strip() else _number(name, line, cell) for cell in row[1:]])
    return {
        "rows": [_number(name, line, row[0]) for line, row in enumerate(rows[1:], start=2)],
        "columns": columns,
        "z": z,
        "row_unit": units[0],
        "column_unit": units[1],
        "z_unit": units[2],
    }


def _number(name: str, line: int, cell: str) -> float:
    try:
        number = float(cell)
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        raise UnitError(f"{name}: row {line} says {cell.strip()[:40]!r}", "a number")
    return number
