"""Backup while the shop works on, and restore where nothing is yet.

A backup is one file of SQLite, whatever the store lies in. It has no signing key and nobody's
session; it has the hashes of passwords and PINs, so it is kept as the store is.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, Select, Table, delete, func, insert, select
from sqlalchemy.exc import DatabaseError

from swapwright.base.errors import InputError, Problem
from swapwright.records.engine import engine_of, only_read, reading, writing
from swapwright.records.record import LOCAL, Draft, Json
from swapwright.records.schema import NEWEST, bring_up, schema_of
from swapwright.records.store import Store, open_store, utc_now
from swapwright.records.tables import ATTACHMENT, CHECKPOINT, HEAD, RECORD, SECRET, SESSION
from swapwright.records.verify import Verification, verify

COPIED = (RECORD, ATTACHMENT, CHECKPOINT, SECRET)
AT_ONCE = 200


def back_up(store: Store, file: Path) -> Verification:
    """Write a backup while others may go on writing, and say whether the chain in it holds.

    Raises InputError where there is a file of that name already.
    """
    if file.exists():
        raise InputError(Problem(str(file), "", "there is a file of that name already"))
    file.parent.mkdir(parents=True, exist_ok=True)
    beside = file.with_name(f"{file.name}.part")
    beside.unlink(missing_ok=True)
    os.close(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    try:
        if store.engine.dialect.name == "sqlite":
            _copy_file(store.engine, beside)
        else:
            _copy_rows(store.engine, beside)
        found = _verified(beside)
        beside.replace(file)
    finally:
        beside.unlink(missing_ok=True)
    return found


def _verified(file: Path) -> Verification:
    """Read a backup as it lies on the disk."""
    engine = only_read(file)
    try:
        return verify(Store(engine, utc_now))
    finally:
        engine.dispose()


def _copy_file(engine: Engine, file: Path) -> None:
    """Copy a database of SQLite page by page, as it was at one moment."""
    with reading(engine) as connection:
        source = connection.connection.driver_connection
        if not isinstance(source, sqlite3.Connection):
            raise TypeError("this is no connection to SQLite")
        target = sqlite3.connect(file)
        try:
            source.backup(target)
            target.execute("DELETE FROM session")
            target.commit()
            # What was deleted is not left in the pages, and one file is all there is.
            target.execute("VACUUM")
            target.execute("PRAGMA journal_mode=DELETE")
        finally:
            target.close()


def _copy_rows(engine: Engine, file: Path) -> None:
    """Copy a database row by row, as it was at one moment."""
    target = engine_of(file)
    try:
        with reading(engine) as source, writing(target) as connection:
            bring_up(connection, str(file))
            _copy(source, connection)
        with target.connect() as connection:
            connection.exec_driver_sql("ROLLBACK")
            connection.exec_driver_sql("PRAGMA journal_mode=DELETE")
    finally:
        target.dispose()


def _copy(source: Connection, target: Connection) -> None:
    for table in (*COPIED, HEAD):
        rows: list[dict[str, object]] = []
        for row in source.execute(_in_order(table), execution_options={"yield_per": AT_ONCE}):
            rows.append(dict(row._mapping))
            if len(rows) == AT_ONCE:
                target.execute(insert(table), rows)
                rows = []
        if rows:
            target.execute(insert(table), rows)


def _in_order(table: Table) -> Select[Any]:
    return select(table).order_by(*table.primary_key.columns)


def restore(
    file: Path, place: str | Path, *, now: Callable[[], datetime]
) -> tuple[Store, Verification]:
    """Restore a backup into a store that has no record yet, and say whether its chain holds.

    That it was restored is a record itself. Raises InputError where there are records, or the file
    is no backup.
    """
    source = _backup(file)
    store = open_store(place, now=now)
    try:
        with reading(source) as connection, writing(store.engine) as target:
            if target.execute(select(func.count()).select_from(RECORD)).scalar():
                raise InputError(
                    Problem(
                        store.engine.url.render_as_string(),
                        "",
                        "there are records in this store: nothing is written over them",
                        allowed="a store without a record",
                    )
                )
            for table in (ATTACHMENT, CHECKPOINT, SECRET, SESSION, HEAD):
                target.execute(delete(table))
            _copy(connection, target)
    except BaseException:
        store.close()
        raise
    finally:
        source.dispose()
    found = verify(store)
    body: dict[str, Json] = {"from": file.name, "number": found.records, "chained": found.chained}
    store.append(Draft("store.restored", LOCAL, {}, body))
    return store, found


def _backup(file: Path) -> Engine:
    """Return an engine for a backup; raise InputError where a file is none."""
    wrong = Problem(str(file), "", "this is no backup of a store", allowed="a file as backed up")
    if not file.is_file():
        raise InputError(Problem(str(file), "", "there is no such file"))
    engine = only_read(file)
    try:
        with engine.connect() as connection:
            found = schema_of(connection)
    except DatabaseError:
        raise InputError(wrong) from None
    if not found:
        raise InputError(wrong)
    if found > NEWEST:
        newer = "this backup was written by a newer Swapwright"
        raise InputError(
            Problem(str(file), "", newer, given=f"schema {found}", allowed=f"up to {NEWEST}")
        )
    return engine
