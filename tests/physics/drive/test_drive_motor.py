from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.table import Line
from swapwright.physics.drive import motor
from swapwright.physics.drive.motor_voltage import (
    back_emf_at_speed,
    max_line_voltage,
    speed_at_back_emf,
    torque_per_amp_from_back_emf,
)

RPM = 2 * pi / 60

# Four pole pairs of 0.06 Wb: peak line-to-line volts per rad/s of the shaft.
BACK_EMF = 3**0.5 * 4 * 0.06


@pytest.mark.arithmetic
def test_a_220_newton_metre_80_kilowatt_motor_has_its_corner_at_3472_rpm():
    assert motor.corner_speed(peak_power=80e3, peak_torque=220.0) / RPM == pytest.approx(
        3472.5, abs=0.05
    )
    assert motor.power_limited_torque(power=80e3, speed=8000 * RPM) == pytest.approx(
        95.49, abs=0.005
    )


@pytest.mark.arithmetic
def test_350_volts_dc_make_247_volts_of_line():
    assert max_line_voltage(dc_voltage=350.0) == pytest.approx(247.49, abs=0.005)


@pytest.mark.arithmetic
def test_a_sagging_pack_lowers_the_no_load_ceiling_from_8040_to_6892_rpm():
    ceiling = speed_at_back_emf(voltage=350.0, back_emf=BACK_EMF)
    sagged = speed_at_back_emf(voltage=300.0, back_emf=BACK_EMF)
    assert ceiling / RPM == pytest.approx(8040, abs=0.5)
    assert sagged / RPM == pytest.approx(6892, abs=0.5)
    assert back_emf_at_speed(back_emf=BACK_EMF, speed=ceiling) == pytest.approx(350.0)


@pytest.mark.arithmetic
def test_400_amps_make_203_newton_metres_by_flux_and_by_torque_per_amp():
    # 1.5 times pole pairs, flux and the peak of the phase current.
    torque = 1.5 * 4 * 0.06 * 400 * 2**0.5
    assert torque == pytest.approx(203.6, abs=0.05)
    per_amp = torque_per_amp_from_back_emf(back_emf=BACK_EMF, saliency=1.0)
    assert motor.current_limited_torque(
        torque_per_amp=per_amp, phase_current=400.0
    ) == pytest.approx(torque)
    assert motor.torque_current(torque=60.0, torque_per_amp=per_amp) == pytest.approx(
        117.85, abs=0.005
    )


@pytest.mark.arithmetic
def test_half_the_voltage_halves_the_base_speed():
    assert motor.base_speed(test_base_speed=363.6, dc_voltage=175.0, test_voltage=350.0) == 181.8


@pytest.mark.arithmetic
def test_past_the_end_of_its_curve_torque_falls_with_the_square_of_speed():
    envelope = Line((0.0, 800.0, 1000.0), (220.0, 95.0, 70.0), "rad/s", "N.m")
    found = motor.envelope_torque(envelope, np.array([900.0, 1000.0, 2000.0]))
    assert found == pytest.approx([82.5, 70.0, 70.0 / 4])


@pytest.mark.property
@given(st.floats(10.0, 1000.0), st.floats(1e3, 4e5))
def test_the_torque_a_power_leaves_takes_that_power(speed, power):
    torque = motor.power_limited_torque(power=power, speed=speed)
    assert motor.shaft_power(torque=torque, speed=speed) == pytest.approx(power)
