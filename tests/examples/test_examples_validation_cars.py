"""The eight cars of the public test lists, as build files, agree with what was published of them.

US EPA, annual lists of data on cars used for testing fuel economy, model years 2011 to 2015; the
test numbers stand in ``tests/validation/cars.toml``.
"""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest

from swapwright.base.quantity import parse
from swapwright.build.car import Car
from swapwright.build.load import load
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue
from swapwright.physics.vehicle.cycle_energy import cycle_energy
from swapwright.standards.cycles import cycle

FOLDER = Path(__file__).resolve().parents[1] / "validation"
EXPECTED: dict[str, dict[str, Any]] = tomllib.loads(
    (FOLDER / "cars.toml").read_text(encoding="utf-8")
)
WH_PER_MILE = 3600.0 / 1609.344
GALLON = 33_705.0  # Wh per gallon of gasoline, 40 CFR 600
CATALOGUE = Catalogue()

every_car = pytest.mark.parametrize("name", sorted(EXPECTED))
both_cycles = pytest.mark.parametrize(
    ("schedule", "row"), [("udds", "udds"), ("hwfet", "highway")], ids=["city", "highway"]
)


def car_of(name: str) -> Car:
    return resolve(load(FOLDER / "cars" / f"{name}.toml"), CATALOGUE)


@pytest.mark.guard
def test_there_is_a_build_file_for_each_of_the_eight_cars() -> None:
    assert {path.stem for path in (FOLDER / "cars").glob("*.toml")} == set(EXPECTED)
    assert len(EXPECTED) == 8


@pytest.mark.arithmetic
@every_car
def test_a_cars_weight_and_power_are_those_of_its_test(name: str) -> None:
    car, row = car_of(name), EXPECTED[name]
    assert car.number("car.test_mass") == pytest.approx(parse(f"{row['weight']} lb", "mass").si)
    power = parse(f"{row['power']} hp", "power").si
    assert car.number("drive.motor.peak_power") == pytest.approx(power)
    assert car.number("car.rotating_factor") == 1.0
    assert car.number("pack.parallel") == math.ceil(power / 60e3)


@pytest.mark.arithmetic
def test_everything_not_published_is_the_same_for_all_eight_cars() -> None:
    own = (
        "car.test_mass",
        "car.road_load.",
        "drive.motor.peak_power",
        "pack.parallel",
        "charging.power",  # by the size of the pack
        "charging.efficiency",
    )
    common = [
        {path: value.si for path, value in car_of(name).values.items() if not path.startswith(own)}
        for name in EXPECTED
    ]
    assert all(values == common[0] for values in common)


@pytest.mark.arithmetic
@every_car
@both_cycles
def test_a_build_files_wheel_energy_is_the_tables(name: str, schedule: str, row: str) -> None:
    """The table prints tenths of a Wh/mi; half a percent beside that."""
    car, expected = car_of(name), EXPECTED[name][row]
    found = cycle_energy(
        cycle(schedule).speeds,
        a=car.number("car.road_load.a"),
        b=car.number("car.road_load.b"),
        c=car.number("car.road_load.c"),
        effective_mass=car.number("car.test_mass") * car.number("car.rotating_factor"),
    )
    per_mile = found.distance * WH_PER_MILE
    for part in ("traction", "braking", "net"):
        assert getattr(found, part) / per_mile == pytest.approx(expected[part], rel=5e-3, abs=0.051)


@pytest.mark.arithmetic
@every_car
@pytest.mark.parametrize("row", ["udds", "highway"])
def test_listed_miles_per_gallon_and_wall_consumption_say_the_same(name: str, row: str) -> None:
    expected = EXPECTED[name][row]
    if "mpge" in expected:
        assert GALLON / expected["mpge"] == pytest.approx(expected["wall"], rel=6e-4)
    assert expected["wall"] > expected["net"]
