from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.drive.gearing import (
    motor_speed,
    overall_ratio,
    reflected_mass,
    road_speed,
    tractive_force,
)

RPM = 2 * pi / 60


@pytest.mark.arithmetic
def test_220_newton_metres_through_8_2_to_1_push_with_5582_newtons():
    force = tractive_force(torque=220.0, ratio=8.2, efficiency=0.95, radius=0.307)
    assert force == pytest.approx(5582.4, abs=0.05)


@pytest.mark.arithmetic
def test_9000_rpm_through_8_2_to_1_are_127_kilometres_an_hour():
    speed = road_speed(motor_speed=9000 * RPM, ratio=8.2, radius=0.307)
    assert speed == pytest.approx(35.285, abs=5e-4)


@pytest.mark.arithmetic
def test_52_91_metres_a_second_need_13496_rpm():
    speed = motor_speed(road_speed=52.91, ratio=8.2, radius=0.307)
    assert speed / RPM == pytest.approx(13496, abs=1.0)


@pytest.mark.arithmetic
def test_a_rotor_of_a_twentieth_weighs_36_kilograms_on_the_road():
    assert reflected_mass(inertia=0.05, ratio=8.28, radius=0.31) == pytest.approx(35.7, abs=0.05)


@pytest.mark.arithmetic
def test_the_old_gearbox_and_axle_multiply():
    assert overall_ratio(gearbox_ratio=2.06, final_drive=3.9) == pytest.approx(8.034)


@pytest.mark.property
@given(st.floats(1.0, 60.0), st.floats(1.0, 20.0), st.floats(0.2, 0.5))
def test_road_speed_and_motor_speed_are_each_others_inverse(speed, ratio, radius):
    turning = motor_speed(road_speed=speed, ratio=ratio, radius=radius)
    assert road_speed(motor_speed=turning, ratio=ratio, radius=radius) == pytest.approx(speed)
