"""Range, label and petrol-equivalent arithmetic."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.vehicle import consumption
from swapwright.standards import consumption as label

WH_PER_MILE = 3600.0 / 1609.344
MILE = 1609.344
KWH = 3.6e6
GALLON = 3.785411784e-3


def mpge(consumed: float) -> float:
    """Return miles per gallon of petrol equivalent."""
    volume = consumption.fuel_equivalent(
        consumption=consumed, fuel_energy=label.GASOLINE_GALLON_ENERGY.si, fuel_volume=GALLON
    )
    return GALLON / (volume * MILE)


@pytest.mark.arithmetic
def test_a_hundred_miles_per_gallon_equivalent_are_337_watt_hours_a_mile():
    assert mpge(337.05 * WH_PER_MILE) == pytest.approx(100.0, abs=0.005)
    assert mpge(375.0 * WH_PER_MILE) == pytest.approx(89.9, abs=0.05)


@pytest.mark.arithmetic
def test_two_cycle_results_make_the_label():
    """180.4 and 144.2 MPGe unadjusted: 126.28 and 100.94 on the label, 113.46 combined."""
    city, highway = (
        consumption.label_consumption(
            consumption=label.GASOLINE_GALLON_ENERGY.si / MILE / economy,
            adjustment=label.LABEL_ADJUSTMENT.si,
        )
        for economy in (180.4, 144.2)
    )
    combined = consumption.combined_consumption(
        city=city, highway=highway, city_share=label.CITY_SHARE.si
    )
    assert mpge(city) == pytest.approx(126.28, abs=0.005)
    assert mpge(highway) == pytest.approx(100.94, abs=0.005)
    assert mpge(combined) == pytest.approx(113.46, abs=0.005)
    assert combined / WH_PER_MILE == pytest.approx(297.06, abs=0.01)


@pytest.mark.arithmetic
def test_the_multi_cycle_test_gives_range_and_wall_consumption():
    """21.0 kWh usable at 0.167830 kWh/mi; 24.4 kWh to recharge."""
    used = 167.830 * WH_PER_MILE
    range_ = consumption.driving_range(usable_energy=21.0 * KWH, consumption=used)
    assert range_ / MILE == pytest.approx(125.13, abs=0.005)
    wall = consumption.wall_consumption(consumption=used, charging_efficiency=21.0 / 24.4)
    assert wall / WH_PER_MILE == pytest.approx(195.003, abs=0.001)
    assert mpge(wall) == pytest.approx(172.84, abs=0.01)


@pytest.mark.arithmetic
def test_196_watt_hours_a_mile_from_the_battery_are_225_from_the_wall():
    wall = consumption.wall_consumption(consumption=195.97 * WH_PER_MILE, charging_efficiency=0.87)
    assert wall / WH_PER_MILE == pytest.approx(225.25, abs=0.01)
    assert mpge(wall) == pytest.approx(149.6, abs=0.05)


@pytest.mark.arithmetic
def test_the_trades_rule_of_25_horsepower_is_375_watt_hours_a_mile():
    """Common practice; exactly 372.85 Wh/mi, and 30 kWh last 80.46 miles."""
    rule = consumption.steady_consumption(power=25 * 745.699872, speed=50 * 0.44704)
    assert rule / WH_PER_MILE == pytest.approx(372.85, abs=0.005)
    assert rule / WH_PER_MILE == pytest.approx(375.0, rel=0.01)
    far = consumption.driving_range(usable_energy=30 * KWH, consumption=rule)
    assert far / MILE == pytest.approx(80.46, abs=0.005)


energies = st.floats(100.0, 2000.0)
shares = st.floats(0.0, 1.0)


@pytest.mark.property
@given(energies, shares, st.floats(0.5, 1.0), shares, st.floats(0.0, 5e3), st.floats(0.0, 3e3))
def test_regeneration_never_costs_energy_and_never_gives_more_than_it_met(
    traction, met, efficiency, share, loss, auxiliary
):
    def used(part: float) -> float:
        return consumption.cycle_consumption_by_losses(
            traction=traction,
            braking=met * traction,
            caught_share=part,
            gear_efficiency=efficiency,
            mean_loss=loss,
            auxiliary_power=auxiliary,
            mean_speed=9.0,
        )

    assert -1e-9 <= used(0.0) - used(share) <= met * traction + 1e-9
    assert used(share) >= traction * (1.0 - met) - 1e-9


@pytest.mark.property
@given(energies, energies, shares)
def test_combined_lies_between_city_and_highway(city, highway, share):
    combined = consumption.combined_consumption(city=city, highway=highway, city_share=share)
    assert min(city, highway) * (1 - 1e-12) <= combined <= max(city, highway) * (1 + 1e-12)


@pytest.mark.property
@given(energies, st.floats(0.5, 1.0))
def test_the_wall_gives_at_least_what_the_battery_does(consumed, efficiency):
    assert (
        consumption.wall_consumption(consumption=consumed, charging_efficiency=efficiency)
        >= consumed
    )


@pytest.mark.property
@given(st.floats(100.0, 2e5), st.floats(0.5, 1.0), st.floats(0.0, 3e3))
def test_the_battery_gives_more_than_the_wheels_get(wheel, efficiency, auxiliary):
    assert (
        consumption.battery_power(
            wheel_power=wheel, efficiency=efficiency, auxiliary_power=auxiliary
        )
        >= wheel
    )


@pytest.mark.property
@given(st.floats(100.0, 2e5), st.floats(0.5, 1.0), st.floats(0.0, 3e3))
def test_what_the_battery_gives_for_the_wheels_is_left_at_the_wheels(wheel, efficiency, auxiliary):
    drawn = consumption.battery_power(
        wheel_power=wheel, efficiency=efficiency, auxiliary_power=auxiliary
    )
    left = consumption.wheel_power_left(
        terminal_power=drawn, auxiliary_power=auxiliary, efficiency=efficiency
    )
    assert left == pytest.approx(wheel, rel=1e-9)


@pytest.mark.arithmetic
def test_losses_given_as_a_mean_power_add_to_what_the_wheels_take():
    """500 J/m at the wheels through 0.95 gears, half of 120 J/m caught, 900 W at 15 m/s."""
    found = consumption.cycle_consumption_by_losses(
        traction=500.0,
        braking=120.0,
        caught_share=0.5,
        gear_efficiency=0.95,
        mean_loss=600.0,
        auxiliary_power=300.0,
        mean_speed=15.0,
    )
    assert found == pytest.approx(500.0 / 0.95 - 57.0 + 60.0)
