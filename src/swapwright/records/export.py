"""A vehicle's whole history as one file that can be verified without the store.

The chain runs over every record of the shop, so the file has a hash for each; what the others say
is not in it.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Iterable, Mapping, Set
from dataclasses import dataclass
from typing import Any

from swapwright.base.errors import InputError, Problem
from swapwright.records.canonical import GENESIS, canonical, chained_hash, content_hash
from swapwright.records.checkpoint import Checkpoint, checkpoint_of, is_signed
from swapwright.records.reader import Reader, about_of
from swapwright.records.record import SUBJECTS
from swapwright.records.store import Store

FORMAT = "swapwright history 1"
TOLD_TOO = ("person.", "competence.", "item.", "incident.")
"""What the kinds begin with that are told of whoever and whatever a vehicle's records name."""
ABOUT_IT = (
    "Each entry of `records` has the hash of a record's content; those of this vehicle have the "
    "record too. content = SHA-256 of the JSON [number, at, kind, by, about, body, key], keys "
    "sorted, no spaces, UTF-8. chained = SHA-256 of the bytes of the chained hash before and of "
    "content; the first follows `genesis`. The checkpoint's signature is Ed25519 over the JSON "
    '["swapwright checkpoint 1", number, chained, at]. Pictures are base64, named by their SHA-256.'
)


@dataclass(frozen=True)
class History:
    """What a history file holds, and what is wrong with it.

    ``own`` counts the records it has in full; ``against`` are the checkpoints from outside it was
    held against.
    """

    vehicle: str
    records: int
    own: int
    checkpoint: Checkpoint
    against: tuple[Checkpoint, ...]
    faults: tuple[str, ...]


def history_document(store: Store, vehicle: str, checkpoint: Checkpoint) -> Mapping[str, Any]:
    """Return the history of a vehicle up to a checkpoint, ready to be written as JSON.

    The people and the equipment it names are in it, as the records tell of them.
    """
    with store.reader() as reader:
        rows = [row for row in reader.rows() if row.number <= checkpoint.number]
        own = {row.number for row in rows if row.vehicle == vehicle}
        named = _named(rows, vehicle)
        entries = []
        pictures: dict[str, Mapping[str, str]] = {}
        for row in rows:
            is_own = row.number in own or _tells_of(row, named) or _corrects(row, own)
            if is_own:
                own.add(row.number)
            entries.append(_entry(row, is_own=is_own))
            if is_own and row.kind == "photo.added":
                _picture(reader, json.loads(row.body).get("photo"), pictures)
    return {
        "format": FORMAT,
        "about": ABOUT_IT,
        "vehicle": vehicle,
        "genesis": GENESIS,
        "records": entries,
        "checkpoint": json.loads(checkpoint.document),
        "pictures": pictures,
    }


def _named(rows: Iterable[Any], vehicle: str) -> frozenset[str]:
    """Return the ids that occur in a vehicle's records: of people, items, permits, incidents."""
    found: set[str] = set()
    for row in rows:
        if row.vehicle == vehicle:
            found |= {row.by, *(getattr(row, subject) or "" for subject in SUBJECTS)}
            found |= set(_texts(json.loads(row.body)))
    return frozenset(found - {"", vehicle})


def _texts(value: Any) -> Iterable[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for each in value.values():
            yield from _texts(each)
    elif isinstance(value, list):
        for each in value:
            yield from _texts(each)


def _tells_of(row: Any, named: frozenset[str]) -> bool:
    """Tell whether a record of no vehicle says who or what is named in the vehicle's records."""
    if row.vehicle:
        return False
    about = {row.person, row.item, row.incident} - {None}
    return bool(about & named) and row.kind.startswith(TOLD_TOO)


def _corrects(row: Any, own: Set[int]) -> bool:
    """Tell whether a record is a correction of one of those."""
    if row.kind != "record.corrected":
        return False
    corrects = json.loads(row.body)["corrects"]
    return isinstance(corrects, int) and corrects in own


def _entry(row: Any, *, is_own: bool) -> Mapping[str, Any]:
    if not is_own:
        return {"content": row.content}
    return {
        "content": row.content,
        "number": row.number,
        "at": row.at,
        "kind": row.kind,
        "by": row.by,
        "about": dict(about_of(row)),
        "body": row.body,
        "key": row.key,
    }


def _picture(reader: Reader, name: str, pictures: dict[str, Mapping[str, str]]) -> None:
    found = reader.attachment(name)
    if found is not None:
        text = base64.b64encode(found[1]).decode("ascii")
        pictures[name] = {"media_type": found[0], "content": text}


def read_history(text: str, file: str, against: Iterable[Checkpoint] = ()) -> History:
    """Verify a history file by itself, and against checkpoints that came another way.

    Raises InputError where it is none. By itself it only shows that it hangs together: whoever
    makes another one signs it with another key.
    """
    outside = tuple(against)
    try:
        read = json.loads(text)
        if read["format"] != FORMAT:
            raise ValueError
        entries, pictures = read["records"], read["pictures"]
        checkpoint = checkpoint_of(canonical(read["checkpoint"]), file)
        faults = [
            *_chain_faults(entries, checkpoint, outside),
            *_picture_faults(entries, pictures),
        ]
        own = sum("body" in each for each in entries)
        return History(str(read["vehicle"]), len(entries), own, checkpoint, outside, tuple(faults))
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise InputError(
            Problem(file, "", "this is no history of a vehicle", allowed="a file as exported")
        ) from None


def _chain_faults(
    entries: Iterable[Mapping[str, Any]], checkpoint: Checkpoint, outside: Iterable[Checkpoint]
) -> Iterable[str]:
    links = [GENESIS]
    for number, each in enumerate(entries, start=1):
        content = str(each["content"])
        if "body" in each:
            said = (each["number"], each["at"], each["kind"], each["by"], each["about"])
            if content_hash(*said, each["body"], each["key"]) != content:
                yield f"record {number}: what it says is not what was written"
            if each["number"] != number:
                yield f"record {number}: out of place"
        links.append(chained_hash(links[-1], content))
    if (checkpoint.number, checkpoint.chained) != (len(links) - 1, links[-1]):
        yield "the records do not lead to the checkpoint in the file"
    if not is_signed(checkpoint):
        yield "the checkpoint in the file is not signed by the key it names"
    for held in outside:
        told = f"the checkpoint of record {held.number}, from outside,"
        if held.signature and not is_signed(held):
            yield f"{told} is not signed by the key it names"
        if held.number >= len(links):
            yield f"{told} is later than this file"
        elif links[held.number] != held.chained:
            yield f"{told} says another history up to there"


def _picture_faults(
    entries: Iterable[Mapping[str, Any]], pictures: Mapping[str, Mapping[str, str]]
) -> Iterable[str]:
    for each in entries:
        if each.get("kind") != "photo.added":
            continue
        name = json.loads(each["body"])["photo"]
        content = base64.b64decode(pictures[name]["content"]) if name in pictures else None
        if content is None:
            yield f"record {each['number']}: the picture it names is not in the file"
        elif hashlib.sha256(content).hexdigest() != name:
            yield f"record {each['number']}: the picture it names is another one"
