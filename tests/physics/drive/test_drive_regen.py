from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.drive.regen import (
    regen_fade,
    regen_force,
    regen_force_limit,
    returned_energy,
)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("speed", "left"), [(0.0, 0.0), (1.0, 0.0), (2.0, 0.5), (3.0, 1.0), (30.0, 1.0)]
)
def test_regeneration_is_halved_at_its_fade_speed(speed, left):
    assert regen_fade(speed=speed, fade_speed=2.0) == pytest.approx(left)


@pytest.mark.arithmetic
def test_the_motor_takes_its_share_up_to_its_limit():
    limit = regen_force_limit(wheel_torque=600.0, radius=0.3)
    assert limit == pytest.approx(2000.0)
    assert regen_force(braking=2000.0, share=0.75, force_limit=limit, fade=1.0) == 1500.0
    assert regen_force(braking=4000.0, share=0.75, force_limit=limit, fade=0.5) == 1000.0


@pytest.mark.property
@given(st.floats(0.0, 2e4), st.floats(0.0, 1.0), st.floats(0.0, 1e4), st.floats(0.0, 1.0))
def test_the_motor_never_takes_more_than_the_driver_asks(braking, share, limit, fade):
    taken = regen_force(braking=braking, share=share, force_limit=limit, fade=fade)
    assert 0.0 <= taken <= braking


@pytest.mark.arithmetic
def test_of_92_9_watt_hours_a_mile_of_braking_57_6_come_back():
    back = returned_energy(braking_energy=92.9, caught_share=0.775, efficiency=0.8)
    assert back == pytest.approx(57.6, abs=0.005)
