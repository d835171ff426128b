from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from postgres_server import serving_postgres
from sqlalchemy import text

from swapwright.records.engine import engine_of
from swapwright.records.store import Store, open_store

START = datetime(2026, 11, 27, 8, 0, tzinfo=UTC)


class Clock:
    """A clock that goes on by a second at every look, and can be set."""

    def __init__(self, at: datetime = START) -> None:
        self.at = at

    def __call__(self) -> datetime:
        self.at += timedelta(seconds=1)
        return self.at


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture(scope="session")
def postgres() -> Iterator[str]:
    """A server of PostgreSQL for this run, reached by a socket of its own; skipped without one."""
    with serving_postgres() as found:
        yield found


@pytest.fixture(scope="session")
def databases(postgres: str) -> Iterator[tuple[Callable[[], str], Callable[[str], None]]]:
    """Gives the URL of an empty database on the server, and takes one back to empty it."""
    made = iter(range(1, 10_000))
    empty: list[str] = []
    owner = engine_of(postgres.format("postgres"))

    def give() -> str:
        if empty:
            return empty.pop()
        name = f"shop{next(made)}"
        with owner.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
            connection.execute(text(f"CREATE DATABASE {name}"))
        return postgres.format(name)

    def take_back(url: str) -> None:
        engine = engine_of(url)
        with engine.begin() as connection:
            connection.execute(text("DROP SCHEMA public CASCADE"))
            connection.execute(text("CREATE SCHEMA public"))
        engine.dispose()
        empty.append(url)

    yield give, take_back
    owner.dispose()


@pytest.fixture
def fresh_database(databases) -> Iterator[Callable[[], str]]:
    """Gives empty databases for one test."""
    give, take_back = databases
    given: list[str] = []

    def make() -> str:
        given.append(give())
        return given[-1]

    yield make
    for url in given:
        take_back(url)


@pytest.fixture(params=["sqlite", "postgres"])
def place(request, tmp_path: Path) -> str:
    """An empty place for a store, of either kind: every test of the store runs on both."""
    if request.param == "sqlite":
        return str(tmp_path / "shop.db")
    return request.getfixturevalue("fresh_database")()


@pytest.fixture
def store(place: str, clock: Clock) -> Iterator[Store]:
    """An empty store of either kind."""
    found = open_store(place, now=clock)
    yield found
    found.close()
