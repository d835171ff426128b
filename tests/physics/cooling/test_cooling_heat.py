"""Heat into coolant and out of it, held against worked examples and the balance of a loop."""

from __future__ import annotations

from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.cooling import heat, warmth

EIGHT = 8.0 / 60000.0


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("density", "specific_heat", "rise"), [(1079.0, 3350.0, 6.22), (1055.0, 3500.0, 6.09)]
)
def test_three_kilowatts_warm_eight_litres_a_minute_by_six_degrees(
    density: float, specific_heat: float, rise: float
):
    rate = heat.capacity_rate(density=density, specific_heat=specific_heat, flow=EIGHT)
    assert heat.coolant_rise(heat=3000.0, capacity_rate=rate) == pytest.approx(rise, abs=5e-3)


@pytest.mark.arithmetic
def test_a_plate_on_coolant_of_35_degrees_runs_at_68():
    plate = heat.plate_temperature(
        coolant_in=308.15, rise=6.22, heat=3000.0, thermal_resistance=0.010
    )
    assert plate - 273.15 == pytest.approx(68.1, abs=0.05)


@pytest.mark.arithmetic
def test_one_stream_with_one_and_a_half_transfer_units_gives_777_thousandths():
    found = heat.one_stream_effectiveness(conductance=750.0, capacity_rate=500.0)
    assert found == pytest.approx(0.777, abs=5e-4)


@pytest.mark.arithmetic
def test_coolant_that_cools_along_a_radiator_step_by_step_ends_where_the_formula_says():
    conductance, rate, ambient, hot = 300.0, 550.0, 308.15, 333.15
    temperature, steps = hot, 100_000
    for _ in range(steps):
        temperature -= conductance / steps * (temperature - ambient) / rate
    share = heat.one_stream_effectiveness(conductance=conductance, capacity_rate=rate)
    assert hot - temperature == pytest.approx(share * (hot - ambient), rel=1e-5)


@pytest.mark.arithmetic
def test_a_loop_that_warms_second_by_second_ends_where_the_exponential_says():
    share, rate, capacity, ambient, load = 0.42, 560.0, 30e3, 308.15, 5000.0
    settled = heat.coolant_hot(ambient=ambient, heat=load, effectiveness=share, capacity_rate=rate)
    temperature = ambient
    for _ in range(60_000):
        temperature += 0.001 * (load - share * rate * (temperature - ambient)) / capacity
    found = heat.coolant_after(
        start=ambient,
        settled=settled,
        effectiveness=share,
        capacity_rate=rate,
        heat_capacity=capacity,
        time=60.0,
    )
    assert found == pytest.approx(temperature, abs=0.01)


@pytest.mark.arithmetic
def test_a_pack_of_a_hundred_kilogrammes_takes_half_an_hour_of_a_kilowatt_for_18_degrees():
    capacity = warmth.pack_heat_capacity(mass=100.0, specific_heat=1000.0)
    assert warmth.warming_energy(power=1000.0, time=1800.0) / capacity == pytest.approx(18.0)


@pytest.mark.arithmetic
def test_a_charger_of_94_per_cent_that_gives_6600_watts_makes_421_of_heat():
    assert warmth.conversion_loss(power=6600.0, efficiency=0.94) == pytest.approx(421.3, abs=0.1)


@pytest.mark.arithmetic
def test_a_cabin_at_20_degrees_loses_1800_watts_at_minus_10_and_nothing_in_summer():
    for outside, power in ((263.15, 1800.0), (303.15, 0.0)):
        found = warmth.cabin_heat(conductance=60.0, inside=293.15, outside=outside)
        assert found == pytest.approx(power)


ambients = st.floats(263.15, 323.15)
loads = st.floats(0.0, 2e4)
shares = st.floats(0.05, 0.99)
rates = st.floats(50.0, 2000.0)


@pytest.mark.property
@given(ambients, st.lists(loads, min_size=1, max_size=6), st.floats(20.0, 1000.0), rates)
def test_what_the_parts_put_in_the_radiator_takes_out(ambient, parts, conductance, rate):
    share = heat.one_stream_effectiveness(conductance=conductance, capacity_rate=rate)
    hot = heat.coolant_hot(
        ambient=ambient, heat=sum(parts), effectiveness=share, capacity_rate=rate
    )
    fall = heat.coolant_rise(heat=sum(parts), capacity_rate=rate)
    cold = hot - fall
    after = cold + sum(heat.coolant_rise(heat=each, capacity_rate=rate) for each in parts)
    assert after == pytest.approx(hot, rel=1e-9)
    assert cold - ambient == pytest.approx(
        (hot - ambient) * exp(-conductance / rate), rel=1e-6, abs=1e-6
    )


@pytest.mark.property
@given(ambients, loads, loads, shares, rates, st.floats(0.0, 20.0))
def test_more_heat_or_hotter_air_never_gives_cooler_coolant(
    ambient, load, more, share, rate, hotter
):
    def hot(air: float, watts: float) -> float:
        return heat.coolant_hot(ambient=air, heat=watts, effectiveness=share, capacity_rate=rate)

    assert hot(ambient, load + more) >= hot(ambient, load)
    assert hot(ambient + hotter, load) >= hot(ambient, load)


@pytest.mark.property
@given(st.floats(100.0, 5000.0), st.floats(20.0, 50.0), rates)
def test_the_radiator_that_is_needed_holds_the_coolant_just_at_its_limit(load, room, rate):
    limit, ambient = 333.15, 333.15 - room
    if load >= 0.999 * rate * room:
        return
    conductance = heat.conductance_needed(
        heat=load, max_temperature=limit, ambient=ambient, capacity_rate=rate
    )
    share = heat.one_stream_effectiveness(conductance=conductance, capacity_rate=rate)
    hot = heat.coolant_hot(ambient=ambient, heat=load, effectiveness=share, capacity_rate=rate)
    assert hot == pytest.approx(limit, abs=1e-6)
    shed = heat.heat_at_limit(
        max_temperature=limit, ambient=ambient, effectiveness=share, capacity_rate=rate
    )
    assert shed == pytest.approx(load, rel=1e-6)
    air = heat.ambient_at_limit(
        max_temperature=limit, heat=load, effectiveness=share, capacity_rate=rate
    )
    assert air == pytest.approx(ambient, abs=1e-6)


@pytest.mark.property
@given(ambients, ambients, shares, rates, st.floats(5e3, 1e5), st.floats(1.0, 3600.0))
def test_coolant_on_its_way_is_never_outside_its_start_and_its_end(
    start, settled, share, rate, capacity, time
):
    found = heat.coolant_after(
        start=start,
        settled=settled,
        effectiveness=share,
        capacity_rate=rate,
        heat_capacity=capacity,
        time=time,
    )
    assert min(start, settled) - 1e-9 <= found <= max(start, settled) + 1e-9
