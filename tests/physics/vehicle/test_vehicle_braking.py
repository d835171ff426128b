"""Balance of the brakes: grip used by each axle, which locks first, how far a stop takes."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from swapwright.physics.vehicle import brake_heat, braking

CAR = {"weight_share": 620.0 / 1100.0, "cg_height": 0.54, "wheelbase": 2.4}
G = 9.80665
ALONE = {"regeneration": 0.0, "regenerated_in_front": 0.0}

shares = st.floats(0.5, 0.95)
places = st.fixed_dictionaries(
    {
        "weight_share": st.floats(0.3, 0.65),
        "cg_height": st.floats(0.35, 0.7),
        "wheelbase": st.floats(2.0, 4.0),
    }
)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("rate", "share"), [(0.3, 0.631), (0.6, 0.699), (0.8, 0.744)])
def test_the_ideal_share_of_the_front_grows_with_deceleration(rate, share):
    # Gillespie 1992, chapter 3, from memory: our own arithmetic of an invented car.
    assert braking.ideal_front_share(rate=rate, **CAR) == pytest.approx(share, abs=0.5e-3)


@pytest.mark.arithmetic
def test_at_the_equal_lock_rate_both_axles_use_the_same_grip_and_it_is_that_rate():
    rate = braking.equal_lock_rate(front_share=0.70, **CAR)
    assert rate == pytest.approx(0.606, abs=0.5e-3)
    used = [
        grip(rate=rate, front_share=0.70, **ALONE, **CAR)
        for grip in (braking.front_grip_used, braking.rear_grip_used)
    ]
    assert used == pytest.approx([rate, rate])


@pytest.mark.arithmetic
def test_sixty_miles_an_hour_at_seven_tenths_of_gravity_stop_in_52_4_metres():
    assert braking.stopping_distance(speed=26.8224, rate=0.7) == pytest.approx(52.40, abs=0.005)
    assert brake_heat.stop_energy(mass=1211.0, speed=26.8224) == pytest.approx(435.6e3, abs=50.0)


@pytest.mark.property
@given(shares, places, st.floats(0.15, 0.8))
def test_forces_at_both_axles_add_up_to_the_braking(share, car, rate):
    lift = rate * car["cg_height"] / car["wheelbase"]
    assume(1.0 - car["weight_share"] - lift > 0.05)
    front = braking.front_grip_used(rate=rate, front_share=share, **ALONE, **car)
    rear = braking.rear_grip_used(rate=rate, front_share=share, **ALONE, **car)
    total = front * (car["weight_share"] + lift) + rear * (1.0 - car["weight_share"] - lift)
    assert total == pytest.approx(rate)


@pytest.mark.property
@given(shares, places, st.floats(0.2, 0.8))
def test_at_the_rate_reached_one_axle_uses_the_whole_grip_and_neither_more(share, car, grip):
    assume(share - grip * car["cg_height"] / car["wheelbase"] > 0.05)
    rate = braking.rate_reached(grip=grip, front_share=share, **car)
    assume(1.0 - car["weight_share"] - rate * car["cg_height"] / car["wheelbase"] > 0.02)
    used = [
        of(rate=rate, front_share=share, **ALONE, **car)
        for of in (braking.front_grip_used, braking.rear_grip_used)
    ]
    assert max(used) == pytest.approx(grip)
    assert rate <= grip * (1.0 + 1e-12)


@pytest.mark.property
@given(st.floats(0.05, 0.95), places)
def test_nowhere_is_what_is_required_nearer_than_at_the_tightest_grip(share, car):
    limits = {"base": 0.1, "slope": 0.85, "low": 0.2}
    # Brakes that change which axle locks within these grips have a kink there besides.
    kink = braking.equal_lock_rate(front_share=share, **car)
    assume(not 0.2 < kink < 0.8)

    def to_spare(grip: float) -> float:
        required = braking.rate_required(grip=grip, **limits)
        return braking.rate_reached(grip=grip, front_share=share, **car) - required

    tightest = braking.tightest_grip(front_share=share, high=0.8, **limits, **car)
    least = min(to_spare(0.2 + 0.6 * step / 60) for step in range(61))
    assert to_spare(tightest) <= least + 1e-9


@pytest.mark.arithmetic
def test_brakes_that_work_behind_alone_lock_the_rear_and_still_stop_the_car_somewhere():
    rate = braking.rate_reached(grip=0.8, front_share=0.05, **CAR)
    lift = 0.8 * 0.54 / 2.4
    assert rate == pytest.approx(0.8 * (1.0 - CAR["weight_share"]) / (0.95 + lift))
    assert braking.stopping_distance(speed=26.8224, rate=rate) > 0.0


@pytest.mark.property
@given(shares, places, st.floats(0.0, 0.14), st.floats(0.15, 0.8))
def test_regeneration_at_the_rear_only_ever_asks_more_of_the_rear(share, car, force, rate):
    assume(1.0 - car["weight_share"] - rate * car["cg_height"] / car["wheelbase"] > 0.05)
    axles = {"rate": rate, "front_share": share, **car}
    behind = {"regeneration": force, "regenerated_in_front": 0.0}
    assert braking.rear_grip_used(**behind, **axles) >= braking.rear_grip_used(**ALONE, **axles)
    assert braking.front_grip_used(**behind, **axles) <= braking.front_grip_used(**ALONE, **axles)


@pytest.mark.arithmetic
def test_a_long_hill_settles_at_power_over_conductance_and_a_short_one_heats_the_iron_alone():
    hill = {"ambient": 293.15, "power": 10e3, "share": 0.7, "conductance": 7.0}
    iron = {"rotor_mass": 6.0, "specific_heat": 500.0}
    long = brake_heat.descent_temperature(time=1e6, **hill, **iron)
    assert long == pytest.approx(293.15 + 500.0)
    short = brake_heat.descent_temperature(time=1.0, **hill, **iron)
    alone = brake_heat.stop_rise(energy=10e3, share=0.7, **iron)
    assert short - 293.15 == pytest.approx(alone, rel=2e-3)


@pytest.mark.property
@given(st.floats(0.0, 5e4), st.floats(0.0, 5e4), st.floats(1.0, 7200.0), st.floats(1.0, 20.0))
def test_more_to_hold_back_never_leaves_a_brake_cooler(power, more, time, mass):
    hill = {"ambient": 290.0, "share": 0.7, "conductance": 7.0, "time": time}
    iron = {"rotor_mass": mass, "specific_heat": 500.0}
    cooler = brake_heat.descent_temperature(power=power, **hill, **iron)
    assert brake_heat.descent_temperature(power=power + more, **hill, **iron) >= cooler


@pytest.mark.arithmetic
def test_a_hill_that_does_not_keep_the_car_going_asks_nothing_of_the_brakes():
    assert brake_heat.descent_power(grade_force=300.0, road_load=400.0, speed=20.0) == 0.0
    assert brake_heat.descent_power(grade_force=900.0, road_load=400.0, speed=20.0) == 10e3


@pytest.mark.arithmetic
def test_regeneration_slows_by_its_force_over_the_weight():
    assert braking.regeneration_rate(force=1000.0, mass=1000.0) == pytest.approx(1.0 / G)
