from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from swapwright.physics.pack.charge import (
    charge_current,
    charge_efficiency,
    charging_power,
    constant_current_time,
    constant_power_time,
    taper_current,
    taper_time,
    taper_time_constant,
    typical_charger_efficiency,
    wall_energy,
    wall_power,
)

HOUR = 3600.0
AMPERE_HOUR = 3600.0
KILOWATT_HOUR = 3.6e6


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("volts", "amps", "efficiency", "hours"),
    [(120.0, 12.0, 0.85, 17.2), (240.0, 32.0, 0.92, 2.97)],
    ids=["household outlet", "wall box"],
)
def test_21_kilowatt_hours_take_17_hours_from_an_outlet_and_3_from_a_wall_box(
    volts, amps, efficiency, hours
):
    supply = wall_power(voltage=volts, current=amps, power_factor=1.0)
    power = charging_power(wall_power=supply, charger_efficiency=efficiency, charger_power=1e5)
    time = constant_power_time(energy=21 * KILOWATT_HOUR, power=power)
    assert time / HOUR == pytest.approx(hours, abs=0.05)


@pytest.mark.arithmetic
def test_a_charger_never_passes_more_than_its_rating():
    assert (
        charging_power(wall_power=7680.0, charger_efficiency=0.92, charger_power=6600.0) == 6600.0
    )


@pytest.mark.arithmetic
def test_larger_chargers_are_taken_to_be_better():
    found = [typical_charger_efficiency(power) for power in (1000.0, 3300.0, 6600.0, 22e3)]
    assert found == sorted(found)
    assert 0.80 <= found[0] <= 0.87
    assert 0.87 <= found[-1] <= 0.92


# A 100 Ah pack at half C, a fifth of its charge left at the voltage limit, ended at a twentieth.
@pytest.mark.arithmetic
def test_the_last_fifth_takes_as_long_as_one_hour_though_the_first_seven_tenths_took_1_4():
    tau = taper_time_constant(charge_left=20 * AMPERE_HOUR, current=50.0, end_current=5.0)
    assert tau / HOUR == pytest.approx(0.444, abs=5e-4)
    tail = taper_time(time_constant=tau, current=50.0, end_current=5.0)
    assert tail / HOUR == pytest.approx(1.023, abs=5e-4)
    assert constant_current_time(charge=70 * AMPERE_HOUR, current=50.0) / HOUR == pytest.approx(1.4)


@pytest.mark.property
@given(st.floats(10.0, 200.0), st.floats(0.02, 0.5), st.floats(3600.0, 1e6))
def test_the_charge_under_the_taper_is_the_charge_that_was_left(current, share, left):
    end = share * current
    tau = taper_time_constant(charge_left=left, current=current, end_current=end)
    time = taper_time(time_constant=tau, current=current, end_current=end)

    def flow(t):
        return taper_current(current=current, time=t, time_constant=tau)

    assert flow(time) == pytest.approx(end)
    assert quad(flow, 0.0, time)[0] == pytest.approx(left, rel=1e-6)


@pytest.mark.property
@given(st.floats(50.0, 800.0), st.floats(100.0, 1e5), st.floats(1e-3, 0.3))
def test_the_charging_current_brings_the_charging_power(volts, power, resistance):
    current = charge_current(power=power, rest_voltage=volts, resistance=resistance)
    assert (volts + current * resistance) * current == pytest.approx(power)


@pytest.mark.property
@given(st.floats(50.0, 800.0), st.floats(0.1, 500.0), st.floats(1e-4, 0.3))
def test_the_wall_always_gives_more_than_the_pack_keeps(volts, current, resistance):
    eta = charge_efficiency(rest_voltage=volts, current=current, resistance=resistance)
    assert 0.0 < eta < 1.0
    assert (
        wall_energy(battery_energy=1e7, charger_efficiency=0.9, battery_efficiency=eta) > 1e7 / 0.9
    )
