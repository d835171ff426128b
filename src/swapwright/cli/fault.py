"""``swapwright fault``: what happens when something in the circuit goes wrong."""

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


@click.command(short_help="Tell what happens in a fault of the circuit.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--at", metavar="PLACE", help="Join the poles at this place: a dead short.")
@click.option(
    "--pack",
    "charge",
    type=click.Choice(["full", "low"]),
    default="full",
    show_default=True,
    help="The pack for --at: full and warm, or nearly empty and cold.",
)
@click.option("--welded", multiple=True, metavar="NAME", help="A contactor that has welded.")
@click.option("--precharge", is_flag=True, help="Fill the link through its resistor.")
@click.option("--load", "loads", multiple=True, metavar="NAME", help="Left on during --precharge.")
@click.option("--resistor", metavar="OHMS", help="The resistor of --precharge, as '2.2 kohm'.")
@click.option("--leak", metavar="OHMS", help="A leak across the link during --precharge.")
@click.option("--discharge", is_flag=True, help="Empty the link once the contactors are open.")
@click.option(
    "--open",
    "opened",
    multiple=True,
    metavar="NAME",
    help="An element that is open, for --precharge and --discharge: a bleed, a capacitor.",
)
@click.option(
    "--earth",
    multiple=True,
    metavar="TERMINAL",
    help="A terminal on the chassis, as 'front pack.plus' or 'minus pole'; once or twice.",
)
@units
@parts_folders
@as_json
@quiet
def fault(
    file: Path,
    at: str | None,
    charge: str,
    welded: tuple[str, ...],
    precharge: bool,
    loads: tuple[str, ...],
    resistor: str | None,
    leak: str | None,
    discharge: bool,
    opened: tuple[str, ...],
    earth: tuple[str, ...],
    units: str | None,
    folders: tuple[Path, ...],
    is_json: bool,
    quiet: bool,
) -> None:
    """Tell what happens in the circuit of FILE when something goes wrong, as a timeline.

    Nothing is judged: the exit status is 0 wherever it could be told, 2 for bad input.
    """
    say_if_compiling(is_quiet=quiet or is_json)
    from swapwright.catalogue.read import Catalogue
    from swapwright.cli.fault_text import write_accounts
    from swapwright.jobs.account import accounts_document
    from swapwright.jobs.fault import FaultOrder
    from swapwright.jobs.fault import fault as run
    from swapwright.jobs.opening import open_car
    from swapwright.jobs.precharging import PrechargeOrder

    car = open_car(file, Catalogue(folders))
    asked = precharge or loads or resistor is not None or leak is not None
    order = FaultOrder(
        at=at,
        charge=charge,
        welded=welded,
        precharge=PrechargeOrder(loads, resistor, leak) if asked else None,
        is_discharge=discharge,
        opened=opened,
        earth=earth,
    )
    accounts = run(car, order)
    if is_json:
        document = accounts_document(accounts, car.car)
        click.echo(json.dumps(document, indent=1, allow_nan=False))
    else:
        write_accounts(Console(), car, accounts, profile_of(car.car, units))
