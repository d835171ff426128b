"""One tablet that several people use, each under their own login."""

from __future__ import annotations

from datetime import date

import pytest
from argon2 import PasswordHasher
from browser import TABLET, serving
from conftest import visiting
from stocked import a_vehicle, stocked

from swapwright.catalogue.read import Catalogue
from swapwright.jobs.desk import Desk
from swapwright.jobs.procedure import procedure_of_car
from swapwright.jobs.shop import LOCAL_ACTOR, Shop
from swapwright.jobs.shop_run_begin import begin_run
from swapwright.records import secrets
from swapwright.records.record import Draft, new_key

pytestmark = pytest.mark.arithmetic

PASSWORD = "a long enough one"
NAMES = {"anne": "Anne Weld", "ben": "Ben Crimp"}


@pytest.fixture
def shared(folder, tmp_path_factory, monkeypatch, chromium):
    """A shop where two people have a password, a run, and a browser at its address."""
    cheap = PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)
    monkeypatch.setattr(secrets, "_hasher", lambda: cheap)
    secrets._nobody.cache_clear()
    place = tmp_path_factory.mktemp("shop")
    shop = Shop(place / "data" / "shop.db", key=place / "keys" / "key.pem")
    look = Desk(folder / "ridgeway.toml", Catalogue(), date.today).look()
    assert look.checked is not None
    stock = stocked(shop)
    vehicle = a_vehicle(shop, procedure_of_car(look.checked, "isolation"))
    people = [stock.people["anne"], stock.people["ben"]]
    given = {"key": new_key(), "worker": people[0]}
    items = list(stock.items.values())
    run = begin_run(shop, LOCAL_ACTOR, vehicle, "isolation", look, given, people, items)
    for each in people:
        secrets.set_secret(shop.store, each, "password", PASSWORD)
        shop.write(Draft("secret.set", "local", {"person": each}, {"which": "password"}))
    with serving(folder, shop=shop) as address, visiting(chromium, address) as visit:
        page = visit("/login", size=TABLET, has_touch=True)
        yield shop, page, f"{address}/shop/runs/{run}", stock
    shop.store.close()
    secrets._nobody.cache_clear()


def log_in(page, who: str) -> None:
    page.locator("input[name=name]").fill(NAMES[who])
    page.locator("input[name=password]").fill(PASSWORD)
    page.locator("form:has(input[name=password]) button").first.click()
    page.wait_for_url(lambda url: "/login" not in url)


def log_out(page, address: str) -> None:
    page.goto(address.partition("/shop/runs")[0] + "/account")
    page.get_by_role("button", name="log out").click()
    page.wait_for_url("**/login**")


def open_run(page, address: str) -> None:
    page.goto(address)
    page.locator("html[data-kept=yes]").wait_for(state="attached")


def test_what_one_did_offline_is_not_sent_under_the_login_of_the_next(shared):
    shop, page, address, stock = shared
    log_in(page, "anne")
    open_run(page, address)
    # The line stays up for pages, and what is done does not get through.
    page.route("**/acts", lambda route: route.abort())
    page.locator(".card:not([hidden]) button[value='step.done']").click()
    page.locator(".card[data-step='before.briefing']:not([hidden])").wait_for()
    log_out(page, address)
    page.unroute("**/acts")
    log_in(page, "ben")
    open_run(page, address)
    told = page.locator("#network")
    told.wait_for()
    assert "1 act of Anne Weld to be sent from this device" in told.inner_text()
    assert shop.store.records(kinds=("step.done",)) == ()
    log_out(page, address)
    log_in(page, "anne")
    open_run(page, address)
    told.wait_for(state="hidden")
    done = shop.store.records(kinds=("step.done",))
    assert [(each.by, each.body["step"]) for each in done] == [
        (stock.people["anne"], "before.people")
    ]


def test_who_logs_out_leaves_no_page_of_theirs_behind(shared):
    _, page, address, _ = shared
    log_in(page, "anne")
    open_run(page, address)
    log_out(page, address)
    kept = page.evaluate("caches.keys()")
    assert "swapwright-runs-1" not in kept
