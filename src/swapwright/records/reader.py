"""Reading the ledger on one connection."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from types import MappingProxyType
from typing import Any

from sqlalchemy import Connection, Row, Select, select

from swapwright.base.errors import InputError, Problem
from swapwright.records.canonical import GENESIS
from swapwright.records.record import SUBJECTS, Record
from swapwright.records.tables import ATTACHMENT, HEAD, RECORD

AT_ONCE = 500


class Reader:
    """The ledger as one transaction sees it."""

    def __init__(self, connection: Connection) -> None:
        """Take the connection; its owner ends it."""
        self.connection = connection

    def head(self) -> tuple[int, str]:
        """Return the number and the chained hash of the last record; 0 and the genesis of none."""
        row = self.connection.execute(select(HEAD.c.number, HEAD.c.chained)).first()
        return (0, GENESIS) if row is None else (row.number, row.chained)

    def records(
        self,
        *,
        after: int = 0,
        kinds: Sequence[str] = (),
        limit: int | None = None,
        **about: str,
    ) -> tuple[Record, ...]:
        """Return the records after a number, in order: of some kinds, about some ids."""
        return tuple(
            record_of(row) for row in self.connection.execute(_query(after, kinds, limit, about))
        )

    def rows(self) -> Iterator[Row[Any]]:
        """Yield every row of the ledger as it is kept, in order."""
        query = select(RECORD).order_by(RECORD.c.number)
        # Whoever stops reading half way leaves no cursor open behind.
        with self.connection.execute(query, execution_options={"yield_per": AT_ONCE}) as result:
            yield from result

    def with_key(self, key: str) -> Record | None:
        """Return the record a key was kept for, None where it was not."""
        row = self.connection.execute(select(RECORD).where(RECORD.c.key == key)).first()
        return None if row is None else record_of(row)

    def attachment(self, hash: str) -> tuple[str, bytes] | None:
        """Return the media type and the bytes of an attachment, None where there is none."""
        row = self.connection.execute(
            select(ATTACHMENT.c.media_type, ATTACHMENT.c.content).where(ATTACHMENT.c.hash == hash)
        ).first()
        return None if row is None else (row.media_type, row.content)


def _query(
    after: int, kinds: Sequence[str], limit: int | None, about: Mapping[str, str]
) -> Select[Any]:
    query = select(RECORD).where(RECORD.c.number > after).order_by(RECORD.c.number)
    if kinds:
        query = query.where(RECORD.c.kind.in_(kinds))
    for subject, value in about.items():
        query = query.where(RECORD.c[subject] == value)
    return query if limit is None else query.limit(limit)


def record_of(row: Row[Any]) -> Record:
    """Return a row of the ledger as a record; raise InputError for one that was spoiled."""
    try:
        at, body = datetime.fromisoformat(row.at), MappingProxyType(json.loads(row.body))
    except (TypeError, ValueError, RecursionError):
        raise InputError(
            Problem(
                "store",
                f"record {row.number}",
                "it was changed and can no longer be read",
                allowed="what was written: swapwright ledger verify",
            )
        ) from None
    return Record(
        number=row.number,
        at=at,
        kind=row.kind,
        by=row.by,
        about=about_of(row),
        body=body,
        key=row.key,
        content=row.content,
        chained=row.chained,
    )


def about_of(row: Row[Any]) -> Mapping[str, str]:
    """Return what a row is about."""
    found = {subject: getattr(row, subject) for subject in SUBJECTS}
    return MappingProxyType({subject: value for subject, value in found.items() if value})
