"""The tables of a sheet in the terminal."""

from __future__ import annotations

from swapwright.cli.console import Console
from swapwright.jobs.sheet_table import Table


def write_tables(console: Console, tables: tuple[Table, ...]) -> None:
    """Write the tables that have rows, each under its title, with what stands under it."""
    for table in tables:
        if not table.rows:
            continue
        console.heading(table.title)
        console.columns((table.heads, *table.rows) if any(table.heads) else table.rows)
        if table.note:
            console.line()
            console.wrapped(table.note, indent=2)
