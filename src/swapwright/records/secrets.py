"""Passwords and PINs: kept as argon2 hashes, tried at a pace that slows down."""

from __future__ import annotations

import hashlib
import hmac
import re
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from secrets import token_urlsafe
from typing import Any, Literal

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from sqlalchemy import ColumnElement, Connection, Row, insert, select, update

from swapwright.base.errors import InputError, Problem
from swapwright.records.engine import reading, writing
from swapwright.records.store import Store, locked
from swapwright.records.tables import SECRET

Which = Literal["password", "pin"]

FREE_TRIES = 5
FIRST_WAIT = 30.0
LONGEST_WAIT = 3600.0
"""Wrong tries that cost nothing; then s to wait, doubled with every further one, up to so many."""
LEAST_PASSWORD, MOST_PASSWORD = 10, 200
STRANGER = "stranger"
"""Whose counters those are that belong to nobody; the letters behind it bound how many."""
STRANGER_LETTERS = 4
_PIN = re.compile(r"[0-9]{6,12}")
_RUNS = "01234567890123456789"


@dataclass(frozen=True)
class Checked:
    """What came of a try: whether it was right, and how long to wait before the next, s.

    A try that comes too early is not looked at: ``is_early``. ``must_change`` tells that another
    person chose the secret.
    """

    ok: bool
    wait: float = 0.0
    must_change: bool = False
    is_early: bool = False


@lru_cache(maxsize=1)
def _hasher() -> PasswordHasher:
    return PasswordHasher()


@lru_cache(maxsize=1)
def _nobody() -> str:
    """Return a hash of what nobody knows: trying somebody who is not there takes as long."""
    return _hasher().hash(token_urlsafe(32))


def fit_secret(which: Which, secret: str) -> None:
    """Raise InputError for a password or PIN that is too easy to guess."""
    if which == "pin":
        if _PIN.fullmatch(secret) is None:
            raise _unfit(which, "six to twelve digits")
        if len(set(secret)) == 1 or secret in _RUNS or secret in _RUNS[::-1]:
            raise _unfit(which, "no single digit repeated, and no straight run of digits")
        return
    if not LEAST_PASSWORD <= len(secret) <= MOST_PASSWORD:
        raise _unfit(which, f"{LEAST_PASSWORD} to {MOST_PASSWORD} characters")
    if len(set(secret)) < 4:
        raise _unfit(which, "more than three different characters")


def _unfit(which: Which, allowed: str) -> InputError:
    named = "PIN" if which == "pin" else "password"
    return InputError(Problem("", which, f"this {named} is too easy to guess", allowed=allowed))


def set_secret(
    store: Store, person: str, which: Which, secret: str, *, must_change: bool = False
) -> str:
    """Keep a password or PIN; raise InputError for one that is too easy to guess.

    Returns the proof that goes on record: by it a verification finds that another hash was put in
    the place of this one.
    """
    fit_secret(which, secret)
    hashed = _hasher().hash(secret)
    # The clock is seen anew too: one that once ran far ahead would hold every later wait up.
    fresh = {
        "hash": hashed,
        "failures": 0,
        "until": 0.0,
        "seen": 0.0,
        "must_change": int(must_change),
    }
    with writing(store.engine) as connection:
        locked(connection)
        if _row(connection, person, which) is None:
            row = {"person": person, "which": which, **fresh}
            connection.execute(insert(SECRET), [row])
        else:
            connection.execute(update(SECRET).where(_of(person, which)).values(**fresh))
    return proof_of(hashed)


def proof_of(hashed: str) -> str:
    """Return the SHA-256 of a secret's hash, in hexadecimal: it tells nothing of the secret."""
    return hashlib.sha256(hashed.encode("utf-8", "replace")).hexdigest()


def check_secret(
    store: Store, person: str, which: Which, secret: str, now: datetime, counter: str = ""
) -> Checked:
    """Try a password or PIN, and count the try; under ``counter`` where one is named.

    Counted for each who tries, wrong tries of one hold up no other.

    The try is counted before it is looked at, so that many at once are many tries. A clock set
    back does not end a wait: the latest time any try was made at counts. Who has no such secret is
    counted alike: how long the wait is tells nobody who has one.
    """
    clock, nobody = now.timestamp(), _nobody()
    counted_by = _of(counter or person, which)
    with writing(store.engine) as connection:
        locked(connection)
        hashed = _row_made(connection, person, which, nobody).hash
        row = _row_made(connection, counter or person, which, nobody)
        seen = max(clock, row.seen)
        wait = max(row.until - seen, 0.0)
        if wait > 0.0:
            connection.execute(update(SECRET).where(counted_by).values(seen=seen))
            return Checked(False, wait, is_early=True)
        failures = row.failures + 1
        wait = _wait_after(failures)
        tries = {"failures": failures, "until": seen + wait, "seen": seen}
        connection.execute(update(SECRET).where(counted_by).values(**tries))
    if not _is_right(hashed, secret):
        return Checked(False, wait)
    with writing(store.engine) as connection:
        locked(connection)
        connection.execute(update(SECRET).where(counted_by).values(failures=0, until=0.0))
    return Checked(True, must_change=has_to_change(store, person, which))


def stranger_of(store: Store, name: str) -> str:
    """Return whose counter a name is that nobody has.

    There are 65,536 of them, so that no number of names fills the store, and which name falls on
    which is worked out with a key of the store's own: nobody can pick two that share one.
    """
    with writing(store.engine) as connection:
        locked(connection)
        key = _row_made(connection, STRANGER, "password", _nobody()).hash
    digest = hmac.new(key.encode(), name.encode("utf-8", "replace"), hashlib.sha256).hexdigest()
    return f"{STRANGER}-{digest[:STRANGER_LETTERS]}"


def has_to_change(store: Store, person: str, which: Which) -> bool:
    """Tell whether a secret was chosen by another person, and has to be changed."""
    with reading(store.engine) as connection:
        row = _row(connection, person, which)
    return row is not None and bool(row.must_change)


def _is_right(hashed: str, secret: str) -> bool:
    try:
        return _hasher().verify(hashed, secret[: MOST_PASSWORD + 1])
    except (VerificationError, InvalidHashError):
        return False


def _wait_after(failures: int) -> float:
    """Return how long to wait after so many wrong tries in a row, s."""
    beyond = failures - FREE_TRIES
    if beyond < 0:
        return 0.0
    return min(FIRST_WAIT * 2.0 ** min(beyond, 20), LONGEST_WAIT)


def _of(person: str, which: Which) -> ColumnElement[bool]:
    return (SECRET.c.person == person) & (SECRET.c.which == which)


def _row(connection: Connection, person: str, which: Which) -> Row[Any] | None:
    return connection.execute(select(SECRET).where(_of(person, which))).first()


def _row_made(connection: Connection, person: str, which: Which, nobody: str) -> Row[Any]:
    """Return a row of the secrets, made with a hash of what nobody knows where there is none."""
    found = _row(connection, person, which)
    if found is None:
        counted = {"failures": 0, "until": 0.0, "seen": 0.0, "must_change": 0}
        row = {"person": person, "which": which, "hash": nobody, **counted}
        connection.execute(insert(SECRET), [row])
        found = _row(connection, person, which)
    if found is None:
        raise LookupError(person)
    return found
