from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.table import Map
from swapwright.physics.drive.efficiency_map import loss_from_efficiency
from swapwright.physics.drive.generic_motor import TYPICAL_MOTORS, complete_motor
from swapwright.physics.drive.motor_loss import (
    MotorTerms,
    brush_loss,
    copper_loss,
    drag_loss,
    iron_loss,
    motor_efficiency,
    motor_losses,
    resistance_at_temperature,
)

KINDS = tuple(TYPICAL_MOTORS)
ROOM = 293.15

# Four pole pairs of 0.06 Wb, 10 mohm a phase.
WORKED = MotorTerms(
    kind="permanent-magnet",
    peak_power=80e3,
    peak_torque=220.0,
    max_speed=1000.0,
    test_voltage=350.0,
    torque_per_amp=1.5 * 4 * 0.06 * 2**0.5,
    phase_resistance=0.010,
    iron_linear=0.15,
    iron_square=4e-4,
    drag_linear=0.05,
    drag_cubic=1e-7,
    back_emf=3**0.5 * 4 * 0.06,
)


def losses(terms, speed, torque, volts=None, temperature=353.15):
    return motor_losses(
        terms=terms,
        speeds=np.array([speed]),
        torques=np.array([torque]),
        dc_voltage=volts or terms.test_voltage,
        winding_temperature=temperature,
    )


@pytest.mark.arithmetic
def test_400_amps_in_10_milliohms_are_4800_watts_cold_and_6686_hot():
    hot = resistance_at_temperature(resistance=0.010, temperature=393.15)
    assert copper_loss(phase_current=400.0, phase_resistance=0.010) == pytest.approx(4800.0)
    assert hot == pytest.approx(13.93e-3, abs=5e-6)
    assert copper_loss(phase_current=400.0, phase_resistance=hot) == pytest.approx(6686.0, abs=0.5)


@pytest.mark.arithmetic
def test_the_worked_point_of_60_newton_metres_at_4000_rpm():
    speed = 4000 * 2 * pi / 60
    copper = copper_loss(phase_current=117.85, phase_resistance=0.0139)
    iron = iron_loss(iron_linear=0.15, iron_square=4e-4, speed=speed)
    drag = drag_loss(drag_linear=0.05, drag_cubic=1e-7, speed=speed)
    assert copper == pytest.approx(579.2, abs=0.1)
    assert iron == pytest.approx(133.0, abs=0.05)
    assert drag == pytest.approx(28.3, abs=0.05)
    eta = motor_efficiency(torque=60.0, speed=speed, loss=copper + iron + drag)
    assert eta == pytest.approx(0.9714, abs=5e-5)


@pytest.mark.arithmetic
def test_the_map_gives_the_worked_point_below_base_speed():
    speed = 4000 * 2 * pi / 60
    # The winding temperature at which 10 mohm have become 13.9 mohm.
    found = losses(WORKED, speed, 60.0, temperature=ROOM + 0.39 / 0.00393)
    assert found.current[0, 0] == pytest.approx(117.85, abs=0.005)
    assert found.total[0, 0] == pytest.approx(579.2 + 133.0 + 28.3, abs=0.2)


@pytest.mark.arithmetic
def test_brushes_of_2_volts_lose_600_watts_at_300_amps():
    assert brush_loss(brush_drop=2.0, current=300.0) == 600.0
    dc = complete_motor("dc", {"peak_power": 30e3, "brush_drop": 2.0}).terms
    found = losses(dc, 50.0, 40.0)
    assert found.brush[0, 0] == pytest.approx(2.0 * 40.0 / dc.torque_per_amp)


@pytest.mark.arithmetic
def test_no_demagnetising_current_flows_below_the_no_load_ceiling():
    ceiling = 350.0 / WORKED.back_emf
    assert losses(WORKED, ceiling * 0.999, 0.0).current[0, 0] == 0.0
    assert losses(WORKED, ceiling * 1.05, 0.0).current[0, 0] > 5.0


@pytest.mark.arithmetic
def test_a_sagging_pack_makes_a_fast_permanent_magnet_motor_take_more_current():
    full = losses(WORKED, 950.0, 30.0, volts=350.0).current[0, 0]
    sagged = losses(WORKED, 950.0, 30.0, volts=280.0).current[0, 0]
    assert sagged > 1.2 * full


@pytest.mark.arithmetic
def test_data_that_do_not_fit_together_still_give_finite_losses():
    strong = MotorTerms(**{**WORKED.__dict__, "back_emf": 1.5})
    assert np.isfinite(losses(strong, 1000.0, 200.0).total).all()
    for no_load in (0.0, 1e4):
        odd = complete_motor("induction", {"peak_power": 30e3, "no_load_current": no_load}).terms
        found = losses(odd, 100.0, odd.peak_torque)
        assert np.isfinite(found.total).all()
        assert 0.5 * odd.peak_current < found.current[0, 0] < 1.001 * odd.peak_current


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("back_emf", "drop"),
    [
        # What is left of the flux at the corner beside the magnets'.
        (WORKED.back_emf, ((350.0 * 220.0 / 80e3) ** 2 - WORKED.back_emf**2) ** 0.5),
        # Magnets too strong for the corner: half their own flux stands in.
        (1.5, 0.5 * 1.5),
    ],
    ids=["data that fit", "data that do not"],
)
def test_coasting_at_the_top_costs_the_current_that_holds_the_magnets_down(back_emf, drop):
    terms = MotorTerms(**{**WORKED.__dict__, "back_emf": back_emf})
    too_much = back_emf - 350.0 / 1000.0
    expected = too_much / drop * WORKED.peak_torque / WORKED.torque_per_amp
    assert losses(terms, 1000.0, 0.0).current[0, 0] == pytest.approx(expected)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("no_load", "held"), [(0.0, 0.05), (1e4, 0.9)])
def test_a_no_load_current_of_no_motor_is_held_to_the_range_of_motors(no_load, held):
    terms = complete_motor("induction", {"peak_power": 60e3, "no_load_current": no_load}).terms
    found = losses(terms, 50.0, 0.0).current[0, 0]
    assert found == pytest.approx(0.4 * held * terms.peak_current)


@pytest.mark.arithmetic
def test_an_induction_motors_no_load_current_falls_above_base_speed():
    terms = complete_motor("induction", {"peak_power": 60e3, "no_load_current": 60.0}).terms
    base = terms.corner_speed
    assert losses(terms, 0.9 * base, 0.0).current[0, 0] == pytest.approx(0.4 * 60.0)
    assert losses(terms, 2.0 * base, 0.0).current[0, 0] == pytest.approx(0.4 * 60.0)
    assert losses(terms, 4.0 * base, 0.0).current[0, 0] == pytest.approx(60.0 / 4.0)


@pytest.mark.arithmetic
def test_at_light_load_no_other_flux_loses_less_in_the_copper_of_stator_and_rotor():
    terms = complete_motor("induction", {"peak_power": 60e3, "no_load_current": 100.0}).terms
    torque = 0.12 * terms.peak_torque
    found = losses(terms, 50.0, torque, temperature=ROOM)
    product = torque * 100.0 * (terms.peak_current**2 - 100.0**2) ** 0.5 / terms.peak_torque
    magnetising = np.linspace(20.0, 100.0, 801)
    producing = product / magnetising
    either = 3 * terms.phase_resistance * (magnetising**2 + 1.8 * producing**2)
    assert (found.copper + found.rotor)[0, 0] == pytest.approx(either.min(), rel=1e-4)
    assert either.argmin() not in (0, 800)


@pytest.mark.arithmetic
def test_an_induction_motor_reaches_its_peak_torque_at_its_peak_current():
    terms = complete_motor("induction", {"peak_power": 60e3}).terms
    found = losses(terms, 10.0, terms.peak_torque)
    assert found.current[0, 0] == pytest.approx(terms.peak_current)


@pytest.mark.property
@given(
    st.sampled_from(KINDS),
    st.floats(10e3, 300e3),
    st.floats(0.0, 1.0),
    st.floats(0.0, 1.0),
    st.floats(0.5, 1.5),
)
def test_losses_are_never_negative_and_more_torque_never_loses_less(kind, power, x, y, voltage):
    terms = complete_motor(kind, {"peak_power": power}).terms
    volts = terms.test_voltage * voltage
    less = losses(terms, x * terms.max_speed, y * terms.peak_torque, volts)
    more = losses(terms, x * terms.max_speed, 1.1 * y * terms.peak_torque, volts)
    for part in (less.copper, less.rotor, less.brush, less.iron, less.drag):
        assert part[0, 0] >= 0.0
    assert more.total[0, 0] >= less.total[0, 0]


@pytest.mark.property
@given(st.sampled_from(KINDS), st.floats(10.0, 800.0), st.floats(1.0, 300.0))
def test_driving_and_braking_at_one_torque_lose_the_same(kind, speed, torque):
    terms = complete_motor(kind, {"peak_power": 80e3}).terms
    braking, driving = (losses(terms, speed, side * torque, 300.0) for side in (-1.0, 1.0))
    assert braking.total[0, 0] == driving.total[0, 0]


@pytest.mark.property
@given(st.sampled_from(KINDS), st.floats(250.0, 430.0), st.floats(1.0, 50.0))
def test_a_hotter_winding_never_loses_less(kind, temperature, more):
    terms = complete_motor(kind, {"peak_power": 80e3}).terms
    cold = losses(terms, 400.0, 100.0, temperature=temperature).total[0, 0]
    assert losses(terms, 400.0, 100.0, temperature=temperature + more).total[0, 0] > cold


@pytest.mark.property
@given(st.floats(1.0, 1000.0), st.floats(1.0, 300.0), st.floats(0.1, 20e3))
def test_a_motor_never_gives_all_it_takes(speed, torque, loss):
    assert 0.0 < motor_efficiency(torque=torque, speed=speed, loss=loss) < 1.0


MAP = Map(
    rows=(0.0, 100.0, 400.0, 800.0),
    columns=(0.0, 20.0, 100.0, 200.0),
    z=(
        (0.0, 0.0, 0.0, 0.0),
        (0.0, 0.80, 0.85, 0.80),
        (0.0, 0.90, 0.95, 0.92),
        (0.0, 0.88, 0.94, 0.0),
    ),
    row_unit="rad/s",
    column_unit="N.m",
    z_unit="1",
)


@pytest.mark.arithmetic
def test_an_efficiency_map_gives_its_own_losses_back_at_its_points():
    found = loss_from_efficiency(MAP, np.array([100.0, 400.0]), np.array([-100.0, 20.0, 100.0]))
    assert found[1, 2] == pytest.approx(400.0 * 100.0 * (1 / 0.95 - 1))
    assert found[0, 1] == pytest.approx(100.0 * 20.0 * (1 / 0.80 - 1))
    assert found[:, 0] == pytest.approx(found[:, 2])


@pytest.mark.arithmetic
def test_below_an_efficiency_map_the_loss_stays_and_above_it_grows_with_the_square():
    found = loss_from_efficiency(
        MAP, np.array([0.0, 100.0, 800.0]), np.array([0.0, 20.0, 100.0, 400.0])
    )
    assert found[0, 0] == found[1, 1] == pytest.approx(500.0)
    top = 100.0 * 200.0 * (1 / 0.80 - 1)
    assert found[1, 3] == pytest.approx(4 * top)
    blank = 800.0 * 100.0 * (1 / 0.94 - 1)
    assert found[2, 3] == pytest.approx(16 * blank)


@pytest.mark.arithmetic
def test_a_blank_efficiency_map_is_refused():
    blank = Map((0.0, 100.0), (0.0, 20.0), ((0.0, 0.0), (0.0, 0.0)), "rad/s", "N.m", "1")
    with pytest.raises(ValueError, match="no point with power"):
        loss_from_efficiency(blank, np.array([1.0]), np.array([1.0]))


@pytest.mark.arithmetic
def test_an_efficiency_map_made_from_loss_terms_gives_the_losses_back():
    speeds, torques = np.linspace(50.0, 900.0, 18), np.linspace(10.0, 200.0, 20)
    truth = motor_losses(
        terms=WORKED, speeds=speeds, torques=torques, dc_voltage=350.0, winding_temperature=350.0
    ).total
    power = speeds[:, np.newaxis] * torques
    table = Map(
        tuple(speeds),
        tuple(torques),
        tuple(map(tuple, power / (power + truth))),
        "rad/s",
        "N.m",
        "1",
    )
    assert loss_from_efficiency(table, speeds, torques) == pytest.approx(truth, rel=1e-9)
