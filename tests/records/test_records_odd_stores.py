"""Stores that are spoiled, opened by many, or not there: told in words, never by a crash."""

from __future__ import annotations

import sqlite3
import threading
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from shop_records import fill, person
from sqlalchemy import insert, text

from swapwright.base.errors import InputError
from swapwright.records.canonical import GENESIS
from swapwright.records.checkpoint import Checkpoint, checkpoint_now
from swapwright.records.corrections import corrections
from swapwright.records.engine import reading, writing
from swapwright.records.record import Draft
from swapwright.records.store import Store, open_store
from swapwright.records.tables import CHECKPOINT, METADATA
from swapwright.records.verify import verify

pytestmark = pytest.mark.arithmetic

KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
NOON = datetime(2026, 11, 27, 12, tzinfo=UTC)


def spoiled(folder: Path, *statements: str) -> tuple[Store, Checkpoint]:
    """Return a store of twelve records whose file somebody wrote to, and its checkpoint."""
    store = open_store(folder / "shop.db")
    fill(store, 12)
    checkpoint = checkpoint_now(store, KEY, NOON)
    store.close()
    with sqlite3.connect(folder / "shop.db") as connection:
        connection.execute("DROP TRIGGER record_stays_update")
        for statement in statements:
            connection.execute(statement)
    connection.close()
    return open_store(folder / "shop.db"), checkpoint


@pytest.mark.parametrize("column", ["at", "kind", "by", "vehicle", "body", "key", "content"])
@pytest.mark.parametrize("value", ["x'00ff'", "CAST(x'ff' AS TEXT)", "'{{{'", "12.5"])
def test_what_is_no_text_where_text_belongs_is_a_fault(tmp_path, column: str, value: str):
    store, checkpoint = spoiled(tmp_path, f'UPDATE record SET "{column}" = {value} WHERE number=5')
    assert verify(store, [checkpoint]).faults
    assert verify(store).faults
    store.close()


def test_a_record_that_cannot_be_read_is_told_by_its_number(tmp_path):
    store, _ = spoiled(tmp_path, "UPDATE record SET body = '{' WHERE number = 5")
    with pytest.raises(InputError, match="record 5: it was changed and can no longer be read"):
        store.records()
    store.close()


def test_a_file_with_a_torn_page_is_a_fault(tmp_path):
    store, checkpoint = spoiled(tmp_path)
    fill(store, 200)
    with store.engine.connect() as connection:
        connection.exec_driver_sql("ROLLBACK")
        connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
        page = connection.exec_driver_sql(
            "SELECT rootpage FROM sqlite_master WHERE name = 'record'"
        ).scalar()
    store.close()
    file = tmp_path / "shop.db"
    content = bytearray(file.read_bytes())
    content[(page - 1) * 4096 : page * 4096] = b"\xa5" * 4096
    file.write_bytes(content)
    again = open_store(file)
    assert [each for each in verify(again, [checkpoint]).faults if "cannot be read" in each.words]
    again.close()


def test_a_record_put_before_the_first_or_behind_the_last_is_a_fault(tmp_path):
    columns = '"at", kind, "by", person, body, content, chained'
    for number in (-1, 0, 13, 99):
        folder = tmp_path / str(number)
        folder.mkdir()
        store, checkpoint = spoiled(
            folder,
            f'INSERT INTO record (number, "key", {columns}) '
            f"SELECT {number}, 'new', {columns} FROM record WHERE number = 2",
        )
        assert verify(store, [checkpoint]).faults, number
        store.close()


@pytest.mark.parametrize(
    ("document", "words"),
    [
        ("{", "a checkpoint kept in the store is none"),
        (Checkpoint(0, GENESIS, "").document, "has no signature"),
        (Checkpoint(0, GENESIS, "", "00" * 32, "00" * 64).document, "not signed by the key"),
        (Checkpoint(0, "ab" * 32, "").document, "another history"),
    ],
)
def test_a_checkpoint_in_the_store_that_is_none_is_a_fault(store: Store, document: str, words: str):
    fill(store, 4)
    with writing(store.engine) as connection:
        row = {"id": "x", "number": 0, "document": document}
        connection.execute(insert(CHECKPOINT), [row])
    assert [each for each in verify(store).faults if words in each.words]


def test_checkpoints_of_two_keys_are_remarked(store: Store):
    fill(store, 4)
    one = checkpoint_now(store, KEY, NOON)
    other = checkpoint_now(store, Ed25519PrivateKey.generate(), NOON)
    found = verify(store, [one, other])
    assert (found.faults, found.covered) == ((), 4)
    assert "signed with 2 different keys" in found.remarks[-1]


def test_the_head_that_says_another_record_is_a_fault(store: Store):
    fill(store, 4)
    with writing(store.engine) as connection:
        connection.execute(text("UPDATE head SET number = 3"))
    assert "own note of the last record" in verify(store).faults[0].words


def test_no_store_is_made_by_asking_for_one(place: str, tmp_path):
    with pytest.raises(InputError, match="there is no store of records here"):
        open_store(place, must_exist=True)
    assert not list(tmp_path.iterdir())
    open_store(place).close()
    open_store(place, must_exist=True).close()


@pytest.mark.parametrize("place", [":memory:", "sqlite://", "sqlite:///:memory:"])
def test_a_store_that_would_be_gone_at_the_next_start_is_refused(place: str):
    with pytest.raises(InputError, match="not in memory"):
        open_store(place)


def test_a_folder_that_cannot_be_made_is_told(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(InputError, match="cannot be opened"):
        open_store(tmp_path / "file" / "shop.db")


def test_a_store_may_lie_in_a_folder_with_any_name(tmp_path):
    store = open_store(tmp_path / "50 % of Ω # ? cars" / "shop.db")
    fill(store, 4)
    store.close()
    assert (tmp_path / "50 % of Ω # ? cars" / "shop.db").stat().st_mode & 0o777 == 0o600


def test_many_who_open_an_empty_place_at_once_make_one_store(place: str):
    def start(number: int) -> None:
        store = open_store(place)
        store.append(person(number))
        store.close()

    workers = [threading.Thread(target=start, args=(each,)) for each in range(6)]
    for each in workers:
        each.start()
    for each in workers:
        each.join()
    store = open_store(place)
    assert (store.head()[0], verify(store).faults) == (6, ())
    store.close()


def test_one_record_sent_by_many_at_once_is_kept_once(store: Store):
    draft = person(1)
    numbers: list[int] = []
    workers = [
        threading.Thread(target=lambda: numbers.append(store.append(draft)[0].number))
        for _ in range(8)
    ]
    for each in workers:
        each.start()
    for each in workers:
        each.join()
    assert numbers == [1] * 8
    assert store.head()[0] == 1


def test_two_records_of_one_key_sent_together_are_refused(store: Store):
    draft = person(1)
    with pytest.raises(InputError, match="its key is that of another record beside it"):
        store.append(draft, draft)
    assert store.head()[0] == 0


def test_a_body_nested_without_end_is_refused(store: Store):
    name: list = []
    for _ in range(100_000):
        name = [name]
    with pytest.raises(InputError, match="cannot be written as JSON"):
        store.append(Draft("person.added", "local", {"person": "p"}, {"name": name}))


def test_the_tables_are_those_the_migrations_make(store: Store):
    with reading(store.engine) as connection:
        context = MigrationContext.configure(connection)
        assert compare_metadata(context, METADATA) == []


def test_every_connection_to_postgresql_waits_for_the_disk(fresh_database):
    store = open_store(fresh_database())
    with store.engine.connect() as connection:
        for name in ("synchronous_commit", "fsync"):
            assert connection.exec_driver_sql(f"SHOW {name}").scalar() == "on"
    store.close()


def test_a_correction_stands_beside_what_it_corrects(store: Store):
    fill(store, 4)
    words = {"what": "it was the other lock", "reason": "misread"}
    store.append(
        Draft("record.corrected", "p-1", {"vehicle": "v-1"}, {"corrects": 4, **words}),
        Draft("record.corrected", "p-1", {}, {"corrects": 6, **words}),
        Draft("record.corrected", "p-2", {}, {"corrects": 4, **words, "reason": "looked again"}),
    )
    found = corrections(store.records())
    assert set(found) == {4}, "one that corrects itself or what is to come corrects nothing"
    assert [(each.by, each.reason) for each in found[4]] == [
        ("p-1", "misread"),
        ("p-2", "looked again"),
    ]
    assert store.records(after=3, limit=1)[0].body["what"] == "the lock", "and stays as it was"
