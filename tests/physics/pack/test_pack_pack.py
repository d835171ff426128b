from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.table import Line
from swapwright.physics.pack import pack, power
from swapwright.physics.pack.window import (
    soc_at_rest_voltage,
    usable_energy,
)

AMPERE_HOUR = 3600.0
KILOWATT_HOUR = 3.6e6

# 96 in series and 2 in parallel of a 50 Ah, 3.65 V, 1.0 mohm cell.
NO_JOINTS = {"modules": 1, "module_joints": 0.0, "string_joints": 0.0, "strings": 1}
RESISTANCE = pack.pack_resistance(series=96, parallel=2, cell_resistance=1.0e-3, **NO_JOINTS)
NOMINAL = pack.pack_voltage(series=96, cell_voltage=3.65)
LFP = Line(
    (0.0, 0.05, 0.1, 0.2, 0.5, 0.6, 0.9, 1.0),
    (2.60, 3.05, 3.20, 3.25, 3.30, 3.30, 3.34, 3.45),
    "1",
    "V",
)


@pytest.mark.arithmetic
def test_96_in_series_and_2_in_parallel_are_350_volts_and_35_kilowatt_hours():
    capacity = pack.pack_capacity(parallel=2, cell_capacity=50 * AMPERE_HOUR)
    assert pytest.approx(350.4) == NOMINAL
    assert capacity / AMPERE_HOUR == pytest.approx(100.0)
    energy = pack.pack_energy(capacity=capacity, nominal_voltage=NOMINAL)
    assert energy / KILOWATT_HOUR == pytest.approx(35.04)
    assert pack.pack_voltage(series=96, cell_voltage=4.2) == pytest.approx(403.2)
    assert pack.pack_voltage(series=96, cell_voltage=2.8) == pytest.approx(268.8)
    assert pytest.approx(48.0e-3) == RESISTANCE


@pytest.mark.arithmetic
def test_114_lfp_cells_of_280_ampere_hours_are_102_kilowatt_hours():
    volts = pack.pack_voltage(series=114, cell_voltage=3.2)
    energy = pack.pack_energy(capacity=280 * AMPERE_HOUR, nominal_voltage=volts)
    assert volts == pytest.approx(364.8)
    assert energy / KILOWATT_HOUR == pytest.approx(102.1, abs=0.05)
    assert pack.pack_voltage(series=114, cell_voltage=3.65) == pytest.approx(416.1)


@pytest.mark.arithmetic
def test_300_amps_are_3c_and_sag_the_pack_by_14_volts():
    assert pack.c_rate(current=300.0, capacity=100 * AMPERE_HOUR) == pytest.approx(3.0)
    loaded = power.voltage_at_current(rest_voltage=NOMINAL, current=300.0, resistance=RESISTANCE)
    assert NOMINAL - loaded == pytest.approx(14.4)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("watts", "amps"), [(100e3, 297.5), (30e3, 86.6)])
def test_the_current_at_a_power_is_the_smaller_root(watts, amps):
    found = power.demand_current(rest_voltage=NOMINAL, power=watts, resistance=RESISTANCE)
    assert found == pytest.approx(amps, abs=0.05)


@pytest.mark.arithmetic
def test_the_voltage_floor_bounds_the_power_below_the_matched_load():
    floor = power.power_at_voltage_floor(
        rest_voltage=NOMINAL, min_voltage=268.8, resistance=RESISTANCE
    )
    assert floor == pytest.approx(457.0e3, abs=50.0)
    assert floor < NOMINAL**2 / (4.0 * RESISTANCE)


@pytest.mark.arithmetic
def test_at_the_matched_load_half_the_voltage_is_left():
    # 320 V behind 0.125 ohm: 204.8 kW at 160 V and 1280 A, without a remainder in binary.
    source = {"rest_voltage": 320.0, "resistance": 0.125}
    assert power.demand_current(power=204.8e3, **source) == 1280.0
    assert power.voltage_at_current(current=1280.0, **source) == 160.0


@pytest.mark.property
@given(
    volts=st.floats(20.0, 900.0),
    resistance=st.floats(0.005, 0.5),
    share=st.floats(0.01, 3.0),
    more=st.floats(1.0, 2.0),
)
def test_more_power_always_asks_for_more_current_however_weak_the_pack(
    volts, resistance, share, more
):
    most = volts**2 / (4.0 * resistance)

    def asked(watts: float) -> float:
        return power.demand_current(rest_voltage=volts, power=watts, resistance=resistance)

    assert asked(more * share * most) >= asked(share * most) * (1.0 - 1e-9)
    if share > 1.0:
        assert asked(share * most) >= volts / (2.0 * resistance)


@pytest.mark.arithmetic
def test_joints_add_to_every_string():
    found = pack.pack_resistance(
        series=96,
        parallel=2,
        cell_resistance=1e-3,
        modules=12,
        module_joints=0.2e-3,
        string_joints=5e-3,
        strings=2,
    )
    assert found == pytest.approx(48e-3 + (12 * 0.2e-3 + 5e-3) / 2)


@pytest.mark.property
@given(st.floats(50.0, 900.0), st.floats(1e-3, 0.5), st.floats(0.0, 0.999))
def test_the_current_at_a_power_gives_that_power_back(volts, resistance, share):
    watts = share * volts**2 / (4.0 * resistance)
    current = power.demand_current(rest_voltage=volts, power=watts, resistance=resistance)
    found = power.power_at_current(rest_voltage=volts, current=current, resistance=resistance)
    assert found == pytest.approx(watts, rel=1e-6, abs=1e-9)


@pytest.mark.property
@given(st.floats(2.4, 3.6), st.floats(0.0, 0.3))
def test_a_higher_rest_voltage_never_means_less_charge(volts, more):
    low = soc_at_rest_voltage(ocv=LFP, voltage=volts)
    assert 0.0 <= low <= soc_at_rest_voltage(ocv=LFP, voltage=volts + more) <= 1.0


@pytest.mark.property
@given(st.floats(0.0, 1.0))
def test_the_charge_at_a_rest_voltage_leads_back_to_that_voltage(soc):
    volts = LFP.at(soc)
    assert LFP.at(soc_at_rest_voltage(ocv=LFP, voltage=volts)) == pytest.approx(volts, abs=1e-12)


@pytest.mark.arithmetic
def test_on_a_flat_stretch_the_fuller_end_is_meant():
    assert soc_at_rest_voltage(ocv=LFP, voltage=3.30) == pytest.approx(0.6)


@pytest.mark.arithmetic
def test_an_inverter_limit_keeps_a_pack_from_being_filled():
    # 108 cells on a 365 V inverter: 3.37963 V a cell at rest, and 0.05 V less with 108 A of
    # regeneration through 50 mohm.
    at_rest, braking = (
        soc_at_rest_voltage(ocv=LFP, voltage=(365.0 - 0.05 * current) / 108)
        for current in (0.0, 108.0)
    )
    assert at_rest == pytest.approx(0.9 + 0.1 * (365.0 / 108 - 3.34) / 0.11)
    assert braking == pytest.approx(0.6 + 0.3 * (359.6 / 108 - 3.30) / 0.04)
    assert braking < at_rest


@pytest.mark.arithmetic
def test_a_window_of_ten_to_ninety_per_cent_is_four_fifths():
    assert usable_energy(energy=30.0, low=0.1, high=0.9) == pytest.approx(24.0)
