"""A run without script: every step by a form, refused in words, printed with its checkpoint."""

from __future__ import annotations

import io
import re
from datetime import UTC, date, datetime, timedelta
from html import unescape
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from conftest import token_of
from PIL import Image
from starlette.testclient import TestClient
from stocked import PIN, a_vehicle, stocked

from swapwright.catalogue.read import Catalogue
from swapwright.jobs import clock as clocks
from swapwright.jobs.desk import Desk
from swapwright.jobs.procedure import procedure_of_car
from swapwright.jobs.shop import LOCAL_ACTOR, Shop
from swapwright.jobs.shop_board import board_row
from swapwright.procedures.step import Procedure, Step
from swapwright.records import secrets
from swapwright.workbench.app import application
from swapwright.workbench.garage import Garage

pytestmark = pytest.mark.arithmetic

NOW = datetime(2026, 11, 27, 9, tzinfo=UTC)
TODAY = date(2026, 11, 27)
_picture = io.BytesIO()
Image.new("RGB", (64, 48), "grey").save(_picture, "JPEG")


class Forms:
    """A browser without script at the page of a run, and the clocks of its server."""

    def __init__(self, folder: Path, place: Path, monkeypatch) -> None:
        self.ahead = 0.0
        monkeypatch.setattr(clocks, "ticks", lambda: 1000.0 + self.ahead)
        self.shop = Shop(
            place / "data" / "shop.db",
            key=place / "keys" / "key.pem",
            now=lambda: NOW + timedelta(seconds=self.ahead),
            today=lambda: TODAY,
        )
        look = Desk(folder / "ridgeway.toml", Catalogue(), lambda: TODAY).look()
        assert look.checked is not None
        self.procedure: Procedure = procedure_of_car(look.checked, "isolation")
        self.stock = stocked(self.shop)
        self.vehicle = a_vehicle(self.shop, self.procedure)
        app = application(Garage(folder, Catalogue(), lambda: TODAY), shop=self.shop)
        self.browser = TestClient(app, base_url="http://127.0.0.1")
        self.run = ""
        self.locks = iter(self.stock.locks)

    def begin(self):
        """Begin the isolation by its form."""
        page = f"/shop/vehicles/{self.vehicle}/begin/isolation"
        html = self.browser.get(page).text
        people = [self.stock.people["anne"], self.stock.people["ben"]]
        items = {f"item.{kind}": item for kind, item in self.stock.items.items()}
        data = {"token": token_of(html), "people": people, "worker": people[0], **items}
        answer = self.browser.post(page, data=data)
        assert answer.status_code == 200
        self.run = answer.url.path
        return answer

    def page(self) -> str:
        return self.browser.get(self.run).text

    def current(self, html: str) -> Step:
        """Return the step whose card can be sent."""
        cards = re.findall(r'<fieldset class="card" data-step="([^"]+)"[^>]*>', html)
        open_cards = [
            each
            for each in cards
            if not re.search(rf'data-step="{re.escape(each)}"[^>]* disabled hidden', html)
        ]
        assert len(open_cards) == 1, open_cards
        found = self.procedure.step(open_cards[0])
        assert found is not None
        return found

    def send(self, html: str, do: str, photo: bytes = b"", **fields: str):
        """Send the form of the step as the page shows it."""
        key = re.search(r'name="key" value="(\w+)"', html)
        seen = re.search(r'name="seen" value="(\w+)"', html)
        assert key is not None and seen is not None
        data = {
            "token": token_of(html),
            "key": key[1],
            "seen": seen[1],
            "by": self.stock.people["anne"],
            "mode": "fixed range",
            "do": do,
            **fields,
        }
        files = {"photo": ("part.jpg", photo, "image/jpeg")} if photo else None
        return self.browser.post(f"{self.run}/do", data=data, files=files)

    def do(self, step: Step, html: str):
        """Do a step as it should be done."""
        name = {"step": step.id}
        if step.act == "wait" and step.wait is not None:
            self.send(html, "wait.begun", **name)
            self.ahead += step.wait
            return self.send(self.page(), "wait.over", **name)
        if step.act == "lock":
            return self.send(html, "lock.hung", **name, lock=next(self.locks))
        if step.act == "sign":
            who = {"person": self.stock.people["anne"], "pin": PIN["anne"]}
            return self.send(html, "signature.given", **name, **who)
        if step.reading is not None:
            self.ahead += step.reading.after
            text = "400" if step.act == "prove" else "0.1"
            return self.send(html, "reading.entered", **name, text=text, unit="V")
        photo = _picture.getvalue() if step.photo else b""
        return self.send(html, "step.done", photo=photo, **name)


@pytest.fixture
def forms(folder: Path, tmp_path_factory, monkeypatch):
    cheap = PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)
    monkeypatch.setattr(secrets, "_hasher", lambda: cheap)
    secrets._nobody.cache_clear()
    found = Forms(folder, tmp_path_factory.mktemp("shop"), monkeypatch)
    found.begin()
    yield found
    found.shop.store.close()
    secrets._nobody.cache_clear()


def said(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def test_a_whole_isolation_needs_no_script(forms):
    html, before = forms.page(), ""
    while (step := forms.current(html)).id != "short":
        assert step.id != before, said(html)[:600]
        answer = forms.do(step, html)
        assert answer.status_code == 200, said(answer.text)[:600]
        html, before = answer.text, step.id
    row = board_row(forms.shop, LOCAL_ACTOR, forms.vehicle)
    assert row is not None and not row.is_treated_as_energised
    record = forms.browser.get(f"{forms.run}/record").text
    assert "Absence verified" in said(record)
    data = {"token": token_of(record), "key": "0" * 32}
    printed = forms.browser.post(f"{forms.run}/record", data=data)
    assert "Whoever keeps this paper" in printed.text and "<svg" in printed.text
    vehicle = forms.browser.get(f"/shop/vehicles/{forms.vehicle}").text
    assert f'href="{forms.run}"' in vehicle and f'href="{forms.run}/record"' in vehicle
    assert f'href="{forms.run}"' in forms.browser.get("/shop").text


def test_what_is_expected_is_nowhere_on_the_page_before_its_reading(forms):
    html = forms.page()
    words = {s.reading.expected.words for s in forms.procedure.steps if s.reading is not None}
    assert words and not any(each in unescape(html) for each in words)


def test_a_refusal_is_told_in_words_and_nothing_is_lost(forms):
    html = forms.page()
    answer = forms.send(html, "step.done", step="off.key")
    assert answer.status_code == 422 and "first comes: " in said(answer.text)
    answer = forms.send(html, "reading.entered", step="off.key", text="3 V")
    assert answer.status_code == 422
    answer = forms.send(forms.page(), "no.such.act")
    assert answer.status_code == 422 and "there is no such act" in said(answer.text)


@pytest.mark.parametrize("text", ["48 V", "-48 V", "0.4 kV"])
def test_a_contradicting_reading_at_any_point_at_any_time_stops_the_run(forms, text):
    answer = forms.send(
        forms.page(), "reading.entered", step="measure.inverter.pole_pole", text=text
    )
    assert answer.status_code == 200
    assert "Stopped: treat it as live" in said(answer.text) and text in said(answer.text)


@pytest.mark.parametrize(
    "rows",
    ["", "{}", "[1]", '[{"key": "x"}]', '[{"key": "' + "a" * 12 + '", "do": 1}]', "[" * 5000],
)
def test_what_are_no_acts_is_refused_and_nothing_is_written(forms, rows):
    before = forms.shop.store.head()
    data = {"token": token_of(forms.page()), "acts": rows}
    answer = forms.browser.post(f"{forms.run}/acts", data=data)
    assert answer.status_code == 400 and "no acts" in answer.text
    assert forms.shop.store.head() == before


def test_there_is_no_run_of_another_id(forms):
    assert forms.browser.get("/shop/runs/r-nothing").status_code == 404
    assert forms.browser.get("/shop/runs/r-nothing/record").status_code == 404


def test_an_upload_that_is_no_picture_is_refused_in_words(forms):
    html = forms.page()
    answer = forms.send(html, "photo.added", photo=b"MZ no picture", what="the lock", step="")
    assert answer.status_code == 422 and "Traceback" not in answer.text
