"""What a stage shows in tables: a fast charge on two days, and the loop that cools it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from swapwright.build.edit import edit
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import Checked, check_text
from swapwright.jobs.system_tables import tables_of

ROOT = Path(__file__).resolve().parents[2]
STATION = {
    "charging.inlet": "ccs 2",
    "charging.station.voltage": "500 V",
    "charging.station.current": "125 A",
}


def checked(changes: dict[str, str]) -> Checked:
    text = (ROOT / "examples" / "parcel-round.toml").read_text(encoding="utf-8")
    for path, to in changes.items():
        text = edit(text, path, to)
    return check_text(text, "a van", ROOT, Catalogue(), date(2026, 11, 28))


@pytest.mark.arithmetic
def test_a_fast_charge_stands_beside_the_slow_one_with_its_mild_and_its_hot_day():
    table = {each.title: each for each in tables_of("charging", checked(STATION), "metric")}
    rows = {row[0]: row[1:] for row in table["A fast charge"].rows}
    mild, hot = rows["hottest cell"]
    assert mild.endswith(" degC")
    assert hot.endswith(" degC")
    assert mild != hot
    assert "energy from the station" in rows
    assert "A" in rows["where warm cells hold it back most"][1]
    without = {each.title for each in tables_of("charging", checked({}), "metric")}
    assert "One charge" in without
    assert "A fast charge" not in without


@pytest.mark.arithmetic
def test_the_loop_that_cools_the_pack_shows_its_fast_charge_and_the_drives_does_not():
    drive, pack = tables_of("cooling", checked(STATION), "metric")
    assert "Hottest in a fast charge" in pack.note
    assert "Hottest in a fast charge" not in drive.note
    labels = [[row[0] for row in each.rows] for each in (drive, pack)]
    assert "fast charging, its mean heat for good" in labels[1]
    assert "fast charging, its mean heat for good" not in labels[0]
