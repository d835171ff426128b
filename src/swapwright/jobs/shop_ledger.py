"""The ledger as the shop's own page shows it: verified, signed, held against what lies outside."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass

from swapwright.base.errors import InputError, Problem
from swapwright.jobs.ledger import LONGEST_CHECKPOINT, store_key
from swapwright.jobs.shop import Actor, Shop
from swapwright.jobs.shop_history import HistoryLine, history_lines, moment_words
from swapwright.records.checkpoint import (
    Checkpoint,
    checkpoint_now,
    checkpoint_of,
    kept_checkpoints,
)
from swapwright.records.record import Draft, Json, Record
from swapwright.records.verify import Verification, verify

MOST_CHECKPOINTS, MOST_REFUSALS, MOST_LINES = 20, 100, 50
DOWNLOADED = "a file, downloaded"

CANNOT_TELL = (
    "a change made after the last checkpoint that is held outside",
    "a lie told when it was written",
    "whoever has the signing key and also replaces the checkpoints held outside",
    "the whole database put back to how it was after the last checkpoint held outside",
    "the whole database taken away",
    "that somebody who can write to the database gave themselves another's session, or another's "
    "PIN for a while: what is then recorded is rightly chained",
)
"""What no verifying can show."""


@dataclass(frozen=True)
class CheckpointRow:
    """A checkpoint, and where it was given to."""

    checkpoint: Checkpoint
    at: str
    given_to: tuple[str, ...]


@dataclass(frozen=True)
class LedgerView:
    """The ledger: how long it is, its last records, its checkpoints, and who was refused what."""

    number: int
    groups: str
    checkpoints: tuple[CheckpointRow, ...]
    latest: tuple[HistoryLine, ...]
    refusals: tuple[HistoryLine, ...]


@dataclass(frozen=True)
class Told:
    """What verifying found, and what it was held against, as sentences."""

    found: Verification
    covered: str


def ledger_view(shop: Shop, actor: Actor) -> LedgerView:
    """Return the ledger as its page shows it."""
    shop.allow(actor, "read records")
    with shop.store.reader() as reader:
        number, chained = reader.head()
        latest = reader.records(after=max(number - MOST_LINES, 0))
        given = reader.records(kinds=("checkpoint.exported",))
        refused = reader.records(kinds=("access.refused",))
    kept = kept_checkpoints(shop.store)[-MOST_CHECKPOINTS:]
    return LedgerView(
        number,
        Checkpoint(number, chained, "").groups,
        tuple(_checkpoint(each, given) for each in reversed(kept)),
        history_lines(shop, latest),
        history_lines(shop, refused[-MOST_REFUSALS:]),
    )


def verify_now(
    shop: Shop, actor: Actor, given: Mapping[str, str], file: bytes = b"", name: str = ""
) -> Told:
    """Read the whole ledger and hold it against checkpoints given back: typed lines, or a file."""
    shop.allow(actor, "verify the ledger")
    outside = [_typed_back(each) for each in _texts(given.get("checkpoint", ""))]
    if file:
        outside.append(_of_file(file, name))
    found = verify(shop.store, outside)
    if not found.against:
        words = (
            "It was held against nothing from outside. Whoever can write to the database can write "
            "all of it anew so that this does not show: give back a checkpoint."
        )
    else:
        words = f"Up to record {found.covered} every change shows."
        if found.records > found.covered:
            words += f" Records {found.covered + 1} to {found.records} came after it."
    return Told(found, words)


def checkpoint_given(shop: Shop, actor: Actor, to: str) -> Checkpoint:
    """Sign the ledger as it is, and put on record where that goes."""
    shop.allow(actor, "verify the ledger")
    checkpoint = checkpoint_now(shop.store, store_key(shop.place, shop.key), shop.now())
    body: dict[str, Json] = {
        "number": checkpoint.number,
        "chained": checkpoint.chained,
        "to": to,
    }
    shop.write(Draft("checkpoint.exported", actor.person, {}, body))
    return checkpoint


def checkpoint_at(shop: Shop, number: int) -> Checkpoint | None:
    """Return the checkpoint that is kept of a record, None where there is none."""
    return next((each for each in kept_checkpoints(shop.store) if each.number == number), None)


def _checkpoint(checkpoint: Checkpoint, given: tuple[Record, ...]) -> CheckpointRow:
    to = (
        f"{each.body['to']}, {moment_words(each.at)}"
        for each in given
        if (each.body["number"], each.body["chained"]) == (checkpoint.number, checkpoint.chained)
    )
    return CheckpointRow(checkpoint, checkpoint.at, tuple(to))


def _texts(text: str) -> list[str]:
    """Return the checkpoints in what was pasted: one document, or a line each."""
    stripped = text.strip()
    if len(stripped) > LONGEST_CHECKPOINT:
        raise InputError(Problem("", "checkpoint", "this is too long for a checkpoint"))
    if stripped.startswith("{"):
        return [stripped]
    return [each for each in stripped.splitlines() if each.strip()]


def _typed_back(text: str) -> Checkpoint:
    try:
        return checkpoint_of(text, "checkpoint")
    except InputError as error:
        first = error.problems[0]
        raise InputError(
            Problem("", "checkpoint", first.message, text[:80], first.allowed)
        ) from None


def _of_file(file: bytes, name: str) -> Checkpoint:
    try:
        text = file[: LONGEST_CHECKPOINT + 1].decode("utf-8")
        return checkpoint_of(json.dumps(json.loads(text)))
    except (ValueError, InputError, RecursionError):
        raise InputError(
            Problem("", "file", "this is no checkpoint's file", name[:80], "checkpoint-....json")
        ) from None
