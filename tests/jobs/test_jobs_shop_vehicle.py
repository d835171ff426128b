"""The vehicles of the shop: their revision, what fits them, what ends absence, their history."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from a_shop import a_shop, a_vehicle, as_person, person, sent
from PIL import Image
from sqlalchemy import text

from swapwright.base.errors import InputError, Problem
from swapwright.catalogue.read import Catalogue
from swapwright.jobs import shop_equipment
from swapwright.jobs import shop_vehicle as jobs
from swapwright.jobs.desk import Desk, Look
from swapwright.jobs.shop import LOCAL_ACTOR, Refused
from swapwright.jobs.shop_board import board_row, board_rows
from swapwright.records.export import read_history
from swapwright.records.record import Draft

pytestmark = pytest.mark.arithmetic

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
CARS = ("ridgeway", "fault-finder")


@pytest.fixture(scope="module")
def look() -> Look:
    """The file of one of the example cars, read and assessed once."""
    return Desk(EXAMPLES / "ridgeway.toml", Catalogue(), lambda: date(2026, 11, 27)).look()


@pytest.fixture
def opened(tmp_path, monkeypatch):
    with a_shop(tmp_path, monkeypatch) as found:
        yield found


@pytest.fixture
def shop(opened):
    return opened[0]


@pytest.fixture
def vehicle(shop) -> str:
    given = sent(name="Ridgeway 1", car="ridgeway", identity="blue")
    return jobs.add_vehicle(shop, LOCAL_ACTOR, given, CARS)


def view(shop, vehicle: str, look: Look | None):
    return jobs.vehicle_view(shop, LOCAL_ACTOR, vehicle, look)


def item(shop, kind: str, name: str, **data: str) -> str:
    fields = {f"data-{key}": value for key, value in data.items()}
    given = sent(kind=kind, name=name, serial=name, **fields)
    return shop_equipment.add_item(shop, LOCAL_ACTOR, given)


def test_a_vehicle_is_of_a_car_of_the_folder_and_of_a_name_of_its_own(shop, vehicle):
    for given in (
        sent(name="Other", car="no-such"),
        sent(name="ridgeway 1", car="ridgeway"),
        sent(name="", car="ridgeway"),
    ):
        with pytest.raises(InputError):
            jobs.add_vehicle(shop, LOCAL_ACTOR, given, CARS)
    assert list(shop.vehicles()) == [vehicle]


def test_the_file_is_kept_whole_as_the_revision_and_entered_once(shop, vehicle, look):
    assert view(shop, vehicle, look).file.words == "no revision is entered yet"
    jobs.enter_revision(shop, LOCAL_ACTOR, vehicle, look, sent())
    entered = shop.vehicles()[vehicle].revision
    assert (entered.build, entered.mark) == (look.text, "A")
    assert entered.revision == look.checked.assessment.revision
    assert view(shop, vehicle, look).file.is_entered
    with pytest.raises(Refused, match="entered already"):
        jobs.enter_revision(shop, LOCAL_ACTOR, vehicle, look, sent())


def test_a_file_that_cannot_be_read_is_no_revision_and_its_faults_are_told(shop, vehicle, look):
    problem = Problem("ridgeway.toml", "pack.cell", "there is no such cell", line=12)
    for given in (replace(look, problems=(problem,)), None):
        with pytest.raises(InputError) as error:
            jobs.enter_revision(shop, LOCAL_ACTOR, vehicle, given, sent())
        assert error.value.problems
        assert not view(shop, vehicle, given).file.can_be_entered
    assert shop.vehicles()[vehicle].revision is None


def test_another_revision_of_the_file_is_told_as_not_entered(shop, look):
    vehicle = a_vehicle(shop, "b" * 64)
    state = view(shop, vehicle, look).file
    assert not state.is_entered
    assert "is not entered" in state.words


def test_without_a_file_nothing_is_chosen_for_it_and_the_procedure_is_the_one_for_any_car(
    shop, vehicle
):
    item(shop, "gloves", "g", **{"class": "0"})
    found = view(shop, vehicle, None)
    assert found.highest is None
    assert [line.verdict for line in found.fits] == ["stop"]
    assert jobs.printed_procedure(shop, LOCAL_ACTOR, vehicle, "isolation", None).is_generic


def test_flawed_equipment_is_stopped_by_name_and_what_is_missing_is_told(shop, vehicle, look):
    item(shop, "gloves", "thin gloves", **{"class": "00"})
    weak = {"category": "CAT II", "voltage": "600 V"}
    item(shop, "meter", "bench meter", dc_voltage="600 V", **weak)
    item(shop, "leads", "bench leads", **weak)
    found = view(shop, vehicle, look)
    assert found.highest == pytest.approx(403.2, abs=0.1)
    assert {line.item.name: line.verdict for line in found.fits} == dict.fromkeys(
        ("thin gloves", "bench meter", "bench leads"), "stop"
    )
    assert found.missing == ("gloves", "meter", "leads", "proving unit")


def test_gloves_in_date_and_looked_over_today_with_leather_over_them_fit(shop, vehicle, look):
    gloves = item(shop, "gloves", "gloves", **{"class": "0"})
    item(shop, "leather protectors", "leathers")
    given = sent(on="2026-11-01", result="met", by_whom="x")
    shop_equipment.enter_test(shop, LOCAL_ACTOR, gloves, given)
    shop_equipment.issue_item(shop, LOCAL_ACTOR, gloves, sent(on="2026-11-02"))
    assert "gloves" in view(shop, vehicle, look).missing
    yes = {f"check-{at}": "yes" for at in range(6)}
    shop_equipment.inspect_item(shop, LOCAL_ACTOR, gloves, sent(**yes))
    assert "gloves" not in view(shop, vehicle, look).missing


@pytest.mark.parametrize("name", jobs.HAPPENINGS)
def test_anybody_may_say_what_ends_absence_of_voltage_also_who_may_do_nothing_else(
    shop, vehicle, name
):
    nobody = as_person(shop, person(shop, "Visitor"))
    jobs.tell_happening(shop, nobody, vehicle, sent(happening=name))
    kept = shop.store.records(vehicle=vehicle)[-1]
    assert (kept.kind, kept.by) == (jobs.HAPPENINGS[name].kind, nobody.person)


def test_a_photo_is_kept_without_where_it_was_taken_and_what_is_none_is_refused(shop, vehicle):
    picture = Image.new("RGB", (40, 30), (200, 10, 10))
    exif = Image.Exif()
    exif[0x8825] = {1: "N", 2: (48.0, 8.0, 7.0)}
    exif[0x010F] = "a maker"
    made = io.BytesIO()
    picture.save(made, "JPEG", exif=exif)
    jobs.add_photo(shop, LOCAL_ACTOR, vehicle, made.getvalue(), sent(what="the disconnect"))
    ((name, what),) = view(shop, vehicle, None).photos
    kept = jobs.photo_content(shop, LOCAL_ACTOR, name)
    assert what == "the disconnect"
    assert not dict(Image.open(io.BytesIO(kept)).getexif())
    for data in (b"", b"<svg/>", b"GIF89a"):
        with pytest.raises(InputError, match="no photo"):
            jobs.add_photo(shop, LOCAL_ACTOR, vehicle, data, sent(what="x"))
    assert len(view(shop, vehicle, None).photos) == 1
    assert jobs.photo_content(shop, LOCAL_ACTOR, "0" * 64) is None


def test_the_whole_history_is_a_file_that_verifies_by_itself(shop, vehicle, look):
    jobs.enter_revision(shop, LOCAL_ACTOR, vehicle, look, sent())
    jobs.tell_happening(shop, LOCAL_ACTOR, vehicle, sent(happening="moved"))
    found = read_history(jobs.history_file(shop, LOCAL_ACTOR, vehicle), "file")
    assert (found.vehicle, found.faults) == (vehicle, ())
    assert found.own == 3
    json.loads(jobs.history_file(shop, LOCAL_ACTOR, vehicle))


def test_no_history_is_given_out_of_a_ledger_with_faults(shop, vehicle):
    with shop.store.engine.begin() as connection:
        for name in connection.execute(
            text("select name from sqlite_master where type = 'trigger'")
        ).scalars():
            connection.execute(text(f'drop trigger "{name}"'))
        connection.execute(text("update record set body = replace(body, 'blue', 'green')"))
    with pytest.raises(Refused, match="faults"):
        jobs.history_file(shop, LOCAL_ACTOR, vehicle)


def test_an_inspector_reads_everything_and_changes_nothing(shop, vehicle, look):
    actor = as_person(shop, person(shop, "Inspector", "inspector"))
    assert jobs.vehicle_view(shop, actor, vehicle, look)
    assert board_rows(shop, actor)
    assert jobs.history_file(shop, actor, vehicle)
    for job in (
        lambda: jobs.enter_revision(shop, actor, vehicle, look, sent()),
        lambda: jobs.add_vehicle(shop, actor, sent(name="a", car="ridgeway"), CARS),
        lambda: jobs.add_photo(shop, actor, vehicle, b"", sent(what="x")),
    ):
        with pytest.raises(Refused):
            job()


def test_the_board_tells_every_lock_and_counts_what_is_not_known_as_energised(shop, vehicle):
    bo, ada = person(shop, "Bo"), person(shop, "Ada")
    assert board_row(shop, LOCAL_ACTOR, vehicle).lock.word == "none"
    about = {"vehicle": vehicle, "run": "r-1"}
    hang = {"step": "lock.gap", "place": "disconnect"}
    shop.write(
        Draft("run.begun", bo, about, {"procedure": {}, "people": [bo, ada], "items": []}),
        Draft("lock.hung", bo, about, {**hang, "lock": "L-1"}),
        Draft("lock.hung", ada, about, {**hang, "lock": "L-2"}),
    )
    row = board_row(shop, LOCAL_ACTOR, vehicle)
    assert (row.lock.word, row.is_treated_as_energised) == ("locked by Bo, Ada", True)
    assert (row.voltage.word, row.run) == ("unknown", ""), "no program knows this procedure"
    lifted = {"place": "disconnect", "lock": "L-1", "owner": bo}
    shop.write(Draft("lock.lifted", bo, about, lifted))
    assert board_row(shop, LOCAL_ACTOR, vehicle).lock.word == "locked by Ada"
