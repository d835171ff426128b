from __future__ import annotations

from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from swapwright.physics.pack.cell import (
    current_to_voltage_limit,
    derated_current,
    pulse_resistance,
    terminal_voltage,
)

ONE_PAIR = {"r0": 1.2e-3, "r1": 0.8e-3, "c1": 15.0 / 0.8e-3, "r2": 1e-12, "c2": 1.0}


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("time", "volts"),
    [(0.0, 3.5200), (15.0, 3.4441), (1e4, 3.4000)],
    ids=["at once", "one tau", "settled"],
)
def test_150_amps_pull_a_cell_down_in_two_stages(time, volts):
    found = terminal_voltage(ocv=3.70, current=150.0, time=time, **ONE_PAIR)
    assert found == pytest.approx(volts, abs=5e-5)


# The values an independent open-source equivalent-circuit solver gives for 100 Ah, 100 A from
# 90 % charge, rest voltage 3.2 V + 0.9 V x state of charge, 1.5 mohm, 1 mohm, 30 kF.
# That solver was within 2.5e-5 V of the exact answer at its default tolerance.
@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("time", "volts"), [(0.0, 3.86000), (30.0, 3.78927), (600.0, 3.61000), (1800.0, 3.31000)]
)
def test_the_step_response_agrees_with_another_solvers_printed_values(time, volts):
    soc = 0.9 - time / 3600.0
    found = terminal_voltage(
        ocv=3.2 + 0.9 * soc, current=100.0, time=time, r0=1.5e-3, r1=1e-3, c1=3e4, r2=1e-12, c2=1.0
    )
    assert found == pytest.approx(volts, abs=3e-5)


@pytest.mark.arithmetic
def test_two_pairs_agree_with_an_integration_of_their_equations():
    r0, r1, c1, r2, c2, current = 1e-3, 0.6e-3, 9e3, 1.1e-3, 2e5, 120.0
    run = solve_ivp(
        lambda _, v: [current / c1 - v[0] / (r1 * c1), current / c2 - v[1] / (r2 * c2)],
        (0.0, 90.0),
        [0.0, 0.0],
        rtol=1e-11,
        atol=1e-12,
    )
    found = terminal_voltage(ocv=3.7, current=current, r0=r0, r1=r1, c1=c1, r2=r2, c2=c2, time=90.0)
    assert found == pytest.approx(3.7 - current * r0 - run.y[:, -1].sum(), abs=1e-8)


@pytest.mark.arithmetic
def test_the_10_second_resistance_lies_between_the_ohmic_and_the_settled_one():
    found = pulse_resistance(r0=1e-3, r1=0.5e-3, c1=2e4, r2=0.5e-3, c2=4e5, time=10.0)
    expected = 1e-3 + 0.5e-3 * (1 - exp(-1.0)) + 0.5e-3 * (1 - exp(-0.05))
    assert found == pytest.approx(expected)


@pytest.mark.property
@given(st.floats(0.0, 3600.0), st.floats(0.0, 600.0))
def test_a_longer_pulse_never_meets_less_resistance(time, longer):
    pairs = {"r0": 1e-3, "r1": 5e-4, "c1": 2e4, "r2": 5e-4, "c2": 4e5}
    assert pulse_resistance(time=time + longer, **pairs) >= pulse_resistance(time=time, **pairs)


@pytest.mark.property
@given(st.floats(2.6, 4.2), st.floats(2.0, 4.3), st.floats(1e-4, 1e-2))
def test_the_current_to_a_voltage_limit_takes_the_cell_just_there(ocv, limit, resistance):
    current = current_to_voltage_limit(ocv=ocv, limit=limit, resistance=resistance)
    assert ocv - current * resistance == pytest.approx(limit)


@pytest.mark.arithmetic
def test_a_cell_that_may_take_a_tenth_in_the_cold_takes_a_tenth():
    assert derated_current(rated_current=120.0, derate=0.1) == pytest.approx(12.0)
