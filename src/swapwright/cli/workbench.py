"""``swapwright workbench``: the whole car in the browser."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from swapwright.cli.console import plain
from swapwright.cli.ledger import STORE_VARIABLE
from swapwright.cli.options import parts_folders, say_if_compiling

if TYPE_CHECKING:
    from swapwright.jobs.network import Network

PORT = 8420
SHOP = "my-shop"
LOOPBACK = "127.0.0.1"


@dataclass(frozen=True)
class Reached:
    """How a person asks for it to be reached: shop, address, names, certificate and its key."""

    shop: str
    listen: str
    names: tuple[str, ...]
    given: tuple[Path | None, Path | None]


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
@click.option(
    "--shop",
    "shop_given",
    default=SHOP,
    show_default=True,
    envvar=STORE_VARIABLE,
    show_envvar=True,
    metavar="PLACE",
    help="Where the shop's records lie: a folder, a file, or postgresql://...",
)
@click.option(
    "--listen",
    default=LOOPBACK,
    show_default=True,
    metavar="ADDRESS",
    help="The address to listen at; beyond this machine it takes accounts, and is under TLS.",
)
@click.option(
    "--name",
    "names",
    multiple=True,
    metavar="NAME",
    help="A further name others reach it by; may be given more than once.",
)
@click.option(
    "--certificate",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="A certificate in PEM; without one it makes its own and prints its fingerprint.",
)
@click.option(
    "--certificate-key",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="The key of that certificate, in PEM and without a password.",
)
@parts_folders
def workbench(
    folder: Path,
    port: int,
    no_browser: bool,
    examples: Path | None,
    shop_given: str,
    listen: str,
    names: tuple[str, ...],
    certificate: Path | None,
    certificate_key: Path | None,
    folders: tuple[Path, ...],
) -> None:
    """Open the workbench on FOLDER, a folder of build files; it is made where there is none.

    It listens on this machine alone unless told otherwise, and edits the very files of the folder.
    Ctrl-C stops it.
    """
    reached = Reached(shop_given, listen, names, (certificate, certificate_key))
    try:
        _serve(folder, folders, examples, port, reached, in_browser=not no_browser)
    except KeyboardInterrupt:
        # Stopped before it answered: that is no fault either.
        return


def _serve(
    folder: Path,
    folders: tuple[Path, ...],
    examples: Path | None,
    port: int,
    reached: Reached,
    *,
    in_browser: bool,
) -> None:
    from swapwright.catalogue.read import Catalogue
    from swapwright.jobs.clock import utc_now
    from swapwright.jobs.folder import car_folder
    from swapwright.jobs.network import network
    from swapwright.jobs.shop import Shop
    from swapwright.jobs.shop_access import shop_place

    shop = Shop(shop_place(reached.shop))
    found_network = network(
        reached.listen, names=reached.names, given=reached.given, shop=shop, now=utc_now()
    )
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
        _say_certificate(found_network)

    serve(
        folder,
        catalogue,
        port,
        in_browser=in_browser,
        say=say,
        shop=shop,
        network=found_network,
    )


def _say_certificate(network: Network) -> None:
    """Print what a person compares on the tablet."""
    found = network.certificate
    if found is None:
        return
    whose = "given" if not found.is_own else "made anew" if found.is_new else "its own"
    click.echo(plain(f"certificate, {whose}, until {found.until:%Y-%m-%d}; SHA-256 fingerprint:"))
    click.echo(plain(found.fingerprint))
