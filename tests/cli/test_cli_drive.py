from __future__ import annotations

import csv
import json
import re
from itertools import pairwise
from pathlib import Path

import pytest
from command_line import RIDGEWAY, ROOT, once, run
from jsonschema import Draft202012Validator

from swapwright.jobs.output_schema import drive_schema

pytestmark = pytest.mark.arithmetic

TRIP = "time_s,speed_kmh,grade_%\n" + "".join(
    f"{second},{speed},{2 if second > 20 else 0}\n"
    for second, speed in enumerate([*range(0, 50, 2), *[50] * 30, *range(50, -2, -2)])
)


def driven(*arguments: str) -> dict:
    result = once("drive", RIDGEWAY, "--json", *arguments)
    assert result.exit_code == 0, result.stderr
    document = json.loads(result.stdout)
    Draft202012Validator(drive_schema()).validate(document)
    return document


def test_the_city_cycle_is_driven_to_its_end():
    # UDDS: 1369 s, 7.45 mi (40 CFR 86 Appendix I, as its table of speeds integrates).
    document = driven("--cycle", "udds")
    assert document["duration_s"] == 1369.0
    assert document["distance_m"] == pytest.approx(7.45 * 1609.344, rel=1e-3)
    assert document["shortfall_s"] == 0.0


def test_the_energy_split_closes():
    split = driven("--cycle", "udds")["energy_split_j"]
    assert sum(split.values()) == pytest.approx(0.0, abs=1e-6 * split["drawn from the cells"])
    assert {"tyres", "air", "driveline", "motor", "inverter", "pack", "auxiliaries"} <= set(split)
    assert {"friction brakes", "climb", "speed"} <= set(split)


def test_with_one_gear_what_is_left_at_the_wheels_goes_to_tyres_and_air():
    van = str(ROOT / "examples" / "parcel-round.toml")
    document = json.loads(once("drive", van, "--json", "--cycle", "udds").stdout)
    split = document["energy_split_j"]
    net = document["wheel_energy_positive_j"] - document["wheel_energy_negative_j"]
    assert net == pytest.approx(-split["tyres"] - split["air"])


def test_the_wall_gives_more_than_the_battery_by_the_losses_of_charging():
    document = driven("--cycle", "udds")
    figures = json.loads(once("check", "--json", RIDGEWAY).stdout)["figures"]
    stored = figures["charging.pack_efficiency"]["value"]
    charger = figures["charging.charger_efficiency"]["value"]
    assert document["wall_energy_j"] == pytest.approx(
        document["battery_energy_j"] / (stored * charger)
    )


def test_consumption_in_miles_is_the_same_energy():
    document = driven("--cycle", "udds")
    miles = document["distance_m"] / 1609.344
    assert document["wall_wh_per_mi"]["value"] == pytest.approx(
        document["wall_energy_j"] / 3600.0 / miles
    )


def test_the_band_holds_the_middle():
    wall = driven("--cycle", "udds")["wall_wh_per_mi"]
    assert wall["low"] < wall["value"] < wall["high"]


def test_a_cold_day_takes_more():
    mild, cold = driven("--cycle", "udds"), driven("--cycle", "udds", "--day", "cold")
    assert cold["battery_energy_j"] > mild["battery_energy_j"]
    assert cold["auxiliary_power_w"] > mild["auxiliary_power_w"]


def test_driving_until_empty_ends_at_the_low_end_of_the_window():
    document = driven("--cycle", "udds", "--repeat-until-empty")
    assert document["soc_end"] == pytest.approx(0.05, abs=2e-3)
    figures = json.loads(once("check", "--json", RIDGEWAY).stdout)["figures"]
    assert document["distance_m"] == pytest.approx(figures["range.city"]["value"], rel=1e-6)


def test_a_steady_speed_is_held():
    document = driven("--cycle", "steady:90 km/h")
    assert document["distance_m"] == pytest.approx(25.0 * document["duration_s"])


def test_a_start_at_half_charge_starts_there():
    document = driven("--cycle", "udds", "--soc", "50 %")
    assert document["soc_start"] == 0.5
    assert document["soc_end"] < 0.5


def test_a_trip_from_a_file_climbs_as_its_grade_says(tmp_path):
    file = tmp_path / "trip.csv"
    file.write_text(TRIP, encoding="utf-8")
    split = json.loads(run("drive", RIDGEWAY, "--json", "--cycle", str(file)).stdout)[
        "energy_split_j"
    ]
    assert split["climb"] < 0.0


def test_every_step_is_written_with_its_units(tmp_path):
    file = tmp_path / "steps.csv"
    result = run("drive", RIDGEWAY, "--cycle", "us06", "--csv", str(file))
    assert result.exit_code == 0
    assert "steps.csv" in result.stderr
    with file.open(encoding="utf-8", newline="") as handle:
        rows = list(csv.DictReader(handle))
    assert len(rows) == 600
    assert all(float(b["time_s"]) > float(a["time_s"]) for a, b in pairwise(rows))
    assert {"speed_m_per_s", "power_w", "volts_v", "soc", "gear", "limit"} <= set(rows[0])
    assert "motor torque" in {row["limit"] for row in rows}
    assert [path.name for path in tmp_path.iterdir()] == ["steps.csv"]


def test_the_page_tells_where_the_energy_went_and_what_held_the_car_back():
    page = once("drive", RIDGEWAY, "--cycle", "us06").stdout
    for words in ("Where the energy went", "tyres", "air", "friction brakes", "behind the cycle"):
        assert words in page
    assert max(map(len, page.splitlines())) <= 100


def test_a_car_without_a_charger_is_driven_and_says_what_was_assumed(tmp_path):
    text = "".join(
        line
        for line in Path(RIDGEWAY).read_text(encoding="utf-8").splitlines(keepends=True)
        if not re.match(r'charger +=|voltage +=.*398|load +=.*"charger', line)
    )
    file = tmp_path / "car.toml"
    file.write_text(text, encoding="utf-8")
    document = json.loads(run("drive", str(file), "--json", "--cycle", "udds").stdout)
    assert len(document["assumed"]) == 2
    assert document["wall_energy_j"] > document["battery_energy_j"] / 0.90
    assert "is assumed" in run("drive", str(file), "--cycle", "udds").stdout
