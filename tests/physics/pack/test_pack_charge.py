from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.pack.charge import (
    charge_current,
    charge_efficiency,
    typical_charger_efficiency,
)


@pytest.mark.arithmetic
def test_larger_chargers_are_taken_to_be_better():
    found = [typical_charger_efficiency(power) for power in (1000.0, 3300.0, 6600.0, 22e3)]
    assert found == sorted(found)
    assert 0.80 <= found[0] <= 0.87
    assert 0.87 <= found[-1] <= 0.92


@pytest.mark.property
@given(st.floats(50.0, 800.0), st.floats(100.0, 1e5), st.floats(1e-3, 0.3))
def test_the_charging_current_brings_the_charging_power(volts, power, resistance):
    current = charge_current(power=power, rest_voltage=volts, resistance=resistance)
    assert (volts + current * resistance) * current == pytest.approx(power)


@pytest.mark.property
@given(st.floats(50.0, 800.0), st.floats(0.1, 500.0), st.floats(1e-4, 0.3))
def test_a_pack_never_keeps_all_that_charges_it(volts, current, resistance):
    eta = charge_efficiency(rest_voltage=volts, current=current, resistance=resistance)
    assert 0.0 < eta < 1.0
