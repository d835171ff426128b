"""A table of texts: what a sheet shows on a screen, in the terminal, and as CSV."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass

from swapwright.jobs.drive_document import text_cell

NOT_KNOWN = "?"


@dataclass(frozen=True)
class Table:
    """One table of a sheet, all of it text; ``note`` stands under it."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""


def tables_csv(tables: tuple[Table, ...]) -> str:
    """Return tables as CSV: each under its title, an empty line between two."""
    buffer = io.StringIO()
    writer = csv.writer(buffer, lineterminator="\n")
    for table in tables:
        if table.rows:
            writer.writerow((table.title,))
            writer.writerows(map(text_cell, row) for row in (table.heads, *table.rows))
            if table.note:
                writer.writerow((text_cell(table.note),))
            writer.writerow(())
    return buffer.getvalue()
