"""A charge in short: times known in closed form, and the laws they keep."""

from __future__ import annotations

from math import e

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
    between = first - (first - last) * at  # over a straight rest voltage it falls straight

    def tail(low, high, begin, finish):
        charge = charge_time.charge_between(capacity=CAPACITY, low=low, high=high)
        return charge_time.fading_time(charge=charge, first=begin, last=finish)

    parts = tail(turn, end, first, between) + tail(end, full, between, last)
    assert parts == pytest.approx(tail(turn, full, first, last), rel=1e-6, abs=1e-6)


CELL = {"r0": 7e-4, "joints": 5e-5, "r1": 3e-4, "c1": 2e4, "r2": 4e-4, "c2": 3e5}


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("begun", "lasted", "milliohms"),
    [(0.0, 1e-3, 0.75), (1e6, 60.0, 1.45), (0.0, 1e7, 1.45), (0.0, 6.0, 0.75 + 0.3 / e + 0.0099)],
    ids=["at once", "settled long ago", "for weeks", "one time constant of the fast pair"],
)
def test_a_current_meets_the_ohmic_part_at_once_and_the_pairs_as_they_settle(
    begun, lasted, milliohms
):
    # Over its own time constant a pair has settled by 1 - (1 - 1/e) = 1/e on the mean; the slow
    # one, of 120 s, by 0.0246 after 6 s.
    found = charge_time.settling_resistance(**CELL, begun=begun, lasted=lasted)
    assert 1e3 * found == pytest.approx(milliohms, abs=2e-3)


@pytest.mark.property
@given(begun=st.floats(0.0, 1e4), lasted=st.floats(1.0, 1e4), later=st.floats(0.0, 1e4))
def test_the_later_the_more_of_the_resistance_is_met_and_never_more_than_all(begun, lasted, later):
    first = charge_time.settling_resistance(**CELL, begun=begun, lasted=lasted)
    second = charge_time.settling_resistance(**CELL, begun=begun + later, lasted=lasted)
    assert 7.5e-4 * (1 - 1e-9) <= first <= second * (1 + 1e-9)
    assert second <= 1.45e-3 * (1 + 1e-9)


@pytest.mark.arithmetic
def test_403_2_volts_drive_20_amperes_into_96_cells_that_rest_at_4_18():
    found = charge_time.held_current(
        voltage=403.2, series=96.0, rest_voltage=4.18, resistance=2e-3, parallel=2.0
    )
    assert found == pytest.approx(20.0)
    higher = charge_time.held_current(
        voltage=400.0, series=96.0, rest_voltage=4.18, resistance=2e-3, parallel=2.0
    )
    assert higher == 0.0
