"""``swapwright cost``: the goals one by one, the parts list, the price, and the masses."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from swapwright.cli.console import Console
from swapwright.cli.options import (
    note,
    parts_folders,
    profile_of,
    quiet,
    say_if_compiling,
    units,
)


@click.command(short_help="Show the goals one by one, the parts list and what it costs.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--csv",
    "sheet",
    type=click.Path(path_type=Path),
    metavar="OUT",
    help="Write the tables to this CSV file.",
)
@units
@parts_folders
@quiet
def cost(
    file: Path, sheet: Path | None, units: str | None, folders: tuple[Path, ...], quiet: bool
) -> None:
    """Show what FILE asks for and gets, what its parts and the work cost, and what came out.

    Exit status: 0 every goal met, 1 one missed or not to be judged, 2 bad input, 3 a stop.
    """
    say_if_compiling(is_quiet=quiet)
    from swapwright.build.revision import short
    from swapwright.catalogue.read import Catalogue
    from swapwright.cli.tables_text import write_tables
    from swapwright.jobs.check import check
    from swapwright.jobs.drive_document import refuse_overwriting
    from swapwright.jobs.price_list import goals_status, price_list
    from swapwright.jobs.sheet_table import tables_csv
    from swapwright.jobs.text_file import write_text

    checked = check(file, Catalogue(folders), date.today())
    tables = price_list(checked, profile_of(checked.opened.car, units))
    if sheet is not None:
        refuse_overwriting(sheet, file)
        write_text(sheet, tables_csv(tables))
        note(f"parts list written to {sheet}", is_quiet=quiet)
    console = Console()
    name = checked.assessment.name or "a car without a name"
    console.line(f"{name}: goals and cost", bold=True)
    console.line(f"{checked.opened.file}, revision {short(checked.assessment.revision)}")
    write_tables(console, tables)
    raise click.exceptions.Exit(goals_status(checked))
