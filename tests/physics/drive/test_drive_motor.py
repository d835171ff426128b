from __future__ import annotations

from math import inf, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.table import Line
from swapwright.physics.drive import motor
from swapwright.physics.drive.motor import (
    DC_VOLTAGE,
    MOTOR_POWER,
    MOTOR_TORQUE,
    PHASE_CURRENT,
    SOFTWARE_TORQUE,
    TOP_SPEED,
    TorqueLimits,
    continuous_torque_available,
    torque_available,
)
from swapwright.physics.drive.motor_voltage import (
    ac_power,
    back_emf_at_speed,
    back_emf_from_flux,
    dc_current_from_phase,
    max_line_voltage,
    max_phase_voltage,
    slip_speed,
    speed_at_back_emf,
    synchronous_speed,
    torque_from_flux,
    torque_per_amp_from_back_emf,
)

RPM = 2 * pi / 60

# 220 N.m and 80 kW at 350 V, with a torque curve that gives way beyond 800 rad/s.
ENVELOPE = Line(
    (0.0, 363.6, 600.0, 800.0, 1000.0), (220.0, 220.0, 133.3, 95.0, 70.0), "rad/s", "N.m"
)
LIMITS = TorqueLimits(ENVELOPE, test_voltage=350.0, peak_power=80e3, max_speed=1000.0)


def at(speed, *, volts=350.0, **changes):
    limits = TorqueLimits(
        **{
            "envelope": ENVELOPE,
            "test_voltage": 350.0,
            "peak_power": 80e3,
            "max_speed": 1000.0,
            **changes,
        }
    )
    torques, names = torque_available(limits=limits, speeds=np.array([speed]), dc_voltage=volts)
    return torques[0], names[0]


@pytest.mark.arithmetic
def test_a_220_newton_metre_80_kilowatt_motor_has_its_corner_at_3472_rpm():
    assert motor.corner_speed(peak_power=80e3, peak_torque=220.0) / RPM == pytest.approx(
        3472.5, abs=0.05
    )
    assert motor.power_limited_torque(power=80e3, speed=8000 * RPM) == pytest.approx(
        95.49, abs=0.005
    )


@pytest.mark.arithmetic
def test_350_volts_make_202_volts_of_phase_peak_and_247_of_line():
    assert max_phase_voltage(dc_voltage=350.0) == pytest.approx(202.07, abs=0.005)
    assert max_line_voltage(dc_voltage=350.0) == pytest.approx(247.49, abs=0.005)


@pytest.mark.arithmetic
def test_a_sagging_pack_lowers_the_no_load_ceiling_from_8040_to_6892_rpm():
    back_emf = back_emf_from_flux(pole_pairs=4, flux=0.06)
    ceiling = speed_at_back_emf(voltage=350.0, back_emf=back_emf)
    sagged = speed_at_back_emf(voltage=300.0, back_emf=back_emf)
    assert ceiling / RPM == pytest.approx(8040, abs=0.5)
    assert sagged / RPM == pytest.approx(6892, abs=0.5)
    assert back_emf_at_speed(back_emf=back_emf, speed=ceiling) == pytest.approx(350.0)


@pytest.mark.arithmetic
def test_400_amps_make_203_newton_metres_by_flux_and_by_torque_per_amp():
    torque = torque_from_flux(pole_pairs=4, flux=0.06, quadrature_current=400 * 2**0.5)
    assert torque == pytest.approx(203.6, abs=0.05)
    per_amp = torque_per_amp_from_back_emf(
        back_emf=back_emf_from_flux(pole_pairs=4, flux=0.06), saliency=1.0
    )
    assert motor.current_limited_torque(
        torque_per_amp=per_amp, phase_current=400.0
    ) == pytest.approx(torque)
    assert motor.torque_current(torque=60.0, torque_per_amp=per_amp) == pytest.approx(
        117.85, abs=0.005
    )


@pytest.mark.arithmetic
def test_400_phase_amps_are_347_battery_amps():
    ac = ac_power(line_voltage=200.0, phase_current=400.0, power_factor=0.85)
    dc = dc_current_from_phase(
        line_voltage=200.0,
        phase_current=400.0,
        power_factor=0.85,
        inverter_efficiency=0.97,
        dc_voltage=350.0,
    )
    assert ac == pytest.approx(117.78e3, abs=5.0)
    assert dc == pytest.approx(346.9, abs=0.05)


@pytest.mark.arithmetic
def test_an_induction_motor_at_100_hertz_and_2_per_cent_slip_turns_2940_rpm():
    field = synchronous_speed(electrical_speed=2 * pi * 100, pole_pairs=2)
    assert field / RPM == pytest.approx(3000)
    assert slip_speed(field_speed=field, slip=0.02) / RPM == pytest.approx(2940)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("speed", "changes", "torque", "binding"),
    [
        (100.0, {}, 220.0, MOTOR_TORQUE),
        (
            500.0,
            {"envelope": Line((0.0, 1000.0), (220.0, 220.0), "rad/s", "N.m")},
            160.0,
            MOTOR_POWER,
        ),
        (900.0, {}, 82.5, DC_VOLTAGE),
        (100.0, {"torque_per_amp": 0.5, "phase_current_limit": 300.0}, 150.0, PHASE_CURRENT),
        (100.0, {"torque_limit": 140.0}, 140.0, SOFTWARE_TORQUE),
        (1001.0, {}, 0.0, TOP_SPEED),
    ],
    ids=["flat", "power", "voltage", "phase current", "software", "top speed"],
)
def test_the_limit_that_binds_is_named(speed, changes, torque, binding):
    assert at(speed, **changes) == (pytest.approx(torque), binding)


@pytest.mark.arithmetic
def test_half_the_voltage_moves_the_whole_curve_to_half_the_speed():
    assert at(300.0, volts=175.0)[0] == pytest.approx(133.3)
    assert motor.base_speed(test_base_speed=363.6, dc_voltage=175.0, test_voltage=350.0) == 181.8
    assert motor.speed_at_test_voltage(speed=300.0, dc_voltage=175.0, test_voltage=350.0) == 600.0


@pytest.mark.arithmetic
def test_past_the_end_of_its_curve_torque_falls_with_the_square_of_speed():
    assert at(1000.0, volts=175.0) == (pytest.approx(70.0 / 4), DC_VOLTAGE)


@pytest.mark.arithmetic
def test_continuous_torque_is_bounded_by_torque_power_and_the_peak():
    speeds = np.array([0.0, 100.0, 500.0, 900.0])
    held = continuous_torque_available(
        continuous_torque=100.0,
        continuous_power=40e3,
        peak_torques=np.array([220.0, 220.0, 160.0, 30.0]),
        speeds=speeds,
    )
    assert held == pytest.approx([100.0, 100.0, 80.0, 30.0])


@pytest.mark.property
@given(st.floats(0.0, 1100.0), st.floats(60.0, 400.0), st.floats(1.0, 2.0))
def test_more_voltage_never_gives_less_torque(speed, volts, more):
    assert at(speed, volts=volts * more)[0] >= at(speed, volts=volts)[0]


@pytest.mark.property
@given(st.floats(0.0, 1100.0), st.floats(0.0, 100.0), st.floats(60.0, 400.0))
def test_more_speed_never_gives_more_torque(speed, more, volts):
    assert at(speed + more, volts=volts)[0] <= at(speed, volts=volts)[0] * (1 + 1e-12)


@pytest.mark.property
@given(st.floats(1.0, 1000.0), st.floats(100.0, 700.0))
def test_no_torque_takes_more_than_the_peak_power(speed, volts):
    torque, _ = at(speed, volts=volts)
    assert motor.shaft_power(torque=torque, speed=speed) <= 80e3 * (1 + 1e-12)


@pytest.mark.arithmetic
def test_limits_that_are_not_there_do_not_bind():
    assert LIMITS.phase_current_limit == LIMITS.torque_limit == inf
    assert torque_available(limits=LIMITS, speeds=np.array([0.0]), dc_voltage=350.0)[0][0] == 220.0
