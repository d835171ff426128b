"""Air against the US Standard Atmosphere 1976, a real-gas model of humid air, and regulations."""

from __future__ import annotations

import fluids
import pytest
from CoolProp.HumidAirProp import HAPropsSI
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.vehicle import air, constant
from swapwright.standards import atmosphere

EARTH_RADIUS = 6356766.0  # m, of the US Standard Atmosphere 1976


def pressure_at(altitude: float) -> float:
    return air.standard_pressure(
        altitude=altitude,
        sea_level_temperature=atmosphere.SEA_LEVEL_TEMPERATURE.si,
        sea_level_pressure=atmosphere.SEA_LEVEL_PRESSURE.si,
        lapse_rate=atmosphere.LAPSE_RATE.si,
    )


def temperature_at(altitude: float) -> float:
    return atmosphere.SEA_LEVEL_TEMPERATURE.si - atmosphere.LAPSE_RATE.si * altitude


def density(temperature: float, pressure: float, humidity: float) -> float:
    vapour = air.vapour_pressure(
        humidity=humidity, saturation_pressure=air.saturation_pressure(temperature=temperature)
    )
    return air.air_density(temperature=temperature, pressure=pressure, vapour_pressure=vapour)


@pytest.mark.published
@pytest.mark.parametrize("altitude", [0.0, 500.0, 1000.0, 1500.0, 2000.0, 3000.0, 5000.0])
def test_the_atmosphere_is_the_us_standard_atmosphere_of_1976(altitude):
    """US Standard Atmosphere 1976, as an independent library has it (geometric altitude there)."""
    there = fluids.ATMOSPHERE_1976(EARTH_RADIUS * altitude / (EARTH_RADIUS - altitude))
    assert temperature_at(altitude) == pytest.approx(there.T, rel=1e-5)
    assert pressure_at(altitude) == pytest.approx(there.P, rel=1e-5)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("altitude", "expected"),
    [(0, 1.2250), (500, 1.1673), (1000, 1.1116), (1500, 1.0581), (2000, 1.0065), (3000, 0.9091)],
)
def test_dry_density_at_an_altitude_is_the_standard_atmospheres(altitude, expected):
    found = density(temperature_at(altitude), pressure_at(altitude), 0.0)
    assert found == pytest.approx(expected, abs=0.5e-4)


@pytest.mark.published
def test_dry_air_of_the_coast_down_reference_has_the_printed_density():
    """40 CFR 1066.310 prints 1.17 kg/m^3 for 20 degC and 98.21 kPa."""
    assert density(293.15, 98210.0, 0.0) == pytest.approx(1.17, abs=0.005)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("celsius", "humidity", "expected"),
    [(20.0, 0.0, 1.2041), (20.0, 0.5, 1.1989), (-10.0, 0.0, 1.3414)],
    ids=["dry and mild", "half humid", "dry and cold"],
)
def test_moist_air_at_sea_level_has_the_density_worked_out_by_hand(celsius, humidity, expected):
    assert density(celsius + 273.15, 101325.0, humidity) == pytest.approx(expected, abs=0.5e-4)


@pytest.mark.arithmetic
@pytest.mark.parametrize("pressure", [101325.0, 84559.7])
@pytest.mark.parametrize("humidity", [0.0, 0.3, 0.6, 1.0])
@pytest.mark.parametrize("temperature", [263.15, 283.15, 293.15, 308.15, 318.15])
def test_density_is_within_a_thousandth_of_a_real_gas_model(temperature, humidity, pressure):
    real = 1.0 / HAPropsSI("Vha", "T", temperature, "P", pressure, "R", humidity)
    assert density(temperature, pressure, humidity) == pytest.approx(real, rel=1.2e-3)


@pytest.mark.arithmetic
@pytest.mark.parametrize("celsius", [1.0, 10.0, 20.0, 30.0, 45.0])
def test_saturation_pressure_is_that_of_a_real_gas_model(celsius):
    vapour = HAPropsSI("P_w", "T", celsius + 273.15, "P", 101325.0, "R", 1.0)
    # humid air takes up to 0.5 % more water than vacuum would, which the Magnus form leaves out
    assert air.saturation_pressure(temperature=celsius + 273.15) == pytest.approx(vapour, rel=7e-3)


@pytest.mark.property
@given(st.floats(-450.0, 5400.0), st.floats(1.0, 100.0))
def test_air_thins_with_altitude(altitude, climb):
    low = density(temperature_at(altitude), pressure_at(altitude), 0.0)
    high = density(temperature_at(altitude + climb), pressure_at(altitude + climb), 0.0)
    assert high < low


@pytest.mark.property
@given(st.floats(240.0, 318.0), st.floats(0.0, 0.9), st.floats(0.01, 0.1))
def test_damp_air_is_lighter_than_dry(temperature, humidity, damper):
    assert density(temperature, 1e5, humidity + damper) < density(temperature, 1e5, humidity)


@pytest.mark.property
@given(st.floats(235.0, 317.0), st.floats(0.1, 5.0), st.floats(0.0, 1.0))
def test_warm_air_is_lighter_than_cold(temperature, warmer, humidity):
    assert density(temperature + warmer, 1e5, humidity) < density(temperature, 1e5, humidity)


@pytest.mark.guard
def test_gravity_is_one_number_everywhere():
    assert constant.GRAVITY.si == atmosphere.STANDARD_GRAVITY.si
