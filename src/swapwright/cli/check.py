"""``swapwright check``: assess cars and say what to do about them."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import click

from swapwright.base.errors import InputError
from swapwright.cli.console import Console, plain
from swapwright.cli.options import (
    as_json,
    parts_folders,
    profile_of,
    progress_bar,
    quiet,
    say_if_compiling,
    units,
)


@click.command(short_help="Assess cars and say what to put right.")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--all", "with_met", is_flag=True, help="Show what is met, too.")
@click.option("--working", metavar="FIGURE", help="Show how one figure comes about, and no more.")
@click.option("--sources", "with_sources", is_flag=True, help="List every source in use.")
@units
@parts_folders
@as_json
@quiet
@click.pass_context
def check(
    context: click.Context,
    files: tuple[Path, ...],
    with_met: bool,
    working: str | None,
    with_sources: bool,
    units: str | None,
    folders: tuple[Path, ...],
    is_json: bool,
    quiet: bool,
) -> None:
    """Assess the cars of one or more build FILES: what they do, what fits, what to put right.

    A number in brackets is a band: what the ranges in the build leave open. Exit status: 0 nothing
    open, 1 something to fix or to find out, 2 bad input, 3 a stop; of several files the worst.
    """
    say_if_compiling(is_quiet=quiet or is_json)
    from swapwright.catalogue.read import Catalogue
    from swapwright.jobs.check import BAD_INPUT, check_all, exit_status

    today = date.today()
    with progress_bar("assessing", is_quiet=quiet or is_json or len(files) < 2) as progress:
        checked, errors = check_all(files, Catalogue(folders), today, progress)
    if errors and context.find_root().params["debug"]:
        raise errors[0]
    console = Console()
    if is_json and checked:
        from swapwright.jobs.contract import check_document

        profile = units or profile_of(checked[0].opened.car, None)
        document = check_document(checked, profile, is_list=len(files) > 1)
        click.echo(json.dumps(document, indent=1, allow_nan=False))
    elif working is not None:
        from swapwright.cli.working_text import write_working
        from swapwright.jobs.working import working_of

        for each in checked:
            try:
                shown = working_of(each, working)
            except InputError as error:
                errors = (*errors, error)
                continue
            write_working(console, shown, each, profile_of(each.opened.car, units))
    else:
        from swapwright.cli.check_text import write_check

        for number, each in enumerate(checked):
            if number:
                console.line()
            write_check(
                console,
                each,
                profile_of(each.opened.car, units),
                today,
                with_met=with_met,
                with_sources=with_sources,
            )
    for problem in (each for bad in errors for each in bad.problems):
        click.echo(plain(str(problem)), err=True)
    status = exit_status(each.assessment for each in checked)
    raise click.exceptions.Exit(BAD_INPUT if errors else status)
