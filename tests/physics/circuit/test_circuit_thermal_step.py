from __future__ import annotations

from math import exp, isnan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.physics.circuit.thermal_step import peak_response, square_law_response

histories = st.lists(st.floats(-800.0, 800.0), min_size=1, max_size=60).map(np.array)
TAUS = np.array([0.5, 20.0, 400.0])
SHARES = np.array([0.6, 0.3, 0.1])


def response(currents, dt=1.0, taus=TAUS, weights=SHARES, start=0.0):
    return peak_response(
        currents=currents, dt=dt, time_constants=taus, weights=weights, start=start
    )


@pytest.mark.arithmetic
def test_a_steady_current_fills_a_lump_by_its_exponential():
    tau, shares = np.array([249.0]), np.array([1.0])
    found = response(np.full(100, 300.0), taus=tau, weights=shares)
    assert found == pytest.approx(300.0**2 * (1 - exp(-100 / 249)), rel=1e-12)
    in_one_step = response(np.array([300.0]), dt=100.0, taus=tau, weights=shares)
    assert in_one_step == pytest.approx(found, rel=1e-12)


@pytest.mark.arithmetic
def test_the_peak_is_where_the_pulse_ends_and_not_where_the_history_does():
    tau, shares = np.array([60.0]), np.array([1.0])
    pulse = np.concatenate([np.full(20, -500.0), np.zeros(300)])
    found = response(pulse, taus=tau, weights=shares)
    assert found == pytest.approx(500.0**2 * (1 - exp(-20 / 60)), rel=1e-12)


@pytest.mark.arithmetic
def test_a_warm_start_counts_even_where_the_current_only_lets_it_cool():
    assert response(np.zeros(50), start=250.0**2) == pytest.approx(250.0**2, rel=1e-12)
    assert response(np.array([]), start=4.0) == pytest.approx(4.0)


@pytest.mark.arithmetic
def test_lumps_add_up_by_their_weights():
    history = np.full(30, 400.0)
    each = [
        response(history, taus=np.array([tau]), weights=np.array([weight]))
        for tau, weight in zip(TAUS, SHARES, strict=True)
    ]
    assert response(history) == pytest.approx(sum(each), rel=1e-12)


@pytest.mark.arithmetic
def test_a_current_that_is_no_number_is_not_passed_over():
    assert isnan(response(np.array([100.0, float("nan"), 100.0])))


@pytest.mark.arithmetic
def test_time_constants_without_weights_are_refused():
    with pytest.raises(ValueError, match="3 time constants and 2 weights"):
        response(np.array([1.0]), weights=SHARES[:2])


@pytest.mark.property
@settings(max_examples=50)
@given(histories, st.floats(0.01, 30.0), st.floats(0.0, 1e5))
def test_compiled_and_interpreted_give_one_answer_and_leave_one_state(currents, dt, start):
    ours, theirs = np.zeros(6), np.zeros(6)
    compiled = square_law_response(currents, dt, TAUS, SHARES, start, ours)
    plain = square_law_response.py_func(currents, dt, TAUS, SHARES, start, theirs)
    assert compiled == pytest.approx(plain, rel=1e-10, abs=1e-12)
    most = max(start, float(np.max(currents**2)), 1.0)
    assert ours == pytest.approx(theirs, rel=1e-12, abs=1e-12 * most)


@pytest.mark.property
@settings(max_examples=50)
@given(histories, st.floats(0.0, 1e5))
def test_the_response_lies_between_its_start_and_the_strongest_current(currents, start):
    found = response(currents, start=start)
    most = max(start, float(np.max(currents**2)))
    assert start * (1 - 1e-9) <= found <= most * (1 + 1e-9)


@pytest.mark.property
@settings(max_examples=50)
@given(histories, st.floats(1.0, 1.5))
def test_a_stronger_history_never_heats_less(currents, factor):
    assert response(currents * factor) >= response(currents) * (1 - 1e-12)


@pytest.mark.property
@settings(max_examples=50)
@given(histories, st.floats(1.0, 5.0))
def test_a_heavier_cable_started_cold_never_peaks_higher(currents, factor):
    light, one = np.array([100.0]), np.array([1.0])
    heavy = response(currents, taus=light * factor, weights=one)
    assert heavy <= response(currents, taus=light, weights=one) * (1 + 1e-12)
