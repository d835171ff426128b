"""Precharge: worked numbers, the energy that is always the same, and what a stuck load does."""

from __future__ import annotations

from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from swapwright.physics.circuit import fault_current, precharge, precharge_resistor

VOLTS, FARAD, OHMS = 400.0, 1e-3, 50.0
TAU = precharge.rc_time_constant(resistance=OHMS, capacitance=FARAD)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("share", "constants"),
    [(0.90, 2.303), (0.95, 2.996), (0.98, 3.912), (0.99, 4.605), (0.995, 5.298)],
)
def test_time_constants_to_each_share(share, constants):
    found = precharge.time_to_share(time_constant=1.0, share=share)
    assert found == pytest.approx(constants, abs=5e-4)


@pytest.mark.arithmetic
def test_five_time_constants_fill_a_link_to_99_33_percent():
    filled = precharge.link_voltage(end=1.0, time_constant=1.0, time=5.0)
    assert filled == pytest.approx(0.9933, abs=5e-5)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("share", "time"), [(0.95, 0.1498), (0.98, 0.1956), (0.99, 0.2303)], ids=["95", "98", "99"]
)
def test_a_1_millifarad_link_over_50_ohms_is_filled_in_a_fifth_of_a_second(share, time):
    assert pytest.approx(50e-3) == TAU
    found = precharge.time_to_share(time_constant=TAU, share=share)
    assert found == pytest.approx(time, abs=5e-5)
    back = precharge.largest_resistor(time=found, capacitance=FARAD, share=share)
    assert back == pytest.approx(OHMS)


@pytest.mark.arithmetic
def test_what_the_50_ohm_resistor_takes():
    pack = {"voltage": VOLTS, "resistance": OHMS}
    assert precharge_resistor.peak_current(**pack) == pytest.approx(8.0)
    assert precharge_resistor.peak_power(**pack) == pytest.approx(3200.0)
    for share, energy in ((0.95, 79.80), (0.98, 79.97), (1.0, 80.0)):
        found = precharge_resistor.resistor_energy(capacitance=FARAD, voltage=VOLTS, share=share)
        assert found == pytest.approx(energy, abs=5e-3)
    mean = precharge_resistor.mean_power_of_tries(energy=80.0, tries=1, period=5 * TAU)
    assert mean == pytest.approx(320.0)
    i2t = fault_current.discharge_i2t(capacitance=FARAD, **pack)
    assert i2t == pytest.approx(1.600)
    left = precharge.voltage_left_after(voltage=VOLTS, time_constant=TAU, time=5 * TAU)
    assert left == pytest.approx(2.695, abs=5e-4)


@pytest.mark.arithmetic
def test_half_a_second_to_98_percent_allows_128_ohms():
    found = precharge.largest_resistor(time=0.5, capacitance=1e-3, share=0.98)
    assert found == pytest.approx(127.8, abs=0.05)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("load", "volts"), [(20e3, 399.0), (500.0, 363.6)])
def test_a_load_left_on_stops_the_link_short(load, volts):
    both = {"resistance": OHMS, "load": load}
    assert precharge.end_voltage(voltage=VOLTS, **both) == pytest.approx(volts, abs=0.05)
    assert precharge.end_share(**both) == pytest.approx(volts / VOLTS, abs=5e-4)


@pytest.mark.arithmetic
def test_500_ohms_left_on_the_link_never_let_it_reach_95_percent():
    share = precharge.end_share(resistance=OHMS, load=500.0)
    assert share == pytest.approx(0.909, abs=5e-4)
    quicker = precharge.loaded_time_constant(resistance=OHMS, load=500.0, capacitance=FARAD)
    assert quicker == pytest.approx(share * TAU)


@pytest.mark.arithmetic
def test_a_converter_left_on_holds_the_link_down_or_back():
    end = precharge.end_voltage_at_power(voltage=400.0, resistance=50.0, power=500.0)
    assert end * (400.0 - end) / 50.0 == pytest.approx(500.0)
    assert end > 200.0
    assert precharge.end_voltage_at_power(voltage=400.0, resistance=50.0, power=900.0) == 0.0


@pytest.mark.arithmetic
def test_a_shorted_link_burns_a_100_joule_resistor_in_a_tenth_of_a_second():
    pack = {"voltage": 400.0, "resistance": 150.0}
    assert precharge_resistor.shorted_energy(time=1.0, **pack) == pytest.approx(1066.7, abs=0.05)
    stood = precharge_resistor.time_to_energy(energy=100.0, **pack)
    assert stood == pytest.approx(0.09375)
    assert precharge_resistor.shorted_energy(time=stood, **pack) == pytest.approx(100.0)


@pytest.mark.property
@given(
    ohms=st.floats(1.0, 1000.0),
    farad=st.floats(1e-5, 0.02),
    volts=st.floats(20.0, 900.0),
    share=st.floats(0.05, 0.999),
)
def test_the_energy_in_the_resistor_is_the_same_whatever_its_ohms(ohms, farad, volts, share):
    tau = ohms * farad
    ended = precharge.time_to_share(time_constant=tau, share=share)
    taken = quad(lambda t: volts**2 / ohms * exp(-2.0 * t / tau), 0.0, ended, epsrel=1e-11)[0]
    found = precharge_resistor.resistor_energy(capacitance=farad, voltage=volts, share=share)
    assert found == pytest.approx(taken, rel=1e-8)
    left = precharge.voltage_left_after(voltage=volts, time_constant=tau, time=ended)
    told = precharge.voltage_left_at_share(voltage=volts, share=share)
    assert left == pytest.approx(told, rel=1e-9)


@pytest.mark.property
@given(st.floats(20.0, 900.0), st.floats(1e-3, 1.0), st.floats(0.0, 5.0), st.floats(0.0, 5.0))
def test_what_is_left_over_falls_with_time_and_adds_up_to_the_pack(volts, tau, time, more):
    left = precharge.voltage_left_after(voltage=volts, time_constant=tau, time=time)
    assert precharge.voltage_left_after(voltage=volts, time_constant=tau, time=time + more) <= left
    filled = precharge.link_voltage(end=volts, time_constant=tau, time=time)
    assert filled + left == pytest.approx(volts, rel=1e-12)


@pytest.mark.property
@given(st.floats(5.0, 500.0), st.floats(50.0, 1e5), st.floats(0.1, 6.0))
def test_a_loaded_precharge_is_that_of_the_differential_equation(ohms, load, times):
    tau = precharge.loaded_time_constant(resistance=ohms, load=load, capacitance=FARAD)
    end = precharge.end_voltage(voltage=VOLTS, resistance=ohms, load=load)
    found = precharge.link_voltage(end=end, time_constant=tau, time=times * tau)
    solved = solve_ivp(
        lambda _, v: ((VOLTS - v) / ohms - v / load) / FARAD,
        (0.0, times * tau),
        [0.0],
        rtol=1e-9,
        atol=1e-9,
    )
    assert found == pytest.approx(solved.y[0][-1], rel=1e-6)


@pytest.mark.property
@given(
    tries=st.integers(1, 12),
    pause=st.floats(0.0, 300.0),
    cooling=st.floats(10.0, 600.0),
    energy=st.floats(1.0, 500.0),
)
def test_the_heat_of_several_tries_is_added_up_one_by_one(tries, pause, cooling, energy):
    capacity = precharge_resistor.resistor_heat_capacity(pulse=100.0, rise=250.0)
    rise = 0.0
    for _ in range(tries):
        rise = rise * exp(-pause / cooling) + energy / capacity
    found = precharge_resistor.resistor_temperature_after_tries(
        ambient=323.15,
        energy=energy,
        heat_capacity=capacity,
        tries=tries,
        pause=pause,
        thermal_time_constant=cooling,
    )
    assert found == pytest.approx(323.15 + rise, rel=1e-9)


@pytest.mark.property
@given(st.floats(0.01, 0.99), st.floats(1e-3, 10.0))
def test_the_time_to_a_share_leads_to_that_share(share, tau):
    time = precharge.time_to_share(time_constant=tau, share=share)
    assert time == pytest.approx(-tau * log(1.0 - share))
    filled = precharge.link_voltage(end=1.0, time_constant=tau, time=time)
    assert filled == pytest.approx(share, rel=1e-9)
