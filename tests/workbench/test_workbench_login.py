"""Passwords and PINs on the pages: guessed slowly, told in words, set by whoever may."""

from __future__ import annotations

import pytest
from browser import DESKTOP, PHONE, is_fault, keep, violations
from conftest import TODAY, token_of
from starlette.testclient import TestClient
from test_workbench_identity import (
    NAME,
    PASSWORD,
    STAGE,
    Clock,
    enter,
    log_in,
    person_called,
    refused,
)
from test_workbench_identity import app as app
from test_workbench_identity import browser as browser
from test_workbench_identity import clock as clock
from test_workbench_identity import quick as quick
from test_workbench_identity import shop as shop
from test_workbench_identity import visitor as visitor
from test_workbench_network import serving

from swapwright.catalogue.read import Catalogue
from swapwright.jobs import shop_access
from swapwright.jobs.network import THIS_MACHINE
from swapwright.jobs.shop import Shop
from swapwright.records import secrets
from swapwright.records.record import Draft
from swapwright.records.secrets import FIRST_WAIT, FREE_TRIES
from swapwright.workbench.app import application
from swapwright.workbench.garage import Garage

pytestmark = pytest.mark.arithmetic

NEW = "an even longer one"


def said(answer) -> str:
    """Return what a page tells of what is wrong."""
    assert 'role="alert"' in answer.text or "problem" in answer.text
    return answer.text


def sent(client: TestClient, act: str, **fields: str):
    token = token_of(client.get("/account").text)
    return client.post(f"/account/{act}", data={"token": token, **fields})


def answers(client: TestClient, name: str) -> list[str]:
    """Return what is told of one wrong try after another under a name."""
    found = []
    for _ in range(FREE_TRIES + 3):
        html = log_in(client, name, "wrong wrong wrong").text
        start = html.index('id="says-login">') + len('id="says-login">')
        found.append(html[start : html.index("<", start)])
    return found


def test_a_wrong_try_tells_the_same_whether_or_not_there_is_anybody(visitor, shop):
    shop.write(Draft("person.added", "local", {"person": "cy"}, {"name": "Cy"}))
    known, unknown, without = (answers(visitor(), each) for each in (NAME, "Nobody At All", "Cy"))
    assert known == unknown == without
    assert "wait" not in known[0]
    assert f"the next try in {FIRST_WAIT:.0f} s" in known[FREE_TRIES - 1]
    assert "not looked at" in known[-1]


def test_a_wrong_try_costs_the_same_work_whether_or_not_there_is_anybody(
    browser, shop, monkeypatch
):
    tried = []
    right = secrets._is_right
    monkeypatch.setattr(
        secrets, "_is_right", lambda *given: tried.append(given[0][:9]) or right(*given)
    )
    log_in(browser, "Nobody", "wrong wrong wrong")
    hashed = len(tried)
    log_in(browser, NAME, "wrong wrong wrong")
    assert hashed == 1
    assert tried == ["$argon2id", "$argon2id"]


def test_the_right_password_waits_too_and_is_taken_after_it(browser, clock):
    for _ in range(FREE_TRIES):
        log_in(browser, password="wrong wrong wrong")
    early = log_in(browser)
    assert early.status_code == 401
    assert "not looked at" in early.text
    clock.on(FIRST_WAIT + 1)
    assert log_in(browser).status_code == 303


def test_another_name_nobody_has_does_not_wait_for_the_first(browser):
    for _ in range(FREE_TRIES):
        log_in(browser, "Nobody", "wrong wrong wrong")
    assert "the next try" not in log_in(browser, "Somebody", "wrong wrong wrong").text


def test_a_wrong_try_is_on_record_without_what_was_typed(browser, shop):
    log_in(browser, NAME, "my secret mistake")
    log_in(browser, "typed here by mistake", "my secret mistake")
    kept = shop.store.records(kinds=("access.refused",))
    assert [dict(each.about) for each in kept] == [{"person": person_called(shop, NAME)}, {}]
    assert all(each.body["what"] == "log in" for each in kept)
    assert "mistake" not in "".join(str(each) for each in shop.store.records())


def test_tries_from_elsewhere_are_told_at_the_next_log_in(browser, visitor):
    log_in(visitor(address="198.51.100.7"), password="wrong wrong wrong")
    answer = log_in(browser)
    assert answer.headers["location"].startswith("/account")
    assert "198.51.100.7" in browser.get("/account").text


def test_one_s_own_slip_leads_on_as_ever(browser):
    log_in(browser, password="wrong wrong wrong")
    assert log_in(browser, next=STAGE).headers["location"] == STAGE


def test_what_is_typed_as_a_name_is_shown_as_words(browser):
    html = log_in(browser, '"><script>alert(1)</script>').text
    assert "<script>alert" not in html


def test_a_new_password_asks_for_the_present_one_and_ends_every_session(visitor, shop):
    one, other = visitor(), visitor("phone")
    log_in(one)
    log_in(other)
    wrong = sent(one, "password", current="not this one", password=NEW, again=NEW)
    assert wrong.status_code == 422
    assert "not your present password" in said(wrong)
    assert refused(shop)[-1]["what"] == "set password"
    answer = sent(one, "password", current=PASSWORD, password=NEW, again=NEW)
    assert answer.headers["location"] == "/login?said=anew"
    assert one.get(STAGE).status_code == other.get(STAGE).status_code == 401
    assert log_in(one).status_code == 401
    assert log_in(one, password=NEW).status_code == 303


@pytest.mark.parametrize(
    ("new", "again", "words"),
    [
        ("short", "short", "10 to 200 characters"),
        (NEW, "something else", "not what was typed above"),
        (PASSWORD, PASSWORD, "this is the present one"),
    ],
)
def test_a_password_that_does_not_do_is_told_at_its_field(browser, new, again, words):
    log_in(browser)
    answer = sent(browser, "password", current=PASSWORD, password=new, again=again)
    assert answer.status_code == 422
    assert words in said(answer)
    assert 'aria-invalid="true"' in answer.text
    assert browser.get(STAGE).status_code == 200


@pytest.mark.parametrize("pin", ["12345", "123456", "777777", "12a456"])
def test_a_pin_that_is_too_easy_is_refused_and_none_is_set(browser, shop, pin):
    log_in(browser)
    answer = sent(browser, "pin", current=PASSWORD, pin=pin, again=pin)
    assert answer.status_code == 422
    assert "too easy to guess" in said(answer)
    assert not shop.people()[person_called(shop, NAME)].has_pin


def test_a_pin_is_set_with_the_password_and_shown_nowhere(browser, shop, clock):
    log_in(browser)
    assert sent(browser, "pin", current=PASSWORD, pin="271828", again="271828").status_code == 303
    person = person_called(shop, NAME)
    assert shop.people()[person].has_pin
    assert secrets.check_secret(shop.store, person, "pin", "271828", clock.now).ok
    assert "271828" not in browser.get("/account").text
    assert "271828" not in "".join(str(each) for each in shop.store.records())


def test_an_admin_sets_a_password_once_and_its_owner_sets_their_own_before_all_else(
    browser, visitor, shop
):
    bo = enter(shop, "Bo", "technician", "another long one")
    theirs = visitor("phone")
    log_in(theirs, "Bo", "another long one")
    log_in(browser)
    given = "told by word of mouth"
    assert sent(browser, "another", person=bo, password=given, again=given).status_code == 303
    kept = shop.store.records(kinds=("secret.set",), person=bo)[-1]
    assert kept.by == person_called(shop, NAME)
    assert theirs.get(STAGE).status_code == 401
    log_in(theirs, "Bo", given)
    page = {"accept": "text/html", "sec-fetch-mode": "navigate"}
    assert theirs.get(STAGE, headers=page).headers["location"] == "/account"
    assert theirs.get("/api/cars").status_code == 403
    assert "chosen by another person" in theirs.get("/account").text
    sent(theirs, "password", current=given, password=NEW, again=NEW)
    log_in(theirs, "Bo", NEW)
    assert theirs.get(STAGE).status_code == 200


def test_only_an_admin_sets_a_password_for_another(browser, shop):
    enter(shop, "Bo", "technician", "another long one")
    log_in(browser, "Bo", "another long one")
    assert "somebody else" not in browser.get("/account").text
    ana = person_called(shop, NAME)
    answer = sent(browser, "another", person=ana, password=NEW, again=NEW)
    assert answer.status_code == 422
    assert "only as admin" in answer.text
    assert refused(shop)[-1]["what"] == "reset a secret"
    browser.cookies.clear()
    assert log_in(browser, NAME, NEW).status_code == 401


def test_the_first_account_is_made_on_this_machine_and_once(folder, tmp_path_factory, clock):
    place = tmp_path_factory.mktemp("new") / "shop.db"
    shop = Shop(place, now=lambda: clock.now, today=lambda: TODAY)
    app = application(Garage(folder, Catalogue(), lambda: TODAY), shop=shop)
    client = TestClient(app, base_url="http://127.0.0.1", follow_redirects=False)
    wrong = sent(client, "first", name="Dee", password="short", again="short")
    assert wrong.status_code == 422
    assert "too easy to guess" in said(wrong)
    token = token_of(client.get("/account").text)
    fields = {"token": token, "name": "Dee", "password": NEW, "again": NEW}
    assert client.post("/account/first", data=fields).headers["location"] == "/login?said=anew"
    assert client.post("/account/first", data=fields).status_code == 401
    log_in(client, "Dee", NEW)
    fields["token"] = token_of(client.get("/account").text)
    assert client.post("/account/first", data={**fields, "name": "Ed"}).status_code == 422
    assert [each.name for each in shop.people().values()] == ["Dee"]
    shop.store.close()


def test_a_clock_that_is_set_back_shortens_no_wait(browser, clock: Clock):
    for _ in range(FREE_TRIES):
        log_in(browser, password="wrong wrong wrong")
    clock.on(-3600)
    assert log_in(browser).status_code == 401


@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desktop", "phone"])
def test_in_a_real_browser_a_person_logs_in_and_is_led_back_when_the_session_has_ended(
    chromium, folder, shop, size
):
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]})
    with serving(folder, shop, THIS_MACHINE) as port:
        faults = []
        page = context.new_page()
        page.set_default_timeout(15_000)
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on("console", lambda told: faults.append(told.text) if is_fault(told) else None)
        page.goto(f"http://127.0.0.1:{port}/parts")
        assert "/login?next=%2Fparts" in page.url
        page.get_by_label("name").fill(NAME)
        page.get_by_label("password").fill("wrong wrong wrong")
        page.get_by_role("button", name="log in").click()
        page.get_by_text("do not belong together").wait_for()
        assert violations(page) == []
        keep(page, f"login-{size[0]}")
        page.get_by_label("password").fill(PASSWORD)
        page.get_by_role("button", name="log in").click()
        page.wait_for_url("**/parts")
        page.get_by_role("link", name=NAME).click()
        page.get_by_role("heading", name=NAME).wait_for()
        assert violations(page) == []
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
        keep(page, f"account-{size[0]}")
        shop_access.log_out_everywhere(shop, shop.actor(person_called(shop, NAME)))
        page.get_by_role("link", name="parts").click()
        page.get_by_role("heading", name="Log in").wait_for()
    context.close()
    assert faults == []
