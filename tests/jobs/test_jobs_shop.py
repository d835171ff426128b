"""One shop: opened when it is needed, and nobody acts in it beyond what they may."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from swapwright.jobs.shop import LOCAL_ACTOR, Refused, Shop
from swapwright.records.record import Draft

pytestmark = pytest.mark.arithmetic

NOW = datetime(2026, 11, 27, 9, tzinfo=UTC)


@pytest.fixture
def shop(tmp_path: Path):
    found = Shop(tmp_path / "shop.db", now=lambda: NOW, today=lambda: date(2026, 11, 27))
    yield found
    found.store.close()


def enter(shop: Shop, person: str, role: str, level: str = "") -> None:
    about = {"person": person}
    drafts = [
        Draft("person.added", "local", about, {"name": person}),
        Draft("role.given", "local", about, {"role": role}),
    ]
    if level:
        body = {
            "level": level,
            "scheme": "employer's own",
            "scheme_level": "appointed for live work",
            "evidence": "letter 12",
            "since": "2026-01-01",
        }
        drafts.append(Draft("competence.granted", "local", about, body))
    shop.write(*drafts)


def test_a_shop_makes_nothing_until_it_is_asked_for_something(tmp_path: Path):
    Shop(tmp_path / "shop.db")
    assert not (tmp_path / "shop.db").exists()


def test_what_is_written_is_seen_at_once_also_by_another_who_has_it_open(shop, tmp_path):
    other = Shop(tmp_path / "shop.db")
    assert other.people() == {}
    enter(shop, "p-1", "technician")
    assert list(shop.people()) == list(other.people()) == ["p-1"]
    other.store.close()


def test_the_one_local_user_may_do_everything_until_somebody_has_a_password(shop):
    shop.allow(LOCAL_ACTOR, "give a role")
    enter(shop, "p-1", "admin")
    assert not shop.has_accounts()
    shop.write(Draft("secret.set", "local", {"person": "p-1"}, {"which": "pin"}))
    assert not shop.has_accounts(), "a PIN signs, and logs nobody in"
    shop.write(Draft("secret.set", "local", {"person": "p-1"}, {"which": "password"}))
    assert shop.has_accounts()


def test_somebody_acts_with_their_roles_and_todays_competence(shop):
    enter(shop, "p-1", "technician", "live")
    actor = shop.actor("p-1", "192.0.2.7")
    shop.allow(actor, "begin a run")
    assert actor.standing.level == "live"


def test_a_refusal_is_told_in_words_and_is_on_record(shop):
    enter(shop, "p-2", "inspector")
    with pytest.raises(Refused, match="only as technician or high-voltage responsible"):
        shop.allow(shop.actor("p-2", "192.0.2.7"), "begin a run")
    (kept,) = shop.store.records(kinds=("access.refused",))
    assert kept.about == {"person": "p-2"}
    assert (kept.body["what"], kept.body["address"]) == ("begin a run", "192.0.2.7")


@pytest.mark.parametrize("person", ["p-9", "p-1"])
def test_somebody_who_is_not_there_or_has_left_may_do_nothing(shop, person: str):
    enter(shop, "p-1", "admin", "live")
    shop.write(Draft("person.left", "local", {"person": "p-1"}, {"reason": "moved"}))
    with pytest.raises(Refused):
        shop.allow(shop.actor(person), "read records")
