"""Stored charge: worked numbers of links and Y-capacitors, and where the energy went."""

from __future__ import annotations

from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from swapwright.physics.circuit import discharge, y_capacitor
from swapwright.standards import discharge as limits

CLASS_A = limits.DISCHARGED_VOLTAGE.si
TOUCH = limits.DISCHARGED_ENERGY.si
# 400 V on 1 mF over 20 kohm.
LINK = {"resistance": 20e3, "capacitance": 1e-3}


@pytest.mark.arithmetic
def test_a_400_volt_link_over_20_kilohms_takes_38_seconds_to_60_volts():
    assert discharge.time_to_voltage(voltage=400.0, target=60.0, **LINK) == pytest.approx(
        37.94, abs=5e-3
    )
    after = discharge.voltage_after(voltage=400.0, time=5.0, **LINK)
    assert after == pytest.approx(311.5, abs=0.06)
    assert discharge.bleed_power(voltage=400.0, resistance=20e3) == pytest.approx(8.0)


@pytest.mark.arithmetic
def test_at_60_volts_it_still_holds_nine_times_the_touch_limit():
    assert discharge.stored_energy(capacitance=1e-3, voltage=400.0) == pytest.approx(80.0)
    assert discharge.stored_energy(capacitance=1e-3, voltage=60.0) == pytest.approx(1.8)
    assert discharge.voltage_at_energy(capacitance=1e-3, energy=TOUCH) == pytest.approx(20.0)
    time = discharge.time_to_energy(voltage=400.0, energy=TOUCH, **LINK)
    assert time == pytest.approx(59.91, abs=5e-3)


@pytest.mark.arithmetic
def test_47_kilohms_miss_the_minute():
    time = discharge.time_to_voltage(
        resistance=47e3, capacitance=1e-3, voltage=400.0, target=CLASS_A
    )
    assert time == pytest.approx(89.16, abs=5e-3)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("volts", "farad", "seconds", "ohms", "watts"),
    [
        (400.0, 600e-6, 1.0, 878.5, None),
        (400.0, 600e-6, 5.0, 4393.0, 36.42),
        (400.0, 600e-6, 60.0, 52_710.0, 3.035),
        (800.0, 500e-6, 5.0, 3861.0, 165.8),
    ],
)
def test_a_time_to_60_volts_is_a_resistor_and_its_watts(volts, farad, seconds, ohms, watts):
    found = discharge.equivalent_resistance(
        time=seconds, capacitance=farad, voltage=volts, target=CLASS_A
    )
    assert found == pytest.approx(ohms, rel=2e-4)
    if watts is not None:
        assert discharge.bleed_power(voltage=volts, resistance=found) == pytest.approx(
            watts, rel=2e-4
        )


@pytest.mark.arithmetic
def test_a_low_voltage_link_is_class_a_in_a_second_and_still_holds_21_joules():
    time = discharge.time_to_voltage(resistance=1e3, capacitance=12e-3, voltage=65.7, target=60.0)
    assert time == pytest.approx(1.1, abs=0.05)
    held = discharge.stored_energy(capacitance=12e-3, voltage=60.0)
    assert held == pytest.approx(21.6)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("volts", "microfarad"),
    [(96.0, 43.40), (144.0, 19.29), (400.0, 2.500), (450.0, 1.975), (800.0, 0.6250)],
)
def test_the_largest_capacitor_for_the_touch_limit(volts, microfarad):
    found = discharge.largest_capacitance(energy=TOUCH, voltage=volts)
    assert found * 1e6 == pytest.approx(microfarad, rel=3e-4)


@pytest.mark.arithmetic
def test_y_capacitors_of_a_balanced_400_volt_bus_may_be_10_microfarads():
    found = y_capacitor.balanced_rail_energy(capacitance=10e-6, voltage=400.0)
    assert found == pytest.approx(TOUCH)
    assert discharge.stored_energy(capacitance=1e-6, voltage=400.0) == pytest.approx(0.08)
    found = y_capacitor.faulted_rail_energy(capacitance=0.47e-6, voltage=800.0)
    assert found == pytest.approx(0.1504)


@pytest.mark.arithmetic
def test_a_hand_on_one_pole_meets_both_rails_at_half_the_voltage():
    touch = y_capacitor.touch_energy(capacitance=0.5e-6, voltage=400.0)
    assert touch == pytest.approx(0.25 * 0.5e-6 * 400.0**2)
    assert touch == discharge.stored_energy(capacitance=1e-6, voltage=200.0)


@pytest.mark.arithmetic
def test_60_microcoulombs_are_0_15_microfarads_at_400_volts():
    for farad, volts in ((0.150e-6, 400.0), (0.075e-6, 800.0)):
        assert discharge.stored_charge(capacitance=farad, voltage=volts) == pytest.approx(60e-6)


@pytest.mark.arithmetic
def test_the_crash_rule_counts_down_to_60_volts_and_never_below_nothing():
    found = discharge.energy_above_voltage(capacitance=2.5e-6, voltage=400.0, floor=60.0)
    assert found == pytest.approx(0.1955, abs=5e-5)
    assert discharge.energy_above_voltage(capacitance=1e-3, voltage=50.0, floor=60.0) == 0.0


@pytest.mark.arithmetic
def test_a_hot_resistor_and_a_large_capacitor_take_a_third_longer():
    farad = discharge.worst_capacitance(capacitance=1e-3, tolerance=limits.CAPACITOR_TOLERANCE.si)
    ohms = discharge.worst_resistance(
        resistance=20e3,
        tolerance=limits.RESISTOR_TOLERANCE.si,
        temperature_factor=limits.RESISTOR_TEMPERATURE_FACTOR.si,
        rise=limits.RESISTOR_RISE.si,
    )
    worst = discharge.time_to_voltage(
        resistance=ohms, capacitance=farad, voltage=400.0, target=60.0
    )
    assert worst == pytest.approx(37.94 * 1.2 * 1.05 * 1.03, rel=1e-3)


@pytest.mark.property
@given(
    volts=st.floats(20.0, 900.0),
    ohms=st.floats(100.0, 1e5),
    farad=st.floats(1e-5, 0.02),
    times=st.floats(0.01, 6.0),
)
def test_what_the_capacitor_gave_up_is_what_the_resistor_took(volts, ohms, farad, times):
    tau = ohms * farad
    took = quad(lambda t: volts**2 / ohms * exp(-2.0 * t / tau), 0.0, times * tau, epsrel=1e-11)[0]
    left = discharge.voltage_after(
        voltage=volts, resistance=ohms, capacitance=farad, time=times * tau
    )
    gave = discharge.stored_energy(capacitance=farad, voltage=volts) - discharge.stored_energy(
        capacitance=farad, voltage=left
    )
    assert gave == pytest.approx(took, rel=1e-8)


@pytest.mark.property
@given(
    volts=st.floats(20.0, 900.0),
    ohms=st.floats(100.0, 1e5),
    farad=st.floats(1e-6, 0.02),
    target=st.floats(10.0, 80.0),
)
def test_times_lead_to_where_they_say_and_are_never_below_nothing(volts, ohms, farad, target):
    link = {"resistance": ohms, "capacitance": farad, "voltage": volts}
    time = discharge.time_to_voltage(target=target, **link)
    assert time >= 0.0
    after = discharge.voltage_after(time=time, **link)
    assert after == pytest.approx(min(volts, target), rel=1e-9)
    energy = discharge.stored_energy(capacitance=farad, voltage=target)
    assert discharge.time_to_energy(energy=energy, **link) == pytest.approx(
        time, rel=1e-9, abs=1e-9 * ohms * farad
    )


@pytest.mark.property
@given(st.floats(1e-9, 1e-5), st.floats(20.0, 900.0))
def test_a_fault_to_the_chassis_is_the_worst_a_y_capacitor_sees(farad, volts):
    rail = {"capacitance": farad, "voltage": volts}
    balanced = y_capacitor.balanced_rail_energy(**rail)
    assert y_capacitor.touch_energy(**rail) == pytest.approx(2.0 * balanced)
    assert y_capacitor.faulted_rail_energy(**rail) == pytest.approx(4.0 * balanced)
