"""The pages of the shop without script: refused at the field it is about, and nothing lost."""

from __future__ import annotations

import io
import re
import xml.etree.ElementTree as ET
from datetime import UTC, date, datetime
from html import unescape
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from conftest import TODAY, token_of
from PIL import Image
from starlette.testclient import TestClient

from swapwright.catalogue.read import Catalogue
from swapwright.jobs import shop_access
from swapwright.jobs.first_aid import FIRST_AID
from swapwright.jobs.shop import LOCAL_ACTOR, Shop
from swapwright.records import secrets
from swapwright.records.checkpoint import checkpoint_of
from swapwright.records.record import Draft
from swapwright.workbench.app import application
from swapwright.workbench.garage import Garage

pytestmark = pytest.mark.arithmetic

NOW = datetime(2026, 11, 27, 9, tzinfo=UTC)
PEOPLE, EQUIPMENT, VEHICLES = "/shop/people", "/shop/equipment", "/shop/vehicles"
PERMITS, INCIDENTS, LEDGER = "/shop/permits", "/shop/incidents", "/shop/ledger"
PAGES = (
    "/shop",
    "/shop/wall",
    "/shop/board",
    PEOPLE,
    EQUIPMENT,
    "/shop/due",
    "/shop/due.ics",
    "/shop/labels",
    VEHICLES,
    PERMITS,
    INCIDENTS,
    LEDGER,
)


@pytest.fixture
def shop(tmp_path_factory, monkeypatch):
    cheap = PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)
    monkeypatch.setattr(secrets, "_hasher", lambda: cheap)
    secrets._nobody.cache_clear()
    place = tmp_path_factory.mktemp("shop")
    found = Shop(
        place / "data" / "shop.db",
        key=place / "keys" / "key.pem",
        now=lambda: NOW,
        today=lambda: TODAY,
    )
    yield found
    found.store.close()
    secrets._nobody.cache_clear()


@pytest.fixture
def browser(folder: Path, shop: Shop) -> TestClient:
    app = application(Garage(folder, Catalogue(), lambda: TODAY), shop=shop)
    return TestClient(app, base_url="http://127.0.0.1")


def said(html: str) -> str:
    """Return what a page says, its markup left out."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def send(browser: TestClient, page: str, action: str, files=None, **fields):
    """Send a form as the page shows it, token and key with it."""
    html = browser.get(page).text
    key = re.search(re.escape(f'action="{action}"') + r'.*?name="key" value="(\w+)"', html, re.S)
    assert key is not None, f"{page} has no form for {action}"
    data = {"token": token_of(html), "key": key[1], **fields}
    return browser.post(action, data=data, files=files)


def made(answer) -> str:
    """Return the id of what a form made, from where it led."""
    assert answer.status_code == 200, said(answer.text)[:500]
    return str(answer.url).rpartition("/")[2]


def fault(html: str, form: str, name: str) -> str:
    """Return what stands beside a field; the field has to point at it."""
    found = re.search(rf'id="fault-{form}-{name}">([^<]+)<', html)
    assert found is not None, said(html)[:800]
    assert f'aria-describedby="fault-{form}-{name}"' in html
    return unescape(found[1])


def a_person(browser: TestClient, name: str, *roles: str, level: str = "", pin: str = "") -> str:
    who = made(send(browser, PEOPLE, PEOPLE, name=name))
    own = f"{PEOPLE}/{who}"
    for role in roles:
        send(browser, own, f"{own}/role", role=role)
    if level:
        stage = "employer's own: appointed for live work"
        grant = {"stage": stage, "level": level, "evidence": "letter", "since": "2026-01-05"}
        made(send(browser, own, f"{own}/competence", **grant))
    if pin:
        made(send(browser, own, f"{own}/pin", pin=pin, again=pin))
    return who


def some_gloves(browser: TestClient, **fields: str) -> str:
    given = {"name": "gloves", "serial": "G-1", "data-class": "0", **fields}
    return made(send(browser, f"{EQUIPMENT}?kind=gloves", EQUIPMENT, kind="gloves", **given))


def a_vehicle(browser: TestClient, *, revision: bool = True) -> str:
    given = {"name": "Ridgeway 1", "car": "ridgeway", "identity": "blue"}
    vehicle = made(send(browser, VEHICLES, VEHICLES, **given))
    if revision:
        own = f"{VEHICLES}/{vehicle}"
        made(send(browser, own, f"{own}/revision"))
    return vehicle


def a_permit(browser: TestClient, *people: str, **fields: str) -> str:
    vehicle = a_vehicle(browser)
    given = {
        "vehicle": vehicle,
        "work": "change the pump",
        "level": "isolation",
        "people": list(people),
        "since": NOW.isoformat(),
        "until": "2026-11-27T17:00:00+00:00",
        "precautions": "barrier",
        **fields,
    }
    return made(send(browser, PERMITS, PERMITS, **given))


@pytest.mark.parametrize("page", PAGES)
def test_every_page_of_an_empty_shop_says_what_there_is_to_do(browser, page):
    answer = browser.get(page)
    assert answer.status_code == 200
    assert answer.headers["x-content-type-options"] == "nosniff"


def test_looking_at_the_pages_writes_nothing(browser, shop):
    for page in PAGES:
        browser.get(page)
    assert shop.store.head()[0] == 0


def test_without_a_shop_its_pages_are_not_there_and_nothing_leads_to_them(client):
    assert client.get("/shop").status_code == 404
    assert "/shop" not in re.findall(r'href="([^"]+)"', client.get("/").text)


def test_a_car_leads_to_its_vehicles_and_back(browser):
    vehicle = a_vehicle(browser)
    html = browser.get("/cars/ridgeway/donor").text
    assert f'href="{VEHICLES}?car=ridgeway"' in html
    assert f"{VEHICLES}/{vehicle}" in browser.get(f"{VEHICLES}?car=ridgeway").text
    assert "/cars/ridgeway/donor" in browser.get(f"{VEHICLES}/{vehicle}").text


def test_no_form_is_taken_from_another_page_than_ours(browser, shop):
    for action in (PEOPLE, EQUIPMENT, VEHICLES, PERMITS, INCIDENTS, f"{LEDGER}/verify"):
        assert browser.post(action, data={"token": "x", "name": "Eve"}).status_code == 403
    assert shop.store.head()[0] == 0


def test_a_person_is_entered_and_told_what_they_may_do_and_why_not(browser):
    bo = a_person(browser, "Bo Lund", "technician")
    text = said(browser.get(f"{PEOPLE}/{bo}").text)
    assert "begin a run may not it takes the competence isolation" in text
    assert "report an incident may" in text
    answer = send(browser, PEOPLE, PEOPLE, name="bo lund")
    assert answer.status_code == 422
    assert fault(answer.text, "add", "name").startswith("there is somebody of this name")
    assert 'value="bo lund"' in answer.text, "what was typed stays"


def test_a_glove_date_in_the_future_is_refused_beside_it_and_nothing_typed_is_lost(browser, shop):
    page = f"{EQUIPMENT}?kind=gloves"
    given = {"name": "new gloves", "serial": "G-7", "data-class": "0", "data-made": "2027-01-01"}
    answer = send(browser, page, EQUIPMENT, kind="gloves", **given)
    assert answer.status_code == 422
    assert fault(answer.text, "add", "data-made") == (
        "this day is yet to come; allowed: up to 2026-11-27"
    )
    for value in ("new gloves", "G-7", "2027-01-01"):
        assert f'value="{value}"' in answer.text
    assert '<option value="0" selected>' in answer.text
    assert not shop.items()


def test_a_look_with_one_no_takes_the_gloves_out_of_use_and_the_wall_says_so(browser):
    gloves = some_gloves(browser)
    own = f"{EQUIPMENT}/{gloves}"
    answers = {f"check-{at}": "yes" for at in range(6)}
    answer = send(browser, own, f"{own}/inspect", **{**answers, "check-1": ""})
    assert answer.status_code == 422
    assert fault(answer.text, "inspect", "check-1") == "this has to be said; allowed: yes, no"
    made(send(browser, own, f"{own}/inspect", **{**answers, "check-1": "no"}))
    text = said(browser.get("/shop/due").text)
    assert "withdrawn gloves" in text
    assert "holds air" in text


def test_a_label_leads_to_its_item_and_names_are_no_markup(browser):
    some_gloves(browser, name='<b>"G&amp;', serial="<i>")
    html = browser.get("/shop/labels").text
    assert "<b>" not in html
    assert "<i>" not in html
    codes = re.findall(r'<svg [^>]*class="qr".*?</svg>', html)
    assert len(codes) == 1
    assert ET.fromstring(codes[0]).attrib["viewBox"]
    assert re.search(r'href="http://127.0.0.1/shop/equipment/i-\w+"', html)


def test_the_calendar_is_a_file_with_the_days_of_what_is_in_use(browser):
    gloves = some_gloves(browser)
    own = f"{EQUIPMENT}/{gloves}"
    test = {"on": "2026-11-02", "result": "met", "by_whom": "house"}
    made(send(browser, own, f"{own}/test", **test))
    answer = browser.get("/shop/due.ics")
    assert answer.headers["content-type"] == "text/calendar; charset=utf-8"
    assert "DTSTART;VALUE=DATE:20271102" in answer.text, "in stock: a year to issue it in"


def test_a_file_that_cannot_be_read_is_no_revision_and_its_fault_is_told(browser, folder, shop):
    vehicle = a_vehicle(browser, revision=False)
    (folder / "ridgeway.toml").write_text("[car\nname = 1", encoding="utf-8")
    own = f"{VEHICLES}/{vehicle}"
    answer = send(browser, own, f"{own}/revision")
    assert answer.status_code == 422
    assert "ridgeway.toml" in said(answer.text)
    assert shop.vehicles()[vehicle].revision is None
    text = said(browser.get(f"{own}/procedure/isolation").text)
    assert "The file cannot be read as it is" in text
    assert "none: the file says too little" in text


def test_the_printed_procedure_keeps_back_what_is_expected(browser):
    vehicle = a_vehicle(browser)
    html = browser.get(f"{VEHICLES}/{vehicle}/procedure/isolation").text
    text = said(html)
    assert "Design, not confirmed" in text
    assert "expected: told after the reading" in text
    assert html.count("<td></td><td></td><td></td><td></td><td></td>") > 10, "boxes to fill in"
    assert "A pack is never off" in text or "Never off" in text
    assert browser.get(f"{VEHICLES}/{vehicle}/procedure/none").status_code == 404


@pytest.mark.parametrize("kind", ["isolation", "rescue of a person", "damaged vehicle"])
def test_every_source_on_a_printed_procedure_is_there_in_words(browser, kind):
    vehicle = a_vehicle(browser)
    text = said(browser.get(f"{VEHICLES}/{vehicle}/procedure/{kind}").text)
    rests = text.partition("What it rests on")[2]
    assert rests
    assert not re.search(r"\b[a-z]+-[a-z]+-practice\b", rests)


def test_anybody_says_that_the_wheels_turned_with_one_press(browser, shop):
    vehicle = a_vehicle(browser)
    own = f"{VEHICLES}/{vehicle}"
    made(send(browser, own, f"{own}/happening", happening="moved"))
    (kept,) = shop.store.records(kinds=("vehicle.moved",))
    assert kept.body["what"] == "wheels turned, or the car was moved"


def test_the_board_has_both_marks_in_words_and_counts_them_as_energised(browser):
    a_vehicle(browser)
    for page in ("/shop", "/shop/wall", "/shop/board"):
        text = said(browser.get(page).text)
        assert "lock none" in text
        assert "voltage energised" in text
        assert "Treat it as energised." in text
    assert 'data-live="/shop/live"' in browser.get("/shop").text
    assert "does not follow by itself" in said(browser.get("/shop").text), "without script"
    assert "<nav" not in browser.get("/shop/wall").text


def test_a_permit_is_accepted_with_a_pin_and_printed_with_a_checkpoint_that_holds(browser, shop):
    ada = a_person(browser, "Ada", "high-voltage responsible", "admin", level="live", pin="482913")
    permit = a_permit(browser, ada)
    own = f"{PERMITS}/{permit}"
    answer = send(browser, own, f"{own}/accept", person=ada, pin="111112")
    assert answer.status_code == 403
    assert fault(answer.text, "accept", "pin") == "this is not their PIN"
    assert "111112" not in answer.text
    made(send(browser, own, f"{own}/accept", person=ada, pin="482913"))
    answer = send(browser, own, f"{own}/print")
    text = said(answer.text)
    assert "Do not energise" in text
    line = re.search(r"record \d+: [0-9a-f ]+ = [0-9a-f]{4}", text)
    given = checkpoint_of(line[0])
    kept = shop.store.records()[given.number - 1]
    assert kept.chained == given.chained
    assert answer.text.count('class="qr"') == 3


def test_a_permit_that_runs_too_long_is_refused_beside_its_end_with_all_that_was_typed(browser):
    ada = a_person(browser, "Ada", level="live")
    vehicle = a_vehicle(browser)
    given = {
        "vehicle": vehicle,
        "work": "change the pump",
        "level": "isolation",
        "people": [ada],
        "since": "2026-11-27T09:00",
        "until": "2026-11-29T09:00",
        "precautions": "barrier",
    }
    answer = send(browser, PERMITS, PERMITS, **given)
    assert answer.status_code == 422
    assert "up to 24 h" in fault(answer.text, "issue", "until")
    assert re.search(rf'value="{ada}" checked', answer.text)
    for words in ("change the pump", "barrier", "2026-11-29T09:00"):
        assert words in answer.text


def test_first_aid_stands_above_the_form_and_an_incident_is_added_to_not_changed(browser):
    text = said(browser.get(INCIDENTS).text)
    assert text.index(FIRST_AID[0].words) < text.index("Report one")
    given = {
        "is_near_miss": "no",
        "what": "an arc at the fuse",
        "happened_at": "2026-11-27T08:00",
        "where": "bay 2",
        "harm": "burnt thumb",
    }
    answer = send(browser, INCIDENTS, INCIDENTS, **{**given, "happened_at": "2026-11-29T08:00"})
    assert fault(answer.text, "report", "happened_at").startswith("this time is yet to come")
    assert "burnt thumb" in answer.text
    incident = made(send(browser, INCIDENTS, INCIDENTS, **given))
    own = f"{INCIDENTS}/{incident}"
    made(send(browser, own, own, what="seen by a doctor"))
    text = said(browser.get(own).text)
    assert "an arc at the fuse" in text
    assert "seen by a doctor" in text
    assert browser.delete(own).status_code == 405


def picture(kind: str = "PNG") -> bytes:
    data = io.BytesIO()
    Image.new("RGB", (30, 20), (9, 9, 9)).save(data, kind)
    return data.getvalue()


def test_a_photo_is_known_by_what_it_is_and_sent_as_what_it_is(browser):
    vehicle = a_vehicle(browser)
    own, action = f"{VEHICLES}/{vehicle}", f"{VEHICLES}/{vehicle}/photos"
    answer = send(
        browser, own, action, files={"photo": ("a.jpg", b"<script>", "image/jpeg")}, what="gap"
    )
    assert answer.status_code == 422
    assert fault(answer.text, "photo", "photo").startswith("this is no photo")
    assert 'value="gap"' in answer.text
    made(send(browser, own, action, files={"photo": ("x.txt", picture(), "text/plain")}, what="g"))
    address = re.search(r'src="(/shop/photos/[0-9a-f]{64})"', browser.get(own).text)[1]
    shown = browser.get(address)
    assert shown.headers["content-type"] == "image/jpeg"
    assert shown.headers["x-content-type-options"] == "nosniff"
    assert shown.headers["content-disposition"].startswith("inline")
    file = browser.get(f"{address}?download=yes")
    assert file.headers["content-disposition"].startswith("attachment")
    assert browser.get("/shop/photos/" + "0" * 64).status_code == 404


def test_an_upload_of_a_gigabyte_is_refused_by_its_length_before_it_is_read(browser):
    def never():
        raise AssertionError("it was read")
        yield b""

    headers = {"content-length": str(10**9), "content-type": "multipart/form-data; boundary=x"}
    answer = browser.post(f"{VEHICLES}/v-1/photos", content=never(), headers=headers)
    assert answer.status_code == 413


def test_the_history_of_a_vehicle_and_a_checkpoint_come_as_files(browser, shop):
    vehicle = a_vehicle(browser)
    history = browser.get(f"{VEHICLES}/{vehicle}/history.json")
    assert history.headers["content-disposition"].startswith("attachment")
    assert history.json()["vehicle"] == vehicle
    answer = send(browser, LEDGER, f"{LEDGER}/checkpoint")
    assert answer.headers["content-disposition"].startswith("attachment")
    verified = send(browser, LEDGER, f"{LEDGER}/verify", checkpoint=answer.text)
    text = said(verified.text)
    assert f"No fault found in {shop.store.head()[0]} records" in text
    assert "Up to record 2 every change shows." in text
    wrong = send(browser, LEDGER, f"{LEDGER}/verify", checkpoint="none of ours")
    assert fault(wrong.text, "verify", "checkpoint").startswith("this is no checkpoint")


def test_a_changed_record_is_told_on_the_page_of_the_ledger(browser, shop):
    a_person(browser, "Ada")
    checkpoint = send(browser, LEDGER, f"{LEDGER}/checkpoint").text
    with shop.store.engine.begin() as connection:
        connection.exec_driver_sql("drop trigger if exists record_no_update")
        names = connection.exec_driver_sql(
            "select name from sqlite_master where type = 'trigger'"
        ).fetchall()
        for (name,) in names:
            connection.exec_driver_sql(f'drop trigger "{name}"')
        connection.exec_driver_sql("update record set body = replace(body, 'Ada', 'Eve')")
    text = said(send(browser, LEDGER, f"{LEDGER}/verify", checkpoint=checkpoint).text)
    assert "record 1: what the record says is not what was written" in text
    assert "No fault found" not in text


def test_with_accounts_who_may_not_is_told_and_what_they_typed_stays(folder, shop, monkeypatch):
    shop_access.first_account(shop, LOCAL_ACTOR, "Ana Quell", "a long enough one")
    inspector = "p-9"
    about = {"person": inspector}
    shop.write(
        Draft("person.added", "local", about, {"name": "Ines"}),
        Draft("role.given", "local", about, {"role": "inspector"}),
        Draft("secret.set", "local", about, {"which": "password"}),
    )
    secrets.set_secret(shop.store, inspector, "password", "a long enough one")
    app = application(Garage(folder, Catalogue(), lambda: TODAY), shop=shop)
    browser = TestClient(app, base_url="http://127.0.0.1")
    login = browser.get("/login?next=/shop")
    token = token_of(login.text)
    given = {"token": token, "name": "Ines", "password": "a long enough one", "next": "/shop"}
    assert browser.post("/login", data=given).status_code == 200
    assert browser.get(VEHICLES).status_code == 200
    answer = send(browser, VEHICLES, VEHICLES, name="a car", car="ridgeway")
    assert answer.status_code == 403
    assert "add a vehicle: only as" in said(answer.text)
    assert 'value="a car"' in answer.text
    assert not shop.vehicles()
    (kept,) = shop.store.records(kinds=("access.refused",))
    assert (kept.by, kept.body["what"]) == (inspector, "add a vehicle")
    assert shop.today() == date(2026, 11, 27)
