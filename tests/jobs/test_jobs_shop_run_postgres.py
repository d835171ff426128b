"""A run in a shop whose records are kept in PostgreSQL, two devices at once."""

from __future__ import annotations

import threading
from datetime import date
from pathlib import Path

import pytest
from a_run import Page
from a_shop import NOW, Clock, sent
from argon2 import PasswordHasher
from postgres_server import serving_postgres
from sqlalchemy import text
from stocked import a_vehicle, stocked

from swapwright.catalogue.read import Catalogue
from swapwright.jobs import clock as clocks
from swapwright.jobs.desk import Desk
from swapwright.jobs.procedure import procedure_of_car
from swapwright.jobs.shop import LOCAL_ACTOR, Shop
from swapwright.jobs.shop_run_begin import begin_run
from swapwright.records import secrets
from swapwright.records.engine import engine_of
from swapwright.records.verify import verify

pytestmark = pytest.mark.arithmetic

RIDGEWAY = Path(__file__).resolve().parents[2] / "examples" / "ridgeway.toml"
POINT = "measure.inverter.pole_pole"


def test_a_whole_isolation_is_kept_in_a_server_while_another_device_reads_and_records(
    tmp_path, monkeypatch
):
    monkeypatch.setattr(
        secrets, "_hasher", lambda: PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)
    )
    with serving_postgres() as url:
        owner = engine_of(url.format("postgres"))
        with owner.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
            connection.execute(text("CREATE DATABASE shop"))
        owner.dispose()
        clock = Clock()
        monkeypatch.setattr(clocks, "ticks", lambda: (clock.now - NOW).total_seconds())
        shop = Shop(url.format("shop"), key=tmp_path / "key.pem", now=lambda: clock.now)
        look = Desk(RIDGEWAY, Catalogue(), lambda: date(2026, 11, 27)).look()
        assert look.checked is not None
        stock = stocked(shop)
        vehicle = a_vehicle(shop, procedure_of_car(look.checked, "isolation"))
        people = [stock.people["anne"], stock.people["ben"]]
        begun = sent(worker=people[0])
        run = begin_run(shop, LOCAL_ACTOR, vehicle, "isolation", look, begun, people, [])

        def mark():
            return {"server": dict(clocks.clock_mark(shop.now()))}

        page = Page(shop, run, stock, lambda seconds: clock.on(seconds=seconds), mark)
        beside = Page(shop, run, stock, lambda _: None, mark, who="ben")
        said: list[str] = []

        def record_beside() -> None:
            for _ in range(30):
                found = beside.send("reading.entered", step=POINT, text="0.1 V")
                said.append(found.refused or str(found.number))

        other = threading.Thread(target=record_beside)
        other.start()
        page.follow("short")
        other.join(60)
        assert len(said) == 30 and all(each.isdecimal() for each in said)
        assert page.view().absence.is_verified
        assert not verify(shop.store).faults
        shop.store.close()
