"""Whether the ledger is what it was: every link of the chain, and what is held outside it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Row, select
from sqlalchemy.exc import DatabaseError

from swapwright.base.errors import InputError
from swapwright.records.canonical import GENESIS, chained_hash, content_hash
from swapwright.records.checkpoint import (
    Checkpoint,
    checkpoint_of,
    is_signed,
    kept_documents,
)
from swapwright.records.reader import Reader, about_of
from swapwright.records.secrets import proof_of
from swapwright.records.store import Store
from swapwright.records.tables import ATTACHMENT, SECRET

MOST_TOLD = 50
"""Faults told one by one; a history written anew has one at every record."""


@dataclass(frozen=True)
class Fault:
    """One thing that is not as it was; ``number`` is the record's, None for none in particular."""

    number: int | None
    words: str


@dataclass(frozen=True)
class Verification:
    """What was found: how many records, the last one's hash, faults, and remarks that are none.

    ``against`` are the checkpoints from outside it was held against; before the last of them every
    change shows. ``covered`` is its record's number, 0 where none was given.
    """

    records: int
    chained: str
    faults: tuple[Fault, ...]
    remarks: tuple[str, ...]
    against: tuple[Checkpoint, ...]
    covered: int


def verify(store: Store, against: Iterable[Checkpoint] = ()) -> Verification:
    """Read the whole ledger and say what is not as it was.

    ``against`` are checkpoints that were held outside the database.
    """
    outside = tuple(against)
    faults: list[Fault] = []
    inside = _readable(store, faults)
    chain = _Chain({each.number for each in (*outside, *inside)})
    try:
        with store.reader() as reader:
            faults += chain.faults(reader.rows())
            faults += _head(reader, chain)
            faults += _attachments(reader, chain.attachments)
            faults += _secrets(reader, chain.proofs)
    except DatabaseError:
        # A file with torn pages, or bytes that are no text: what follows cannot even be read.
        faults.append(Fault(None, f"the database cannot be read after record {chain.number}"))
    for each in inside:
        if not each.signature:
            faults.append(Fault(None, "a checkpoint kept in the store has no signature"))
        faults += _held(chain, each, "kept in the store")
    for each in outside:
        faults += _held(chain, each, "from outside")
    chain.remarks += _signers(inside, outside)
    return Verification(
        records=chain.number,
        chained=chain.chained,
        faults=tuple(faults[:MOST_TOLD]),
        remarks=tuple(chain.remarks[:MOST_TOLD]),
        against=outside,
        covered=max((each.number for each in outside), default=0),
    )


def _readable(store: Store, faults: list[Fault]) -> tuple[Checkpoint, ...]:
    """Return the checkpoints kept in the store; one that is none is a fault."""
    found = []
    for document in kept_documents(store):
        try:
            found.append(checkpoint_of(document))
        except InputError:
            faults.append(Fault(None, "a checkpoint kept in the store is none"))
    return tuple(found)


def _signers(inside: Iterable[Checkpoint], outside: Iterable[Checkpoint]) -> Iterator[str]:
    """Yield a remark where not all checkpoints are of one key, and where one names none."""
    keys = {each.public_key for each in (*inside, *outside) if each.public_key}
    if len(keys) > 1:
        yield f"the checkpoints were signed with {len(keys)} different keys"
    for each in outside:
        if not each.signature:
            yield f"the checkpoint of record {each.number} was typed: who signed it is not known"


class _Chain:
    """The chain as it is read, link by link."""

    def __init__(self, wanted: set[int]) -> None:
        self.wanted = wanted
        self.number = 0
        self.chained = GENESIS
        self.at_number = {0: GENESIS}
        self.attachments: dict[str, int] = {}
        self.proofs: dict[tuple[str, str], tuple[int, str]] = {}
        self.remarks: list[str] = []
        self._before: datetime | None = None

    def faults(self, rows: Iterable[Row[Any]]) -> Iterator[Fault]:
        for row in rows:
            self.number += 1
            if row.number != self.number:
                yield Fault(row.number, f"a record is not there, or out of place: {self.number}")
                self.number = row.number
            yield from self._link(row)
            if self.number in self.wanted:
                self.at_number[self.number] = self.chained

    def _link(self, row: Row[Any]) -> Iterator[Fault]:
        try:
            content = content_hash(
                row.number, row.at, row.kind, row.by, about_of(row), row.body, row.key
            )
        except (TypeError, ValueError):
            # SQLite keeps bytes or a number where text belongs; no record was ever written so.
            content = GENESIS
        chained = chained_hash(self.chained, content)
        if content != row.content:
            yield Fault(row.number, "what the record says is not what was written")
        elif chained != row.chained:
            yield Fault(row.number, "the record does not follow from the one before it")
        # What the chain says, not what the row claims: one change shows at every record after it.
        self.chained = chained
        self._read(row)

    def _read(self, row: Row[Any]) -> None:
        try:
            at = datetime.fromisoformat(row.at)
            body = json.loads(row.body)
        except (TypeError, ValueError, RecursionError):
            return
        if at.tzinfo is None:
            return
        if self._before is not None and at < self._before:
            self.remarks.append(
                f"record {row.number}: the clock stood earlier than at the record before it"
            )
        self._before = at
        if row.kind == "photo.added" and isinstance(body, dict):
            self.attachments.setdefault(str(body.get("photo")), row.number)
        if row.kind == "secret.set" and isinstance(body, dict) and body.get("proof"):
            whose = (str(row.person), str(body.get("which")))
            self.proofs[whose] = (row.number, str(body["proof"]))


def _head(reader: Reader, chain: _Chain) -> Iterator[Fault]:
    if reader.head() != (chain.number, chain.chained):
        yield Fault(None, "the store's own note of the last record is not that of the last record")


def _attachments(reader: Reader, wanted: dict[str, int]) -> Iterator[Fault]:
    """Yield a fault for each picture a record names that is not there as it was."""
    for name, number in wanted.items():
        found = reader.connection.execute(
            select(ATTACHMENT.c.content, ATTACHMENT.c.media_type).where(ATTACHMENT.c.hash == name)
        ).first()
        if found is None:
            yield Fault(number, "the picture it names is not there")
        elif hashlib.sha256(found.content).hexdigest() != name:
            yield Fault(number, "the picture it names is another one")
        elif found.media_type != "image/jpeg":
            yield Fault(number, "the picture it names is no longer shown as one")


def _secrets(reader: Reader, wanted: dict[tuple[str, str], tuple[int, str]]) -> Iterator[Fault]:
    """Yield a fault for each password or PIN that is not the one that was set last."""
    for (person, which), (number, proof) in wanted.items():
        found = reader.connection.execute(
            select(SECRET.c.hash).where((SECRET.c.person == person) & (SECRET.c.which == which))
        ).first()
        if found is None or proof_of(str(found.hash)) != proof:
            named = "PIN" if which == "pin" else "password"
            yield Fault(number, f"the {named} kept for {person} is not the one that was set")


def _held(chain: _Chain, each: Checkpoint, where: str) -> Iterator[Fault]:
    """Yield what does not agree with a checkpoint."""
    told = f"the checkpoint of record {each.number}, {where},"
    if each.signature and not is_signed(each):
        yield Fault(None, f"{told} is not signed by the key it names")
    if each.number > chain.number:
        yield Fault(None, f"{told} is of a record that is not there any more")
    elif chain.at_number.get(each.number) != each.chained:
        yield Fault(None, f"{told} says another history up to there")
