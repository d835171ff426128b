"""``swapwright workbench``: the whole car in the browser."""

from __future__ import annotations

from pathlib import Path

import click

from swapwright.cli.console import plain
from swapwright.cli.options import parts_folders, say_if_compiling

PORT = 8420


@click.command(short_help="Open a folder of cars in the browser.")
@click.argument("folder", type=click.Path(path_type=Path), default="my-cars")
@click.option(
    "--port",
    type=click.IntRange(1, 65535),
    default=PORT,
    show_default=True,
    help="The port to listen on; the next free one where it is taken.",
)
@click.option("--no-browser", is_flag=True, help="Print the address and open nothing.")
@click.option(
    "--examples",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Copy the cars of this folder where FOLDER is not there yet.",
)
@parts_folders
def workbench(
    folder: Path, port: int, no_browser: bool, examples: Path | None, folders: tuple[Path, ...]
) -> None:
    """Open the workbench on FOLDER, a folder of build files; it is made where there is none.

    It listens on this machine alone, and edits the very files of the folder. Ctrl-C stops it.
    """
    try:
        _serve(folder, folders, examples, port, in_browser=not no_browser)
    except KeyboardInterrupt:
        # Stopped before it answered: that is no fault either.
        return


def _serve(
    folder: Path, folders: tuple[Path, ...], examples: Path | None, port: int, *, in_browser: bool
) -> None:
    from swapwright.catalogue.read import Catalogue
    from swapwright.jobs.folder import car_folder

    catalogue = Catalogue(folders)
    found = car_folder(folder, examples)
    if found.is_new:
        cars = "1 car" if len(found.copied) == 1 else f"{len(found.copied)} cars"
        what = f"with copies of {cars}" if found.copied else "with no car in it yet"
        click.echo(plain(f"{folder} made, {what}"))
    say_if_compiling(is_quiet=False)
    from swapwright.workbench.serve import serve

    def say(address: str) -> None:
        click.echo(plain(f"workbench of {folder}: {address} (Ctrl-C stops it)"))

    serve(folder, catalogue, port, in_browser=in_browser, say=say)
