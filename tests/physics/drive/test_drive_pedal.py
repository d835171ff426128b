from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.drive.pedal import allowed_force, torque_share

shares = st.floats(0.05, 1.0)


@pytest.mark.arithmetic
def test_shares_of_gear_charge_and_cell_multiply():
    found = allowed_force(force=4000.0, gear_share=0.5, charge_share=0.8, cell_share=0.25)
    assert found == pytest.approx(400.0)


@pytest.mark.arithmetic
def test_490_newtons_and_10_of_drag_are_a_fifth_of_2500():
    assert torque_share(force=490.0, drag=10.0, allowed=2500.0) == pytest.approx(0.2)


@pytest.mark.property
@given(gear=shares, charge=shares, cell=shares)
def test_a_limit_never_adds_force_and_never_makes_a_speed_easier_to_hold(gear, charge, cell):
    held = allowed_force(force=3000.0, gear_share=gear, charge_share=charge, cell_share=cell)
    assert held <= 3000.0
    assert torque_share(force=500.0, drag=0.0, allowed=held) >= 500.0 / 3000.0 * (1 - 1e-12)
