"""A shop to try the jobs in: opened at a fixed time, with what its forms send."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from argon2 import PasswordHasher

from swapwright.jobs import shop_people
from swapwright.jobs.desk import Look
from swapwright.jobs.shop import LOCAL_ACTOR, Actor, Shop
from swapwright.records import secrets
from swapwright.records.record import Draft, new_key

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
CHEAP = PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)
STAGES = {
    "aware": "employer's own: made aware",
    "isolation": "employer's own: appointed to isolate",
    "live": "employer's own: appointed for live work",
}


class Clock:
    """A clock a test sets on, and back."""

    def __init__(self) -> None:
        self.now = NOW

    def on(self, **how: float) -> None:
        self.now += timedelta(**how)


@contextmanager
def a_shop(folder: Path, monkeypatch) -> Iterator[tuple[Shop, Clock]]:
    """Give a shop with its clock; its key lies apart from it, and hashes cost little."""
    monkeypatch.setattr(secrets, "_hasher", lambda: CHEAP)
    secrets._nobody.cache_clear()
    clock = Clock()
    shop = Shop(
        folder / "data" / "shop.db",
        key=folder / "keys" / "key.pem",
        now=lambda: clock.now,
        today=lambda: clock.now.date(),
    )
    yield shop, clock
    shop.store.close()
    secrets._nobody.cache_clear()


def sent(**fields: str) -> dict[str, str]:
    """Return what a form sends, with a key of its own."""
    return {"key": new_key(), **fields}


def person(shop: Shop, name: str, *roles: str, level: str = "", pin: str = "") -> str:
    """Enter somebody as the forms do, and return the id."""
    found = shop_people.add_person(shop, LOCAL_ACTOR, sent(name=name))
    for role in roles:
        shop_people.give_role(shop, LOCAL_ACTOR, found, sent(role=role))
    if level:
        grant = sent(stage=STAGES[level], level=level, evidence="letter", since="2026-01-05")
        shop_people.grant_competence(shop, LOCAL_ACTOR, found, grant)
    if pin:
        shop_people.set_pin_here(shop, LOCAL_ACTOR, found, sent(pin=pin, again=pin))
    return found


def as_person(shop: Shop, who: str) -> Actor:
    """Return somebody as who acts."""
    return shop.actor(who, "192.0.2.7")


_numbers = itertools.count(1)


def a_vehicle(shop: Shop, revision: str = "a" * 64, *, name: str = "") -> str:
    """Enter a vehicle with a revision, past the forms, and return the id."""
    number = next(_numbers)
    vehicle, about = f"v-{number}", {"vehicle": f"v-{number}"}
    body = {"name": name or f"car {number}", "car": "ridgeway"}
    entered = {"revision": revision, "mark": "A", "data_version": "1", "build": "text"}
    shop.write(
        Draft("vehicle.added", "local", about, body),
        *([Draft("revision.entered", "local", about, entered)] if revision else []),
    )
    return vehicle


def broken(look: Look, problem: object) -> Look:
    """Return a look at a file that cannot be read as it stands."""
    from dataclasses import replace

    return replace(look, problems=(problem,))
