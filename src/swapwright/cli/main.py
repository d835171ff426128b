"""The ``swapwright`` command: its sub-commands, and what becomes of bad input."""

from __future__ import annotations

import gc
from typing import Any

import click

from swapwright.base.errors import InputError
from swapwright.cli.check import check
from swapwright.cli.circuit import circuit
from swapwright.cli.console import plain
from swapwright.cli.cost import cost
from swapwright.cli.drive import drive
from swapwright.cli.fault import fault
from swapwright.cli.isolation_test import isolation_test
from swapwright.cli.ledger import ledger
from swapwright.cli.modules import modules
from swapwright.cli.network import network
from swapwright.cli.new import new
from swapwright.cli.parts import parts
from swapwright.cli.pilot import pilot
from swapwright.cli.procedure import procedure
from swapwright.cli.revision import revision
from swapwright.cli.schema import schema
from swapwright.cli.workbench import workbench

BAD_INPUT = 2


class OneLineErrors(click.Group):
    """A group of commands that tells bad input in one line each, and leaves all else alone."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; bad input ends it with exit status 2."""
        try:
            return super().invoke(ctx)
        except InputError as error:
            if ctx.params.get("debug"):
                raise
            for problem in error.problems:
                click.echo(plain(str(problem)), err=True)
            ctx.exit(BAD_INPUT)


@click.group(cls=OneLineErrors, context_settings={"help_option_names": ["-h", "--help"]})
@click.option("--debug", is_flag=True, help="Show where in the program bad input was noticed.")
@click.version_option(package_name="swapwright", message="swapwright %(version)s")
def main(debug: bool) -> None:
    """From donor car to signed-off electric conversion: one text file is the car.

    Exit status: 0 nothing open that the tool judges, 1 something to fix or to find out,
    2 bad input, 3 a stop.
    """


for command in (
    check,
    drive,
    circuit,
    fault,
    isolation_test,
    cost,
    modules,
    network,
    pilot,
    parts,
    new,
    workbench,
    ledger,
    procedure,
    schema,
    revision,
):
    main.add_command(command)


def run() -> None:
    """Run one command in a process of its own."""
    # A command is over before its garbage matters; collecting it costs a tenth of the time.
    gc.disable()
    main()
