"""``swapwright revision``: the mark of a build."""

from __future__ import annotations

from pathlib import Path

import click

from swapwright.cli.console import Console
from swapwright.cli.options import parts_folders


@click.command(short_help="Print the mark of a build.")
@click.argument("file", type=click.Path(path_type=Path))
@parts_folders
def revision(file: Path, folders: tuple[Path, ...]) -> None:
    """Print the revision of the build in FILE.

    It is a hash of the resolved build: comments and order do not count, every value does.
    """
    from swapwright.catalogue.read import Catalogue
    from swapwright.jobs.opening import open_car

    Console().line(open_car(file, Catalogue(folders)).car.revision)
