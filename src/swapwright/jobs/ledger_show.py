"""The ledger as rows to read: each record with who did it, and what corrects it beside it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from swapwright.base.errors import InputError, Problem
from swapwright.records.canonical import canonical
from swapwright.records.corrections import Correction, corrections
from swapwright.records.kinds import KINDS
from swapwright.records.people import Person, people
from swapwright.records.record import LOCAL, Record
from swapwright.records.store import open_store
from swapwright.records.vehicles import vehicles

LONGEST_TEXT = 200
"""Characters of a text of a body that a row shows; a build file is kept whole, and not shown so."""


@dataclass(frozen=True)
class LedgerRow:
    """One record as a row; ``corrected`` are the later records that correct it, as texts."""

    number: int
    at: str
    label: str
    by: str
    about: str
    says: str
    corrected: tuple[str, ...]


def ledger_rows(place: str | Path, vehicle: str | None, last: int | None) -> tuple[LedgerRow, ...]:
    """Return the records of a store, or those of one vehicle, in order; at most the last so many.

    Raises InputError where there is no store, or no such vehicle in it.
    """
    with closing(open_store(place, must_exist=True)) as store, store.reader() as reader:
        known = vehicles(reader.records(kinds=("vehicle.added",)))
        if vehicle is not None and vehicle not in known:
            names = ", ".join(known) or "none"
            raise InputError(Problem("vehicle", vehicle, "there is no such vehicle", allowed=names))
        wanted = reader.records() if vehicle is None else reader.records(vehicle=vehicle)
        everybody = people(reader.records(kinds=("person.added", "person.renamed")))
        told = corrections(reader.records(kinds=("record.corrected",)))
    shown = wanted if last is None else wanted[-last:]
    return tuple(_row(each, everybody, told.get(each.number, ())) for each in shown)


def _row(
    record: Record, everybody: Mapping[str, Person], corrected: Iterable[Correction]
) -> LedgerRow:
    kind = KINDS.get(record.kind)
    return LedgerRow(
        record.number,
        record.at.strftime("%Y-%m-%d %H:%M:%S UTC"),
        kind.label if kind else record.kind,
        _name(record.by, everybody),
        ", ".join(f"{subject} {name}" for subject, name in record.about.items()),
        "; ".join(f"{key}: {_short(value)}" for key, value in record.body.items()),
        tuple(
            f"corrected by record {each.number}, {_name(each.by, everybody)}: "
            f"{each.what} ({each.reason})"
            for each in corrected
        ),
    )


def _name(person: str, everybody: Mapping[str, Person]) -> str:
    if person == LOCAL:
        return "local user"
    return everybody[person].name if person in everybody else person


def _short(value: object) -> str:
    text = value if isinstance(value, str) else canonical([value])[1:-1]
    return text if len(text) <= LONGEST_TEXT else f"{text[:LONGEST_TEXT]} ..."
