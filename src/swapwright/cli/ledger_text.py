"""How ``swapwright ledger`` prints: what was checked, against what, and what was not."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from swapwright.cli.console import Console
    from swapwright.jobs.ledger import Exported
    from swapwright.jobs.ledger_show import LedgerRow
    from swapwright.records.checkpoint import Checkpoint
    from swapwright.records.export import History
    from swapwright.records.verify import Verification

LABEL = 16
KEY_SHOWN = 16
"""Characters of a public key that are printed; enough to tell two keys apart."""


def write_verification(console: Console, found: Verification) -> None:
    """Write what a verification found."""
    _entry(console, "records read", str(found.records))
    _entry(console, "last of them", f"{found.chained[:KEY_SHOWN]}...")
    for each in found.against:
        _entry(console, "held against", _told(each))
    if found.covered:
        later = found.records - found.covered
        _entry(
            console,
            "not covered",
            f"what was changed after record {found.covered}, of which there are {later}"
            if later > 0
            else "nothing up to the last record",
        )
    else:
        _entry(
            console,
            "not covered",
            "no checkpoint from outside was given: a history written anew with every hash right "
            "does not show",
        )
    _faults(console, [_of_record(each.number, each.words) for each in found.faults])
    if found.remarks:
        console.heading("remarks")
        for remark in found.remarks:
            console.wrapped(remark, indent=2)


def write_checkpoint(console: Console, made: Exported) -> None:
    """Write where a checkpoint is, and the line of it that can be printed and typed back."""
    console.line(f"written: {made.file}")
    _entry(console, "signed by key", f"{made.checkpoint.public_key[:KEY_SHOWN]}...")
    _entry(console, "at", made.checkpoint.at)
    console.line(made.checkpoint.printed)
    if made.is_beside_store:
        console.wrapped(
            "this folder lies with the records: whoever changes them can change it too; "
            "keep a copy elsewhere",
        )


def write_history(console: Console, found: History) -> None:
    """Write what a history file holds, and what is wrong with it."""
    _entry(console, "vehicle", found.vehicle)
    _entry(console, "records in full", f"{found.own}, of {found.records} in the chain")
    _entry(console, "checkpoint in it", _told(found.checkpoint))
    for each in found.against:
        _entry(console, "held against", _told(each))
    if not found.against:
        _entry(
            console,
            "not covered",
            "whose key that is: hold it against a checkpoint that came another way (--against)",
        )
    _faults(console, found.faults)


def write_rows(console: Console, rows: Iterable[LedgerRow]) -> None:
    """Write records one below the other."""
    is_empty = True
    for row in rows:
        is_empty = False
        console.line(f"{row.number:>6}  {row.at}  {row.label}, by {row.by}", bold=True)
        for text in (row.about, row.says, *row.corrected):
            if text:
                console.wrapped(text, indent=8)
    if is_empty:
        console.line("there is no record")


def _entry(console: Console, label: str, text: str) -> None:
    first = f"{label:<{LABEL}}  "
    console.wrapped(text, indent=len(first), first=first)


def _told(checkpoint: Checkpoint) -> str:
    signed = checkpoint.public_key
    by = f"of {checkpoint.at}, key {signed[:KEY_SHOWN]}..." if signed else "as typed"
    return f"the checkpoint of record {checkpoint.number}, {by}"


def _of_record(number: int | None, words: str) -> str:
    return words if number is None else f"record {number}: {words}"


def _faults(console: Console, faults: Sequence[str]) -> None:
    if not faults:
        console.line("no fault found")
        return
    console.heading("1 fault" if len(faults) == 1 else f"{len(faults)} faults")
    for fault in faults:
        console.wrapped(fault, indent=2)
