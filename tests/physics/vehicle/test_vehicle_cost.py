"""What a conversion costs, a mile before and after, and when the one pays the other."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.vehicle import cost

KWH, LITRE = 3.6e6, 1e-3


@pytest.mark.arithmetic
def test_twelve_modules_and_forty_hours_are_added_up_and_a_tenth_set_aside():
    modules = cost.price_of_all(price=520.0, count=12.0)
    work = cost.price_of_work(time=40.0 * 3600.0, rate=55.0 / 3600.0)
    assert (modules, work) == pytest.approx((6240.0, 2200.0))
    assert cost.set_aside(price=modules + work, share=0.1) == pytest.approx(844.0)


@pytest.mark.arithmetic
def test_twenty_kilowatt_hours_and_nine_litres_a_hundred_kilometres_at_their_prices():
    driven = cost.energy_price_of_distance(consumption=20.0 * KWH / 1e5, price=0.30 / KWH)
    burnt = cost.fuel_price_of_distance(consumption=9.0 * LITRE / 1e5, price=1.80 / LITRE)
    assert (driven * 1e5, burnt * 1e5) == pytest.approx((6.0, 16.2))
    paid = cost.distance_to_pay_back(total=10_200.0, before=burnt, after=driven)
    assert paid == pytest.approx(100_000e3)


@pytest.mark.property
@given(st.floats(1.0, 1e6), st.floats(1e-5, 1e-2), st.floats(0.0, 0.99))
def test_the_distance_that_pays_it_back_saves_just_what_it_cost(total, before, share):
    after = before * share
    distance = cost.distance_to_pay_back(total=total, before=before, after=after)
    assert distance * (before - after) == pytest.approx(total)
