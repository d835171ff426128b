from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.drive.generic_inverter import complete_inverter
from swapwright.physics.drive.generic_motor import TYPICAL_MOTORS, complete_motor
from swapwright.physics.drive.inverter import (
    inverter_efficiency,
    inverter_loss,
    inverter_loss_map,
)
from swapwright.physics.drive.motor_loss import motor_losses

KINDS = tuple(TYPICAL_MOTORS)
WARM = 353.15
CRUISE_SHARE = 0.62  # of the highest speed: 60 mph in a car that reaches 95-100 mph


def whole_loss(terms, speeds, torques, volts):
    return motor_losses(
        terms=terms,
        speeds=speeds,
        torques=torques,
        dc_voltage=volts,
        winding_temperature=WARM,
    ).total


def peak_efficiency(kind, power):
    motor = complete_motor(kind, {"peak_power": power})
    terms = motor.terms
    speeds = np.linspace(0.02, 1.0, 50) * terms.max_speed
    torques = np.linspace(0.02, 1.0, 50) * terms.peak_torque
    loss = whole_loss(terms, speeds, torques, terms.test_voltage)
    by_curve = np.interp(speeds, motor.envelope.x, motor.envelope.y)
    reach = np.minimum(by_curve, terms.peak_power / speeds)
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
    assert 300.0 < whole_loss(terms, speed, np.zeros(1), 350.0)[0, 0] < 700.0


@pytest.mark.arithmetic
def test_an_induction_motor_costs_one_and_a_half_to_three_times_that_at_cruise():
    spin = {}
    for kind in ("permanent-magnet", "induction"):
        terms = complete_motor(kind, {"peak_power": 80e3}).terms
        speed = np.array([CRUISE_SHARE * terms.max_speed])
        spin[kind] = whole_loss(terms, speed, np.zeros(1), terms.test_voltage)[0, 0]
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


RPM = np.pi / 30.0

# Of 80 kW: rpm at the top and the corner, volts, amps at peak torque; watts of the cold winding at
# peak torque, of hysteresis, eddy currents, bearings and windage at the top.
TYPICAL_80_KILOWATTS = {
    "permanent-magnet": (10000, 3000, 350, 346.320, 10800, 512, 576, 88, 440),
    "induction": (9000, 3150, 320, 312.5, 6000, 792, 880, 128, 440),
    "dc": (5500, 2475, 120, 784.314, 13440, 1920, 1920, 1728, 960),
}
# Continuous kW and N.m, kg, kg.m^2, N.m at the top.
TYPICAL_RATINGS_OF_80_KILOWATTS = {
    "permanent-magnet": (40.0, 114.592, 53.3333, 0.0458366, 64.1713),
    "induction": (36.0, 109.135, 80.0, 0.0606305, 59.4178),
    "dc": (32.0, 123.466, 133.333, 0.123466, 81.2558),
}


@pytest.mark.golden
@pytest.mark.parametrize("kind", KINDS)
def test_the_losses_of_a_typical_motor_of_80_kilowatts_stay_as_they_were(kind):
    terms = complete_motor(kind, {"peak_power": 80e3}).terms
    top, amps = terms.max_speed, terms.peak_current
    found = (
        top / RPM,
        terms.corner_speed / RPM,
        terms.test_voltage,
        amps,
        (1 if kind == "dc" else 3) * amps**2 * terms.phase_resistance,
        terms.iron_linear * top,
        terms.iron_square * top**2,
        terms.drag_linear * top,
        terms.drag_cubic * top**3,
    )
    assert found == pytest.approx(TYPICAL_80_KILOWATTS[kind], rel=5e-6)


@pytest.mark.golden
@pytest.mark.parametrize("kind", KINDS)
def test_the_ratings_of_a_typical_motor_of_80_kilowatts_stay_as_they_were(kind):
    motor = complete_motor(kind, {"peak_power": 80e3})
    found = (
        motor.continuous_power / 1e3,
        motor.continuous_torque,
        motor.mass,
        motor.inertia,
        motor.envelope.y[-1],
    )
    assert found == pytest.approx(TYPICAL_RATINGS_OF_80_KILOWATTS[kind], rel=1e-5)


@pytest.mark.golden
def test_what_only_one_kind_of_motor_has_stays_as_it_was():
    magnet, induction, dc = (complete_motor(kind, {"peak_power": 80e3}).terms for kind in KINDS)
    assert (magnet.no_load_current, magnet.brush_drop) == (0.0, 0.0)
    assert (induction.back_emf, induction.brush_drop) == (0.0, 0.0)
    assert (dc.back_emf, dc.no_load_current) == (0.0, 0.0)
    assert magnet.back_emf == pytest.approx(0.500305, rel=1e-5)
    assert induction.no_load_current == pytest.approx(0.25 * induction.peak_current)
    assert dc.brush_drop == 2.5


@pytest.mark.property
@given(st.sampled_from(KINDS), st.floats(5e3, 400e3), st.floats(1.1, 5.0))
def test_a_stronger_motor_of_a_kind_is_as_much_heavier_and_stronger_all_day(kind, power, times):
    small, large = (complete_motor(kind, {"peak_power": p}) for p in (power, times * power))
    for name in ("continuous_power", "continuous_torque", "mass", "inertia"):
        assert getattr(large, name) == pytest.approx(times * getattr(small, name))
    assert 0.3 <= small.continuous_power / power <= 0.6
    assert 0.3 <= small.continuous_torque / small.terms.peak_torque <= 0.6


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
        whole_loss(t, np.array([x * t.max_speed]), np.array([y * t.peak_torque]), volts)[0, 0]
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


@pytest.mark.property
@given(st.floats(0.0, 500.0), st.floats(0.1, 100.0))
def test_more_current_never_costs_an_inverter_less(current, more):
    terms = complete_inverter(rated_power=80e3, phase_current_limit=350.0, given={}).terms
    low, high = inverter_loss_map(terms, np.array([current, current + more]))
    assert 0.0 < low < high


@pytest.mark.property
@given(st.floats(0.0, 800.0))
def test_a_map_of_inverter_losses_holds_the_loss_of_each_current(current):
    terms = complete_inverter(rated_power=80e3, phase_current_limit=350.0, given={}).terms
    assert inverter_loss_map(terms, np.array([[current]]))[0, 0] == pytest.approx(
        inverter_loss(
            loss_fixed=terms.fixed,
            loss_linear=terms.linear,
            loss_square=terms.square,
            phase_current=current,
        )
    )
