"""The store: one ledger to which records are added, and nothing else."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import TypeAlias

from sqlalchemy import Connection, Engine, insert, select, update
from sqlalchemy.exc import DatabaseError

from swapwright.base.errors import InputError, Problem
from swapwright.records.canonical import GENESIS, canonical, chained_hash, content_hash
from swapwright.records.engine import (
    alone_with_schema,
    engine_of,
    reading,
    url_of,
    writing,
)
from swapwright.records.kinds import KINDS
from swapwright.records.reader import Reader
from swapwright.records.record import SUBJECTS, Draft, Record
from swapwright.records.schema import bring_up, schema_of
from swapwright.records.tables import ATTACHMENT, HEAD, RECORD

Guard: TypeAlias = Callable[[Reader], None]
"""Looks at the store as it is when a record is to be added, and raises to refuse it."""

LONGEST_BODY = 4_000_000
"""Characters a record's body may have: a build file and a procedure fit."""
CANNOT = "the store cannot be opened"
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._:@-]{0,79}")


class Store:
    """A shop's records in one database."""

    def __init__(self, engine: Engine, now: Callable[[], datetime]) -> None:
        """Take an engine whose schema is up to date, and the clock records are dated by."""
        self.engine = engine
        self._now = now

    def append(self, *drafts: Draft, guard: Guard | None = None) -> tuple[Record, ...]:
        """Add records, all or none, and return them as kept.

        ``guard`` is asked first, in the same transaction: nobody writes between. A draft whose key
        is kept already gives the record kept, and the guard is not asked of it. Raises InputError
        for a draft that is no record.
        """
        texts = [_body_text(draft) for draft in drafts]
        _of_their_own_keys(drafts)
        with writing(self.engine) as connection:
            locked(connection)
            reader = Reader(connection)
            found = [_kept(reader, draft, text) for draft, text in zip(drafts, texts, strict=True)]
            if guard is not None and not all(found):
                guard(reader)
            number, chained = reader.head()
            kept: list[Record] = []
            rows = []
            at = self._now().astimezone(UTC).isoformat(timespec="microseconds")
            for draft, text, there in zip(drafts, texts, found, strict=True):
                if there is not None:
                    kept.append(there)
                    continue
                number += 1
                row = _row(draft, text, number, at, chained)
                chained = str(row["chained"])
                rows.append(row)
                kept.append(_record(draft, row, at))
            if rows:
                connection.execute(insert(RECORD), rows)
                connection.execute(update(HEAD).values(number=number, chained=chained))
        return tuple(kept)

    def records(
        self,
        *,
        after: int = 0,
        kinds: Sequence[str] = (),
        limit: int | None = None,
        **about: str,
    ) -> tuple[Record, ...]:
        """Return the records after a number, in order: of some kinds, about some ids."""
        with self.reader() as reader:
            return reader.records(after=after, kinds=kinds, limit=limit, **about)

    def head(self) -> tuple[int, str]:
        """Return the number and the chained hash of the last record."""
        with self.reader() as reader:
            return reader.head()

    @contextmanager
    def reader(self) -> Iterator[Reader]:
        """Give a reader that sees the store as it is now, for as long as it is used."""
        with reading(self.engine) as connection:
            yield Reader(connection)

    def put_attachment(self, content: bytes, media_type: str) -> str:
        """Keep bytes under their SHA-256, and return that; the same bytes are kept once."""
        name = hashlib.sha256(content).hexdigest()
        with writing(self.engine) as connection:
            locked(connection)
            there = select(ATTACHMENT.c.hash).where(ATTACHMENT.c.hash == name)
            if connection.execute(there).first() is None:
                row = {"hash": name, "media_type": media_type, "content": content}
                connection.execute(insert(ATTACHMENT), [row])
        return name

    def attachment(self, hash: str) -> tuple[str, bytes] | None:
        """Return the media type and the bytes of an attachment, None where there is none."""
        with self.reader() as reader:
            return reader.attachment(hash)

    def close(self) -> None:
        """Let the database go."""
        self.engine.dispose()


def utc_now() -> datetime:
    """Return the time of day in UTC."""
    return datetime.now(UTC)


def open_store(
    place: str | Path, *, now: Callable[[], datetime] = utc_now, must_exist: bool = False
) -> Store:
    """Open a store at a file's path or a database's URL; make it where there is none.

    With ``must_exist`` none is made. Raises InputError where it cannot be opened, was written by a
    newer program, or is not there and has to be.
    """
    url = url_of(place)
    if must_exist and url.get_backend_name() == "sqlite" and not Path(url.database or "").is_file():
        raise _no_store(str(place))
    try:
        engine = engine_of(place)
    except OSError as error:
        why = error.strerror or "no answer"
        raise InputError(Problem(str(place), "", CANNOT, given=why)) from None
    named = engine.url.render_as_string(hide_password=True)
    try:
        with writing(engine) as connection:
            alone_with_schema(connection)
            if must_exist and not schema_of(connection):
                raise _no_store(named)
            bring_up(connection, named)
            if connection.execute(select(HEAD.c.id)).first() is None:
                connection.execute(insert(HEAD), [{"id": 1, "number": 0, "chained": GENESIS}])
    except InputError:
        engine.dispose()
        raise
    except DatabaseError as error:
        engine.dispose()
        why = str(error.orig).splitlines()[0] if error.orig else "no answer"
        raise InputError(Problem(named, "", CANNOT, given=why)) from None
    return Store(engine, now)


def _no_store(place: str) -> InputError:
    return InputError(Problem(place, "", "there is no store of records here"))


def locked(connection: Connection) -> None:
    """Wait until nobody else writes; whoever holds the head is the only one to add to it."""
    if connection.dialect.name != "sqlite":
        connection.execute(select(HEAD.c.id).with_for_update())


def _body_text(draft: Draft) -> str:
    """Return a draft's body as it will be kept; raise InputError for a draft that is no record."""
    kind = KINDS.get(draft.kind)
    if kind is None:
        raise _no_record(draft, "there is no such kind of record")
    lacks = [each for each in kind.about if each not in draft.about]
    lacks += [each for each in kind.keys if each not in draft.body]
    if lacks:
        raise _no_record(draft, f"it does not say {', '.join(lacks)}")
    extra = [each for each in draft.body if each not in (*kind.keys, *kind.may)]
    extra += [each for each in draft.about if each not in SUBJECTS]
    if extra:
        raise _no_record(draft, f"it says what such a record does not: {', '.join(extra)}")
    for value in (draft.by, draft.key, *draft.about.values()):
        if not isinstance(value, str) or _ID.fullmatch(value) is None:
            raise _no_record(draft, "a name in it is no id")
    try:
        text = canonical(dict(draft.body))
        text.encode("utf-8")
    except (TypeError, ValueError, RecursionError):
        raise _no_record(draft, "it cannot be written as JSON") from None
    if len(text) > LONGEST_BODY:
        raise _no_record(draft, f"it is too long: up to {LONGEST_BODY} characters")
    return text


def _of_their_own_keys(drafts: Sequence[Draft]) -> None:
    """Raise InputError where two drafts that are to be kept together have one key."""
    seen: set[str] = set()
    for draft in drafts:
        if draft.key in seen:
            raise _no_record(draft, "its key is that of another record beside it")
        seen.add(draft.key)


def _no_record(draft: Draft, words: str) -> InputError:
    return InputError(Problem("record", draft.kind[:60], words))


def _kept(reader: Reader, draft: Draft, text: str) -> Record | None:
    """Return the record a key was kept for; raise InputError where it said another thing."""
    there = reader.with_key(draft.key)
    if there is None:
        return None
    said = (there.kind, there.by, dict(there.about), canonical(dict(there.body)))
    if said != (draft.kind, draft.by, dict(draft.about), text):
        raise _no_record(draft, "its key was used for another record already")
    return there


def _row(
    draft: Draft, text: str, number: int, at: str, before: str
) -> Mapping[str, str | int | None]:
    content = content_hash(number, at, draft.kind, draft.by, draft.about, text, draft.key)
    return {
        "number": number,
        "at": at,
        "kind": draft.kind,
        "by": draft.by,
        **{subject: draft.about.get(subject) for subject in SUBJECTS},
        "body": text,
        "key": draft.key,
        "content": content,
        "chained": chained_hash(before, content),
    }


def _record(draft: Draft, row: Mapping[str, str | int | None], at: str) -> Record:
    return Record(
        number=int(row["number"] or 0),
        at=datetime.fromisoformat(at),
        kind=draft.kind,
        by=draft.by,
        about=dict(draft.about),
        body=dict(draft.body),
        key=draft.key,
        content=str(row["content"]),
        chained=str(row["chained"]),
    )
