"""``swapwright pilot``: what a mechanic reads at a charging inlet, and what it says."""

from __future__ import annotations

import json

import click

from swapwright.cli.console import Console
from swapwright.cli.options import as_json


@click.command(
    "pilot",
    short_help="Say what readings at a charging inlet mean.",
    context_settings={"ignore_unknown_options": True},
)
@click.argument("readings", nargs=-1, required=True, metavar="READING...")
@click.option(
    "--inlet",
    default="type 1",
    show_default=True,
    metavar="INLET",
    help="The inlet: 'type 1' or 'type 2'.",
)
@as_json
def pilot(readings: tuple[str, ...], inlet: str, is_json: bool) -> None:
    """Say what the control pilot's peak and duty and the proximity's resistance mean.

    READING is a voltage, a duty or a resistance: '9 V' '53 %' '220 ohm'. Exit status: 0 each
    reading is one there is, 1 something has to be found out, 2 bad input.
    """
    from swapwright.jobs.pilot import CAUTIONS, read_pilot
    from swapwright.jobs.pilot_document import pilot_document

    answer = read_pilot(readings, " ".join(inlet.lower().split()))
    if is_json:
        click.echo(json.dumps(pilot_document(answer), indent=1, allow_nan=False))
        raise click.exceptions.Exit(answer.status)
    console = Console()
    console.line(f"Readings at a {inlet} inlet", bold=True)
    for each in answer.lines:
        console.line()
        console.wrapped(f"{each.read}: {each.words}.", indent=2)
        if each.next:
            console.wrapped(each.next, indent=4)
    console.line()
    told = "none" if answer.current is None else f"{answer.current:.3g} A"
    console.wrapped(f"The car may draw: {told} ({answer.current_words}).", indent=2)
    console.line()
    for caution in CAUTIONS:
        console.wrapped(caution)
    raise click.exceptions.Exit(answer.status)
