"""Many devices at one run at once: nobody waits for a connection somebody else waits with."""

from __future__ import annotations

import threading
from datetime import date
from pathlib import Path

import pytest
from a_shop import a_shop, sent
from stocked import a_vehicle, stocked

from swapwright.catalogue.read import Catalogue
from swapwright.jobs.desk import Desk
from swapwright.jobs.procedure import procedure_of_car
from swapwright.jobs.shop import LOCAL_ACTOR
from swapwright.jobs.shop_run import run_acts
from swapwright.jobs.shop_run_act import Act
from swapwright.jobs.shop_run_begin import begin_run
from swapwright.jobs.shop_run_view import run_view
from swapwright.records.record import new_key

RIDGEWAY = Path(__file__).resolve().parents[2] / "examples" / "ridgeway.toml"
DEVICES, ACTS, LONGEST = 40, 5, 60.0


@pytest.mark.arithmetic
def test_more_devices_than_connections_read_and_record_and_all_get_through(tmp_path, monkeypatch):
    with a_shop(tmp_path, monkeypatch) as (shop, _):
        look = Desk(RIDGEWAY, Catalogue(), lambda: date(2026, 11, 27)).look()
        assert look.checked is not None
        stock = stocked(shop)
        vehicle = a_vehicle(shop, procedure_of_car(look.checked, "isolation"))
        anne = stock.people["anne"]
        run = begin_run(
            shop, LOCAL_ACTOR, vehicle, "isolation", look, sent(worker=anne), [anne], []
        )
        kept: list[int | None] = []

        def device() -> None:
            for _ in range(ACTS):
                given = {"step": "measure.inverter.pole_pole", "text": "0.1 V"}
                act = Act(new_key(), "reading.entered", anne, given)
                kept.append(run_acts(shop, LOCAL_ACTOR, run, [act])[0].number)
                shop.followed._kept.clear()
                run_view(shop, LOCAL_ACTOR, run, {})

        devices = [threading.Thread(target=device, daemon=True) for _ in range(DEVICES)]
        for each in devices:
            each.start()
        for each in devices:
            each.join(LONGEST)
        assert not any(each.is_alive() for each in devices)
        assert len(kept) == DEVICES * ACTS and None not in kept
