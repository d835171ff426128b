"""Who may come in: sessions that cannot be planted, stolen, outlived or used by another's form."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from conftest import TODAY, token_of
from starlette.testclient import TestClient

from swapwright.catalogue.read import Catalogue
from swapwright.jobs import shop_access
from swapwright.jobs.network import Network
from swapwright.jobs.shop import LOCAL_ACTOR, Shop
from swapwright.records import secrets
from swapwright.records.certificate import Certificate
from swapwright.records.record import Draft
from swapwright.records.sessions import IDLE, LONGEST, STOLEN
from swapwright.workbench.app import application
from swapwright.workbench.garage import Garage
from swapwright.workbench.identity import SESSION, SESSION_UNDER_TLS
from swapwright.workbench.security import STRICT_TRANSPORT

pytestmark = pytest.mark.arithmetic

NOON = datetime(2026, 11, 27, 12, tzinfo=UTC)
NAME, PASSWORD = "Ana Quell", "a long enough one"
STAGE, EDIT = "/cars/ridgeway/donor", "/cars/ridgeway/edit"
PAGE = {"accept": "text/html", "sec-fetch-mode": "navigate", "sec-fetch-dest": "document"}


class Clock:
    """A clock that a test sets on."""

    def __init__(self) -> None:
        self.now = NOON

    def on(self, seconds: float) -> None:
        self.now += timedelta(seconds=seconds)


@pytest.fixture(autouse=True)
def quick(monkeypatch):
    """Hashes that cost little: their strength is the library's business."""
    from argon2 import PasswordHasher

    cheap = PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)
    monkeypatch.setattr(secrets, "_hasher", lambda: cheap)
    secrets._nobody.cache_clear()
    yield
    secrets._nobody.cache_clear()


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def shop(tmp_path_factory, clock: Clock):
    """A shop whose admin has a password."""
    place = tmp_path_factory.mktemp("shop") / "shop.db"
    found = Shop(place, now=lambda: clock.now, today=lambda: TODAY)
    shop_access.first_account(found, LOCAL_ACTOR, NAME, PASSWORD)
    yield found
    found.store.close()


@pytest.fixture
def app(folder: Path, shop: Shop):
    return application(Garage(folder, Catalogue(), lambda: TODAY), shop=shop)


@pytest.fixture
def visitor(app):
    """Give a browser at the workbench: its agent, its address, under TLS or not."""

    def come(agent: str = "tablet", address: str = "127.0.0.1", scheme: str = "http", at=None):
        return TestClient(
            at or app,
            base_url=f"{scheme}://127.0.0.1",
            client=(address, 50_000),
            follow_redirects=False,
            headers={"user-agent": agent},
        )

    return come


@pytest.fixture
def browser(visitor) -> TestClient:
    return visitor()


def log_in(client: TestClient, name: str = NAME, password: str = PASSWORD, **more: str):
    token = token_of(client.get("/login").text)
    sent = {"token": token, "name": name, "password": password, **more}
    return client.post("/login", data=sent)


def person_called(shop: Shop, name: str) -> str:
    return next(each.id for each in shop.people().values() if each.name == name)


def enter(shop: Shop, name: str, role: str, password: str) -> str:
    """Enter somebody with a role and a password of their own."""
    person, about = name.lower(), {"person": name.lower()}
    shop.write(
        Draft("person.added", "local", about, {"name": name}),
        Draft("role.given", "local", about, {"role": role}),
        Draft("secret.set", "local", about, {"which": "password"}),
    )
    secrets.set_secret(shop.store, person, "password", password)
    return person


def refused(shop: Shop) -> list[dict]:
    return [dict(each.body) for each in shop.store.records(kinds=("access.refused",))]


def test_without_accounts_the_one_local_user_works_as_before(folder, tmp_path_factory):
    place = tmp_path_factory.mktemp("none") / "shop.db"
    app = application(Garage(folder, Catalogue(), lambda: TODAY), shop=Shop(place))
    client = TestClient(app, base_url="http://127.0.0.1", follow_redirects=False)
    assert client.get(STAGE).status_code == 200
    assert client.get("/login").headers["location"] == "/"
    token = token_of(client.get("/account").text)
    sent = {"token": token, "name": NAME, "password": PASSWORD}
    assert client.post("/login", data=sent).headers["location"] == "/"
    assert "set-cookie" not in client.get("/").headers
    assert not place.exists()


@pytest.mark.parametrize("address", ["/", STAGE, "/parts", "/account", "/account/pin", "/none"])
def test_once_somebody_has_a_password_every_page_leads_to_the_log_in(browser, address):
    answer = browser.get(address, headers=PAGE)
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/login")
    assert "Ridgeway" not in answer.text


@pytest.mark.parametrize("address", ["/api/cars", "/api/openapi.json", "/api/none"])
def test_a_program_is_told_in_words_as_the_document_it_expects(browser, address):
    answer = browser.get(address, headers=PAGE)
    assert answer.status_code == 401
    assert answer.json()["problems"][0]["message"].startswith("log in first")


@pytest.mark.parametrize(
    ("method", "address"),
    [("GET", "/cars/ridgeway/hash"), ("POST", EDIT), ("POST", "/settings"), ("POST", "/logout")],
)
def test_script_and_forms_without_a_session_are_told_in_words(browser, method, address):
    answer = browser.request(method, address, headers={"sec-fetch-mode": "cors"})
    assert answer.status_code == 401
    assert answer.text.startswith("log in first")


@pytest.mark.parametrize("host", ["127.0.0.1/static/", "127.0.0.1/login?", "127.0.0.1#"])
def test_a_host_s_name_opens_no_page(browser, host):
    assert browser.get(STAGE, headers={"host": host}).status_code in (400, 401)


def test_what_the_log_in_page_itself_is_made_of_is_open(browser):
    assert browser.get("/login").status_code == 200
    assert browser.get("/static/sheet.css").status_code == 200


def test_whoever_logs_in_goes_on_to_where_they_wanted(browser):
    led = browser.get(f"{STAGE}?at=car.mark", headers=PAGE).headers["location"]
    html = browser.get(led).text
    assert 'name="next" value="/cars/ridgeway/donor?at=car.mark"' in html
    answer = log_in(browser, next=f"{STAGE}?at=car.mark")
    assert answer.headers["location"] == f"{STAGE}?at=car.mark"
    assert NAME in browser.get(STAGE).text


@pytest.mark.parametrize(
    "given",
    [
        "https://elsewhere.example/",
        "//elsewhere.example",
        "/\\elsewhere.example",
        "/\t/elsewhere.example",
        "javascript:alert(1)",
        "/login?next=/login",
        "/logout",
    ],
)
def test_a_log_in_never_leads_out_of_here_or_in_a_circle(browser, given):
    assert log_in(browser, next=given).headers["location"] == "/"


def test_a_name_is_known_however_it_is_spaced_and_cased(browser):
    assert log_in(browser, name="  ana   QUELL ").status_code == 303


def test_the_session_s_cookie_is_for_no_script_and_no_other_site(browser):
    said = log_in(browser).headers["set-cookie"]
    assert said.startswith(f"{SESSION}=")
    assert "HttpOnly" in said
    assert "SameSite=strict" in said
    assert "Path=/" in said
    assert "Domain" not in said
    assert "Max-Age" not in said


def test_under_tls_the_cookie_is_held_to_this_host_and_to_tls(visitor):
    said = log_in(visitor(scheme="https")).headers["set-cookie"]
    assert said.startswith(f"{SESSION_UNDER_TLS}=")
    assert SESSION_UNDER_TLS.startswith("__Host-")
    assert "Secure" in said
    assert "Path=/" in said
    assert "Domain" not in said


def test_a_session_planted_before_the_log_in_is_not_the_one_after_it(browser):
    browser.cookies.set(SESSION, "planted-by-another", domain="127.0.0.1")
    said = log_in(browser).headers["set-cookie"]
    assert "planted-by-another" not in said
    other = TestClient(browser.app, base_url="http://127.0.0.1", follow_redirects=False)
    other.cookies.set(SESSION, "planted-by-another")
    assert other.get(STAGE).status_code == 401


def test_logging_in_again_ends_the_session_the_browser_came_with(visitor, shop):
    first = visitor()
    log_in(first)
    old = first.cookies[SESSION]
    shop_access.log_in(shop, NAME, PASSWORD, "127.0.0.1", "tablet", old)
    assert first.get(STAGE).status_code == 401


@pytest.mark.parametrize(
    "thief", [{"agent": "another browser"}, {"address": "198.51.100.7"}], ids=["agent", "address"]
)
def test_a_stolen_session_ends_for_both_and_its_owner_is_told(visitor, shop, thief):
    owner, other = visitor(), visitor(**thief)
    log_in(owner)
    assert owner.get(STAGE).status_code == 200
    other.cookies.set(SESSION, owner.cookies[SESSION])
    assert other.get(STAGE).status_code == 401
    assert owner.get(STAGE).status_code == 401
    assert refused(shop) == [
        {
            "what": "use a session",
            "reason": STOLEN,
            "address": thief.get("address", "127.0.0.1"),
        }
    ]
    answer = log_in(owner, next=STAGE)
    assert answer.headers["location"].startswith("/account?next=")
    html = owner.get(answer.headers["location"]).text
    assert f"use a session: {STOLEN}" in html
    assert f'<a href="{STAGE}">' in html
    owner.cookies.clear()
    log_in(owner)
    assert "Refused in your name" not in owner.get("/account").text


def test_a_session_ends_unused_and_at_the_end_of_a_shift(browser, clock):
    log_in(browser)
    clock.on(IDLE - 1)
    assert browser.get(STAGE).status_code == 200
    clock.on(IDLE + 1)
    assert browser.get(STAGE).status_code == 401
    log_in(browser)
    for _ in range(int(LONGEST / (IDLE / 2)) + 1):
        clock.on(IDLE / 2)
        last = browser.get("/account")
    assert last.status_code == 401


def test_a_form_s_token_is_good_in_its_own_session_alone(visitor, shop, app, folder):
    enter(shop, "Bo", "technician", "another long one")
    one, other = visitor(), visitor("phone")
    log_in(one)
    log_in(other, "Bo", "another long one")
    mine, theirs = (token_of(each.get(STAGE).text) for each in (one, other))
    assert len({mine, theirs, app.state.token}) == 3
    for token in (theirs, app.state.token, ""):
        answer = one.post("/account/sessions", data={"token": token})
        assert answer.status_code == 403
        assert "earlier start or session" in answer.text
    assert one.post("/settings", data={"token": mine, "units": "us"}).status_code == 303


def test_logging_out_ends_the_session_and_not_only_the_cookie(browser):
    log_in(browser)
    kept = browser.cookies[SESSION]
    answer = browser.post("/logout", data={"token": token_of(browser.get("/account").text)})
    assert answer.headers["location"] == "/login?said=out"
    browser.cookies.set(SESSION, kept, domain="127.0.0.1")
    assert browser.get(STAGE).status_code == 401


def test_a_person_can_end_every_session_of_theirs(visitor):
    one, other = visitor(), visitor("phone")
    log_in(one)
    log_in(other)
    one.post("/account/sessions", data={"token": token_of(one.get("/account").text)})
    assert other.get(STAGE).status_code == one.get(STAGE).status_code == 401


def test_whoever_left_the_shop_is_out_at_once_and_nobody_becomes_the_local_user(visitor, shop):
    bo = enter(shop, "Bo", "technician", "another long one")
    client = visitor()
    log_in(client, "Bo", "another long one")
    shop.write(Draft("person.left", "local", {"person": bo}, {"reason": "moved"}))
    assert client.get(STAGE).status_code == 401
    assert log_in(client, "Bo", "another long one").status_code == 401


@pytest.mark.parametrize(
    ("role", "status"),
    [("inspector", 403), ("technician", 303), ("instructor", 303), ("admin", 303)],
)
def test_an_inspector_reads_the_cars_and_changes_none(visitor, shop, folder, role, status):
    enter(shop, "Bo", role, "another long one")
    client = visitor()
    log_in(client, "Bo", "another long one")
    html = client.get(STAGE).text
    before = (folder / "ridgeway.toml").read_bytes()
    based_on = re.search(r'name="based_on" value="([^"]+)"', html)[1]
    form = {"token": token_of(html), "path": "car.mark", "text": "Z", "based_on": based_on}
    answer = client.post(EDIT, data=form)
    assert answer.status_code == status
    assert ((folder / "ridgeway.toml").read_bytes() != before) == (status == 303)
    if status == 403:
        assert "change a car" in answer.text
        assert refused(shop)[-1]["what"] == "change a car"
        for address in ("/new", "/copy", "/drop", "/cars/ridgeway/undo"):
            assert client.post(address, data=form).status_code == 403
        assert client.post("/api/assess", json={"build": "format = 1"}).status_code != 403


def test_beyond_this_machine_nobody_is_the_local_user_whatever_became_of_the_accounts(
    folder, shop, visitor
):
    shop.write(
        Draft("person.left", "local", {"person": person_called(shop, NAME)}, {"reason": "gone"})
    )
    assert not shop.has_accounts()
    garage = Garage(folder, Catalogue(), lambda: TODAY)
    certificate = Certificate(folder, folder, "AA", NOON, is_own=True)
    network = Network("0.0.0.0", ("127.0.0.1",), certificate, is_open=True)
    for kept in (shop, None):
        client = visitor(at=application(garage, shop=kept, network=network), scheme="https")
        for address in (STAGE, "/account", "/api/cars"):
            assert client.get(address).status_code == 401


@pytest.mark.parametrize("is_own", [True, False])
def test_browsers_are_held_to_tls_only_where_they_know_the_certificate(
    folder, shop, visitor, is_own
):
    certificate = Certificate(folder, folder, "AA:BB", NOON, is_own=is_own)
    network = Network("0.0.0.0", ("127.0.0.1",), certificate, is_open=True)
    garage = Garage(folder, Catalogue(), lambda: TODAY)
    client = visitor(at=application(garage, shop=shop, network=network), scheme="https")
    assert (STRICT_TRANSPORT in client.get("/login").headers) is not is_own
    log_in(client)
    assert "AA:BB" in client.get("/account").text
