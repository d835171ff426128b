"""A whole isolation on a tablet: the network cut, a reading that contradicts, two tabs."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from browser import TABLET, keep, serving, violations
from conftest import visiting
from PIL import Image
from stocked import PIN, Stocked, a_vehicle, stocked

from swapwright.catalogue.read import Catalogue
from swapwright.jobs import clock as clocks
from swapwright.jobs.desk import Desk
from swapwright.jobs.procedure import procedure_of_car
from swapwright.jobs.shop import LOCAL_ACTOR, Shop
from swapwright.jobs.shop_board import board_row
from swapwright.records import secrets
from swapwright.records.verify import verify

pytestmark = pytest.mark.arithmetic

POINT = "measure.inverter.pole_pole"
SYNCED = 15_000
_picture = io.BytesIO()
Image.new("RGB", (64, 48), "grey").save(_picture, "JPEG")
PHOTO = {"name": "part.jpg", "mimeType": "image/jpeg", "buffer": _picture.getvalue()}


@dataclass
class Tablet:
    """A tablet beside the car, and the shop behind it; `on` sets both their clocks on."""

    shop: Shop
    stock: Stocked
    vehicle: str
    page: object = None
    ahead: float = 0.0

    def on(self, seconds: float) -> None:
        """Let time go by on the server and on the tablet."""
        self.ahead += seconds
        self.page.clock.fast_forward(int(seconds * 1000))

    def current(self) -> str:
        """Return the id of the step that is shown."""
        return self.page.locator(".card:not([hidden])").get_attribute("data-step")

    def press(self, name: str) -> None:
        """Press a button of the step."""
        self.page.locator(f".card:not([hidden]) button[value='{name}']").click()

    def read(self, text: str, unit: str = "V") -> None:
        """Type a reading and choose its unit."""
        card = self.page.locator(".card:not([hidden])")
        card.locator("input[name=text]").fill(text)
        card.locator(f".units label:has(input[value='{unit}'])").click()
        if not card.locator("select[name=mode]").input_value():
            card.locator("select[name=mode]").select_option("fixed range")
        self.press("reading.entered")

    def sign(self, who: str) -> None:
        """Sign the step with a PIN, typed on the pad of the page."""
        card = self.page.locator(".card:not([hidden])")
        card.locator("select[name=person]").select_option(self.stock.people[who])
        for digit in PIN[who]:
            card.locator(f".pad button[value='{digit}']").click()
        self.press("signature.given")

    def do(self) -> None:
        """Do the step that is shown, as it should be done."""
        step, card = self.current(), self.page.locator(".card:not([hidden])")
        if card.locator("input[type=file]").count():
            card.locator("input[type=file]").set_input_files(PHOTO)
        if card.locator("button[value='wait.begun']").count():
            self.press("wait.begun")
            self.page.locator(".card:not([hidden]) .countdown").wait_for()
            self.on(300.0)
            self.press("wait.over")
        elif card.locator("input[name=text]").count():
            if step.startswith("again."):
                self.on(60.0)
            self.read("400" if step.startswith("prove.") else "0.1")
        elif step.startswith(("walk.sign", "sign.")):
            self.sign("anne")
        elif step.startswith("lock."):
            self.press("lock.hung")
        else:
            self.press("step.done")
        self.page.locator(f".card:not([hidden]):not([data-step='{step}'])").wait_for()

    def follow(self, until: str) -> None:
        """Do one step after the other, up to but not with one."""
        while self.current() != until:
            self.do()

    def synced(self) -> None:
        """Wait until everything done here is with the server."""
        self.page.locator("#network").wait_for(state="hidden", timeout=SYNCED)


@pytest.fixture
def tablet(folder: Path, tmp_path_factory, monkeypatch, chromium):
    cheap = PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)
    monkeypatch.setattr(secrets, "_hasher", lambda: cheap)
    secrets._nobody.cache_clear()
    place = tmp_path_factory.mktemp("shop")
    found = Tablet(None, None, "")
    ticks = clocks.ticks
    monkeypatch.setattr(clocks, "ticks", lambda: ticks() + found.ahead)
    found.shop = Shop(
        place / "data" / "shop.db",
        key=place / "keys" / "key.pem",
        now=lambda: datetime.now(UTC) + timedelta(seconds=found.ahead),
    )
    look = Desk(folder / "ridgeway.toml", Catalogue(), date.today).look()
    assert look.checked is not None
    found.stock = stocked(found.shop)
    found.vehicle = a_vehicle(found.shop, procedure_of_car(look.checked, "isolation"))
    with serving(folder, shop=found.shop) as address, visiting(chromium, address) as visit:
        found.page = visit(
            f"/shop/vehicles/{found.vehicle}/begin/isolation", size=TABLET, has_touch=True
        )
        found.page.clock.install()
        begin(found)
        yield found
    found.shop.store.close()
    secrets._nobody.cache_clear()


def begin(tablet: Tablet) -> None:
    """Begin the isolation as two people would."""
    page, people = tablet.page, tablet.stock.people
    for who in ("anne", "ben"):
        page.locator(f"input[name=people][value='{people[who]}']").check()
    page.select_option("#begin-worker", people["anne"])
    page.get_by_role("button", name="begin it").click()
    page.locator("html[data-kept=yes]").wait_for(state="attached")


def shows(page, step: str) -> None:
    """Wait until a page shows a step."""
    page.locator(f".card[data-step='{step}']:not([hidden])").wait_for()


def board(tablet: Tablet):
    row = board_row(tablet.shop, LOCAL_ACTOR, tablet.vehicle)
    assert row is not None
    return row


def kept(tablet: Tablet, *kinds: str) -> list[str]:
    """Return the steps on record of some kinds, in the order they were kept."""
    return [str(each.body["step"]) for each in tablet.shop.store.records(kinds=kinds)]


def offline(tablet: Tablet, is_cut: bool) -> None:
    tablet.page.context.set_offline(is_cut)


def test_a_whole_isolation_on_a_tablet_ends_with_a_record_that_prints_and_verifies(
    tablet, tmp_path
):
    page = tablet.page
    keep(page, "run-1-begun")
    tablet.follow("walk.sign")
    keep(page, "run-2-sign")
    tablet.follow("off.load")
    # The network goes: everything is kept here and nothing becomes less dangerous elsewhere.
    offline(tablet, True)
    before = tablet.shop.store.head()[0]
    tablet.follow("lock.12v")
    assert tablet.shop.store.head()[0] == before
    assert "no network" in page.locator("#network").inner_text()
    keep(page, "run-3-no-network")
    page.reload()
    shows(page, "lock.12v")
    assert board(tablet).voltage.word == "energised" and board(tablet).lock.word == "none"
    tablet.follow("wait")
    page.locator(".card:not([hidden]) button[value='wait.begun']").click()
    page.locator(".card:not([hidden]) .countdown").wait_for()
    offline(tablet, False)
    tablet.synced()
    done = kept(tablet, "step.done", "lock.hung", "wait.begun")
    assert len(done) == len(set(done)), "nothing twice"
    wanted = [e for e in page_steps(page) if e in done]
    assert done == wanted, "all of it, in its order"
    assert board(tablet).voltage.word == "waiting"
    keep(page, "run-4-waiting")
    tablet.on(150.0)
    page.reload()
    left = page.locator(".card:not([hidden]) .countdown .left")
    left.wait_for()
    assert re.fullmatch(r"2:[0-3]\d", left.inner_text()), "the countdown survives a reload"
    tablet.on(150.0)
    tablet.press("wait.over")
    shows(page, "prove.before")
    tablet.follow(POINT)
    keep(page, "run-5-measure")
    tablet.follow("sign.absence")
    tablet.do()
    tablet.synced()
    keep(page, "run-6-verified")
    row = board(tablet)
    assert row.voltage.word.startswith("absence verified at ") and "Anne Weld" in row.voltage.word
    assert row.lock.word == "locked by Anne Weld" and not row.is_treated_as_energised
    assert not verify(tablet.shop.store).faults
    page.get_by_role("link", name="record").first.click()
    page.get_by_role("button", name="sign the ledger for printing").click()
    assert "checkpoint=" in page.url
    keep(page, "run-7-record")
    text = page.inner_text("main")
    assert "Absence verified at" in text and "Anne Weld" in text and "meter (S-" in text
    page.pdf(path=str(tmp_path / "record.pdf"), prefer_css_page_size=True)
    assert (tmp_path / "record.pdf").read_bytes().startswith(b"%PDF")
    assert violations(page) == []


def page_steps(page) -> list[str]:
    return page.locator(".progress [data-step]").evaluate_all("all => all.map(e => e.dataset.step)")


@pytest.mark.parametrize("is_cut", [False, True])
def test_a_reading_that_contradicts_stops_the_job_with_or_without_network(tablet, is_cut):
    page = tablet.page
    tablet.follow(POINT)
    offline(tablet, is_cut)
    tablet.read("48")
    if is_cut:
        stopped = page.locator("#stopped-here")
        stopped.wait_for()
        assert "treat it as live" in stopped.inner_text()
        offline(tablet, False)
    stop = page.locator(".stopped")
    stop.wait_for()
    assert "48 V" in stop.inner_text() and "Stopped: treat it as live" in stop.inner_text()
    keep(page, f"run-stopped-{'offline' if is_cut else 'online'}")
    assert violations(page) == []
    tablet.synced()
    assert board(tablet).voltage.word == "energised"
    assert tablet.shop.store.records(kinds=("reading.entered",))[-1].body["text"] == "48 V"
    shows(page, "prove.before")
    tablet.read("400")
    page.locator("#found").fill("a second pack under the seat")
    page.locator("#clear-person").select_option(tablet.stock.people["carla"])
    page.locator("#clear-pin").fill(PIN["carla"])
    page.locator("#clearing button[value='stop.cleared']").click()
    stop.wait_for(state="hidden")
    shows(page, "off.load")


def test_what_is_expected_is_told_only_after_the_reading(tablet):
    page = tablet.page
    tablet.follow("prove.before")
    words = "the dc voltage written on the proving source"
    assert words not in page.inner_text("body")
    tablet.read("400")
    page.locator(".last .expected").wait_for()
    assert words in page.inner_text("#now")


def test_a_reading_without_a_unit_is_asked_again_on_the_tablet_and_kept(tablet):
    page = tablet.page
    tablet.follow(POINT)
    card = page.locator(".card:not([hidden])")
    card.locator("input[name=text]").fill("0.2")
    tablet.press("reading.entered")
    page.locator("#told-here:not([hidden])").wait_for()
    assert "unit" in page.locator("#told-here").inner_text()
    tablet.synced()
    shows(page, POINT)
    tablet.read("0.2")
    page.locator(f".card:not([hidden]):not([data-step='{POINT}'])").wait_for()
    tablet.synced()
    texts = [e.body["text"] for e in tablet.shop.store.records(kinds=("reading.entered",))]
    assert texts[-2:] == ["0.2", "0.2 V"]


def test_what_the_server_does_not_take_is_told_on_the_tablet(tablet):
    page = tablet.page
    tablet.shop.registers()
    page.locator("#taken summary").click()
    page.locator("#taken select[name='item.rescue hook']").select_option("")
    tablet.press("step.done")
    page.locator("#refused-here li").wait_for()
    assert "no rescue hook is taken" in page.locator("#refused-here").inner_text()
    shows(page, "before.people")


def test_two_tabs_of_a_tablet_send_nothing_twice(tablet):
    page = tablet.page
    other = page.context.new_page()
    other.goto(page.url)
    other.locator("html[data-kept=yes]").wait_for(state="attached")
    tablet.follow("before.metal")
    tablet.synced()
    shows(other, "before.metal")
    other.locator(".card:not([hidden]) button[value='step.done']").click()
    shows(page, "before.gloves")
    done = kept(tablet, "step.done")
    assert done == ["before.people", "before.briefing", "before.metal"]


def test_stop_is_always_in_view_and_large_enough_for_a_gloved_hand(tablet):
    page = tablet.page
    sizes: Callable[[str], list[float]] = lambda where: page.locator(where).evaluate_all(  # noqa: E731
        "all => all.filter(e => e.offsetParent).map(e => e.getBoundingClientRect().height)"
    )
    assert min(sizes(".card:not([hidden]) button, .stop-bar button")) >= 60.0
    box = page.locator(".stop-bar button").bounding_box()
    assert box is not None and box["y"] + box["height"] <= TABLET[1]
    assert violations(page) == []
    page.locator(".stop-bar button").click()
    page.locator(".stopped").wait_for()
    tablet.synced()
    assert board(tablet).voltage.words.startswith("stopped, treat as live")


def test_a_page_that_hears_nothing_says_that_it_does_not_know(tablet):
    page = tablet.page
    tablet.follow("before.metal")
    tablet.synced()
    shown = page.locator("#marks-old")
    shown.wait_for(state="hidden")
    # The line stays open and nothing comes over it: no error tells a page so.
    page.route("**/shop/runs/*/state", lambda route: None)
    page.route("**/shop/live", lambda route: None)
    page.clock.fast_forward(25_000)
    shown.wait_for(state="visible")
    assert page.evaluate("document.documentElement.dataset.live") == "no"
    mark = page.locator(".vehicle-mark.voltage dd")
    said = mark.evaluate("e => getComputedStyle(e, '::after').content")
    assert "unknown" in said and "Treat it as energised" in said


def test_a_pin_does_not_stay_in_its_field(tablet):
    page = tablet.page
    tablet.follow("walk.sign")
    tablet.synced()
    offline(tablet, True)
    tablet.sign("anne")
    page.locator("#told-here:not([hidden])").wait_for()
    assert "wait for the network" in page.locator("#told-here").inner_text()
    fields = page.locator("input.pin").evaluate_all("all => all.map(e => e.value)")
    assert set(fields) == {""}
    offline(tablet, False)
    page.locator("#network").wait_for(state="hidden", timeout=SYNCED)
    assert kept(tablet, "signature.given") == []


def test_a_photo_that_cannot_be_read_is_told_at_once_and_stop_still_reaches_the_server(tablet):
    page = tablet.page
    walk = page.locator("fieldset.card:has(input[type=file])").first.get_attribute("data-step")
    tablet.follow(walk)
    card = page.locator(".card:not([hidden])")
    heic = {"name": "part.heic", "mimeType": "image/heic", "buffer": b"\0\0\0\x18ftypheic" * 9}
    card.locator("input[type=file]").set_input_files(heic)
    tablet.press("step.done")
    page.locator("#told-here:not([hidden])").wait_for()
    assert "no photo this browser can read" in page.locator("#told-here").inner_text()
    shows(page, walk)
    page.locator(".stop-bar button").click()
    page.locator(".stopped").wait_for()
    assert board(tablet).voltage.words.startswith("stopped, treat as live")


def test_a_browser_that_keeps_nothing_sends_stop_and_readings_straight_away(tablet):
    page = tablet.page
    page.evaluate(
        "() => { IDBDatabase.prototype.transaction = () => { throw new Error('full'); }; }"
    )
    page.locator(".stop-bar button").click()
    page.locator(".stopped").wait_for()
    assert board(tablet).voltage.words.startswith("stopped, treat as live")
