"""Road load against worked examples, the trade's rule, and the laws any car obeys."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.quantity import parse
from swapwright.physics.vehicle import consumption, road_load

MPH = 0.44704
WH_PER_MILE = 3600.0 / 1609.344
HORSEPOWER = 745.699872
POUND = 0.45359237


def force_of_tyres_and_air(*, mass, c_rr, cd_a, density, speed, grade=0.0, headwind=0.0):
    return (
        road_load.rolling_force(c_rr=c_rr, mass=mass, grade=grade)
        + road_load.aerodynamic_force(density=density, cd_a=cd_a, speed=speed, headwind=headwind)
        + road_load.grade_force(mass=mass, grade=grade)
    )


SALOON = {"mass": 1500.0, "c_rr": 0.015, "cd_a": 0.95, "density": 1.20, "speed": 50 * MPH}


@pytest.mark.arithmetic
def test_a_1500_kg_saloon_at_50_mph_needs_eleven_kilowatts_at_the_wheels():
    rolling = road_load.rolling_force(c_rr=0.015, mass=1500.0, grade=0.0)
    aero = road_load.aerodynamic_force(density=1.2, cd_a=0.95, speed=50 * MPH, headwind=0.0)
    total = force_of_tyres_and_air(**SALOON)
    power = road_load.power_at_speed(force=total, speed=50 * MPH)
    assert rolling == pytest.approx(220.65, abs=0.005)
    assert aero == pytest.approx(284.78, abs=0.005)
    assert total == pytest.approx(505.43, abs=0.005)
    assert power == pytest.approx(11297, abs=0.5)
    assert power / HORSEPOWER == pytest.approx(15.15, abs=0.005)
    per_distance = consumption.steady_consumption(power=power, speed=50 * MPH)
    assert per_distance / WH_PER_MILE == pytest.approx(225.95, abs=0.005)


@pytest.mark.arithmetic
def test_a_six_percent_grade_adds_the_sine_of_its_slope():
    pull = road_load.grade_force(mass=1500.0, grade=0.06)
    assert pull == pytest.approx(881.01, abs=0.005)
    assert pull * 50 * MPH == pytest.approx(19.69e3, abs=5.0)


COEFFICIENTS = {
    "a": parse("29.97 lbf", "force").si,
    "b": parse("0.0713 lbf/mph", "force_per_speed").si,
    "c": parse("0.02206 lbf/mph^2", "force_per_speed_square").si,
}


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("mph", "force", "kilowatts", "wh_per_mile"),
    [(50, 394.49, 8.818, 176.35), (65, 568.5, 16.52, 254.15)],
)
def test_dynamometer_coefficients_give_force_power_and_energy(mph, force, kilowatts, wh_per_mile):
    found = road_load.road_load(**COEFFICIENTS, speed=mph * MPH, headwind=0.0)
    assert found == pytest.approx(force, abs=0.05)
    assert found * mph * MPH == pytest.approx(kilowatts * 1e3, abs=5.0)
    assert found / WH_PER_MILE == pytest.approx(wh_per_mile, abs=0.005)


@pytest.mark.arithmetic
def test_dynamometer_coefficients_tell_apparent_tyre_and_air_numbers():
    c_rr = road_load.apparent_rolling_coefficient(a=COEFFICIENTS["a"], mass=3625 * POUND)
    cd_a = road_load.apparent_drag_area(c=COEFFICIENTS["c"], density=1.17)
    assert c_rr == pytest.approx(0.00827, abs=0.5e-5)
    assert cd_a == pytest.approx(0.839, abs=0.5e-3)


@pytest.mark.arithmetic
def test_a_coast_down_of_the_reference_day_and_of_a_cold_one_agree():
    """150 N and 0.45 measured at 10 degC and 101.0 kPa; SAE J1263's factor is from memory."""
    cold_a = road_load.road_load_a_at_temperature(
        a=137.04, temperature=283.15, reference_temperature=293.15, temperature_factor=8.64e-3
    )
    measured_in = 101.0e3 / 283.15
    to_j2263 = road_load.road_load_c_at_density(
        c=0.45, density=98.21e3 / 293.15, test_density=measured_in
    )
    to_gtr15 = road_load.road_load_c_at_density(
        c=0.45, density=100.0e3 / 293.15, test_density=measured_in
    )
    assert cold_a == pytest.approx(150.0, abs=0.005)
    assert to_j2263 == pytest.approx(0.42264, abs=0.5e-5)
    assert to_gtr15 == pytest.approx(0.43035, abs=1e-5)


@pytest.mark.arithmetic
def test_a_steady_wind_of_three_metres_hides_four_newtons_in_a():
    with_wind, against_wind = (
        road_load.road_load(a=0.0, b=0.0, c=0.45, speed=20.0, headwind=wind) for wind in (-3.0, 3.0)
    )
    still = road_load.road_load(a=0.0, b=0.0, c=0.45, speed=20.0, headwind=0.0)
    assert (with_wind + against_wind) / 2.0 - still == pytest.approx(4.05, rel=1e-9)


@pytest.mark.arithmetic
def test_the_trades_25_horsepower_hold_a_heavy_old_car_at_50_mph():
    """Common practice: 25 hp from the battery; here 2000 kg, CdA 1.4, Crr 0.015, 85 % driveline."""
    force = force_of_tyres_and_air(mass=2000.0, c_rr=0.015, cd_a=1.4, density=1.20, speed=50 * MPH)
    wheel = road_load.power_at_speed(force=force, speed=50 * MPH)
    drawn = consumption.battery_power(wheel_power=wheel, efficiency=0.85, auxiliary_power=0.0)
    assert drawn / HORSEPOWER == pytest.approx(25.0, rel=0.02)


cars = {
    "mass": st.floats(400.0, 4000.0),
    "c_rr": st.floats(0.006, 0.03),
    "cd_a": st.floats(0.3, 3.0),
    "density": st.floats(0.8, 1.4),
    "speed": st.floats(0.0, 45.0),
}


@pytest.mark.property
@given(**cars, grade=st.floats(0.0, 0.4), more=st.floats(1.0, 500.0))
def test_more_mass_always_raises_road_load(more, mass, **car):
    assert force_of_tyres_and_air(mass=mass + more, **car) > force_of_tyres_and_air(
        mass=mass, **car
    )


@pytest.mark.property
@given(**cars, headwind=st.floats(-15.0, 15.0), more=st.floats(0.0, 10.0))
def test_more_headwind_never_helps(headwind, more, **car):
    assert force_of_tyres_and_air(headwind=headwind + more, **car) >= force_of_tyres_and_air(
        headwind=headwind, **car
    )


@pytest.mark.property
@given(st.floats(300.0, 5000.0), st.floats(0.0, 1.0), st.floats(0.005, 0.04))
def test_slope_and_normal_force_never_exceed_the_weight(mass, grade, c_rr):
    pull = road_load.grade_force(mass=mass, grade=grade)
    normal = road_load.rolling_force(c_rr=c_rr, mass=mass, grade=grade) / c_rr
    assert pull**2 + normal**2 == pytest.approx((mass * 9.80665) ** 2, rel=1e-12)


@pytest.mark.property
@given(st.floats(300.0, 5000.0), st.floats(-0.5, 0.5))
def test_a_downhill_helps_as_much_as_the_same_uphill_costs(mass, grade):
    up = road_load.grade_force(mass=mass, grade=grade)
    assert road_load.grade_force(mass=mass, grade=-grade) == -up


@pytest.mark.property
@given(**cars, headwind=st.floats(-15.0, 15.0))
def test_the_two_ways_of_giving_a_level_road_load_agree(mass, c_rr, cd_a, density, speed, headwind):
    three_terms = road_load.road_load(
        a=road_load.road_load_a(c_rr=c_rr, mass=mass),
        b=0.0,
        c=road_load.road_load_c(density=density, cd_a=cd_a),
        speed=speed,
        headwind=headwind,
    )
    assert three_terms == pytest.approx(
        force_of_tyres_and_air(
            mass=mass, c_rr=c_rr, cd_a=cd_a, density=density, speed=speed, headwind=headwind
        ),
        rel=1e-9,
        abs=1e-9,
    )


@pytest.mark.property
@given(**cars)
def test_apparent_numbers_give_back_the_tyres_and_the_body(mass, c_rr, cd_a, density, speed):
    a = road_load.road_load_a(c_rr=c_rr, mass=mass)
    c = road_load.road_load_c(density=density, cd_a=cd_a)
    assert road_load.apparent_rolling_coefficient(a=a, mass=mass) == pytest.approx(c_rr)
    assert road_load.apparent_drag_area(c=c, density=density) == pytest.approx(cd_a)


@pytest.mark.property
@given(st.floats(30.0, 800.0), st.floats(253.0, 318.0), st.floats(0.004, 0.012))
def test_carrying_a_to_a_temperature_and_back_changes_nothing(a, temperature, factor):
    ambient = road_load.road_load_a_at_temperature(
        a=a, temperature=temperature, reference_temperature=293.15, temperature_factor=factor
    )
    assert (ambient >= a) == (temperature <= 293.15)
    assert ambient * (1.0 + factor * (temperature - 293.15)) == pytest.approx(a, rel=1e-12)


@pytest.mark.property
@given(st.floats(30.0, 800.0), st.floats(300.0, 5000.0), st.floats(300.0, 5000.0))
def test_the_rolling_coefficient_stays_when_the_mass_changes(a, mass, test_mass):
    carried = road_load.road_load_a_at_mass(a=a, mass=mass, test_mass=test_mass)
    assert road_load.apparent_rolling_coefficient(a=carried, mass=mass) == pytest.approx(
        road_load.apparent_rolling_coefficient(a=a, mass=test_mass)
    )
