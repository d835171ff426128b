"""``swapwright isolation-test``: the voltmeter method, from a mechanic's readings."""

from __future__ import annotations

import json
from pathlib import Path

import click

from swapwright.cli.console import Console
from swapwright.cli.options import (
    as_json,
    parts_folders,
    profile_of,
    quiet,
    say_if_compiling,
    units,
)


@click.command("isolation-test", short_help="Work out the isolation from voltmeter readings.")
@click.argument("file", type=click.Path(path_type=Path))
@click.argument("more", nargs=-1, metavar="[READING]...")
@click.option(
    "--readings",
    multiple=True,
    required=True,
    metavar="READING",
    help="'V+=193.6 V' 'V-=161.4 V' \"V'=40.0 V\": plus and minus to chassis, then the larger "
    "again with the resistor across that pole; 'Vb=355 V' is the pack's own.",
)
@click.option("--resistor", metavar="OHMS", help="The known resistor, as '200 kohm'.")
@click.option("--meter", metavar="OHMS", help="Input resistance of the meter, as '10 Mohm'.")
@units
@parts_folders
@as_json
@quiet
def isolation_test(
    file: Path,
    more: tuple[str, ...],
    readings: tuple[str, ...],
    resistor: str | None,
    meter: str | None,
    units: str | None,
    folders: tuple[Path, ...],
    is_json: bool,
    quiet: bool,
) -> None:
    """Work out the isolation of the car of FILE from readings on its live pack.

    Every reading that is a number with a unit is kept as read. Exit status: 0 not below what is
    asked for, 1 below it or nothing to be said yet, 2 bad input, 3 a stop.
    """
    say_if_compiling(is_quiet=quiet or is_json)
    from swapwright.catalogue.read import Catalogue
    from swapwright.cli.isolation_text import write_isolation
    from swapwright.jobs.isolation_document import isolation_document
    from swapwright.jobs.isolation_test import isolation_test as run
    from swapwright.jobs.opening import open_car

    opened = open_car(file, Catalogue(folders))
    answer = run(opened, (*readings, *more), resistor, meter)
    if is_json:
        document = isolation_document(answer, opened.car)
        click.echo(json.dumps(document, indent=1, allow_nan=False))
    else:
        write_isolation(Console(), opened, answer, profile_of(opened.car, units))
    raise click.exceptions.Exit(answer.status)
