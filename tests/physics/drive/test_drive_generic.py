from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.drive.generic_inverter import complete_inverter
from swapwright.physics.drive.generic_motor import TYPICAL_MOTORS, complete_motor
from swapwright.physics.drive.inverter import (
    current_limited_power,
    inverter_dc_current,
    inverter_efficiency,
    inverter_loss,
    inverter_loss_map,
)
from swapwright.physics.drive.motor import TorqueLimits, torque_available
from swapwright.physics.drive.motor_loss import loss_map, motor_losses

KINDS = tuple(TYPICAL_MOTORS)
WARM = 353.15
CRUISE_SHARE = 0.62  # of the highest speed: 60 mph in a car that reaches 95-100 mph


def peak_efficiency(kind, power):
    motor = complete_motor(kind, {"peak_power": power})
    terms = motor.terms
    speeds = np.linspace(0.02, 1.0, 50) * terms.max_speed
    torques = np.linspace(0.02, 1.0, 50) * terms.peak_torque
    loss = loss_map(speeds, torques, terms, terms.test_voltage, WARM)
    limits = TorqueLimits(motor.envelope, terms.test_voltage, terms.peak_power, terms.max_speed)
    reach, _ = torque_available(limits=limits, speeds=speeds, dc_voltage=terms.test_voltage)
    shaft = speeds[:, np.newaxis] * torques
    return np.where(torques <= reach[:, np.newaxis], shaft / (shaft + loss), 0.0).max()


# Bands of the trade: see motor-efficiency-typical.
@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("kind", "low", "high"),
    [("permanent-magnet", 0.94, 0.97), ("induction", 0.90, 0.94), ("dc", 0.78, 0.88)],
)
@pytest.mark.parametrize("power", [15e3, 80e3, 300e3])
def test_a_typical_motor_of_any_size_has_the_peak_efficiency_of_its_kind(kind, low, high, power):
    assert low <= peak_efficiency(kind, power) <= high


@pytest.mark.arithmetic
def test_a_permanent_magnet_motor_of_80_kilowatts_spins_at_cruise_for_300_to_700_watts():
    terms = complete_motor("permanent-magnet", {"peak_power": 80e3}).terms
    speed = np.array([CRUISE_SHARE * terms.max_speed])
    assert 300.0 < loss_map(speed, np.zeros(1), terms, 350.0, WARM)[0, 0] < 700.0


@pytest.mark.arithmetic
def test_an_induction_motor_costs_one_and_a_half_to_three_times_that_at_cruise():
    spin = {}
    for kind in ("permanent-magnet", "induction"):
        terms = complete_motor(kind, {"peak_power": 80e3}).terms
        speed = np.array([CRUISE_SHARE * terms.max_speed])
        spin[kind] = loss_map(speed, np.zeros(1), terms, terms.test_voltage, WARM)[0, 0]
    assert 1.5 < spin["induction"] / spin["permanent-magnet"] < 3.0


@pytest.mark.arithmetic
def test_what_the_data_sheet_gives_is_kept_and_the_rest_is_named_as_assumed():
    given_ = {"peak_power": 75e3, "peak_torque": 160.0, "phase_resistance": 0.02, "mass": 41.0}
    motor = complete_motor("permanent-magnet", given_)
    assert (motor.terms.peak_torque, motor.terms.phase_resistance, motor.mass) == (
        160.0,
        0.02,
        41.0,
    )
    assert set(given_).isdisjoint(motor.assumed)
    assert {"torque_per_amp", "back_emf", "iron_linear", "inertia"} <= set(motor.assumed)
    assert "brush_drop" not in motor.assumed


@pytest.mark.arithmetic
def test_an_unknown_kind_of_motor_is_an_error():
    with pytest.raises(KeyError, match="steam"):
        complete_motor("steam", {"peak_power": 1e3})


@pytest.mark.property
@given(st.sampled_from(KINDS), st.floats(5e3, 400e3), st.floats(0.1, 1.0), st.floats(0.1, 1.0))
def test_a_motor_twice_as_strong_loses_a_little_less_than_twice_as_much(kind, power, x, y):
    small = complete_motor(kind, {"peak_power": power}).terms
    large = complete_motor(kind, {"peak_power": 2 * power}).terms
    volts = small.test_voltage
    one, two = (
        loss_map(np.array([x * t.max_speed]), np.array([y * t.peak_torque]), t, volts, WARM)[0, 0]
        for t in (small, large)
    )
    # The brush drop is a voltage: its loss grows with current, that is with power.
    assert 1.8 * one < two < 2.0 * one


@pytest.mark.property
@given(st.sampled_from(KINDS), st.floats(5e3, 400e3), st.floats(10.0, 900.0))
def test_a_generic_envelope_never_rises_and_keeps_to_the_rating(kind, power, peak_torque):
    motor = complete_motor(kind, {"peak_power": power, "peak_torque": peak_torque})
    speeds, torques = np.array(motor.envelope.x), np.array(motor.envelope.y)
    assert (np.diff(speeds) > 0.0).all()
    assert (np.diff(torques) <= 0.0).all()
    assert torques[0] == pytest.approx(peak_torque)
    assert (speeds * torques <= power * (1 + 1e-9)).all()


@pytest.mark.arithmetic
def test_an_80_kilowatt_drive_is_about_90_per_cent_efficient_at_a_steady_60_miles_an_hour():
    # 12 kW at the wheels: about 10 % of peak torque at cruise speed; gears not counted.
    motor = complete_motor("permanent-magnet", {"peak_power": 80e3})
    inverter = complete_inverter(rated_power=90e3, phase_current_limit=360.0, given={})
    speed = CRUISE_SHARE * motor.terms.max_speed
    found = motor_losses(
        terms=motor.terms,
        speeds=np.array([speed]),
        torques=np.array([12.4e3 / speed]),
        dc_voltage=350.0,
        winding_temperature=WARM,
    )
    loss = found.total + inverter_loss_map(inverter.terms, found.current)
    assert 0.90 < 12.4e3 / (12.4e3 + loss[0, 0]) < 0.95


@pytest.mark.arithmetic
def test_a_typical_inverter_is_97_to_98_5_per_cent_efficient_at_half_load():
    terms = complete_inverter(rated_power=80e3, phase_current_limit=350.0, given={}).terms
    assert 80.0 <= terms.fixed <= 150.0
    loss = inverter_loss(
        loss_fixed=terms.fixed,
        loss_linear=terms.linear,
        loss_square=terms.square,
        phase_current=175.0,
    )
    assert 0.97 < inverter_efficiency(power=40e3, loss=loss) < 0.985


@pytest.mark.arithmetic
def test_an_inverters_own_loss_terms_are_kept():
    found = complete_inverter(
        rated_power=80e3, phase_current_limit=350.0, given={"loss_fixed": 99.0}
    )
    assert found.terms.fixed == 99.0
    assert found.assumed == ("loss_linear", "loss_square")


@pytest.mark.arithmetic
def test_a_motor_stalled_at_4800_watts_draws_14_amps_from_350_volts():
    assert inverter_dc_current(power=4800.0, loss=0.0, dc_voltage=350.0) == pytest.approx(
        13.7, abs=0.05
    )
    assert current_limited_power(dc_current=300.0, dc_voltage=350.0) == 105e3


@pytest.mark.property
@given(st.floats(0.0, 500.0), st.floats(0.1, 100.0))
def test_more_current_never_costs_an_inverter_less(current, more):
    terms = complete_inverter(rated_power=80e3, phase_current_limit=350.0, given={}).terms
    low, high = inverter_loss_map(terms, np.array([current, current + more]))
    assert 0.0 < low < high
