"""The 12 V battery by itself: Peukert for lead-acid alone, reserve, and the voltage under load."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.low_voltage import battery

HOUR = 3600.0
AMPERE_HOUR = 3600.0
LEAD = {"rated_time": 20.0 * HOUR, "exponent": 1.2}

capacities = st.floats(5.0, 200.0).map(lambda hours: hours * AMPERE_HOUR)
currents = st.floats(0.01, 200.0)


@pytest.mark.arithmetic
def test_a_hundred_ampere_hours_at_fifty_amperes_last_an_hour_and_a_quarter_not_two():
    lasts = battery.lead_acid_time(capacity=100.0 * AMPERE_HOUR, share=1.0, current=50.0, **LEAD)
    assert lasts / HOUR == pytest.approx(1.262, abs=0.0005)
    assert 50.0 * lasts / AMPERE_HOUR == pytest.approx(63.1, abs=0.05)


@pytest.mark.arithmetic
def test_a_lithium_battery_of_that_size_lasts_the_whole_two_hours():
    lasts = battery.charge_time(capacity=100.0 * AMPERE_HOUR, share=1.0, current=50.0)
    assert lasts == 2.0 * HOUR


@pytest.mark.arithmetic
def test_half_of_60_ampere_hours_feed_300_watts_for_72_minutes():
    lasts = battery.charge_time(capacity=60.0 * AMPERE_HOUR, share=0.5, current=300.0 / 12.0)
    assert lasts == pytest.approx(1.2 * HOUR)


@pytest.mark.arithmetic
def test_a_reserve_capacity_of_100_minutes_is_41_point_7_ampere_hours():
    minutes = 100.0 * 60.0
    assert 25.0 * minutes / AMPERE_HOUR == pytest.approx(41.7, abs=0.05)
    assert battery.charge_time(capacity=25.0 * minutes, share=1.0, current=25.0) == minutes


@pytest.mark.arithmetic
def test_four_tenths_of_an_ampere_take_a_small_battery_flat_in_two_days():
    lasts = battery.charge_time(capacity=20.0 * AMPERE_HOUR, share=1.0, current=0.4)
    assert lasts / 86400.0 == pytest.approx(2.08, abs=0.005)


@pytest.mark.arithmetic
def test_a_small_battery_with_73_amperes_on_it_falls_to_ten_volts():
    new = battery.typical_resistance(
        resistance_capacity=0.25 * AMPERE_HOUR, capacity=20.0 * AMPERE_HOUR
    )
    assert new == pytest.approx(0.0125)
    worst = battery.worst_resistance(resistance=new, factor=2.0)
    volts = battery.loaded_voltage(
        rest_voltage=12.2, current=73.0, battery_resistance=worst, wire_resistance=0.001
    )
    assert volts == pytest.approx(12.2 - 73.0 * 0.025 - 73.0 * 0.002)


@pytest.mark.property
@given(capacities, currents, currents, st.floats(1.0, 1.6))
def test_more_current_never_lengthens_the_reserve(capacity, one, other, exponent: float):
    less, more = sorted((one, other))
    rated = {"rated_time": 20.0 * HOUR, "exponent": exponent, "capacity": capacity, "share": 0.5}
    assert battery.lead_acid_time(current=more, **rated) <= battery.lead_acid_time(
        current=less, **rated
    ) * (1.0 + 1e-12)


@pytest.mark.property
@given(capacities, capacities, currents)
def test_a_bigger_battery_never_shortens_the_reserve_nor_sags_lower(one, other, current: float):
    smaller, bigger = sorted((one, other))
    for lasts in (
        lambda capacity: battery.lead_acid_time(
            capacity=capacity, share=0.5, current=current, **LEAD
        ),
        lambda capacity: battery.charge_time(capacity=capacity, share=0.5, current=current),
    ):
        assert lasts(smaller) <= lasts(bigger) * (1.0 + 1e-12)

    def volts(capacity: float) -> float:
        inside = battery.typical_resistance(resistance_capacity=900.0, capacity=capacity)
        return battery.loaded_voltage(
            rest_voltage=12.2, current=current, battery_resistance=inside, wire_resistance=0.002
        )

    assert volts(smaller) <= volts(bigger)


@pytest.mark.property
@given(capacities, currents, st.floats(1.0, 1.6))
def test_peukerts_law_never_gives_more_charge_than_the_battery_is_rated_for(
    capacity: float, current: float, exponent: float
):
    lasts = battery.lead_acid_time(
        capacity=capacity, share=1.0, current=current, rated_time=20.0 * HOUR, exponent=exponent
    )
    assert lasts * current <= capacity * (1.0 + 1e-12)
