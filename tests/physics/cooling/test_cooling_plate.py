"""Cells on a plate, and a rating on hotter coolant, held against balances worked out by hand."""

from __future__ import annotations

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.cooling.plate import coolant_on_plate, path_through_plate
from swapwright.physics.cooling.rating import power_at_coolant

paths = st.floats(10.0, 2000.0)


@pytest.mark.arithmetic
def test_a_plate_of_200_and_a_radiator_of_200_watts_a_degree_let_100_through():
    found = path_through_plate(plate=200.0, effectiveness=0.4, capacity_rate=500.0)
    assert found == pytest.approx(100.0)


@pytest.mark.arithmetic
def test_coolant_between_cells_at_45_and_air_at_35_lies_where_the_two_paths_part_it():
    found = coolant_on_plate(
        cells=318.15, plate=300.0, around=308.15, effectiveness=0.2, capacity_rate=500.0
    )
    assert found == pytest.approx(308.15 + 10.0 * 0.75)


@pytest.mark.property
@given(
    plate=paths, radiator=paths, cells=st.floats(300.0, 340.0), air=st.floats(270.0, 320.0)
)  # fmt: skip
def test_what_the_cells_give_the_plate_the_radiator_gives_the_air(
    plate: float, radiator: float, cells: float, air: float
):
    way = {"effectiveness": 0.5, "capacity_rate": 2.0 * radiator}
    coolant = coolant_on_plate(cells=cells, plate=plate, around=air, **way)
    through = path_through_plate(plate=plate, **way) * (cells - air)
    assert plate * (cells - coolant) == pytest.approx(through, abs=1e-6)
    assert radiator * (coolant - air) == pytest.approx(through, abs=1e-6)


@pytest.mark.arithmetic
@pytest.mark.parametrize("came", [320.0, 335.0, 350.0, 370.0])
def test_the_power_left_of_a_rating_is_where_trying_powers_one_by_one_finds_the_limit(came: float):
    """The part's temperature goes with the square of the power, over coolant that does too."""
    limit, rated, air, power = 428.15, 338.15, 308.15, 30e3

    def temperature(tried: float) -> float:
        share = (tried / power) ** 2
        return air + (came - air) * share + (limit - rated) * share

    low, high = 0.0, power
    if temperature(power) <= limit:
        low = power
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if temperature(middle) <= limit else (low, middle)
    found = power_at_coolant(
        power=power, max_temperature=limit, rated_coolant=rated, coolant=came, ambient=air
    )
    assert found == pytest.approx(low, rel=1e-9)
    assert (found < power) == (came > rated)


@pytest.mark.property
@given(came=st.floats(308.2, 370.0), more=st.floats(0.0, 20.0))
def test_hotter_coolant_never_leaves_more_of_a_rating(came: float, more: float):
    last = inf
    for coolant in (came, came + more):
        found = power_at_coolant(
            power=30e3, max_temperature=428.15, rated_coolant=330.0, coolant=coolant, ambient=308.15
        )
        assert 0.0 < found <= min(last, 30e3)
        last = found
