"""Closed-form performance against worked examples and against step-by-step integration."""

from __future__ import annotations

from math import inf, sqrt

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from swapwright.physics.drive.gearing import motor_speed, road_speed
from swapwright.physics.vehicle import performance, road_load

MPH = 0.44704
RPM = 2.0 * np.pi / 60.0

MASS, EFFECTIVE = 1500.0, 1590.0
FORCE, POWER = 220.0 * 8.2 * 0.95 / 0.307, 80e3 * 0.95
C_RR = 0.012
LOAD = {
    "a": road_load.road_load_a(c_rr=C_RR, mass=MASS),
    "b": 0.0,
    "c": road_load.road_load_c(density=1.20, cd_a=0.75),
}


def resistance(load, speed):
    return road_load.road_load(**load, speed=speed, headwind=0.0)


def estimated_time(*, effective_mass, speed, force, power, load):
    """Sum the two phases as the short estimate does."""
    corner = performance.force_phase_end(speed=speed, force=force, power=power)
    at = performance.resistance_speed(from_speed=corner, speed=speed)
    return performance.force_phase_time(
        effective_mass=effective_mass,
        speed=corner,
        force=force,
        resistance=resistance(load, corner / 2.0),
    ) + performance.power_phase_time(
        effective_mass=effective_mass,
        from_speed=corner,
        speed=speed,
        power=power,
        resistance=resistance(load, at),
    )


def integrated_time(*, effective_mass, speed, force, power, load):
    edges = np.linspace(0.0, speed, 20001)
    v = (edges[1:] + edges[:-1]) / 2.0
    spare = np.minimum(force, power / v) - (load["a"] + load["b"] * v + load["c"] * v**2)
    return effective_mass * (edges[1] - edges[0]) * float((1.0 / spare).sum())


@pytest.mark.arithmetic
def test_the_corner_of_force_and_power_stands_at_30_mph():
    corner = performance.force_phase_end(speed=99.0, force=FORCE, power=POWER)
    assert corner == pytest.approx(13.614, abs=0.5e-3)
    assert motor_speed(road_speed=corner, ratio=8.2, radius=0.307) / RPM == pytest.approx(
        3472.5, abs=0.1
    )


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("speed", "seconds"),
    [(30 * MPH, 3.964), (50 * MPH, 7.604), (60 * MPH, 10.300), (100 / 3.6, 10.969)],
    ids=["0-30 mph", "0-50 mph", "0-60 mph", "0-100 km/h"],
)
def test_the_short_estimate_is_within_a_hundredth_of_the_worked_example(speed, seconds):
    found = estimated_time(
        effective_mass=EFFECTIVE, speed=speed, force=FORCE, power=POWER, load=LOAD
    )
    assert found == pytest.approx(seconds, rel=0.01)


@pytest.mark.arithmetic
def test_no_resistance_at_all_gives_the_lower_bound():
    bound = EFFECTIVE * (60 * MPH) ** 2 / (2.0 * POWER)
    assert bound == pytest.approx(7.53, abs=0.005)
    assert bound < 10.300
    from_rest, from_thirty = (
        performance.power_phase_time(
            effective_mass=EFFECTIVE, from_speed=start, speed=60 * MPH, power=POWER, resistance=0.0
        )
        for start in (0.0, 30 * MPH)
    )
    assert from_rest == pytest.approx(bound)
    assert from_thirty == pytest.approx(bound * 0.75)


@pytest.mark.property
@given(st.floats(1.0, 20.0), st.floats(10e3, 200e3), st.floats(1.0, 500.0))
def test_the_speed_at_the_end_of_a_strip_grows_as_power_needs(start, power, distance):
    strip = {"from_distance": 40.0, "from_speed": start, "effective_mass": EFFECTIVE}
    found = performance.strip_speed(distance=40.0 + distance, power=power, **strip)
    # The integral of m v^2 dv / P from the start speed is the distance.
    assert EFFECTIVE * (found**3 - start**3) / (3.0 * power) == pytest.approx(distance)
    assert performance.strip_speed(distance=40.0, power=power, **strip) == pytest.approx(start)


@pytest.mark.arithmetic
def test_a_strip_that_ends_long_before_the_power_phase_is_refused():
    strip = {"from_distance": 400.0, "from_speed": 10.0, "effective_mass": EFFECTIVE}
    with pytest.raises(ValueError, match="long before the phase"):
        performance.strip_speed(distance=10.0, power=POWER, **strip)


@pytest.mark.arithmetic
def test_half_a_newton_of_resistance_already_counts():
    # The first two terms of the series of the integral: m v^2 / 2P and m R v^3 / 3P^2.
    speed, slight = 30.0, 0.5
    found = performance.power_phase_time(
        effective_mass=EFFECTIVE, from_speed=0.0, speed=speed, power=POWER, resistance=slight
    )
    series = EFFECTIVE * (speed**2 / (2.0 * POWER) + slight * speed**3 / (3.0 * POWER**2))
    assert found == pytest.approx(series, rel=1e-7)


vehicles = {
    "effective_mass": st.floats(800.0, 3500.0),
    "force": st.floats(2500.0, 10e3),
    "power": st.floats(25e3, 250e3),
    "speed": st.floats(10.0, 28.0),
}
loads = st.fixed_dictionaries(
    {"a": st.floats(80.0, 450.0), "b": st.floats(0.0, 4.0), "c": st.floats(0.25, 1.0)}
)


@pytest.mark.property
@given(**vehicles, load=loads)
def test_the_short_estimate_is_within_eight_percent_of_integration(load, **vehicle):
    needed = resistance(load, vehicle["speed"]) * vehicle["speed"]
    assume(needed < 0.75 * vehicle["power"])
    found = estimated_time(load=load, **vehicle)
    assert found == pytest.approx(integrated_time(load=load, **vehicle), rel=0.08)


@pytest.mark.property
@given(**vehicles, load=loads)
def test_no_car_beats_the_lower_bound(load, **vehicle):
    assume(resistance(load, vehicle["speed"]) * vehicle["speed"] < 0.8 * vehicle["power"])
    # All the power goes into motion; nothing resists.
    bound = vehicle["effective_mass"] * vehicle["speed"] ** 2 / (2.0 * vehicle["power"])
    assert estimated_time(load=load, **vehicle) > bound


@pytest.mark.property
@given(st.floats(0.0, 1e5), st.floats(1.0, 40.0))
def test_a_car_that_cannot_reach_a_speed_takes_for_ever(shortfall, speed):
    assert (
        performance.power_phase_time(
            effective_mass=1500.0,
            from_speed=0.5,
            speed=speed,
            power=20e3,
            resistance=(20e3 + shortfall) / speed * (1.0 + 1e-12),
        )
        == inf
    )
    assert (
        performance.force_phase_time(
            effective_mass=1500.0, speed=speed, force=500.0, resistance=500.0 + shortfall
        )
        == inf
    )


@pytest.mark.arithmetic
def test_power_would_allow_118_mph_but_the_motor_ends_at_127_km_per_hour():
    by_power = performance.power_limited_speed(power=POWER, **LOAD)
    by_motor = road_speed(motor_speed=9000 * RPM, ratio=8.2, radius=0.307)
    assert by_power == pytest.approx(52.91, abs=0.005)
    needed = motor_speed(road_speed=by_power, ratio=8.2, radius=0.307)
    assert needed / RPM == pytest.approx(13496, abs=1.0)
    top = performance.top_speed(power_limited_speed=by_power, motor_limited_speed=by_motor)
    assert top == pytest.approx(35.285, abs=0.5e-3)


@pytest.mark.property
@given(
    st.floats(1e3, 5e5),
    st.floats(-150.0, 3000.0),
    st.floats(-10.0, 20.0),
    st.floats(0.1, 3.0),
)
def test_at_the_power_limited_speed_the_road_takes_exactly_the_power(power, a, b, c):
    speed = performance.power_limited_speed(power=power, a=a, b=b, c=c)
    assert speed > 0.0
    assert (a + b * speed + c * speed**2) * speed == pytest.approx(power, rel=1e-9)


@pytest.mark.property
@given(st.floats(1e3, 4e5), st.floats(1.0, 1e5), loads)
def test_more_power_never_lowers_the_top_speed(power, more, load):
    slow = performance.power_limited_speed(power=power, **load)
    assert performance.power_limited_speed(power=power + more, **load) > slow


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("speed", "percent"), [(0.0, 39.6), (30 * MPH, 38.9)], ids=["at launch", "at 30 mph"]
)
def test_the_worked_example_holds_two_in_five(speed, percent):
    thrust = performance.thrust_to_weight(force=FORCE, drag=LOAD["c"] * speed**2, mass=MASS)
    grade = performance.gradeability(thrust_to_weight=thrust, c_rr=C_RR)
    assert grade * 100 == pytest.approx(percent, abs=0.05)


@pytest.mark.property
@given(st.floats(-0.1, 0.98), st.floats(0.006, 0.03))
def test_on_the_steepest_grade_the_force_just_balances(thrust, c_rr):
    grade = performance.gradeability(thrust_to_weight=thrust, c_rr=c_rr)
    along = (grade + c_rr) / sqrt(1.0 + grade**2)
    assert along == pytest.approx(thrust, abs=1e-9)


@pytest.mark.property
@given(st.floats(0.9, 100.0), st.floats(0.006, 0.03))
def test_a_force_beyond_the_weight_still_gives_a_number(thrust, c_rr):
    grade = performance.gradeability(thrust_to_weight=thrust, c_rr=c_rr)
    assert 1.0 < grade < 10.0


@pytest.mark.arithmetic
def test_a_six_percent_climb_at_50_mph_takes_its_level_power_and_twenty_kilowatts():
    power = performance.climb_power(road_load=505.43, grade_force=881.01, speed=50 * MPH)
    assert power == pytest.approx(11.297e3 + 19.69e3, abs=5.0)
