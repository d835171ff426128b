"""Who may do what over HTTP, role by role and action by action, by the form that asks it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from html import unescape
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from starlette.testclient import TestClient

from swapwright.catalogue.read import Catalogue
from swapwright.jobs.desk import Desk
from swapwright.jobs.procedure import procedure_of_car
from swapwright.jobs.shop import Shop
from swapwright.procedures.document import procedure_document
from swapwright.records import secrets
from swapwright.records.record import Draft, Json, new_key
from swapwright.standards.permissions import ACTIONS, ROLES
from swapwright.workbench.app import application
from swapwright.workbench.garage import Garage

pytestmark = pytest.mark.arithmetic

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
PASSWORD, PIN = "a long enough one", "482913"
V, ITEM, GONE, P, W, C, R = "v-one", "i-one", "i-gone", "p-one", "w-one", "n-one", "r-one"
PRESSED, OTHER = "r-two", "v-two"
"""A run that somebody stopped by hand; the other one was stopped by a reading."""
LIVE: dict[str, Json] = {
    "level": "live",
    "scheme": "employer's own",
    "scheme_level": "appointed for live work",
    "evidence": "letter",
    "since": "2026-01-05",
}
POINT = "measure.inverter.pole_pole"
ACTS = f"/shop/runs/{R}/acts"

NOT_SHOWN = "/account/another"
"""A form that whoever may not never sees: there is no place on the page to say why."""
FORMS: tuple[tuple[str, str, dict[str, str]], ...] = (
    ("add a person", "/shop/people", {"name": "Nia"}),
    ("give a role", f"/shop/people/{P}/role", {"role": "technician"}),
    ("give a role", f"/shop/people/{P}/take-role", {"role": "technician"}),
    ("grant a competence", f"/shop/people/{P}/competence", {}),
    ("withdraw a competence", f"/shop/people/{P}/withdraw", {}),
    ("add equipment", "/shop/equipment", {"kind": "gloves"}),
    ("enter a test", f"/shop/equipment/{ITEM}/test", {}),
    ("issue equipment", f"/shop/equipment/{ITEM}/issue", {}),
    ("inspect equipment", f"/shop/equipment/{ITEM}/inspect", {}),
    ("withdraw equipment", f"/shop/equipment/{ITEM}/withdraw", {}),
    ("return equipment", f"/shop/equipment/{GONE}/return", {}),
    ("add a vehicle", "/shop/vehicles", {}),
    ("enter a revision", f"/shop/vehicles/{V}/revision", {}),
    ("do a step", f"/shop/vehicles/{V}/photos", {"what": "a part"}),
    ("end an absence", f"/shop/vehicles/{V}/happening", {"happening": "moved"}),
    ("issue a permit", "/shop/permits", {"level": "isolation", "vehicle": V}),
    ("issue a permit for live work", "/shop/permits", {"level": "live", "vehicle": V}),
    ("withdraw a permit", f"/shop/permits/{W}/withdraw", {}),
    ("close a permit", f"/shop/permits/{W}/close", {}),
    ("report an incident", "/shop/incidents", {}),
    ("add to an incident", f"/shop/incidents/{C}", {}),
    ("verify the ledger", "/shop/ledger/verify", {}),
    ("begin a run", f"/shop/vehicles/{V}/begin/isolation", {}),
    ("reset a secret", "/account/another", {"person": P, "which": "pin", "new": PIN}),
)
RUN_ACTS: tuple[tuple[str, str, dict[str, str]], ...] = (
    ("do a step", "step.done", {"step": "off.key"}),
    ("do a step", "wait.begun", {"step": "wait"}),
    ("do a step", "run.ended", {}),
    ("hang a lock", "lock.hung", {"step": "lock.12v", "lock": "i-none"}),
    ("hold a run", "run.resumed", {}),
    ("sign", "signature.given", {"step": "walk.sign", "seen": "0" * 64, "person": "own"}),
    ("clear a stop", "stop.cleared", {"found": "the plug", "person": "own"}),
    ("clear a pressed stop", "stop.cleared", {"found": "nothing", "person": "own", "run": PRESSED}),
    ("hand a run over", "run.handed_over", {"person": "own"}),
    ("enter a reading", "reading.entered", {"step": "prove.before", "text": "400 V"}),
    ("stop a run", "run.stopped", {"reason": "smoke", "run": PRESSED}),
)


@dataclass(frozen=True)
class Door:
    """A browser logged in as somebody with one role, and the shop behind it."""

    shop: Shop
    browsers: dict[str, TestClient]


@pytest.fixture(scope="module")
def door(tmp_path_factory) -> Iterator[Door]:
    patch = pytest.MonkeyPatch()
    cheap = PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)
    patch.setattr(secrets, "_hasher", lambda: cheap)
    secrets._nobody.cache_clear()
    cars = tmp_path_factory.mktemp("cars")
    (cars / "ridgeway.toml").write_bytes((EXAMPLES / "ridgeway.toml").read_bytes())
    place = tmp_path_factory.mktemp("shop")
    shop = Shop(place / "shop.db", key=place / "key.pem")
    for role in ROLES:
        _enter(shop, role)
    _fill(shop, cars / "ridgeway.toml")
    app = application(Garage(cars, Catalogue()), shop=shop)
    yield Door(shop, {role: _logged_in(app, role) for role in ROLES})
    shop.store.close()
    patch.undo()
    secrets._nobody.cache_clear()


def person_of(role: str) -> str:
    return f"p-{role.replace(' ', '-')}"


def _enter(shop: Shop, role: str) -> None:
    """Enter somebody with one role and the highest competence: only the role can be too little."""
    person = person_of(role)
    about = {"person": person}
    shop.write(
        Draft("person.added", "local", about, {"name": f"One {role}"}),
        Draft("role.given", "local", about, {"role": role}),
        Draft("competence.granted", "local", about, LIVE),
        Draft("secret.set", "local", about, {"which": "password"}),
        Draft("secret.set", "local", about, {"which": "pin"}),
    )
    secrets.set_secret(shop.store, person, "password", PASSWORD)
    secrets.set_secret(shop.store, person, "pin", PIN)


def _fill(shop: Shop, car: Path) -> None:
    """Enter one of everything, and a run that is stopped."""
    look = Desk(car, Catalogue(), date.today).look()
    assert look.checked is not None
    procedure = procedure_of_car(look.checked, "isolation")
    run, vehicle = {"vehicle": V, "run": R}, {"vehicle": V}
    entered: dict[str, Json] = {
        "revision": procedure.revision,
        "mark": "A",
        "data_version": "1",
        "build": "",
    }
    permit: dict[str, Json] = {
        "work": "work",
        "revision": procedure.revision,
        "level": "isolation",
        "people": [P],
        "since": "2026-11-27T06:00:00+00:00",
        "until": "2099-11-27T18:00:00+00:00",
        "precautions": "none",
    }
    happened: dict[str, Json] = {
        "what": "a slip",
        "happened_at": "2026-11-27T08:00:00+00:00",
        "where": "the shop",
        "harm": "none",
        "is_near_miss": True,
    }
    begun: dict[str, Json] = {
        "procedure": procedure_document(procedure),
        "people": [P],
        "items": [],
        "worker": P,
    }
    gloves: dict[str, Json] = {"kind": "gloves", "name": "gloves", "serial": "1", "data": {}}
    named: dict[str, Json] = {"name": "one", "car": "ridgeway", "identity": ""}
    shop.write(
        Draft("person.added", "local", {"person": P}, {"name": "Somebody"}),
        Draft("role.given", "local", {"person": P}, {"role": "technician"}),
        Draft("competence.granted", "local", {"person": P}, LIVE),
        Draft("item.added", "local", {"item": ITEM}, gloves),
        Draft("item.added", "local", {"item": GONE}, gloves),
        Draft("item.withdrawn", "local", {"item": GONE}, {"reason": "torn"}),
        Draft("vehicle.added", "local", vehicle, named),
        Draft("revision.entered", "local", vehicle, entered),
        Draft("permit.issued", "local", {**vehicle, "permit": W}, permit),
        Draft("incident.reported", "local", {"incident": C}, happened),
        Draft("run.begun", "local", run, begun),
        Draft("reading.entered", P, run, {"step": POINT, "point": "a point", "text": "48 V"}),
        Draft("vehicle.added", "local", {"vehicle": OTHER}, named),
        Draft("run.begun", "local", {"vehicle": OTHER, "run": PRESSED}, begun),
        Draft("run.stopped", "local", {"vehicle": OTHER, "run": PRESSED}, {"reason": "a test"}),
    )


def _token(html: str) -> str:
    found = re.search(r'name="token" value="([^"]+)"', html)
    assert found is not None
    return found[1]


def _logged_in(app, role: str) -> TestClient:
    browser = TestClient(
        app, base_url="http://127.0.0.1", client=("127.0.0.1", 5000), follow_redirects=False
    )
    sent = {"token": _token(browser.get("/login").text), "name": f"One {role}"}
    answer = browser.post("/login", data={**sent, "password": PASSWORD})
    assert answer.status_code == 303, answer.text[:300]
    return browser


def _send(door: Door, role: str, path: str, fields: dict[str, str]):
    browser = door.browsers[role]
    token = _token(browser.get("/account").text)
    return browser.post(path, data={"token": token, "key": new_key(), **fields})


def _is_refused(text: str, action: str) -> bool:
    """Tell whether an answer refuses an action to a role, in words."""
    return f"{action}: only as" in unescape(text)


@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize(("action", "path", "fields"), FORMS)
def test_a_form_does_what_the_role_may_and_refuses_the_rest_on_record(
    door, role, action, path, fields
):
    before = door.shop.store.head()[0]
    answer = _send(door, role, path, fields)
    may = role in ACTIONS[action].roles
    assert answer.status_code != 404 and "Traceback" not in answer.text
    if path != NOT_SHOWN or may:
        assert _is_refused(answer.text, action) == (not may), answer.text[:400]
    if not may:
        assert answer.status_code in (403, 422)
        fresh = door.shop.store.records(after=before)
        assert [each.kind for each in fresh] == ["access.refused"]
        assert fresh[0].by == person_of(role) and "only as" in str(fresh[0].body["reason"])


@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize(("action", "name", "fields"), RUN_ACTS)
def test_an_act_of_a_run_is_kept_or_refused_by_the_role(door, role, action, name, fields):
    given = {**fields}
    run = given.pop("run", R)
    if given.get("person") == "own":
        given |= {"person": person_of(role), "pin": PIN}
    row = {
        "key": new_key(),
        "do": name,
        "fields": given,
        "clock": {"wall": "2026-11-27T09:00:00+00:00", "boot": "b", "ticks": 1.0},
    }
    answer = _send(door, role, f"/shop/runs/{run}/acts", {"acts": json.dumps([row])})
    assert answer.status_code == 200, answer.text[:300]
    result = answer.json()["results"][0]
    may = role in ACTIONS[action].roles
    assert _is_refused(result["refused"], action) == (not may), result
    if set(ACTIONS[action].roles) == set(ROLES):
        assert result["number"] is not None, "what makes a danger known is open to everybody"


@pytest.mark.parametrize("role", ROLES)
def test_every_role_reads_the_pages(door, role):
    pages = ("/shop", "/shop/people", "/shop/equipment", f"/shop/vehicles/{V}", f"/shop/runs/{R}")
    for page in (*pages, f"/shop/runs/{R}/record", "/shop/ledger", "/shop/permits"):
        assert door.browsers[role].get(page).status_code == 200, page


def test_nobody_who_is_not_logged_in_reads_or_does_anything(door):
    stranger = TestClient(
        door.browsers["admin"].app, base_url="http://127.0.0.1", follow_redirects=False
    )
    for page in ("/shop", f"/shop/runs/{R}", f"/shop/runs/{R}/state", "/shop/live"):
        assert stranger.get(page).status_code in (303, 401), page
    before = door.shop.store.head()[0]
    for path in (ACTS, f"/shop/runs/{R}/do", *(row[1] for row in FORMS)):
        assert stranger.post(path, data={"acts": "[]"}).status_code in (303, 401, 403), path
    kinds = {each.kind for each in door.shop.store.records(after=before)}
    assert kinds <= {"access.refused"}
