"""``swapwright ledger``: the record of the shop, verified, signed, exported and backed up."""

from __future__ import annotations

from pathlib import Path

import click

from swapwright.cli.console import Console

STORE = "my-shop/shop.db"
STORE_VARIABLE = "SWAPWRIGHT_STORE"
FAULT_FOUND = 3

store = click.option(
    "--store",
    "place",
    default=STORE,
    show_default=True,
    envvar=STORE_VARIABLE,
    show_envvar=True,
    metavar="PLACE",
    help="Where the records lie: a file, or postgresql://...",
)
key = click.option(
    "--key",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="The signing key; by default the one SWAPWRIGHT_KEY names, or your own.",
)
against = click.option(
    "--against",
    multiple=True,
    metavar="CHECKPOINT",
    help="A checkpoint from outside: its file, a folder of them, or its printed line in quotes; "
    "may be given more than once.",
)


@click.group(short_help="Verify, sign, export and back up the record of the shop.")
def ledger() -> None:
    """The record of the shop: what was written stays, and a change of it shows.

    Exit status: 0 no fault found, 2 bad input, 3 a fault found.
    """


@ledger.command("verify", short_help="Say whether the record is what it was.")
@store
@against
def verify_command(place: str, against: tuple[str, ...]) -> None:
    """Read every record and say what is not as it was written.

    Before the last checkpoint given with --against every change shows; without one a history that
    was written anew with every hash right does not.
    """
    from swapwright.cli.ledger_text import write_verification
    from swapwright.jobs.ledger import verify_ledger

    found = verify_ledger(place, against)
    write_verification(Console(), found)
    _end(bool(found.faults))


@ledger.command("checkpoint", short_help="Sign the record as it is now.")
@store
@key
@click.option(
    "--to",
    "folder",
    type=click.Path(path_type=Path),
    required=True,
    metavar="FOLDER",
    help="A folder that does not lie with the records: another disk, another machine.",
)
def checkpoint_command(place: str, key: Path | None, folder: Path) -> None:
    """Write a signed checkpoint of the last record to FOLDER, and print the line of it."""
    from swapwright.cli.ledger_text import write_checkpoint
    from swapwright.jobs.clock import utc_now
    from swapwright.jobs.ledger import export_checkpoint

    write_checkpoint(Console(), export_checkpoint(place, folder, key=key, now=utc_now))


@ledger.command("export", short_help="Write one vehicle's whole history to a file.")
@click.argument("vehicle")
@click.argument("file", type=click.Path(path_type=Path))
@store
@key
def export_command(vehicle: str, file: Path, place: str, key: Path | None) -> None:
    """Write the whole history of VEHICLE to FILE, pictures too; it can be verified by itself."""
    from swapwright.cli.ledger_text import write_history, write_verification
    from swapwright.jobs.clock import utc_now
    from swapwright.jobs.ledger import HistoryWritten, export_history

    made = export_history(place, vehicle, file, key=key, now=utc_now)
    if not isinstance(made, HistoryWritten):
        Console().line("nothing is exported: the record has faults")
        write_verification(Console(), made)
        _end(True)
        return
    Console().line(f"written: {made.file}")
    write_history(Console(), made.history)
    _end(bool(made.history.faults))


@ledger.command("check-export", short_help="Verify a file made by export.")
@click.argument("file", type=click.Path(path_type=Path))
@against
def check_export_command(file: Path, against: tuple[str, ...]) -> None:
    """Verify the history in FILE by itself, and against checkpoints that came another way."""
    from swapwright.cli.ledger_text import write_history
    from swapwright.jobs.ledger import check_history

    found = check_history(file, against)
    write_history(Console(), found)
    _end(bool(found.faults))


@ledger.command("backup", short_help="Write a backup while the shop works on.")
@click.argument("file", type=click.Path(path_type=Path))
@store
def backup_command(file: Path, place: str) -> None:
    """Write everything to FILE but the signing key and who is logged in."""
    from swapwright.cli.ledger_text import write_verification
    from swapwright.jobs.ledger import back_up_ledger

    found = back_up_ledger(place, file)
    Console().line(f"written: {file}")
    write_verification(Console(), found)
    _end(bool(found.faults))


@ledger.command("restore", short_help="Restore a backup where there is no record yet.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--to",
    "place",
    required=True,
    metavar="PLACE",
    help="Where to: a file that is not there yet, or an empty database's postgresql://...",
)
@against
def restore_command(file: Path, place: str, against: tuple[str, ...]) -> None:
    """Restore the backup in FILE and verify it; nothing is written over records."""
    from swapwright.cli.ledger_text import write_verification
    from swapwright.jobs.clock import utc_now
    from swapwright.jobs.ledger import restore_ledger

    found = restore_ledger(file, place, now=utc_now, against=against)
    Console().line("restored, and put on record")
    write_verification(Console(), found)
    _end(bool(found.faults))


@ledger.command("show", short_help="List the records.")
@store
@click.option("--vehicle", metavar="ID", help="Those of one vehicle only.")
@click.option("--last", type=click.IntRange(1), metavar="N", help="The last so many only.")
def show_command(place: str, vehicle: str | None, last: int | None) -> None:
    """List the records in order: when (UTC), what, who, about what, and what it says."""
    from swapwright.cli.ledger_text import write_rows
    from swapwright.jobs.ledger_show import ledger_rows

    write_rows(Console(), ledger_rows(place, vehicle, last))


def _end(is_fault: bool) -> None:
    raise click.exceptions.Exit(FAULT_FOUND if is_fault else 0)
