"""Who is logged in: sessions known by the hash of a token only its browser has."""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Row, delete, insert, select, update

from swapwright.records.engine import reading, writing
from swapwright.records.store import Store, locked
from swapwright.records.tables import SESSION

LONGEST = 12 * 3600.0
IDLE = 30 * 60.0
"""How long a session lasts at most, and without being used, s."""
NOTED_EVERY = 60.0
"""How often it is noted that a session was used, s: not at every picture of a page."""
STOLEN = "used from another browser or address"
RUN_OUT, UNUSED, LOGGED_OUT = "run out", "not used for a while", "logged out"


@dataclass(frozen=True)
class Session:
    """A session that holds: whose, and the token its forms carry."""

    person: str
    form_token: str


@dataclass(frozen=True)
class Ended:
    """A session that holds no more: whose it was, and why; ``is_news`` where it ended just now."""

    person: str
    why: str
    is_news: bool


def begin_session(store: Store, person: str, address: str, agent: str, now: datetime) -> str:
    """Begin a session and return its token, which is kept nowhere else."""
    token = secrets.token_urlsafe(32)
    clock = now.timestamp()
    row = {
        "hash": _hash(token),
        "person": person,
        "made": clock,
        "seen": clock,
        "address": address[:80],
        "agent": _hash(agent),
        "form_token": secrets.token_urlsafe(32),
        "ended": "",
    }
    with writing(store.engine) as connection:
        locked(connection)
        connection.execute(delete(SESSION).where(SESSION.c.made < clock - 2 * LONGEST))
        connection.execute(insert(SESSION), [row])
    return token


def session_of(
    store: Store,
    token: str,
    address: str,
    agent: str,
    now: datetime,
    *,
    idle: float = IDLE,
    is_use: bool = True,
) -> Session | Ended | None:
    """Return the session of a token, why it ended, or None where there never was one.

    ``idle`` is how long it lasts without being used, s; ``is_use`` tells whether this is a use.
    """
    with reading(store.engine) as connection:
        row = connection.execute(select(SESSION).where(SESSION.c.hash == _hash(token))).first()
    if row is None:
        return None
    if row.ended:
        return Ended(row.person, row.ended, is_news=False)
    clock = now.timestamp()
    why = _why_ended(row, address, agent, clock, idle)
    if why:
        _note(store, row.hash, ended=why)
        return Ended(row.person, why, is_news=True)
    if is_use and clock - row.seen > NOTED_EVERY:
        _note(store, row.hash, seen=clock)
    return Session(row.person, row.form_token)


def _why_ended(row: Row[Any], address: str, agent: str, clock: float, longest: float) -> str:
    if row.address != address[:80] or row.agent != _hash(agent):
        return STOLEN
    # A clock set back makes no session older than it is, and none younger than when last used.
    age, idle = clock - row.made, clock - row.seen
    if age > LONGEST or age < -NOTED_EVERY:
        return RUN_OUT
    return UNUSED if idle > longest else ""


def end_session(store: Store, token: str) -> None:
    """End a session by its token."""
    _note(store, _hash(token), ended=LOGGED_OUT)


def end_sessions_of(store: Store, person: str, why: str = LOGGED_OUT) -> None:
    """End every session of a person."""
    with writing(store.engine) as connection:
        locked(connection)
        held = (SESSION.c.person == person) & (SESSION.c.ended == "")
        connection.execute(update(SESSION).where(held).values(ended=why))


def _note(store: Store, hashed: str, **values: Any) -> None:
    with writing(store.engine) as connection:
        locked(connection)
        connection.execute(update(SESSION).where(SESSION.c.hash == hashed).values(**values))


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "replace")).hexdigest()
