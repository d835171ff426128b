"""The tables beside a system's figures: units and world of the reader, and nothing said twice."""

from __future__ import annotations

import re
from datetime import date
from functools import lru_cache
from pathlib import Path

import pytest

from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import Checked, check
from swapwright.jobs.sheet_table import Table
from swapwright.jobs.system_tables import tables_of

ROOT = Path(__file__).resolve().parents[2]
CARS = ("ridgeway", "bakery", "parcel-round", "hill-farm", "fault-finder")
STAGES = ("goals", "pack", "12-v", "charging", "cooling", "weight", "network")
METRIC = {"g", "kg", "mm", "m", "km", "km/h", "L", "L/min", "degC", "N", "kN", "Pa", "kPa", "bar"}
US = {"lb", "in", "ft", "mi", "mph", "gal", "gpm", "degF", "lbf", "psi"}
ELECTRIC = {"W", "kW", "Wh", "kWh"}
ENGINE = {"hp", "PS", "L petrol", "gal gasoline"}

NUMBER = re.compile(r"(?<![\w.-])-?[\d.,]+ ([A-Za-z/^0-9]+(?: petrol| gasoline)?)(?=$|[;.])")

every_car = pytest.mark.parametrize("car", CARS)


@lru_cache
def checked(car: str) -> Checked:
    return check(ROOT / f"examples/{car}.toml", Catalogue(), date(2026, 11, 28))


@lru_cache
def tables(car: str, profile: str, world: str = "electric") -> tuple[Table, ...]:
    return tuple(
        table for stage in STAGES for table in tables_of(stage, checked(car), profile, world)
    )


def table(car: str, title: str, profile: str = "metric") -> Table:
    (found,) = (each for each in tables(car, profile) if each.title == title)
    return found


def units(car: str, profile: str, world: str = "electric") -> set[str]:
    """Return the words behind the numbers of a car's tables and of the notes below them."""
    texts = [
        text
        for each in tables(car, profile, world)
        for text in (*(cell for row in each.rows for cell in row[1:]), each.note)
    ]
    return {unit for text in texts for unit in NUMBER.findall(text)}


@pytest.mark.property
@every_car
def test_a_reader_in_pounds_and_miles_meets_no_metric_unit(car: str):
    assert units(car, "us") & US
    assert not units(car, "us") & METRIC


@pytest.mark.property
@every_car
def test_a_metric_reader_meets_no_pound_and_no_mile(car: str):
    assert units(car, "metric") & METRIC
    assert not units(car, "metric") & US


@pytest.mark.property
@every_car
@pytest.mark.parametrize("profile", ["metric", "us", "uk"])
def test_who_reads_engines_meets_no_kilowatt_and_who_reads_kilowatts_no_engine(car, profile: str):
    engine, electric = units(car, profile, "engine"), units(car, profile)
    assert engine & ENGINE
    assert not engine & ELECTRIC
    assert electric & ELECTRIC
    assert not electric & ENGINE


@pytest.mark.arithmetic
def test_why_there_is_no_charge_on_a_cold_day_is_said_once_below_the_table():
    told = table("ridgeway", "One charge")
    assert told.heads == ("", "mild day", "household socket, mild day")
    assert told.note.startswith("No charge on a cold day: the cells take no current")
    assert not any("temperature" in cell for row in told.rows for cell in row[1:])


@pytest.mark.arithmetic
def test_a_car_that_cannot_charge_at_all_says_why_once_for_every_day():
    told = table("fault-finder", "One charge")
    why = "the charger's output does not reach this pack's voltage"
    nowhere = "No charge on a mild day, nor on a cold day, nor on a household socket"
    assert told.rows == ((f"{nowhere}: {why}.",),)


@pytest.mark.arithmetic
def test_money_is_written_out_and_a_grade_is_told_in_percent_among_the_goals():
    rows = {row[3]: row[1:3] for row in table("ridgeway", "Goals, one by one").rows}
    assert rows["The car starts on the grade wanted."] == ("25.0 %", "17.0 %")
    costs = rows["Parts, work and what is set aside stay within the budget."]
    assert costs == ("33589", "36000")
