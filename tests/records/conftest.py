from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import text

from swapwright.records.engine import engine_of
from swapwright.records.store import Store, open_store

POSTGRES = sorted(Path("/usr/lib/postgresql").glob("*/bin"))
"""Where the server's programs lie on a Debian-like machine."""
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


def _as_server(folder: Path, *command: str) -> None:
    """Run one of the server's programs as somebody who is not root: it refuses to be."""
    who = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
    subprocess.run(
        [*who, *command], check=True, capture_output=True, timeout=60, cwd=folder, text=True
    )


@pytest.fixture(scope="session")
def postgres(tmp_path_factory) -> Iterator[str]:
    """A server of PostgreSQL for this run, reached by a socket of its own; skipped without one."""
    if not POSTGRES:
        pytest.skip("PostgreSQL's server is not installed (Debian: postgresql)")
    if os.geteuid() == 0 and shutil.which("runuser") is None:
        pytest.skip("the server of PostgreSQL does not run as root, and runuser is not there")
    programs = POSTGRES[-1]
    # Sockets have short names, and the server's user has to reach the folder.
    folder = Path(subprocess.check_output(["mktemp", "-d", "-t", "pgXXXXXX"], text=True).strip())
    try:
        folder.chmod(0o755)
        data = folder / "data"
        data.mkdir()
        if os.geteuid() == 0:
            shutil.chown(folder, "postgres")
            shutil.chown(data, "postgres")
        _as_server(folder, f"{programs}/initdb", "-D", str(data), "-U", "shop", "-A", "trust")
        options = f"-k {folder} -c listen_addresses='' -c max_connections=80"
        _as_server(
            folder,
            *(f"{programs}/pg_ctl", "-D", str(data), "-w", "-l", str(folder / "log")),
            *("-o", options, "start"),
        )
        try:
            yield f"postgresql://shop@/{{}}?host={folder}"
        finally:
            _as_server(folder, f"{programs}/pg_ctl", "-D", str(data), "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


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
