"""``swapwright drive``: drive one car over one cycle."""

from __future__ import annotations

import json
from pathlib import Path

import click

from swapwright.cli.console import Console
from swapwright.cli.options import (
    as_json,
    note,
    parts_folders,
    profile_of,
    progress_bar,
    quiet,
    say_if_compiling,
    units,
)


@click.command(short_help="Drive a car over a cycle.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--cycle",
    "named",
    required=True,
    metavar="CYCLE",
    help="A cycle's name (udds, hwfet, us06, nycc, wltc-1, wltc-2, wltc-3a, wltc-3b; city or "
    "highway), a steady speed as '60 mph', or a CSV file.",
)
@click.option("--soc", metavar="SHARE", help="State of charge at the start, as '80 %'.")
@click.option(
    "--day",
    type=click.Choice(["mild", "cold", "hot"]),
    default="mild",
    show_default=True,
    help="The day; on a cold one the heater runs, on a hot one the air conditioner.",
)
@click.option("--repeat-until-empty", is_flag=True, help="Go round until the pack is empty.")
@click.option(
    "--csv",
    "table",
    type=click.Path(path_type=Path),
    metavar="OUT",
    help="Write every step to this CSV file.",
)
@units
@parts_folders
@as_json
@quiet
def drive(
    file: Path,
    named: str,
    soc: str | None,
    day: str,
    repeat_until_empty: bool,
    table: Path | None,
    units: str | None,
    folders: tuple[Path, ...],
    is_json: bool,
    quiet: bool,
) -> None:
    """Drive the car of FILE over a cycle: energy, where it goes, limits met.

    A CSV file needs a column of speed that names its unit (speed_kmh, speed_mph or speed_m/s) and
    may have columns time_s and grade_%.
    """
    say_if_compiling(is_quiet=quiet or is_json)
    from swapwright.catalogue.read import Catalogue
    from swapwright.cli.drive_text import write_drive
    from swapwright.jobs.drive import Order, charge_at_start
    from swapwright.jobs.drive import drive as run
    from swapwright.jobs.drive_document import drive_document, refuse_overwriting, write_table
    from swapwright.jobs.opening import open_car
    from swapwright.jobs.trace import trace_of

    opened = open_car(file, Catalogue(folders))
    if table is not None:
        refuse_overwriting(table, file, Path(named))
    profile = profile_of(opened.car, units)
    order = Order(trace_of(named, profile), day, charge_at_start(soc), repeat_until_empty)
    with progress_bar("driving", is_quiet=quiet or is_json) as progress:
        driven = run(opened, order, progress)
    if table is not None:
        write_table(driven, table)
        note(f"every step written to {table}", is_quiet=quiet or is_json)
    if is_json:
        click.echo(json.dumps(drive_document(driven, opened.car), indent=1, allow_nan=False))
    else:
        write_drive(Console(), driven, opened, profile)
