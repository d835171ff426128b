"""Options that several commands take, and what they become."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from swapwright.base.display import PROFILES

if TYPE_CHECKING:
    from swapwright.build.car import Car
    from swapwright.jobs.progress import Progress

PARTS_VARIABLE = "SWAPWRIGHT_PARTS"

parts_folders = click.option(
    "--parts",
    "folders",
    multiple=True,
    type=click.Path(path_type=Path),
    envvar=PARTS_VARIABLE,
    show_envvar=True,
    metavar="FOLDER",
    help="A folder of your own parts; may be given more than once, the last wins.",
)
units = click.option(
    "--units",
    type=click.Choice(PROFILES),
    help="Units to show; by default those of the region in the build file.",
)
as_json = click.option("--json", "is_json", is_flag=True, help="Print JSON for other programs.")
quiet = click.option("--quiet", is_flag=True, help="No progress and no notes beside the output.")


_OF_REGION = {"US": "us", "UK": "uk"}


def profile_of(car: Car, asked: str | None) -> str:
    """Return the unit profile to show a car in: the one asked for, or its region's."""
    return asked or _OF_REGION.get(car.texts.get("goals.region", ""), "metric")


def note(text: str, *, is_quiet: bool) -> None:
    """Say something beside the output, on standard error."""
    if not is_quiet:
        click.echo(text, err=True)


def say_if_compiling(*, is_quiet: bool) -> None:
    """Tell a person once why the first run after an install takes longer."""
    from swapwright.physics.compiled import is_prepared

    if not is_prepared():
        note(
            "preparing the time loop, once after an install: some 10 to 20 s ...", is_quiet=is_quiet
        )


@contextmanager
def progress_bar(label: str, *, is_quiet: bool) -> Iterator[Progress]:
    """Yield a progress callback that draws a bar on standard error, if that is a terminal."""
    if is_quiet or not sys.stderr.isatty():
        yield lambda done, total: None
        return
    with click.progressbar(length=1, label=label, file=sys.stderr) as bar:

        def watch(done: int, total: int) -> None:
            bar.length = max(total, 1)
            bar.pos = done
            bar.render_progress()

        yield watch
