"""``swapwright modules``: modules out of another vehicle, as measured, and where each goes."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from swapwright.cli.console import Console
from swapwright.cli.options import parts_folders, profile_of, quiet, say_if_compiling, units


@click.command(short_help="Show measured modules, which are taken, and where each goes best.")
@click.argument("file", type=click.Path(path_type=Path))
@units
@parts_folders
@quiet
def modules(file: Path, units: str | None, folders: tuple[Path, ...], quiet: bool) -> None:
    """Show the modules FILE lists under [[pack.tested]], and the string and group of each.

    Exit status: 0 nothing open on them that the tool judges, 1 something to fix or to find out,
    2 bad input, 3 a stop.
    """
    say_if_compiling(is_quiet=quiet)
    from swapwright.build.revision import short
    from swapwright.catalogue.read import Catalogue
    from swapwright.cli.tables_text import write_tables
    from swapwright.jobs.check import check
    from swapwright.jobs.module_list import module_list, modules_status

    checked = check(file, Catalogue(folders), date.today())
    tables = module_list(checked, profile_of(checked.opened.car, units))
    console = Console()
    name = checked.assessment.name or "a car without a name"
    console.line(f"{name}: measured modules", bold=True)
    console.line(f"{checked.opened.file}, revision {short(checked.assessment.revision)}")
    if not tables:
        console.wrapped("The file lists none under [[pack.tested]].")
    write_tables(console, tables)
    raise click.exceptions.Exit(modules_status(checked))
