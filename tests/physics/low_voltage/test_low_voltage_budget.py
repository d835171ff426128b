"""The 12 V budget: what loads draw, what the converter must give, what heat leaves of it."""

from __future__ import annotations

from math import fsum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.circuit.carried import power_current
from swapwright.physics.low_voltage import budget

LOADS = {
    "head lamps": 120.0,
    "wipers": 60.0,
    "fan": 150.0,
    "blower": 180.0,
    "brake vacuum": 100.0,
    "controls": 80.0,
    "radio": 60.0,
    "rear screen": 180.0,
}
"""W, of an ordinary car in the rain."""


@pytest.mark.arithmetic
def test_an_ordinary_cars_loads_ask_for_67_amperes_and_a_converter_of_84():
    power = fsum(LOADS.values())
    assert power == 930.0
    assert power_current(power=power, voltage=13.8) == pytest.approx(67.4, abs=0.05)
    wanted = budget.sized_power(power=power, size_factor=1.25)
    assert power_current(power=wanted, voltage=13.8) == pytest.approx(84.2, abs=0.05)
    assert budget.drawn_power(power=power, efficiency=0.90) == pytest.approx(1033.0, abs=0.5)


@pytest.mark.arithmetic
def test_a_pump_on_a_quarter_of_the_time_counts_a_quarter():
    assert budget.mean_current(current=15.0, duty=0.25) == 3.75
    assert budget.supply_power(current=61.75, voltage=14.0) == 864.5


@pytest.mark.arithmetic
def test_a_converter_halfway_between_its_two_temperatures_gives_half_its_power():
    given_at = {
        celsius: budget.derated_power(
            power=1200.0,
            temperature=celsius + 273.15,
            full_power_to=328.15,
            no_power_at=353.15,
        )
        for celsius in (20.0, 55.0, 67.5, 80.0, 95.0)
    }
    assert given_at[20.0] == given_at[55.0] == 1200.0
    assert given_at[67.5] == pytest.approx(600.0)
    assert given_at[80.0] == given_at[95.0] == 0.0


@pytest.mark.property
@given(st.floats(0.0, 200.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_load_that_is_on_for_longer_never_draws_less(current: float, one: float, other: float):
    less, more = sorted((one, other))
    assert budget.mean_current(current=current, duty=less) <= budget.mean_current(
        current=current, duty=more
    )


@pytest.mark.property
@given(st.floats(250.0, 400.0), st.floats(0.0, 50.0))
def test_a_hotter_converter_never_gives_more(temperature: float, hotter: float):
    sheet = {"power": 1500.0, "full_power_to": 333.15, "no_power_at": 358.15}
    cool = budget.derated_power(temperature=temperature, **sheet)
    assert 0.0 <= budget.derated_power(temperature=temperature + hotter, **sheet) <= cool <= 1500.0
