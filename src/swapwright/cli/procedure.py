"""``swapwright procedure``: the isolation procedure of a car, and the others."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import click

from swapwright.cli.console import Console
from swapwright.cli.options import as_json, parts_folders, quiet, say_if_compiling


@click.command(short_help="Print the isolation procedure of a car, or another one.")
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option(
    "--kind",
    default="isolation",
    show_default=True,
    metavar="KIND",
    help="isolation, 'first energisation', re-energising, 'inside the pack', 'damaged vehicle' or "
    "'rescue of a person'.",
)
@parts_folders
@as_json
@quiet
def procedure(
    file: Path | None, kind: str, folders: tuple[Path, ...], is_json: bool, quiet: bool
) -> None:
    """Print a procedure derived from the car of FILE; without FILE the one for any car.

    What a reading should be is not printed: it is told once the reading has been entered. Exit
    status: 0 the steps are there, 1 they cannot lead to absence verified, 2 bad input.
    """
    from swapwright.jobs.procedure import (
        kind_named,
        procedure_answer,
        procedure_of_car,
        procedure_status,
        procedure_without_file,
    )

    wanted = kind_named(kind)
    if file is None:
        found = procedure_without_file(wanted, "a car without a file")
    else:
        say_if_compiling(is_quiet=quiet or is_json)
        from swapwright.catalogue.read import Catalogue
        from swapwright.jobs.check import check

        found = procedure_of_car(check(file, Catalogue(folders), date.today()), wanted)
    if is_json:
        click.echo(json.dumps(procedure_answer(found), indent=1, allow_nan=False))
    else:
        from swapwright.cli.procedure_text import write_procedure

        write_procedure(Console(), found)
    raise click.exceptions.Exit(procedure_status(found))
