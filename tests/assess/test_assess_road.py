"""A coast-down carried over from its reference to the car's own mass, air and day."""

from __future__ import annotations

import pytest
from example_cars import car_from

from swapwright.assess.book import FigureBook
from swapwright.assess.solve import design
from swapwright.standards.reference_conditions import SAE_J2263

pytestmark = pytest.mark.arithmetic

COAST_DOWN = """
format = 1
[car]
test_mass = "1300 kg"
[car.road_load]
a = "150 N"
b = "1 N/(m/s)"
c = "0.45 N/(m/s)^2"
"""


def designed(more: str = "") -> FigureBook:
    book = FigureBook(car_from(COAST_DOWN + more))
    design(book)
    return book


def test_a_coast_down_of_the_donor_is_scaled_to_the_mass_as_driven():
    assert designed('mass = "1000 kg"').number("road.a") == pytest.approx(150.0 * 1.3)


def test_a_coast_down_without_its_mass_is_taken_as_made_as_driven_and_listed():
    book = designed()
    assert book.number("road.a") == pytest.approx(150.0)
    assert "car.road_load.mass" in book.assumed
    assert "car.road_load.mass" not in designed('mass = "1000 kg"').assumed


@pytest.mark.parametrize("day", ["", "_cold", "_hot"])
def test_the_drag_of_a_coast_down_goes_with_the_air_of_the_day(day: str):
    book = designed()
    ratio = book.number(f"air.density{day}") / SAE_J2263.density.si
    assert book.number(f"road.c{day}") == pytest.approx(0.45 * ratio)


def test_in_the_reference_air_a_coast_down_stands_as_filed():
    book = designed('[conditions]\naltitude = "263 m"\nhumidity = "0 %"\n')
    assert book.number("road.a") == pytest.approx(150.0)
    assert book.number("road.c") == pytest.approx(0.45, rel=1e-4)


def test_tyres_roll_harder_on_a_mild_day_colder_than_the_reference():
    assert designed('[conditions]\ntemperature = "5 degC"\n').number("road.a") > 160.0


def test_a_car_without_a_goal_temperature_has_no_day_for_it():
    assert "road.a_goal" not in designed().values
