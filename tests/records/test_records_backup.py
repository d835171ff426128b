"""A backup is restored, a history leaves the shop, and both can be verified."""

from __future__ import annotations

import base64
import hashlib
import json
import threading
from datetime import UTC, datetime
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from shop_records import PICTURE, fill, person
from sqlalchemy import text

from swapwright.base.errors import InputError
from swapwright.records.backup import back_up, restore
from swapwright.records.checkpoint import checkpoint_now, kept_checkpoints
from swapwright.records.engine import engine_of
from swapwright.records.equipment import items
from swapwright.records.export import history_document, read_history
from swapwright.records.people import people
from swapwright.records.record import Draft
from swapwright.records.secrets import FIRST_WAIT, FREE_TRIES, check_secret, set_secret
from swapwright.records.sessions import begin_session
from swapwright.records.store import Store, open_store
from swapwright.records.vehicles import vehicles
from swapwright.records.verify import verify

pytestmark = pytest.mark.arithmetic

KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
NOON = datetime(2026, 11, 27, 12, tzinfo=UTC)


def test_a_backup_restores_to_the_same_history_of_either_kind(
    store, place, clock, tmp_path, request
):
    fill(store)
    checkpoint = checkpoint_now(store, KEY, NOON)
    set_secret(store, "p-1", "pin", "271828")
    begin_session(store, "p-1", "192.0.2.7", "tablet", NOON)
    written = back_up(store, tmp_path / "backup.db")
    assert (written.faults, written.records) == ((), 30)
    assert sorted(each.name for each in tmp_path.glob("backup*")) == ["backup.db"]
    for target in (
        str(tmp_path / "again" / "shop.db"),
        request.getfixturevalue("fresh_database")(),
    ):
        restored, found = restore(tmp_path / "backup.db", target, now=clock)
        assert (found.faults, found.records) == ((), 30)
        before = [(each.number, each.chained, dict(each.body)) for each in store.records()]
        after = [
            (each.number, each.chained, dict(each.body)) for each in restored.records(limit=30)
        ]
        assert after == before
        assert restored.records(after=30)[0].kind == "store.restored"
        assert verify(restored, [checkpoint]).faults == ()
        assert kept_checkpoints(restored) == (checkpoint,)
        assert restored.attachment(hashlib.sha256(PICTURE).hexdigest()) == ("image/jpeg", PICTURE)
        assert check_secret(restored, "p-1", "pin", "271828", NOON).ok
        restored.close()


def test_a_backup_has_no_session_in_it_not_even_in_its_pages(store, tmp_path):
    fill(store, 4)
    begin_session(store, "p-1", "192.0.2.77", "tablet", NOON)
    back_up(store, tmp_path / "backup.db")
    assert b"192.0.2.77" not in (tmp_path / "backup.db").read_bytes()
    assert (tmp_path / "backup.db").stat().st_mode & 0o777 == 0o600


def test_a_backup_is_taken_while_others_write(store, tmp_path, clock):
    fill(store, 20)
    done = threading.Event()

    def write() -> None:
        number = 1000
        while not done.is_set():
            store.append(person(number))
            number += 1

    writer = threading.Thread(target=write)
    writer.start()
    try:
        while store.head()[0] < 40:
            pass
        back_up(store, tmp_path / "backup.db")
    finally:
        done.set()
        writer.join()
    restored, found = restore(tmp_path / "backup.db", tmp_path / "again.db", now=clock)
    assert found.faults == ()
    assert 40 <= found.records <= store.head()[0]
    restored.close()


def test_nothing_is_restored_over_records(store, tmp_path, clock):
    fill(store, 4)
    back_up(store, tmp_path / "backup.db")
    other = open_store(tmp_path / "other.db")
    other.append(person(5))
    other.close()
    with pytest.raises(InputError, match="nothing is written over them"):
        restore(tmp_path / "backup.db", tmp_path / "other.db", now=clock)
    again = open_store(tmp_path / "other.db")
    assert again.head()[0] == 1
    again.close()


def test_a_file_that_is_no_backup_is_told(tmp_path, clock):
    (tmp_path / "x.db").write_text("no backup" * 200)
    with pytest.raises(InputError, match="no backup of a store"):
        restore(tmp_path / "x.db", tmp_path / "other.db", now=clock)
    with pytest.raises(InputError, match="no such file"):
        restore(tmp_path / "y.db", tmp_path / "other.db", now=clock)


def test_a_backup_is_not_written_over_a_file(store, tmp_path):
    (tmp_path / "x.db").write_text("mine")
    with pytest.raises(InputError, match="a file of that name already"):
        back_up(store, tmp_path / "x.db")
    assert (tmp_path / "x.db").read_text() == "mine"


def test_a_backup_that_was_altered_is_found_when_it_is_restored(store, tmp_path, clock):
    fill(store, 8)
    back_up(store, tmp_path / "backup.db")
    engine = engine_of(tmp_path / "backup.db")
    with engine.connect() as connection:
        connection.exec_driver_sql("DROP TRIGGER record_stays_update")
        connection.execute(text('UPDATE record SET body = \'{"name":"X"}\' WHERE number = 2'))
        connection.commit()
    engine.dispose()
    restored, found = restore(tmp_path / "backup.db", tmp_path / "again.db", now=clock)
    assert [each.number for each in found.faults if each.number == 2]
    restored.close()


def test_a_backup_of_a_newer_program_is_refused_by_name(store, tmp_path, clock):
    back_up(store, tmp_path / "backup.db")
    engine = engine_of(tmp_path / "backup.db")
    with engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    engine.dispose()
    with pytest.raises(InputError, match=r"newer Swapwright.*9999"):
        restore(tmp_path / "backup.db", tmp_path / "other.db", now=clock)


def test_a_restored_store_lets_nobody_guess_anew(store, tmp_path, clock):
    set_secret(store, "p-1", "pin", "271828")
    for _ in range(FREE_TRIES):
        check_secret(store, "p-1", "pin", "000001", NOON)
    back_up(store, tmp_path / "backup.db")
    restored, _ = restore(tmp_path / "backup.db", tmp_path / "again.db", now=clock)
    assert check_secret(restored, "p-1", "pin", "271828", NOON).wait == FIRST_WAIT
    restored.close()


def independent_verification(document: dict) -> None:
    """Verify a history as its own words say it is done: nothing of ours is used."""

    def spelled(value) -> bytes:
        return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()

    chained = bytes.fromhex(document["genesis"])
    for entry in document["records"]:
        if "body" in entry:
            said = [entry[k] for k in ("number", "at", "kind", "by", "about", "body", "key")]
            assert hashlib.sha256(spelled(said)).hexdigest() == entry["content"]
        chained = hashlib.sha256(chained + bytes.fromhex(entry["content"])).digest()
    held = document["checkpoint"]
    assert chained.hex() == held["chained"]
    said = ["swapwright checkpoint 1", held["number"], held["chained"], held["at"]]
    Ed25519PublicKey.from_public_bytes(bytes.fromhex(held["public_key"])).verify(
        bytes.fromhex(held["signature"]), spelled(said)
    )
    for name, picture in document["pictures"].items():
        assert hashlib.sha256(base64.b64decode(picture["content"])).hexdigest() == name


@pytest.fixture
def history(store: Store) -> dict:
    fill(store)
    checkpoint = checkpoint_now(store, KEY, NOON)
    store.append(person(99))
    return json.loads(json.dumps(history_document(store, "v-1", checkpoint)))


def test_a_vehicles_history_can_be_verified_by_anybody(history: dict):
    independent_verification(history)
    found = read_history(json.dumps(history), "history.json")
    assert (found.vehicle, found.records, found.faults) == ("v-1", 30, ())


def test_a_history_tells_of_its_vehicle_and_of_the_people_it_names(history: dict):
    kinds = [entry["kind"] for entry in history["records"] if "kind" in entry]
    assert kinds.count("reading.entered") >= 5
    assert kinds.count("vehicle.added") == kinds.count("photo.added") == 1
    assert kinds.count("person.added") == 2, "those who wrote in it, and nobody else"
    assert list(history["pictures"]) == [hashlib.sha256(PICTURE).hexdigest()]


def test_a_history_has_incidents_and_corrections_that_name_no_vehicle(store: Store):
    fill(store, 8)
    about = {"vehicle": "v-1", "incident": "n-1"}
    told = {
        "what": "spark at the lug",
        "happened_at": "2026-11-27T09:00",
        "where": "bay 2",
        "harm": "none",
        "is_near_miss": True,
    }
    correction = {"what": "it was bay 3", "reason": "misremembered"}
    store.append(
        Draft("incident.reported", "p-1", about, told),
        Draft("incident.added_to", "p-2", {"incident": "n-1"}, {"what": "the lug was loose"}),
        Draft("incident.added_to", "p-2", {"incident": "n-2"}, {"what": "of another car"}),
        Draft("record.corrected", "p-1", {}, {"corrects": 9, **correction}),
        Draft("record.corrected", "p-1", {}, {"corrects": 11, **correction}),
        Draft("record.corrected", "p-1", {}, {"corrects": 12, **correction}),
    )
    document = history_document(store, "v-1", checkpoint_now(store, KEY, NOON))
    full = [each["number"] for each in document["records"] if "number" in each]
    assert [each for each in full if each > 8] == [9, 10, 12, 14], "a correction's correction too"
    independent_verification(json.loads(json.dumps(document)))


def test_a_history_made_up_whole_shows_only_against_a_checkpoint_from_elsewhere(
    store: Store, tmp_path: Path
):
    fill(store, 12)
    held = checkpoint_now(store, KEY, NOON)
    other = open_store(tmp_path / "other.db")
    fill(other, 12)
    thief = Ed25519PrivateKey.generate()
    made_up = json.dumps(history_document(other, "v-1", checkpoint_now(other, thief, NOON)))
    other.close()
    assert read_history(made_up, "h").faults == ()
    assert "another history" in read_history(made_up, "h", [held]).faults[0]
    genuine = json.dumps(history_document(store, "v-1", held))
    assert read_history(genuine, "h", [held]).faults == ()
    store.append(person(99))
    later = checkpoint_now(store, KEY, NOON)
    assert "later than this file" in read_history(genuine, "h", [later]).faults[0]


@pytest.mark.parametrize("field", ["number", "at", "kind", "by", "about", "body", "key", "content"])
def test_any_change_of_a_history_is_found(history: dict, field: str):
    entry = next(entry for entry in history["records"] if entry.get("kind") == "reading.entered")
    changed = {"number": 77, "about": {"vehicle": "v-2"}, "content": "0" * 64}
    entry[field] = changed.get(field, entry.get(field, "") if field == "x" else '{"text":"0 V"}')
    assert read_history(json.dumps(history), "h").faults
    with pytest.raises(AssertionError):
        independent_verification(history)


def test_a_record_taken_out_of_a_history_is_found(history: dict):
    del history["records"][5]
    assert read_history(json.dumps(history), "h").faults


def test_a_picture_taken_out_or_changed_is_found(history: dict):
    for picture in history["pictures"].values():
        picture["content"] = base64.b64encode(b"another").decode()
    assert "another one" in read_history(json.dumps(history), "h").faults[0]
    history["pictures"].clear()
    assert "not in the file" in read_history(json.dumps(history), "h").faults[0]


@pytest.mark.parametrize(
    "words", ["", "[]", "{}", '{"format": "swapwright history 1"}', "[" * 9999]
)
def test_what_is_no_history_is_told(words: str):
    with pytest.raises(InputError, match="no history of a vehicle"):
        read_history(words, "h.json")


def test_records_tell_of_people_equipment_and_vehicles(store: Store):
    who, glove, car = {"person": "p-1"}, {"item": "i-1"}, {"vehicle": "v-1"}
    granted = {
        "level": "live",
        "scheme": "s",
        "scheme_level": "3",
        "evidence": "e",
        "since": "2026",
    }
    store.append(
        person(1),
        Draft("role.given", "local", who, {"role": "technician"}),
        Draft("competence.granted", "local", who, {**granted, "until": "2027-01-01"}),
        Draft("secret.set", "local", who, {"which": "pin"}),
        Draft(
            "item.added",
            "p-1",
            glove,
            {"kind": "gloves", "name": "pair", "serial": "7", "data": {"class": "0"}},
        ),
        Draft(
            "item.tested",
            "p-1",
            glove,
            {"test": "electrical", "on": "2026-09-01", "result": "met", "by_whom": "laboratory"},
        ),
        Draft("item.issued", "p-1", glove, {"on": "2026-09-10"}),
        Draft(
            "item.inspected",
            "p-1",
            glove,
            {"on": "2026-11-27", "checks": {"air": True, "cracks": False}, "result": "met"},
        ),
        Draft("item.withdrawn", "p-1", glove, {"reason": "cracked"}),
        Draft("vehicle.added", "p-1", car, {"name": "Coupe", "car": "ridgeway"}),
        Draft(
            "revision.entered",
            "p-1",
            car,
            {"revision": "abc", "mark": "A", "data_version": "1", "build": "format = 1"},
        ),
    )
    found = people(store.records())["p-1"]
    assert (found.roles, found.has_pin, found.has_password) == (("technician",), True, False)
    assert found.competences[0].until == "2027-01-01"
    item = items(store.records())["i-1"]
    assert (item.tests[0].is_met, item.issued, item.withdrawn) == (True, "2026-09-10", "cracked")
    assert not item.inspections[0].is_met, "one 'no' among the checks is a 'no'"
    vehicle = vehicles(store.records())["v-1"]
    assert vehicle.revision is not None and vehicle.revision.revision == "abc"
    store.append(
        Draft("competence.withdrawn", "local", who, {"level": "live", "reason": "lapsed"}),
        Draft("person.left", "local", who, {"reason": "moved away"}),
        Draft("item.returned", "p-1", glove, {"reason": "repaired and tested"}),
    )
    left = people(store.records())["p-1"]
    assert (left.has_left, left.roles, left.competences[0].withdrawn) == (True, (), "lapsed")
    assert items(store.records())["i-1"].withdrawn == ""


def test_a_history_file_has_nothing_of_the_signing_key(history: dict, tmp_path: Path):
    assert KEY.private_bytes_raw().hex() not in json.dumps(history)
