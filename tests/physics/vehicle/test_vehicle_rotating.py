"""Rotating masses against worked examples."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.drive.gearing import reflected_mass
from swapwright.physics.vehicle import rotating


@pytest.mark.arithmetic
def test_a_small_motor_through_a_reduction_weighs_as_much_as_a_child():
    """0.05 kg.m^2 through 8.28 at 0.31 m adds 35.7 kg; four wheels of 1 kg.m^2 add 41.6 kg."""
    motor = reflected_mass(inertia=0.05, ratio=8.28, radius=0.31)
    factor = rotating.rotating_factor(wheel_inertia=4.0, mass=1500.0, radius=0.31)
    assert motor == pytest.approx(35.7, abs=0.05)
    assert 1500.0 * (factor - 1.0) == pytest.approx(41.6, abs=0.05)
    moved = rotating.effective_mass(mass=1500.0, rotating_factor=factor, reflected_mass=motor)
    assert moved == pytest.approx(1500.0 + 35.7 + 41.6, abs=0.1)
    assert moved / 1500.0 == pytest.approx(1.0515, abs=0.5e-4)


@pytest.mark.property
@given(st.floats(300.0, 5000.0), st.floats(1.0, 1.2), st.floats(0.0, 400.0))
def test_what_turns_never_makes_the_car_lighter(mass, factor, motor):
    moved = rotating.effective_mass(mass=mass, rotating_factor=factor, reflected_mass=motor)
    assert moved >= mass
