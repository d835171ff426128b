"""Signed checkpoints: what the ledger was at one record, to be kept where the database is not."""

from __future__ import annotations

import hashlib
import json
import re
from dataclasses import asdict, dataclass
from datetime import UTC, datetime

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from sqlalchemy import insert, select

from swapwright.base.errors import InputError, Problem
from swapwright.records.canonical import canonical, chained_hash
from swapwright.records.engine import reading, writing
from swapwright.records.reader import Reader
from swapwright.records.store import Store, locked
from swapwright.records.tables import CHECKPOINT

GROUP = 4
_PRINTED = re.compile(
    r"(\d{1,12})\D+?((?:[0-9a-f][\s-]*){64})(?:=\s*([0-9a-f]{4}))?(?![0-9a-f])", re.IGNORECASE
)
_HEX = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True)
class Checkpoint:
    """The last record's number and chained hash at a time (UTC, ISO 8601), signed.

    ``public_key`` and ``signature`` are in hexadecimal; both empty where a person typed the printed
    lines back: such a one shows what the ledger was, and not who says so.
    """

    number: int
    chained: str
    at: str
    public_key: str = ""
    signature: str = ""

    @property
    def groups(self) -> str:
        """Return the hash in groups of four, as it is printed."""
        return " ".join(self.chained[at : at + GROUP] for at in range(0, len(self.chained), GROUP))

    @property
    def printed(self) -> str:
        """Return the one line that can be typed back; its end tells a slip of the finger."""
        return f"record {self.number}: {self.groups} = {_check_group(self.number, self.chained)}"

    @property
    def document(self) -> str:
        """Return the whole of it as JSON, as a file and a QR code carry it."""
        return canonical({"swapwright_checkpoint": 1, **asdict(self)})


def _check_group(number: int, chained: str) -> str:
    """Return four characters that come out otherwise where one of the others was mistyped."""
    return hashlib.sha256(f"{number} {chained}".encode()).hexdigest()[:GROUP]


def _signed(number: int, chained: str, at: str) -> bytes:
    return canonical(["swapwright checkpoint 1", number, chained, at]).encode()


def sign(number: int, chained: str, at: datetime, key: Ed25519PrivateKey) -> Checkpoint:
    """Return a checkpoint of a record's number and chained hash, signed."""
    when = at.astimezone(UTC).isoformat(timespec="seconds")
    public = key.public_key().public_bytes_raw().hex()
    signature = key.sign(_signed(number, chained, when)).hex()
    return Checkpoint(number, chained, when, public, signature)


def is_signed(checkpoint: Checkpoint) -> bool:
    """Tell whether a checkpoint's signature is that of the key it names."""
    try:
        public = Ed25519PublicKey.from_public_bytes(bytes.fromhex(checkpoint.public_key))
        said = _signed(checkpoint.number, checkpoint.chained, checkpoint.at)
        public.verify(bytes.fromhex(checkpoint.signature), said)
    except (InvalidSignature, ValueError):
        return False
    return True


def checkpoint_now(store: Store, key: Ed25519PrivateKey, at: datetime) -> Checkpoint:
    """Sign the ledger as it is, and keep the checkpoint; the same head gives the one kept."""
    public = key.public_key().public_bytes_raw().hex()
    with writing(store.engine) as connection:
        locked(connection)
        number, chained = Reader(connection).head()
        name = chained_hash(chained, public)
        there = connection.execute(
            select(CHECKPOINT.c.document).where(CHECKPOINT.c.id == name)
        ).scalar()
        if there is not None:
            return checkpoint_of(there)
        made = sign(number, chained, at, key)
        row = {"id": name, "number": number, "document": made.document}
        connection.execute(insert(CHECKPOINT), [row])
    return made


def kept_checkpoints(store: Store) -> tuple[Checkpoint, ...]:
    """Return the checkpoints kept in the database, in order; these prove nothing by themselves."""
    return tuple(checkpoint_of(document) for document in kept_documents(store))


def kept_documents(store: Store) -> tuple[str, ...]:
    """Return the checkpoints kept in the database as the texts they are, whatever these say."""
    with reading(store.engine) as connection:
        query = select(CHECKPOINT.c.document).order_by(CHECKPOINT.c.number, CHECKPOINT.c.id)
        return tuple(connection.execute(query).scalars())


def checkpoint_of(text: str, file: str = "checkpoint") -> Checkpoint:
    """Return the checkpoint a text says: the JSON of one, or its printed line typed back.

    Raises InputError where it is neither. Whether it is signed is another question.
    """
    stripped = text.strip()
    if stripped.startswith("{"):
        return _of_json(stripped, file)
    found = _PRINTED.search(stripped)
    if found is None:
        raise _unreadable(file)
    number, chained = int(found[1]), re.sub(r"[^0-9a-f]", "", found[2].lower())
    if found[3] is not None and found[3].lower() != _check_group(number, chained):
        raise InputError(
            Problem(
                file,
                "",
                "this line was mistyped: its last four characters do not fit the others",
                allowed="the line as printed",
            )
        )
    return Checkpoint(number, chained, "")


def _of_json(text: str, file: str) -> Checkpoint:
    try:
        read = json.loads(text)
        found = Checkpoint(
            **{name: read[name] for name in ("number", "chained", "at", "public_key", "signature")}
        )
    except (ValueError, KeyError, TypeError, RecursionError):
        raise _unreadable(file) from None
    texts = (found.chained, found.at, found.public_key, found.signature)
    if (
        type(found.number) is not int
        or found.number < 0
        or not all(isinstance(each, str) for each in texts)
        or _HEX.fullmatch(found.chained) is None
    ):
        raise _unreadable(file)
    return found


def _unreadable(file: str) -> InputError:
    return InputError(
        Problem(
            file,
            "",
            "this is no checkpoint",
            allowed="a checkpoint's file, or its printed line: record, number, 64 characters",
        )
    )
