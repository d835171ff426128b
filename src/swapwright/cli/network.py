"""``swapwright network``: buses, messages and lines of a car, and the files made of them."""

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


@click.command(short_help="Show the network: buses, messages, and lines of their own.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--dbc",
    type=click.Path(path_type=Path),
    metavar="OUT",
    help="Write the messages of a bus to this DBC file.",
)
@click.option(
    "--sheet",
    type=click.Path(path_type=Path),
    metavar="OUT",
    help="Write the wiring sheet to this CSV file.",
)
@click.option(
    "--import",
    "taken",
    type=click.Path(path_type=Path),
    metavar="IN",
    help="Print the messages of this DBC file as rows for FILE, and do nothing else.",
)
@click.option("--bus", default="", metavar="NAME", help="The bus meant, where there are several.")
@units
@parts_folders
@quiet
def network(
    file: Path,
    dbc: Path | None,
    sheet: Path | None,
    taken: Path | None,
    bus: str,
    units: str | None,
    folders: tuple[Path, ...],
    quiet: bool,
) -> None:
    """Show the network of FILE: what to measure, loads, worst-case responses, and lines.

    Exit status: 0 nothing open in the network that the tool judges, 1 something to fix or to find
    out, 2 bad input, 3 a stop.
    """
    from swapwright.catalogue.read import Catalogue
    from swapwright.jobs.dbc import bus_named, dbc_of

    catalogue = Catalogue(folders)
    if taken is not None:
        from swapwright.build.edit import read_document
        from swapwright.jobs.dbc_import import rows_of_dbc
        from swapwright.jobs.opening import open_car

        opened = open_car(file, catalogue)
        meant = bus_named(opened.car, str(file), bus)
        click.echo(rows_of_dbc(taken, opened.car, read_document(file)[0], meant), nl=False)
        return
    say_if_compiling(is_quiet=quiet)
    from swapwright.cli.network_text import write_network
    from swapwright.jobs.bus_sheet import bus_sheet, network_status
    from swapwright.jobs.check import check
    from swapwright.jobs.drive_document import refuse_overwriting
    from swapwright.jobs.sheet_table import tables_csv
    from swapwright.jobs.text_file import write_text

    checked = check(file, catalogue, date.today())
    car = checked.opened.car
    tables = bus_sheet(checked, profile_of(car, units))
    if dbc is not None:
        refuse_overwriting(dbc, file)
        write_text(dbc, dbc_of(car, str(file), bus_named(car, str(file), bus)))
        note(f"DBC written to {dbc}", is_quiet=quiet)
    if sheet is not None:
        refuse_overwriting(sheet, file)
        write_text(sheet, tables_csv(tables))
        note(f"wiring sheet written to {sheet}", is_quiet=quiet)
    write_network(Console(), checked, tables)
    raise click.exceptions.Exit(network_status(checked))
