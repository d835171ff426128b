"""``swapwright schema``: JSON Schemas of the build file and of what the tool prints."""

from __future__ import annotations

import json

import click

OUTPUTS = ("check", "drive", "circuit", "fault", "isolation-test", "pilot", "procedure")


@click.command(short_help="Print a JSON Schema.")
@click.option(
    "--output",
    type=click.Choice(OUTPUTS),
    help="The schema of what this command prints with --json.",
)
def schema(output: str | None) -> None:
    """Print the JSON Schema of a build file, for editors that check as you type."""
    if output is None:
        from swapwright.build.schema import schema as build_schema

        document = build_schema()
    elif output in ("check", "drive"):
        from swapwright.jobs.output_schema import check_schema, drive_schema

        document = check_schema() if output == "check" else drive_schema()
    elif output == "pilot":
        from swapwright.jobs.pilot_document import pilot_schema

        document = pilot_schema()
    elif output == "procedure":
        from swapwright.jobs.procedure_schema import procedure_schema

        document = procedure_schema()
    else:
        from swapwright.jobs.circuit_schema import circuit_schema, fault_schema, isolation_schema

        schemas = {"circuit": circuit_schema, "fault": fault_schema}
        document = schemas.get(output, isolation_schema)()
    click.echo(json.dumps(document, indent=2, allow_nan=False))
