"""The tables the rules are tried by: one file a system of the car, read as one."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent


def rows(folder: str, kind: str) -> list[dict[str, Any]]:
    """Return the rows of a kind in every table of a folder."""
    tables = [
        tomllib.loads(path.read_text(encoding="utf-8"))
        for path in sorted((HERE / folder).glob("*.toml"))
    ]
    return [row for table in tables for row in table.get(kind, ())]
