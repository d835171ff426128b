"""The record of the shop from the terminal: verified, signed, exported, backed up, restored."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import click
import pytest
from command_line import ROOT, complaint, run

from swapwright.cli.ledger import ledger
from swapwright.records.record import Draft
from swapwright.records.store import open_store

pytestmark = pytest.mark.arithmetic

PICTURE = b"\xff\xd8 a picture"


@pytest.fixture(autouse=True)
def shop(tmp_path, monkeypatch) -> Path:
    """A folder with a small shop's records in the usual place, and a key of its own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    for name in ("SWAPWRIGHT_KEY", "SWAPWRIGHT_STORE"):
        monkeypatch.delenv(name, raising=False)
    store = open_store("my-shop/shop.db")
    about = {"vehicle": "v-1"}
    photo = store.put_attachment(PICTURE, "image/jpeg")
    body = {"step": "measure.1", "point": "plus to chassis", "text": "2,3 V"}
    store.append(
        Draft("person.added", "local", {"person": "p-1"}, {"name": "First Person"}),
        Draft("vehicle.added", "p-1", about, {"name": "Coupe", "car": "ridgeway"}),
        Draft("photo.added", "p-1", about, {"photo": photo, "what": "the lock"}),
        Draft("reading.entered", "p-1", {**about, "run": "r-1"}, body),
        Draft(
            "record.corrected",
            "p-1",
            about,
            {"corrects": 4, "what": "2.3 V was the lead", "reason": "dead lead"},
        ),
    )
    store.close()
    return tmp_path


def change_the_file(statement: str) -> None:
    connection = sqlite3.connect("my-shop/shop.db")
    connection.execute("DROP TRIGGER record_stays_update")
    connection.execute(statement)
    connection.commit()
    connection.close()


def test_an_untouched_record_verifies_and_says_what_was_not_covered():
    result = run("ledger", "verify")
    assert result.exit_code == 0
    assert "records read      5" in result.stdout
    assert "no checkpoint from outside was given" in result.stdout
    assert "no fault found" in result.stdout


def test_a_checkpoint_goes_out_as_a_file_and_a_line_and_both_can_be_given_back(shop: Path):
    made = run("ledger", "checkpoint", "--to", "stick")
    assert made.exit_code == 0
    (file,) = (shop / "stick").iterdir()
    line = next(each for each in made.stdout.splitlines() if each.startswith("record 5: "))
    for given in (str(file), "stick", line):
        result = run("ledger", "verify", "--against", given)
        assert result.exit_code == 0
        assert "held against      the checkpoint of record 5" in result.stdout
        assert "what was changed after record 5, of which there are 1" in result.stdout


def test_the_key_is_made_outside_the_records_for_its_owner_alone(shop: Path):
    run("ledger", "checkpoint", "--to", "stick")
    key = shop / "settings" / "swapwright" / "ledger-key.pem"
    assert key.stat().st_mode & 0o777 == 0o600
    refused = run("ledger", "checkpoint", "--to", "stick", "--key", "my-shop/key.pem")
    assert "must not lie with the data" in complaint(refused)


def test_a_checkpoint_that_lies_with_the_records_is_told():
    assert "lies with the records" in run("ledger", "checkpoint", "--to", "my-shop/kept").stdout
    assert "lies with the records" not in run("ledger", "checkpoint", "--to", "stick").stdout


def test_a_changed_record_ends_with_three_and_its_number():
    run("ledger", "checkpoint", "--to", "stick")
    change_the_file("""UPDATE record SET body = replace(body, '2,3 V', '0,0 V') WHERE number = 4""")
    result = run("ledger", "verify", "--against", "stick")
    assert result.exit_code == 3
    assert "record 4: what the record says is not what was written" in result.stdout
    refused = run("ledger", "export", "v-1", "history.json")
    assert refused.exit_code == 3
    assert not Path("history.json").exists()


def test_a_vehicles_history_leaves_as_a_file_and_verifies_by_itself(shop: Path):
    run("ledger", "checkpoint", "--to", "stick")
    made = run("ledger", "export", "v-1", "history.json")
    assert made.exit_code == 0
    assert "records in full   5, of 6 in the chain" in made.stdout
    alone = run("ledger", "check-export", "history.json")
    assert alone.exit_code == 0
    assert "whose key that is" in alone.stdout
    held = run("ledger", "check-export", "history.json", "--against", "stick")
    assert held.exit_code == 0
    assert "held against      the checkpoint of record 5" in held.stdout
    history = shop / "history.json"
    history.write_text(history.read_text(encoding="utf-8").replace("2,3 V", "0,0 V"))
    assert run("ledger", "check-export", "history.json").exit_code == 3


def test_a_backup_is_restored_elsewhere_and_says_so_on_record():
    run("ledger", "checkpoint", "--to", "stick")
    made = run("ledger", "backup", "backup.db")
    assert made.exit_code == 0
    assert "records read      6" in made.stdout
    restored = run("ledger", "restore", "backup.db", "--to", "new/shop.db", "--against", "stick")
    assert restored.exit_code == 0
    assert "held against      the checkpoint of record 5" in restored.stdout
    shown = run("ledger", "show", "--store", "new/shop.db", "--last", "1")
    assert "restored from a backup, by local user" in shown.stdout
    again = run("ledger", "restore", "backup.db", "--to", "new/shop.db")
    assert "nothing is written over them" in complaint(again)


def test_records_are_listed_with_their_corrections_beside_them():
    shown = run("ledger", "show", "--vehicle", "v-1").stdout
    assert "reading, by First Person" in shown
    assert "text: 2,3 V\n        corrected by record 5, First Person: 2.3 V was the lead" in shown
    assert "person entered" not in shown
    assert run("ledger", "show", "--last", "1").stdout.lstrip().startswith("5  ")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["verify", "--store", "nowhere.db"], "there is no store of records here"),
        (["verify", "--against", "nowhere"], "cannot be read"),
        (["verify", "--against", "."], "no checkpoint in this folder"),
        (["verify", "--against", "record 5: abcd"], "this is no checkpoint"),
        (["verify", "--against", "record 5:" + " abcd" * 16 + " = 0000"], "mistyped"),
        (["verify", "--store", "ftp://x/y"], "not a database"),
        (["export", "v-9", "x.json"], "there is no such vehicle; allowed: v-1"),
        (["export", "v-1", "taken"], "a file of that name already"),
        (["export", "v-1", "nowhere/x.json"], "cannot be written"),
        (["check-export", "nowhere.json"], "cannot be read"),
        (["check-export", "taken"], "no history of a vehicle"),
        (["backup", "taken"], "a file of that name already"),
        (["backup", "taken/x.db"], "cannot be written"),
        (["restore", "nowhere.db", "--to", "x.db"], "there is no such file"),
        (["restore", "taken", "--to", "x.db"], "no backup of a store"),
        (["show", "--vehicle", "v-9"], "there is no such vehicle"),
        (["checkpoint", "--to", "taken"], "cannot be made"),
    ],
)
def test_bad_input_is_told_in_a_line_and_nothing_is_made(shop: Path, arguments, words: str):
    (shop / "taken").write_text("mine")
    assert words in complaint(run("ledger", *arguments))
    assert (shop / "taken").read_text() == "mine"
    made = {each.name for each in shop.iterdir()}
    assert made <= {"my-shop", "taken", "settings"}


def test_the_store_may_be_named_by_the_environment(monkeypatch):
    monkeypatch.setenv("SWAPWRIGHT_STORE", "elsewhere.db")
    assert "elsewhere.db" in complaint(run("ledger", "verify"))


def test_every_command_of_the_ledger_is_on_the_page_of_the_command_line():
    page = (ROOT / "docs" / "command-line.md").read_text(encoding="utf-8")
    for name, command in ledger.commands.items():
        assert f"swapwright ledger {name}" in page, name
        for parameter in command.params:
            if isinstance(parameter, click.Option):
                assert f"`{parameter.opts[0]}" in page, f"{name} {parameter.opts[0]}"
