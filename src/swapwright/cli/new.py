"""``swapwright new``: write a build file to start from."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from swapwright.cli.console import Console, plain
from swapwright.cli.options import parts_folders

if TYPE_CHECKING:
    from swapwright.catalogue.read import Catalogue
    from swapwright.jobs.starting import Question


@click.command(short_help="Write a build file to start from.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--set",
    "entries",
    multiple=True,
    metavar="PATH=VALUE",
    help="What is known already, as 'car.kerb_mass=1180 kg'; may be given more than once.",
)
@click.option(
    "--ask/--no-ask",
    "is_asked",
    default=None,
    help="Ask for the rest; by default on a terminal where nothing is set.",
)
@parts_folders
def new(
    file: Path, entries: tuple[str, ...], is_asked: bool | None, folders: tuple[Path, ...]
) -> None:
    """Write a commented build FILE to start from; never over a file that is there."""
    from swapwright.base.errors import InputError, Problem
    from swapwright.catalogue.read import Catalogue
    from swapwright.jobs.starting import QUESTIONS, write_starter

    given: dict[str, str] = {}
    for entry in entries:
        path, equals, value = entry.partition("=")
        if not equals or not value.strip():
            raise InputError(Problem("--set", "", "not an entry", entry, "PATH=VALUE"))
        given[path.strip()] = value.strip()
    if file.exists():
        raise InputError(Problem(str(file), "", "there is such a file already; nothing is written"))
    catalogue = Catalogue(folders)
    if is_asked is None:
        is_asked = not entries and sys.stdin.isatty()
    if is_asked:
        click.echo("Leave an answer empty where you do not know it yet.", err=True)
        for question in QUESTIONS:
            if question.path not in given:
                _ask(question, given, catalogue)
    write_starter(file, given, catalogue)
    Console().line(f"{file} written; next: swapwright check {file}")


def _ask(question: Question, given: dict[str, str], catalogue: Catalogue) -> None:
    """Ask one question until the answer is sound or empty, and keep it."""
    from swapwright.jobs.starting import check_answer

    if question.part_kind:
        names = ", ".join(catalogue.names(question.part_kind))
        click.echo(f"  {question.part_kind}s: {names}", err=True)
    while True:
        words = f"{question.words} (such as {question.example})"
        typed = click.prompt(words, default="", show_default=False, err=True).strip()
        if not typed:
            return
        problem = check_answer(question.path, typed, catalogue)
        if problem is None:
            given[question.path] = typed
            return
        click.echo(plain(f"  {problem}"), err=True)
