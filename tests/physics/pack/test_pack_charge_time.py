"""A charge in short: times known in closed form, and the laws they keep."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.pack import charge_time

HOUR = 3600.0
CAPACITY = 100.0 * HOUR
amperes = st.floats(5.0, 400.0)


@pytest.mark.arithmetic
def test_the_tail_of_a_charge_at_half_the_capacity_an_hour_takes_about_an_hour():
    """A fifth of the capacity left, C/2 down to C/20: tau 0.444 h, ln 10 of it 1.023 h."""
    time = charge_time.fading_time(charge=0.2 * CAPACITY, first=50.0, last=5.0)
    assert time / HOUR == pytest.approx(1.023, abs=5e-4)


@pytest.mark.arithmetic
def test_10_to_80_percent_at_half_the_capacity_an_hour_take_1_4_hours():
    charge = charge_time.charge_between(capacity=CAPACITY, low=0.1, high=0.8)
    assert charge_time.steady_time(charge=charge, current=50.0) == pytest.approx(1.4 * HOUR)


@pytest.mark.arithmetic
def test_2_percent_of_100_ampere_hours_are_bled_at_a_tenth_of_an_ampere_in_20_hours():
    time = charge_time.balance_time(imbalance=0.02, capacity=CAPACITY, current=0.1)
    assert time == pytest.approx(20.0 * HOUR)


@pytest.mark.arithmetic
def test_a_twentieth_of_the_capacity_of_60_ampere_hours_is_3_amperes():
    assert charge_time.current_at_rate(capacity=60.0 * HOUR, rate=0.05) == pytest.approx(3.0)


@pytest.mark.property
@given(charge=st.floats(1e3, 1e6), first=amperes, share=st.floats(0.01, 0.99))
def test_a_dying_current_takes_longer_than_its_first_and_less_than_its_last(charge, first, share):
    last = share * first
    time = charge_time.fading_time(charge=charge, first=first, last=last)
    assert charge / first <= time <= charge / last


@pytest.mark.property
@given(first=amperes, share=st.floats(0.05, 0.95), turn=st.floats(0.5, 0.9), at=st.floats(0.0, 1.0))
def test_a_tail_in_two_parts_takes_the_time_of_the_whole(first, share, turn, at):
    last, full = share * first, 1.0
    end = turn + at * (full - turn)
    between = charge_time.fading_current(first=first, last=last, turn=turn, end=end, full=full)

    def tail(low, high, begin, finish):
        charge = charge_time.charge_between(capacity=CAPACITY, low=low, high=high)
        return charge_time.fading_time(charge=charge, first=begin, last=finish)

    parts = tail(turn, end, first, between) + tail(end, full, between, last)
    assert parts == pytest.approx(tail(turn, full, first, last), rel=1e-6, abs=1e-6)
