from __future__ import annotations

import pytest

from swapwright.physics.drive.regen import regen_force_limit


@pytest.mark.arithmetic
def test_600_newton_metres_at_the_wheels_brake_with_2000_newtons():
    assert regen_force_limit(wheel_torque=600.0, radius=0.3) == pytest.approx(2000.0)
