"""Connections to the database a store lies in: SQLite in one file, or PostgreSQL by URL."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path
from threading import RLock
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, func, select
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError, NoSuchModuleError
from sqlalchemy.pool import NullPool

from swapwright.base.errors import InputError, Problem

BUSY_TIMEOUT = 10_000
"""How long a writer waits for another one, ms."""
PRAGMAS = (
    ("journal_mode", "WAL"),
    ("synchronous", "FULL"),
    ("foreign_keys", "ON"),
    ("busy_timeout", str(BUSY_TIMEOUT)),
)
"""What every connection to SQLite is set to; with these an acknowledged write is on the disk."""

AT_ONCE = 20
"""Connections a store keeps at most; whoever comes beyond them waits for one."""

_WRITES = "swapwright_writes"
_TURN = "swapwright_turn"
"""A lock the writers of one process queue at: a database lets some of them wait for seconds."""
_LOCK_OF_SCHEMA = 0x5377_6170
"""PostgreSQL's own lock by number: of two that open an empty database one makes the schema."""


def to_read(file: Path) -> Engine:
    """Return an engine for a file of SQLite that is never written to."""
    url = URL.create(
        "sqlite", database=f"file:{file.resolve()}", query={"mode": "ro", "uri": "true"}
    )
    return create_engine(url, hide_parameters=True)


def engine_of(place: str | Path) -> Engine:
    """Return an engine for a file's path or a database's URL; raise InputError for another thing.

    A password in the URL never shows in what is raised.
    """
    url = url_of(place)
    if url.get_backend_name() == "sqlite":
        return _sqlite(url)
    if url.get_backend_name() != "postgresql":
        raise InputError(
            Problem(
                str(place),
                "",
                "not a database the store can lie in",
                given=url.get_backend_name(),
                allowed="a file's path, or postgresql://...",
            )
        )
    try:
        return create_engine(
            url.set(drivername="postgresql+psycopg"),
            pool_pre_ping=True,
            hide_parameters=True,
            pool_size=AT_ONCE,
            max_overflow=0,
            connect_args={"options": "-c synchronous_commit=on"},
            execution_options={_TURN: RLock()},
        )
    except ModuleNotFoundError:
        raise InputError(
            Problem(
                url.render_as_string(),
                "",
                "the driver for PostgreSQL is not installed",
                allowed="install swapwright[postgres]",
            )
        ) from None


def url_of(place: str | Path) -> URL:
    """Return the URL of a place: a path is a file of SQLite."""
    text = str(place)
    if "://" not in text:
        return URL.create("sqlite", database=text)
    try:
        return make_url(text)
    except (ArgumentError, NoSuchModuleError, ValueError):
        raise InputError(Problem("store", "", "not a database's URL")) from None


def _sqlite(url: URL) -> Engine:
    if not url.database or url.database == ":memory:":
        raise InputError(Problem("store", "", "a store lies in a file, not in memory"))
    _make_private(Path(url.database))
    engine = create_engine(
        url,
        hide_parameters=True,
        pool_size=AT_ONCE,
        max_overflow=0,
        execution_options={_TURN: RLock()},
    )

    @event.listens_for(engine, "connect")
    def _set_up(connection: Any, _: Any) -> None:
        # The transaction is begun by us, below: the driver's own comes too late to lock.
        connection.isolation_level = None
        for name, value in PRAGMAS:
            connection.execute(f"PRAGMA {name}={value}")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get(_WRITES, False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _make_private(file: Path) -> None:
    """Make an empty file for a database that its owner alone can read: passwords' hashes are in it.

    SQLite makes the files beside it with the same rights.
    """
    file.parent.mkdir(parents=True, exist_ok=True)
    with suppress(FileExistsError):
        os.close(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))


def only_read(file: Path) -> Engine:
    """Return an engine for a file of SQLite that is there, and is not written to."""
    address = f"{file.resolve().as_uri()}?mode=ro"
    return create_engine(
        "sqlite://",
        creator=lambda: sqlite3.connect(address, uri=True),
        poolclass=NullPool,
    )


def alone_with_schema(connection: Connection) -> None:
    """Wait until nobody else makes or upgrades the schema; SQLite has but one who writes."""
    if connection.dialect.name == "postgresql":
        connection.execute(select(func.pg_advisory_xact_lock(_LOCK_OF_SCHEMA)))


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """Give a connection in a transaction that is the only one to write."""
    turn = engine.get_execution_options().get(_TURN) or nullcontext()
    with turn, engine.connect() as plain:
        connection = plain.execution_options(**{_WRITES: True})
        with connection.begin():
            yield connection


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """Give a connection in a transaction that sees the store as it was when it began."""
    options: dict[str, Any] = {}
    if engine.dialect.name == "postgresql":
        options["isolation_level"] = "REPEATABLE READ"
    with engine.connect().execution_options(**options) as connection, connection.begin():
        yield connection
