"""``swapwright circuit``: the high-voltage circuit, device by device."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import click

from swapwright.cli.console import Console
from swapwright.cli.options import (
    as_json,
    note,
    parts_folders,
    profile_of,
    quiet,
    say_if_compiling,
    units,
)

SWITCHES = ("key-off", "disconnect-open", "running")


@click.command(short_help="Show the high-voltage circuit and what limits it.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--diagram",
    type=click.Path(path_type=Path),
    metavar="OUT",
    help="Write the one-line diagram to this SVG file.",
)
@click.option(
    "--chart",
    type=click.Path(path_type=Path),
    metavar="OUT",
    help="Write the chart of fuses, cable, contactor and the car's own currents to this SVG file.",
)
@click.option(
    "--state",
    type=click.Choice(SWITCHES),
    help="Show what can reach each section in this state of the switches, in the diagram too.",
)
@click.option("--expand", is_flag=True, help="Print the file with its circuit in the full form.")
@units
@parts_folders
@as_json
@quiet
def circuit(
    file: Path,
    diagram: Path | None,
    chart: Path | None,
    state: str | None,
    expand: bool,
    units: str | None,
    folders: tuple[Path, ...],
    is_json: bool,
    quiet: bool,
) -> None:
    """Show the circuit of FILE: what each device carries and bears, faults, and what is live.

    Exit status: 0 nothing open in the circuit that the tool judges, 1 something to fix or to find
    out, 2 bad input, 3 a stop.
    """
    from swapwright.catalogue.read import Catalogue

    catalogue = Catalogue(folders)
    if expand:
        from swapwright.build.circuit.expansion import full_form_text
        from swapwright.jobs.opening import open_car

        opened = open_car(file, catalogue)
        click.echo(full_form_text(opened.build, opened.car), nl=False)
        return
    say_if_compiling(is_quiet=quiet or is_json)
    from swapwright.cli.circuit_text import write_circuit
    from swapwright.jobs.check import check
    from swapwright.jobs.circuit import circuit_status, circuit_view
    from swapwright.jobs.circuit_document import circuit_document

    checked = check(file, catalogue, date.today())
    profile = profile_of(checked.opened.car, units)
    view = circuit_view(checked, SWITCHES[:2] if state is None else (state,))
    for out, draw in ((diagram, "diagram"), (chart, "chart")):
        if out is not None:
            from swapwright.jobs import circuit_drawing
            from swapwright.jobs.drive_document import refuse_overwriting
            from swapwright.jobs.text_file import write_text

            refuse_overwriting(out, file)
            if draw == "diagram":
                text = circuit_drawing.diagram_of(checked, view, profile, state)
            else:
                text = circuit_drawing.chart_of(checked, profile)
            write_text(out, text)
            note(f"{draw} written to {out}", is_quiet=quiet or is_json)
    if is_json:
        click.echo(json.dumps(circuit_document(checked, view), indent=1, allow_nan=False))
    else:
        write_circuit(Console(), checked, view, profile, is_in_detail=state is not None)
    raise click.exceptions.Exit(circuit_status(view))
