"""``swapwright check``: assess cars and say what to do about them."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

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

if TYPE_CHECKING:
    from swapwright.jobs.check import Checked


def _levels(context: click.Context, option: click.Parameter, given: str) -> int | None:
    """Return the levels asked for, None for all of them."""
    if given == "all":
        return None
    if given.isdecimal() and 0 < int(given) < 1000:
        return int(given)
    raise click.BadParameter(f"{given!r} is neither a whole number above 0 nor 'all'")


@click.command(short_help="Assess cars and say what to put right.")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--all", "in_full", is_flag=True, help="Show what is met and assumed, too.")
@click.option(
    "--working", metavar="NAME", help="Show how a figure, or a rule's, comes about, and no more."
)
@click.option(
    "--depth",
    default="2",
    show_default=True,
    metavar="N",
    callback=_levels,
    help="Levels of workings to open with --working, or 'all'.",
)
@click.option("--names", "with_names", is_flag=True, help="Show each figure's name beside it.")
@click.option("--sources", "with_sources", is_flag=True, help="List every source in use.")
@units
@parts_folders
@as_json
@quiet
@click.pass_context
def check(
    context: click.Context,
    files: tuple[Path, ...],
    in_full: bool,
    working: str | None,
    depth: int | None,
    with_names: bool,
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
    if is_json and checked:
        from swapwright.jobs.contract import check_document

        profile = units or profile_of(checked[0].opened.car, None)
        document = check_document(checked, profile, is_list=len(files) > 1)
        click.echo(json.dumps(document, indent=1, allow_nan=False))
    else:
        wish = _Wish(units, working, depth, in_full, with_names, with_sources)
        errors = (*errors, *_write(checked, today, wish))
    for problem in (each for bad in errors for each in bad.problems):
        click.echo(plain(str(problem)), err=True)
    status = exit_status(each.assessment for each in checked)
    raise click.exceptions.Exit(BAD_INPUT if errors else status)


@dataclass(frozen=True)
class _Wish:
    """What a person wants to see of the cars."""

    units: str | None
    working: str | None
    depth: int | None
    in_full: bool
    with_names: bool
    with_sources: bool


def _write(checked: Sequence[Checked], today: date, wish: _Wish) -> Iterator[InputError]:
    """Write the pages of cars, or one working of each; yield what cannot be shown."""
    from swapwright.cli.check_text import page_of, write_check

    console = Console()
    for number, each in enumerate(checked):
        profile = profile_of(each.opened.car, wish.units)
        page = page_of(console, each, profile, with_names=wish.with_names)
        if wish.working is None:
            if number:
                console.line()
            write_check(page, today, in_full=wish.in_full, with_sources=wish.with_sources)
            continue
        from swapwright.cli.working_text import write_working
        from swapwright.jobs.working import working_of

        try:
            answer = working_of(each, wish.working, wish.depth)
        except InputError as error:
            yield error
        else:
            write_working(page, answer)
