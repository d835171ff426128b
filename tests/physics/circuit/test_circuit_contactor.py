"""Contactors closing on a link: worked numbers, a circuit solved another way, and laws."""

from __future__ import annotations

from math import inf, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import expm

from swapwright.physics.circuit import contactor

# 400 V onto an empty 1 mF link over 60 mohm and 5 uH: precharge left out.
VOLTS, OHMS, HENRY, FARAD = 400.0, 0.060, 5e-6, 1e-3


def peak(ohms: float, volts: float = VOLTS, henry: float = HENRY, farad: float = FARAD) -> float:
    impedance = contactor.surge_impedance(inductance=henry, capacitance=farad)
    return contactor.making_peak(
        voltage=volts,
        surge_impedance=impedance,
        damping=contactor.damping(resistance=ohms, surge_impedance=impedance),
    )


@pytest.mark.arithmetic
def test_a_skipped_precharge_peaks_at_3327_amps_after_88_microseconds():
    bound = contactor.making_current_bound(voltage=VOLTS, resistance=OHMS)
    assert bound == pytest.approx(6667.0, abs=0.5)
    impedance = contactor.surge_impedance(inductance=HENRY, capacitance=FARAD)
    assert impedance == pytest.approx(0.07071, abs=5e-6)
    share = contactor.damping(resistance=OHMS, surge_impedance=impedance)
    assert share == pytest.approx(0.4243, abs=5e-5)
    assert peak(OHMS) == pytest.approx(3327.0, abs=0.6)
    time = contactor.making_peak_time(resistance=OHMS, inductance=HENRY, capacitance=FARAD)
    assert time == pytest.approx(88.4e-6, abs=0.05e-6)


@pytest.mark.arithmetic
def test_20_volts_left_over_ask_for_333_amps():
    bound = contactor.making_current_bound(voltage=20.0, resistance=OHMS)
    assert bound == pytest.approx(333.0, abs=0.5)


@pytest.mark.arithmetic
def test_5_percent_of_a_small_pack_over_milliohms_are_still_557_amps():
    bound = contactor.making_current_bound(voltage=0.05 * 65.7, resistance=5.9e-3)
    assert bound == pytest.approx(557.0, abs=0.5)


@pytest.mark.property
@given(
    damping=st.one_of(st.floats(0.02, 0.999), st.floats(1.001, 4.0), st.floats(0.99999, 1.00001))
)
def test_the_peak_is_that_of_the_circuit_stepped_through_time(damping):
    ohms = 2.0 * damping * sqrt(HENRY / FARAD)
    matrix = np.array([[-ohms / HENRY, -1.0 / HENRY], [1.0 / FARAD, 0.0]])
    at = contactor.making_peak_time(resistance=ohms, inductance=HENRY, capacitance=FARAD)

    def current(time: float) -> float:
        # A closed switch on an empty link is the free decay from a link charged the other way.
        return float((expm(matrix * time) @ np.array([0.0, -VOLTS]))[0])

    found = peak(ohms)
    assert found == pytest.approx(current(at), rel=1e-8)
    assert found >= max(current(0.97 * at), current(1.03 * at))
    assert found <= VOLTS / ohms


@pytest.mark.property
@given(st.floats(1e-3, 1.0), st.floats(1.0, 3.0))
def test_more_resistance_never_raises_the_peak(ohms, more):
    assert peak(ohms * more) <= peak(ohms) * (1.0 + 1e-9)


@pytest.mark.arithmetic
def test_an_overload_curve_is_read_between_its_points_and_never_beyond():
    curve = {"times": (10.0, 1000.0), "currents": (1000.0, 250.0)}
    assert contactor.overload_current(time=1.0, **curve) == pytest.approx(1000.0)
    assert contactor.overload_current(time=100.0, **curve) == pytest.approx(500.0)
    assert contactor.overload_current(time=1e5, **curve) == pytest.approx(250.0)
    assert contactor.overload_time(current=1001.0, **curve) == 0.0
    assert contactor.overload_time(current=500.0, **curve) == pytest.approx(100.0)
    assert contactor.overload_time(current=250.0, **curve) == inf


@pytest.mark.property
@given(st.floats(0.1, 1e4), st.floats(1.0, 100.0))
def test_a_contactor_never_carries_more_for_longer(time, longer):
    curve = {"times": (1.0, 10.0, 60.0, 300.0), "currents": (1500.0, 1000.0, 700.0, 350.0)}
    short = contactor.overload_current(time=time, **curve)
    assert contactor.overload_current(time=longer * time, **curve) <= short * (1.0 + 1e-12)
