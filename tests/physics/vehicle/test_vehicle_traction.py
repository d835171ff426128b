"""What the tyres can hold."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.vehicle import traction, weight

CAR = {"cg_x": 1.15, "cg_height": 0.52, "wheelbase": 2.50}
GRAVITY = 9.80665


@pytest.mark.arithmetic
def test_a_rear_driven_car_puts_down_half_its_weight_on_dry_road():
    limit = traction.traction_limit_rear(grip=0.85, mass=1500.0, **CAR)
    assert limit == pytest.approx(6986.9, abs=0.05)
    assert limit / (1500.0 * GRAVITY) == pytest.approx(0.475, abs=0.5e-3)


@pytest.mark.arithmetic
def test_four_driven_wheels_start_on_a_grade_of_their_grip_less_rolling_resistance():
    assert traction.start_grade_all(grip=0.80, c_rr=0.012) == pytest.approx(0.788)


cars = {
    "grip": st.floats(0.1, 1.1),
    "cg_x": st.floats(0.8, 1.6),
    "cg_height": st.floats(0.3, 0.9),
    "wheelbase": st.floats(2.0, 3.5),
}


@pytest.mark.property
@given(**cars, mass=st.floats(400.0, 4000.0))
def test_the_limit_is_the_force_at_which_the_loaded_axle_just_grips(mass, grip, **car):
    """Checks the closed form by the load transfer its own force causes."""
    front_share = 1.0 - car["cg_x"] / car["wheelbase"]
    geometry = {"cg_height": car["cg_height"], "wheelbase": car["wheelbase"]}
    rear = traction.traction_limit_rear(grip=grip, mass=mass, **car)
    front = traction.traction_limit_front(grip=grip, mass=mass, **car)
    moved = weight.load_transfer(mass=mass, acceleration=rear / mass, **geometry)
    assert rear == pytest.approx(grip * GRAVITY * (mass * (1.0 - front_share) + moved))
    moved = weight.load_transfer(mass=mass, acceleration=front / mass, **geometry)
    assert front == pytest.approx(grip * GRAVITY * (mass * front_share - moved))


@pytest.mark.property
@given(**cars, c_rr=st.floats(0.006, 0.03))
def test_the_start_grade_is_where_the_driven_axle_just_holds_the_car(grip, c_rr, **car):
    """Moments about the other axle's contact, with the weight split along and into the slope."""
    share = car["cg_x"] / car["wheelbase"]
    lift = car["cg_height"] / car["wheelbase"]
    rear = traction.start_grade_rear(grip=grip, c_rr=c_rr, **car)
    front = traction.start_grade_front(grip=grip, c_rr=c_rr, **car)
    assert grip * (share + lift * rear) == pytest.approx(rear + c_rr)
    assert grip * (1.0 - share - lift * front) == pytest.approx(front + c_rr)


@pytest.mark.property
@given(**cars, mass=st.floats(400.0, 4000.0), c_rr=st.floats(0.006, 0.03))
def test_four_driven_wheels_never_grip_less_than_two_while_all_wheels_touch(
    mass, c_rr, grip, **car
):
    whole = traction.traction_limit_all(grip=grip, mass=mass)
    front = traction.traction_limit_front(grip=grip, mass=mass, **car)
    rear = traction.traction_limit_rear(grip=grip, mass=mass, **car)
    assert front <= whole
    lift = rear * car["cg_height"] / (mass * GRAVITY * car["wheelbase"])
    if lift <= 1.0 - car["cg_x"] / car["wheelbase"]:  # the front wheels still touch
        assert rear <= whole * (1.0 + 1e-12)
    assert traction.start_grade_front(grip=grip, c_rr=c_rr, **car) <= traction.start_grade_all(
        grip=grip, c_rr=c_rr
    )


@pytest.mark.property
@given(**cars, mass=st.floats(400.0, 4000.0), taller=st.floats(0.01, 0.3))
def test_a_higher_centre_of_gravity_helps_rear_drive_and_hurts_front_drive(
    mass, taller, grip, cg_x, cg_height, wheelbase
):
    car = {"grip": grip, "mass": mass, "cg_x": cg_x, "wheelbase": wheelbase}
    low, high = cg_height, cg_height + taller
    assert traction.traction_limit_rear(cg_height=high, **car) > traction.traction_limit_rear(
        cg_height=low, **car
    )
    assert traction.traction_limit_front(cg_height=high, **car) < traction.traction_limit_front(
        cg_height=low, **car
    )
