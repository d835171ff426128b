"""Whatever is changed in the history before a checkpoint held outside is found."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shop_records import PICTURE, fill, person
from sqlalchemy import text, update

from swapwright.base.errors import InputError
from swapwright.records.canonical import GENESIS, chained_hash, content_hash
from swapwright.records.checkpoint import (
    Checkpoint,
    checkpoint_now,
    checkpoint_of,
    is_signed,
    kept_checkpoints,
    sign,
)
from swapwright.records.engine import writing
from swapwright.records.record import SUBJECTS, Draft
from swapwright.records.secrets import set_secret
from swapwright.records.store import Store, open_store
from swapwright.records.tables import RECORD, SECRET
from swapwright.records.verify import verify

KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
THIEF = Ed25519PrivateKey.from_private_bytes(bytes(range(1, 33)))
NOON = datetime(2026, 11, 27, 12, tzinfo=UTC)
COLUMNS = [column.name for column in RECORD.columns]


def unlock(store: Store) -> None:
    """Take the hindrance out of the database, as whoever owns its disk can."""
    with writing(store.engine) as connection:
        if store.engine.dialect.name == "sqlite":
            for act in ("update", "delete"):
                connection.execute(text(f"DROP TRIGGER record_stays_{act}"))
        else:
            connection.execute(text("DROP TRIGGER record_stays ON record"))


def tamper(store: Store, *statements: str, **values: object) -> None:
    with writing(store.engine) as connection:
        for statement in statements:
            connection.execute(text(statement), values)


@pytest.fixture
def held(store: Store) -> tuple[Store, Checkpoint]:
    """A store of thirty records with its hindrance gone, and a checkpoint held outside it."""
    fill(store)
    checkpoint = checkpoint_now(store, KEY, NOON)
    unlock(store)
    return store, checkpoint


@pytest.mark.arithmetic
def test_an_untouched_history_verifies_against_its_checkpoint(held):
    store, checkpoint = held
    found = verify(store, [checkpoint])
    assert (found.faults, found.records, found.covered) == ((), 30, 30)


CHANGED = {
    "number": [1000, 0, -7],
    "at": ["2026-11-27T07:00:00.000000+00:00", "x"],
    "body": ['{"name":"Somebody else"}', "{}", ""],
    "content": ["0" * 64, "x"],
    "chained": ["f" * 64, "x"],
}
"""What a column is changed to; one of an id is changed to another or, where it may be, to none."""


@pytest.mark.arithmetic
@pytest.mark.parametrize("column", COLUMNS)
def test_a_change_of_any_column_of_any_record_is_found(held, column: str):
    store, checkpoint = held
    values = CHANGED.get(column, ["x", None] if column in SUBJECTS else ["x"])
    change = f'UPDATE record SET "{column}" = :v WHERE number = :n'
    found = 0
    for number in (1, 4, 17, 30):
        with store.reader() as reader:
            (old,) = [getattr(row, column) for row in reader.rows() if row.number == number]
        for value in (each for each in values if each != old):
            tamper(store, change, v=value, n=number)
            assert verify(store, [checkpoint]).faults, (number, value)
            back = value if column == "number" else number
            tamper(store, change, v=old, n=back)
            assert verify(store, [checkpoint]).faults == ()
            found += 1
    assert found >= 4


@pytest.mark.arithmetic
@pytest.mark.parametrize("number", [1, 2, 15, 29, 30])
def test_a_record_taken_away_is_found(held, number: int):
    store, checkpoint = held
    tamper(store, "DELETE FROM record WHERE number = :n", n=number)
    assert verify(store, [checkpoint]).faults


@pytest.mark.arithmetic
@pytest.mark.parametrize(("one", "other"), [(1, 2), (5, 20), (29, 30)])
def test_two_records_in_each_others_place_are_found(held, one: int, other: int):
    store, checkpoint = held
    tamper(
        store,
        "UPDATE record SET number = 999 WHERE number = :a",
        "UPDATE record SET number = :a WHERE number = :b",
        "UPDATE record SET number = :b WHERE number = 999",
        a=one,
        b=other,
    )
    assert verify(store, [checkpoint]).faults


def rewrite(store: Store, first: int, change) -> None:
    """Write history anew from a record on, every hash right: what a thief of the disk does."""
    with store.reader() as reader:
        rows = [dict(row._mapping) for row in reader.rows()]
    rows = change(rows)
    before = GENESIS
    for number, row in enumerate(rows, start=1):
        row["number"] = number
        about = {name: row[name] for name in SUBJECTS if row[name]}
        row["content"] = content_hash(
            number, row["at"], row["kind"], row["by"], about, row["body"], row["key"]
        )
        before = row["chained"] = chained_hash(before, row["content"])
    with writing(store.engine) as connection:
        connection.execute(text("DELETE FROM record"))
        connection.execute(RECORD.insert(), rows)
        connection.execute(
            text("UPDATE head SET number = :n, chained = :c"), {"n": len(rows), "c": before}
        )
        connection.execute(text("DELETE FROM checkpoint"))


def forged(rows):
    rows[4]["body"] = '{"name":"Somebody else"}'
    return rows


FORGERIES = {
    "another name": forged,
    "one taken out": lambda rows: rows[:9] + rows[10:],
    "the last taken out": lambda rows: rows[:-1],
    "one put in": lambda rows: [*rows[:9], {**rows[9], "key": "new"}, *rows[9:]],
    "two swapped": lambda rows: [*rows[:5], rows[6], rows[5], *rows[7:]],
    "all but three gone": lambda rows: rows[:3],
}


@pytest.mark.arithmetic
@pytest.mark.parametrize("change", FORGERIES.values(), ids=FORGERIES.keys())
def test_a_history_written_anew_with_every_hash_right_is_found_from_outside(held, change):
    store, checkpoint = held
    rewrite(store, 1, change)
    assert verify(store).faults == (), "inside the database nothing shows"
    assert verify(store, [checkpoint]).faults


@pytest.mark.arithmetic
def test_a_checkpoint_signed_anew_with_another_key_is_another_key(held):
    store, checkpoint = held
    rewrite(store, 1, forged)
    again = checkpoint_now(store, THIEF, NOON)
    assert verify(store, [again]).faults == ()
    assert again.public_key != checkpoint.public_key
    assert verify(store, [checkpoint, again]).faults


@pytest.mark.arithmetic
def test_what_is_added_after_a_checkpoint_is_no_fault(held):
    store, checkpoint = held
    store.append(person(77))
    found = verify(store, [checkpoint])
    assert (found.faults, found.records, found.covered) == ((), 31, 30)


@pytest.mark.arithmetic
def test_a_picture_that_is_gone_or_another_is_found(held):
    store, checkpoint = held
    tamper(store, "UPDATE attachment SET content = :c", c=PICTURE + b"!")
    assert ["another one" in each.words for each in verify(store, [checkpoint]).faults] == [True]
    tamper(store, "DELETE FROM attachment")
    assert ["not there" in each.words for each in verify(store, [checkpoint]).faults] == [True]


@pytest.mark.property
@settings(
    max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(data=st.data())
def test_any_single_change_of_any_text_is_found(held, data):
    store, checkpoint = held
    number = data.draw(st.integers(1, 30))
    column = data.draw(st.sampled_from(["at", "kind", "by", "body", "key", "content", "chained"]))
    with store.reader() as reader:
        row = next(row for row in reader.rows() if row.number == number)
    old = getattr(row, column)
    place = data.draw(st.integers(0, len(old) - 1))
    letter = data.draw(st.sampled_from("abcdef0123456789xyz :}"))
    new = old[:place] + letter + old[place + 1 :]
    if new == old:
        return
    tamper(store, f'UPDATE record SET "{column}" = :v WHERE number = :n', v=new, n=number)
    try:
        assert verify(store, [checkpoint]).faults
    finally:
        tamper(store, f'UPDATE record SET "{column}" = :v WHERE number = :n', v=old, n=number)


@pytest.mark.arithmetic
def test_a_checkpoint_goes_out_as_a_file_or_a_printed_line_and_comes_back(store: Store):
    fill(store, 6)
    made = checkpoint_now(store, KEY, NOON)
    assert is_signed(made)
    assert checkpoint_of(made.document) == made
    typed = checkpoint_of(f"  {made.printed.upper()} \n")
    assert typed == checkpoint_of(f"record {made.number}: {made.chained}"), "spaces and end or not"
    assert (typed.number, typed.chained, typed.signature) == (6, made.chained, "")
    assert verify(store, [typed]).faults == ()
    assert checkpoint_now(store, KEY, NOON) == made
    assert kept_checkpoints(store) == (made,)


@pytest.mark.arithmetic
@pytest.mark.parametrize("field", ["number", "chained", "at", "public_key", "signature"])
def test_a_checkpoint_with_anything_changed_is_not_signed(field: str):
    made = json.loads(sign(6, "ab" * 32, NOON, KEY).document)
    made[field] = {"number": 7, "chained": "cd" * 32, "at": "2026"}.get(field, "ab" * 32)
    assert not is_signed(checkpoint_of(json.dumps(made)))


@pytest.mark.property
@settings(max_examples=60, deadline=None)
@given(data=st.data(), number=st.integers(0, 10**9), chained=st.binary(min_size=32, max_size=32))
def test_a_slip_of_the_finger_in_a_typed_line_is_told_as_one(data, number: int, chained: bytes):
    line = Checkpoint(number, chained.hex(), "").printed
    assert checkpoint_of(line).number == number
    at = data.draw(
        st.sampled_from([i for i in range(7, len(line)) if line[i] in "0123456789abcdef"])
    )
    letter = data.draw(st.sampled_from("0123456789"))
    wrong = line[:at] + letter + line[at + 1 :]
    if wrong == line or wrong[7] == "0":
        return
    # Four characters cannot tell all: one slip in 65,536 gets through, and shows as a fault.
    try:
        typed = checkpoint_of(wrong)
    except InputError as error:
        assert "mistyped" in str(error)
    else:
        assert typed.printed == wrong


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "words", ["", "record 6: abcd", "{", '{"number": 6}', "record six: " + "ab " * 32, "{" * 9999]
)
def test_what_is_no_checkpoint_is_told(words: str):
    with pytest.raises(InputError, match="this is no checkpoint"):
        checkpoint_of(words)


@pytest.mark.arithmetic
def test_a_store_shorter_than_a_checkpoint_says_so(tmp_path: Path):
    store = open_store(tmp_path / "other.db")
    found = verify(store, [sign(6, "ab" * 32, NOON, KEY)])
    assert "not there any more" in found.faults[0].words
    store.close()


@pytest.mark.arithmetic
def test_another_hash_in_the_place_of_a_pin_is_found(store):
    about = {"person": "p-1"}
    proof = set_secret(store, "p-1", "pin", "482913")
    store.append(
        Draft("person.added", "local", about, {"name": "Anne"}),
        Draft("secret.set", "local", about, {"which": "pin", "proof": proof}),
    )
    assert not verify(store).faults
    with writing(store.engine) as connection:
        connection.execute(update(SECRET).values(hash="$argon2id$v=19$m=64,t=1,p=1$c2FsdA$aGFzaA"))
    faults = verify(store).faults
    assert [each.number for each in faults] == [2] and "PIN kept for p-1" in faults[0].words
