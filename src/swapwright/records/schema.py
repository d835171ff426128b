"""The schema of a store: made where there is none, brought up where it is older."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection, inspect, select
from sqlalchemy.sql import column, table

from swapwright.base.errors import InputError, Problem

NEWEST = "0001"
"""The last migration this program knows; a store beyond it is refused."""
MIGRATIONS = Path(__file__).parent / "migrations"
_VERSION = table("alembic_version", column("version_num"))


def schema_of(connection: Connection) -> str:
    """Return the schema a database is at; empty where it has none."""
    if not inspect(connection).has_table("alembic_version"):
        return ""
    found = connection.execute(select(_VERSION.c.version_num)).scalar()
    return found or ""


def bring_up(connection: Connection, place: str) -> None:
    """Make or upgrade the schema of a database; raise InputError for one that is newer.

    ``place`` is the store as a person named it.
    """
    found = schema_of(connection)
    if found == NEWEST:
        return
    if found > NEWEST:
        raise InputError(
            Problem(
                place,
                "",
                "this store was written by a newer Swapwright",
                given=f"schema {found}",
                allowed=f"up to {NEWEST}",
            )
        )
    # Only when there is something to do: it takes longer to come than all the rest.
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, NEWEST)
