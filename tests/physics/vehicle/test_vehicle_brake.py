"""Brake split, grip used and stopping."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.vehicle import brake

CAR = {"front_share": 620.0 / 1100.0, "cg_height": 0.54, "wheelbase": 2.40}


@pytest.mark.arithmetic
@pytest.mark.parametrize(("rate", "expected"), [(0.3, 0.631), (0.6, 0.699), (0.8, 0.744)])
def test_the_ideal_front_share_grows_with_the_braking_rate(rate, expected):
    share = brake.ideal_front_brake_share(braking_rate=rate, **CAR)
    assert share == pytest.approx(expected, abs=0.5e-3)


@pytest.mark.arithmetic
def test_seventy_to_the_front_locks_the_rear_first_above_six_tenths():
    rate = brake.equal_lock_braking_rate(front_brake_share=0.70, **CAR)
    assert rate == pytest.approx(0.606, abs=0.5e-3)


@pytest.mark.arithmetic
def test_sixty_miles_an_hour_take_52_metres_and_435_kilojoules():
    speed = 60 * 0.44704
    assert brake.stopping_distance(speed=speed, braking_rate=0.7) == pytest.approx(52.40, abs=0.005)
    assert brake.kinetic_energy(mass=1211.0, speed=speed) == pytest.approx(435.6e3, abs=50.0)


@pytest.mark.property
@given(st.floats(0.5, 0.9), st.floats(0.05, 1.0))
def test_the_front_uses_more_grip_exactly_below_the_equal_lock_rate(share, rate):
    ideal = brake.ideal_front_brake_share(braking_rate=rate, **CAR)
    front = brake.front_grip_used(front_brake_share=share, braking_rate=rate, ideal_share=ideal)
    rear = brake.rear_grip_used(front_brake_share=share, braking_rate=rate, ideal_share=ideal)
    lock = brake.equal_lock_braking_rate(front_brake_share=share, **CAR)
    if abs(rate - lock) > 1e-6:
        assert (front > rear) == (rate < lock)
    assert front * ideal + rear * (1.0 - ideal) == pytest.approx(rate)
