"""``swapwright new``: write a build file to start from."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

import click

from swapwright.cli.console import Console, plain
from swapwright.cli.options import parts_folders

if TYPE_CHECKING:
    from swapwright.catalogue.read import Catalogue
    from swapwright.jobs.starting import MassQuestion, Question

NOTHING: Mapping[str, str] = MappingProxyType({})


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
    from swapwright.jobs.starting import write_starter

    given: dict[str, str] = {}
    for entry in entries:
        path, equals, value = entry.partition("=")
        if not equals or not value.strip():
            raise InputError(Problem("--set", "", "not an entry", entry, "PATH=VALUE"))
        given[path.strip()] = value.strip()
    if file.exists():
        raise InputError(Problem(str(file), "", "there is such a file already; nothing is written"))
    if not file.parent.is_dir():
        raise InputError(Problem(str(file), "", "cannot be written: there is no such folder"))
    catalogue = Catalogue(folders)
    if is_asked is None:
        is_asked = not entries and sys.stdin.isatty()
    if is_asked:
        asker = _Asker(given, catalogue)
        try:
            asker.ask_all()
        except click.Abort:
            if not given:
                raise
            click.echo(f"\nasked no further; what is known goes into {file}", err=True)
    write_starter(file, given, catalogue)
    Console().line(f"{file} written; next: swapwright check {file}")


class _Asker:
    """Asks an owner one question at a time, and keeps each answer as it is given."""

    def __init__(self, given: dict[str, str], catalogue: Catalogue) -> None:
        self.given = given
        self.catalogue = catalogue

    @property
    def profile(self) -> str:
        return "us" if self.given.get("goals.region") == "US" else "metric"

    def ask_all(self) -> None:
        from swapwright.jobs.starting import MASSES, QUESTIONS

        click.echo(
            "Leave an answer empty where you do not know it yet; Ctrl-C ends and keeps the rest.",
            err=True,
        )
        for question in QUESTIONS:
            if question.path not in self.given:
                self.ask(question)
        click.echo("What comes out of the car, and what goes in:", err=True)
        for row in MASSES:
            self.ask_mass(row)

    def ask(self, question: Question) -> None:
        from swapwright.jobs.starting import plural, typical

        if question.part_kind:
            names = ", ".join(self.catalogue.names(question.part_kind))
            click.echo(f"  {plural(question.part_kind)}: {names}", err=True)
        by_name = typical(question.path, self.profile)
        for name, value in by_name.items():
            click.echo(f"  {name:<22} {value}", err=True)
        self.prompt(question.path, question.words, self.example(question), by_name)

    def ask_mass(self, row: MassQuestion) -> None:
        """Ask what a thing weighs, and where it sits, and keep both as one row of the ledger."""
        number = sum(path.endswith(".mass") and path.startswith("mass[") for path in self.given)
        at = f"mass[{number}]"
        self.given[f"{at}.{row.way}"] = row.what
        example = row.in_us_units if self.profile == "us" else row.mass
        way = "out" if row.way == "remove" else "in"
        try:
            is_known = self.prompt(f"{at}.mass", f"{way}: {row.what}, its mass", example)
        except click.Abort:
            del self.given[f"{at}.{row.way}"]
            raise
        if not is_known:
            del self.given[f"{at}.{row.way}"]
            return
        example = "4 in" if self.profile == "us" else "0.10 m"
        self.prompt(f"{at}.x", "  how far behind the front axle", example)

    def example(self, question: Question) -> str:
        is_us = self.profile == "us" and question.in_us_units
        return question.in_us_units if is_us else question.example

    def prompt(
        self, path: str, words: str, example: str, by_name: Mapping[str, str] = NOTHING
    ) -> bool:
        """Ask until the answer is sound or empty; keep it, and tell whether there is one."""
        from swapwright.jobs.starting import check_answer

        while True:
            asked = f"{words} (such as {example})"
            typed = click.prompt(asked, default="", show_default=False, err=True).strip()
            if not typed:
                return False
            typed = by_name.get(typed, typed)
            problem = check_answer(path, typed, self.given, self.catalogue)
            if not problem:
                self.given[path] = typed
                return True
            click.echo(plain(f"  {problem}"), err=True)
