"""A shop with people, equipment and a vehicle in it, for the tests of what is done there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from swapwright.jobs import shop_people
from swapwright.jobs.shop import LOCAL_ACTOR, Shop
from swapwright.procedures.step import Procedure
from swapwright.records.record import Draft, Json, new_key
from swapwright.standards.equipment import GLOVE_CHECKS, TEST_RULES

PIN = {"anne": "482913", "ben": "705514", "carla": "391182"}
DATA: Mapping[str, Mapping[str, Json]] = {
    "gloves": {"class": "0"},
    "meter": {"category": "CAT III", "voltage": 1000.0, "dc_voltage": 1000.0},
    "leads": {"category": "CAT III", "voltage": 1000.0},
    "proving unit": {"dc_voltage": 400.0},
    "insulation tester": {"dc_voltage": 1000.0},
}
KINDS = (*TEST_RULES, "leather protectors", "barrier", "face shield")


@dataclass(frozen=True)
class Stocked:
    """The ids of what stands in a stocked shop; ``locks`` has one for each person and place."""

    people: Mapping[str, str]
    items: Mapping[str, str]
    locks: tuple[str, ...]


def stocked(shop: Shop, locks: int = 12) -> Stocked:
    """Enter three people with their PINs and one piece of each kind of equipment, all in date."""
    people = {
        "anne": _person(shop, "Anne Weld", ("technician",), "live"),
        "ben": _person(shop, "Ben Crimp", ("technician",), "isolation"),
        "carla": _person(shop, "Carla Lug", ("high-voltage responsible",), "live"),
    }
    for name, person in people.items():
        pin = {"key": new_key(), "pin": PIN[name], "again": PIN[name]}
        shop_people.set_pin_here(shop, LOCAL_ACTOR, person, pin)
    items = {kind: add_item(shop, kind, kind, **DATA.get(kind, {})) for kind in KINDS}
    hung = tuple(add_item(shop, "lock", f"lock {number}") for number in range(locks))
    return Stocked(people, items, hung)


def add_item(shop: Shop, kind: str, name: str, *, tested: date | None = None, **data: Json) -> str:
    """Enter a piece of equipment, tested and looked over today unless told otherwise."""
    today = shop.today()
    on = (tested or today - timedelta(days=30)).isoformat()
    item = f"i-{new_key()[:12]}"
    about = {"item": item}
    body: dict[str, Json] = {"kind": kind, "name": name, "serial": f"S-{item[2:6]}", "data": data}
    drafts = [Draft("item.added", "local", about, body)]
    rule = TEST_RULES.get(kind)
    if rule is not None:
        test: dict[str, Json] = {"test": rule.test, "on": on, "result": "met", "by_whom": "a lab"}
        drafts.append(Draft("item.tested", "local", about, test))
    if kind == "gloves":
        drafts.append(Draft("item.issued", "local", about, {"on": on, "to": ""}))
        checks: dict[str, Json] = dict.fromkeys(GLOVE_CHECKS, True)
        looked: dict[str, Json] = {"on": today.isoformat(), "checks": checks, "result": "met"}
        drafts.append(Draft("item.inspected", "local", about, looked))
    shop.write(*drafts)
    return item


def _person(shop: Shop, name: str, roles: tuple[str, ...], level: str) -> str:
    person = f"p-{new_key()[:12]}"
    about = {"person": person}
    stage = {"live": "appointed for live work", "isolation": "appointed to isolate"}[level]
    granted: dict[str, Json] = {
        "level": level,
        "scheme": "employer's own",
        "scheme_level": stage,
        "evidence": "letter of 5 January",
        "since": "2026-01-05",
    }
    shop.write(
        Draft("person.added", "local", about, {"name": name}),
        *(Draft("role.given", "local", about, {"role": role}) for role in roles),
        Draft("competence.granted", "local", about, granted),
    )
    return person


def a_vehicle(shop: Shop, procedure: Procedure, name: str = "Ridgeway 1") -> str:
    """Enter a vehicle at the revision of a procedure, and return its id."""
    vehicle = f"v-{new_key()[:12]}"
    about = {"vehicle": vehicle}
    entered: dict[str, Json] = {
        "revision": procedure.revision,
        "mark": procedure.mark,
        "data_version": "1",
        "build": "a build file",
    }
    shop.write(
        Draft("vehicle.added", "local", about, {"name": name, "car": "ridgeway", "identity": ""}),
        Draft("revision.entered", "local", about, entered),
    )
    return vehicle
