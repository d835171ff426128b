"""Passwords, PINs and sessions: tried slowly, stolen in vain."""

from __future__ import annotations

import os
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import text

from swapwright.base.errors import InputError
from swapwright.records import secrets
from swapwright.records.engine import writing
from swapwright.records.key import signing_key
from swapwright.records.secrets import (
    FIRST_WAIT,
    FREE_TRIES,
    LONGEST_WAIT,
    check_secret,
    fit_secret,
    set_secret,
)
from swapwright.records.sessions import (
    IDLE,
    LONGEST,
    Ended,
    Session,
    begin_session,
    end_session,
    end_sessions_of,
    session_of,
)
from swapwright.records.store import Store

pytestmark = pytest.mark.arithmetic

NOON = datetime(2026, 11, 27, 12, tzinfo=UTC)
PIN = "271828"


def later(seconds: float) -> datetime:
    return NOON + timedelta(seconds=seconds)


@pytest.fixture(autouse=True)
def quick(monkeypatch):
    """Hashes that cost little: their strength is the library's business."""
    from argon2 import PasswordHasher

    cheap = PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)
    monkeypatch.setattr(secrets, "_hasher", lambda: cheap)
    secrets._nobody.cache_clear()
    yield
    secrets._nobody.cache_clear()


@pytest.mark.parametrize(
    "pin",
    ["", "12345", "1234567890123", "12a456", "٣٣٣٣٤٤", "111111", "123456", "654321", "890123"],
)
def test_a_pin_that_is_short_or_plain_is_refused(pin: str):
    with pytest.raises(InputError, match="too easy to guess"):
        fit_secret("pin", pin)


@pytest.mark.parametrize("password", ["", "short", "a" * 10, "abababababab", "x" * 201])
def test_a_password_that_is_short_or_plain_is_refused(password: str):
    with pytest.raises(InputError, match="too easy to guess"):
        fit_secret("password", password)


def test_a_right_pin_is_right_and_a_wrong_one_is_not(store: Store):
    set_secret(store, "p-1", "pin", PIN)
    assert check_secret(store, "p-1", "pin", PIN, NOON).ok
    assert not check_secret(store, "p-1", "pin", "271829", NOON).ok
    assert not check_secret(store, "p-1", "password", PIN, NOON).ok
    assert not check_secret(store, "p-2", "pin", PIN, NOON).ok


def test_nothing_kept_says_the_pin(store: Store):
    set_secret(store, "p-1", "pin", PIN)
    with writing(store.engine) as connection:
        (row,) = connection.execute(text("SELECT * FROM secret")).all()
    assert PIN not in repr(row)
    assert row.hash.startswith("$argon2id$")


def test_guessing_a_pin_takes_longer_and_longer(store: Store):
    set_secret(store, "p-1", "pin", PIN)
    at, waits = 0.0, []
    for _ in range(FREE_TRIES + 12):
        found = check_secret(store, "p-1", "pin", "000001", later(at))
        waits.append(found.wait)
        at += found.wait
    assert waits[: FREE_TRIES - 1] == [0.0] * (FREE_TRIES - 1)
    grown = waits[FREE_TRIES - 1 :]
    assert grown[:3] == [FIRST_WAIT, 2 * FIRST_WAIT, 4 * FIRST_WAIT]
    assert grown[-1] == LONGEST_WAIT
    assert grown == sorted(grown)


def test_while_one_waits_even_the_right_pin_is_not_looked_at(store: Store):
    set_secret(store, "p-1", "pin", PIN)
    for _ in range(FREE_TRIES):
        check_secret(store, "p-1", "pin", "000001", NOON)
    early = check_secret(store, "p-1", "pin", PIN, later(FIRST_WAIT - 1))
    assert (early.ok, early.wait) == (False, 1.0)
    assert check_secret(store, "p-1", "pin", PIN, later(FIRST_WAIT)).ok
    assert not check_secret(store, "p-1", "pin", "000001", later(FIRST_WAIT)).wait


def test_a_clock_set_back_ends_no_wait(store: Store):
    set_secret(store, "p-1", "pin", PIN)
    for _ in range(FREE_TRIES):
        check_secret(store, "p-1", "pin", "000001", NOON)
    back = check_secret(store, "p-1", "pin", PIN, later(-86_400))
    assert (back.ok, back.wait) == (False, FIRST_WAIT)


def test_a_new_pin_ends_a_wait_that_a_clock_far_ahead_began(store: Store):
    set_secret(store, "p-1", "pin", PIN)
    for _ in range(FREE_TRIES):
        check_secret(store, "p-1", "pin", "000001", later(10 * 365 * 86_400))
    assert check_secret(store, "p-1", "pin", PIN, NOON).wait == FIRST_WAIT
    set_secret(store, "p-1", "pin", "314159")
    assert check_secret(store, "p-1", "pin", "314159", NOON).ok
    for _ in range(FREE_TRIES):
        check_secret(store, "p-1", "pin", "000001", NOON)
    assert check_secret(store, "p-1", "pin", "314159", later(FIRST_WAIT)).ok


def test_somebody_who_is_not_there_takes_as_much_work_as_somebody_who_is(store, monkeypatch):
    set_secret(store, "p-1", "pin", PIN)
    tried = []
    right = secrets._is_right
    monkeypatch.setattr(
        secrets, "_is_right", lambda hashed, given: tried.append(hashed) or right(hashed, given)
    )
    check_secret(store, "p-1", "pin", "000001", NOON)
    check_secret(store, "nobody", "pin", "000001", NOON)
    assert len(tried) == 2
    assert all(each.startswith("$argon2id$") for each in tried)


def test_a_session_holds_for_its_own_browser_and_no_other(store: Store):
    token = begin_session(store, "p-1", "192.0.2.7", "tablet", NOON)
    found = session_of(store, token, "192.0.2.7", "tablet", later(60))
    assert isinstance(found, Session) and found.person == "p-1"
    assert session_of(store, "another", "192.0.2.7", "tablet", NOON) is None
    stolen = session_of(store, token, "192.0.2.8", "tablet", later(61))
    assert stolen == Ended("p-1", "used from another browser or address", is_news=True)
    after = session_of(store, token, "192.0.2.7", "tablet", later(62))
    assert isinstance(after, Ended) and not after.is_news


@pytest.mark.parametrize(("gap", "holds"), [(IDLE - 1, True), (IDLE + 1, False)])
def test_a_session_that_is_not_used_ends(store: Store, gap: float, holds: bool):
    token = begin_session(store, "p-1", "a", "b", NOON)
    assert isinstance(session_of(store, token, "a", "b", later(gap)), Session) is holds


def test_a_shop_may_let_a_session_rest_for_another_while(store: Store):
    token = begin_session(store, "p-1", "a", "b", NOON)
    assert isinstance(session_of(store, token, "a", "b", later(3 * IDLE), idle=4 * IDLE), Session)
    ended = session_of(store, token, "a", "b", later(3 * IDLE + 61), idle=60)
    assert isinstance(ended, Ended)


def test_a_session_survives_no_clock_set_back_before_it_began(store: Store):
    token = begin_session(store, "p-1", "a", "b", NOON)
    assert isinstance(session_of(store, token, "a", "b", later(-3600)), Ended)


def test_a_session_ends_after_a_shift_however_much_it_is_used(store: Store):
    token = begin_session(store, "p-1", "a", "b", NOON)
    at = 0.0
    while isinstance(session_of(store, token, "a", "b", later(at)), Session):
        at += IDLE / 2
        assert at < 2 * LONGEST
    assert at > LONGEST - IDLE


def test_logging_out_ends_one_session_and_all(store: Store):
    one = begin_session(store, "p-1", "a", "b", NOON)
    two = begin_session(store, "p-1", "a", "b", NOON)
    end_session(store, one)
    assert isinstance(session_of(store, one, "a", "b", NOON), Ended)
    assert isinstance(session_of(store, two, "a", "b", NOON), Session)
    end_sessions_of(store, "p-1")
    assert isinstance(session_of(store, two, "a", "b", NOON), Ended)


def test_no_token_is_kept_as_it_is(store: Store):
    token = begin_session(store, "p-1", "a", "b", NOON)
    with writing(store.engine) as connection:
        assert token not in repr(connection.execute(text("SELECT * FROM session")).all())


def test_the_signing_key_is_for_its_owner_alone(tmp_path: Path):
    path = tmp_path / "own" / "key.pem"
    made = signing_key(path, tmp_path / "data")
    assert path.stat().st_mode & 0o777 == 0o600
    assert path.parent.stat().st_mode & 0o777 == 0o700
    again = signing_key(path)
    assert again.private_bytes_raw() == made.private_bytes_raw()


@pytest.mark.skipif(os.name != "posix", reason="rights of files are told otherwise here")
def test_a_signing_key_others_can_read_is_refused(tmp_path: Path):
    path = tmp_path / "key.pem"
    signing_key(path)
    path.chmod(0o640)
    with pytest.raises(InputError, match="others may read the signing key"):
        signing_key(path)


def test_a_signing_key_beside_what_it_signs_is_refused(tmp_path: Path):
    data = tmp_path / "shop"
    with pytest.raises(InputError, match="must not lie with the data"):
        signing_key(data / "keys" / "key.pem", data)
    assert not (data / "keys").exists()


def test_a_file_that_is_no_key_is_refused(tmp_path: Path):
    path = tmp_path / "key.pem"
    path.write_text("-----BEGIN SOMETHING-----")
    path.chmod(0o600)
    with pytest.raises(InputError, match="no signing key"):
        signing_key(path)
