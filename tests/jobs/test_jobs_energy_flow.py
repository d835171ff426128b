"""Where the energy goes, told: the rows add up, in the units of the person's country."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

import pytest

from swapwright.build.edit import edit
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import Checked, check
from swapwright.jobs.energy_flow import NET, Flow, energy_flow, flow_svg

pytestmark = pytest.mark.arithmetic

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
NAMES = sorted(path.stem for path in EXAMPLES.glob("*.toml"))
TODAY = date(2026, 11, 27)


@cache
def checked_of(name: str) -> Checked:
    return check(EXAMPLES / f"{name}.toml", Catalogue(), TODAY)


def flow_of(name: str, profile: str = "metric") -> Flow:
    found = energy_flow(checked_of(name), profile)
    assert found is not None
    return found


@pytest.mark.parametrize("name", NAMES)
def test_what_enters_a_part_leaves_it_within_a_thousandth(name: str):
    for part in flow_of(name).parts:
        into, out = (sum(row.energy for row in rows) for rows in (part.into, part.out))
        assert into == pytest.approx(out, rel=1e-3)
        assert part.total.energy == pytest.approx(into, rel=1e-12)
        assert all(row.energy > 0.0 for row in (*part.into, *part.out))


@pytest.mark.parametrize("name", NAMES)
def test_the_net_is_the_city_consumption(name: str):
    net = flow_of(name).net
    figure = checked_of(name).assessment.figures[NET]
    assert net.figure == NET
    assert net.energy == pytest.approx(figure.value.si, rel=1e-9)


@pytest.mark.parametrize(
    ("profile", "unit"), [("metric", "Wh/km"), ("us", "Wh/mi"), ("uk", "Wh/mi")]
)
def test_every_energy_is_told_in_one_unit(profile: str, unit: str):
    flow = flow_of("ridgeway", profile)
    rows = [row for part in flow.parts for row in (*part.into, *part.out, part.total)]
    assert {row.text.rpartition(" ")[2] for row in (*rows, flow.net)} == {unit}


def test_a_mile_takes_more_than_a_kilometre_by_its_length():
    metric, us = (
        float(flow_of("ridgeway", profile).given.text.partition(" ")[0])
        for profile in ("metric", "us")
    )
    assert us / metric == pytest.approx(1.609344, rel=0.01)


def test_the_picture_shows_every_row_with_its_number():
    flow = flow_of("ridgeway")
    text = flow_svg(flow, "a car")
    for part in flow.parts:
        assert f">{part.title}<" in text
        for row in (*part.into, *part.out):
            assert f">{row.text}<" in text


def test_a_wind_from_behind_enters_instead_of_leaving(tmp_path: Path):
    text = (EXAMPLES / "ridgeway.toml").read_text("utf-8")
    path = tmp_path / "windy.toml"
    path.write_text(edit(text, "conditions.headwind", "-20 m/s"), "utf-8")
    flow = energy_flow(check(path, Catalogue(), TODAY), "metric")
    assert flow is not None
    road = flow.parts[-1]
    assert "air, from behind" in [row.label for row in road.into]
    assert "air" not in [row.label for row in road.out]
    assert "air, from behind" in flow_svg(flow, "a car")


def test_a_car_without_a_city_range_has_no_flow(tmp_path: Path):
    text = (EXAMPLES / "ridgeway.toml").read_text("utf-8")
    path = tmp_path / "still.toml"
    path.write_text(edit(text, "drive.motor", None), "utf-8")
    assert energy_flow(check(path, Catalogue(), TODAY), "metric") is None
