"""Supply and battery: the arithmetic of a socket, a station, a pump."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.pack import supply
from swapwright.standards.supply import continuous_share, socket

HOUR = 3600.0
KILOWATT_HOUR = 3.6e6
MILE = 1609.344


@pytest.mark.arithmetic
def test_level_1_is_1440_watts_and_level_2_up_to_19_kilowatts():
    """SAE J1772, charge method electrical ratings, from memory."""
    one = socket("US")
    level_1 = supply.supply_power(voltage=one.voltage.si, current=one.current.si, phases=1.0)
    assert level_1 == 1440.0
    assert supply.supply_power(voltage=240.0, current=80.0, phases=1.0) == 19_200.0


@pytest.mark.arithmetic
def test_21_kilowatt_hours_take_17_hours_on_level_1_and_3_on_32_amperes():
    """21 kWh over 1.44 kW x 0.85 and over 240 V x 32 A x 0.92."""
    for voltage, current, efficiency, hours in (
        (120.0, 12.0, 0.85, 17.2),
        (240.0, 32.0, 0.92, 2.97),
    ):
        output = supply.charger_output(
            rating=2e4,
            supply=supply.supply_power(voltage=voltage, current=current, phases=1.0),
            efficiency=efficiency,
        )
        assert 21.0 * KILOWATT_HOUR / output / HOUR == pytest.approx(hours, abs=0.05)


@pytest.mark.arithmetic
def test_a_40_ampere_circuit_gives_32_for_hours_in_the_us_and_40_elsewhere():
    """NEC 210.20(A) and 625.42: 80 % for a load of hours, from memory."""
    for region, amperes in (("US", 32.0), ("EU", 40.0), ("NZ", 40.0)):
        share = continuous_share(region).si
        assert supply.continuous_current(rating=40.0, share=share) == pytest.approx(amperes)


@pytest.mark.arithmetic
def test_11_kilowatts_on_three_phases_draw_a_third_of_the_current_of_one():
    one, three = (
        supply.supply_draw(power=11e3, efficiency=0.95, voltage=230.0, phases=phases)
        for phases in (1.0, 3.0)
    )
    assert one == pytest.approx(50.34, abs=0.01)
    assert three == pytest.approx(one / 3.0)


@pytest.mark.arithmetic
def test_six_kilowatts_at_a_quarter_kilowatt_hour_a_mile_are_24_miles_an_hour():
    rate = supply.range_rate(power=6e3, stored=1.0, consumption=0.25 * KILOWATT_HOUR / MILE)
    assert rate * HOUR / MILE == pytest.approx(24.0)


@pytest.mark.arithmetic
def test_20_litres_for_250_kilometres_are_pumped_in_half_a_minute():
    fuel = 8e-8  # 8 L/100 km
    time = supply.pump_time(distance=250e3, fuel=fuel, flow=35e-3 / 60.0)
    assert time == pytest.approx(20.0 / 35.0 * 60.0)
    assert supply.tank_range(tank=0.048, fuel=fuel) == pytest.approx(600e3)


@pytest.mark.arithmetic
def test_20_kilowatt_hours_at_32_hundredths_cost_6_40():
    price = 0.32 / KILOWATT_HOUR
    assert supply.charge_cost(energy=20.0 * KILOWATT_HOUR, price=price) == pytest.approx(6.40)


@pytest.mark.property
@given(rating=st.floats(1e2, 5e4), power=st.floats(1e2, 5e4), eta=st.floats(0.5, 1.0))
def test_a_charger_gives_neither_more_than_its_rating_nor_more_than_it_draws(rating, power, eta):
    output = supply.charger_output(rating=rating, supply=power, efficiency=eta)
    assert output <= rating
    assert output <= power
    assert 0.0 <= supply.into_battery(output=output, loads=200.0) <= output
