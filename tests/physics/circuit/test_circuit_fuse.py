"""Dc fuses: worked numbers of the trade, and what must hold of any fuse on any fault."""

from __future__ import annotations

from itertools import pairwise
from math import inf, isclose, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import nnls

from swapwright.base.table import Line
from swapwright.catalogue.read import Catalogue
from swapwright.physics.circuit import fault_current, fuse, fuse_melting
from swapwright.standards import fuses

CATALOGUE = Catalogue()
CELSIUS = 273.15
GENERIC = fuses.GENERIC_MELTING
# 96 cells of 1 mohm and 20 mohm of loop at 355 V, 5 uH around it.
VOLTS, OHMS, HENRY = 355.0, 96 * 1e-3 + 0.020, 5e-6
PROSPECTIVE = fault_current.prospective_current(voltage=VOLTS, resistance=OHMS)
TAU = fault_current.time_constant(inductance=HENRY, resistance=OHMS)


def curve_of(name: str) -> tuple[tuple[float, ...], tuple[float, ...]]:
    table = CATALOGUE.get("fuse", name).tables["melting"]
    assert isinstance(table, Line)
    return table.x, table.y


CURVES = {name: curve_of(name) for name in CATALOGUE.names("fuse")}
CURVES["generic, of 200 A"] = tuple(200.0 * m for m in GENERIC.multiples), GENERIC.times
every_curve = pytest.mark.parametrize("name", CURVES)


def melt_share(currents, step, constants, weights):
    """Return, after each step of a current, how far a cold fuse is on its way to melting."""
    heated = np.zeros(len(constants))
    kept = np.exp(-step / np.array(constants))
    shares = []
    for current in currents:
        heated = heated * kept + current**2 * np.array(weights) * (1.0 - kept)
        shares.append(heated.sum())
    return np.array(shares)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("limit", "reference", "factor"), [(130.0, 25.0, 0.7559), (130.0, 30.0, 0.7746)]
)
def test_70_degrees_around_a_fuse_take_a_quarter_of_it(limit, reference, factor):
    found = fuse.ambient_factor(
        ambient=70.0 + CELSIUS, reference=reference + CELSIUS, limit=limit + CELSIUS
    )
    assert found == pytest.approx(factor, abs=5e-5)


@pytest.mark.arithmetic
def test_air_hotter_than_its_limit_leaves_a_fuse_nothing():
    hot = {"reference": 298.15, "limit": 403.15}
    assert fuse.ambient_factor(ambient=410.0, **hot) == 0.0
    assert fuse.least_rating(current=100.0, ambient_factor=0.0, cyclic_factor=0.8) == inf


@pytest.mark.arithmetic
@pytest.mark.parametrize(("amps", "cyclic", "rating"), [(200.0, 0.8, 330.7), (248.7, 0.7, 470.0)])
def test_a_duty_at_70_degrees_asks_for_its_rating(amps, cyclic, rating):
    factor = fuse.ambient_factor(
        ambient=343.15,
        reference=fuses.RATING_TEMPERATURE.si,
        limit=fuses.MELT_LIMIT_TEMPERATURE.si,
    )
    factors = {"ambient_factor": factor, "cyclic_factor": cyclic}
    assert fuse.least_rating(current=amps, **factors) == pytest.approx(rating, abs=0.06)
    assert fuse.continuous_current(rating=rating, **factors) == pytest.approx(amps, rel=1e-3)


@pytest.mark.arithmetic
def test_a_warm_96_cell_pack_shorts_at_3060_amps_within_43_microseconds():
    assert pytest.approx(3060.0, abs=0.5) == PROSPECTIVE
    assert pytest.approx(43.1e-6, abs=0.05e-6) == TAU


@pytest.mark.arithmetic
@pytest.mark.parametrize(("time", "i2t"), [(1e-3, 8760.0), (5e-3, 46_223.0), (10e-3, 93_052.0)])
def test_the_rising_fault_brings_its_i2t(time, i2t):
    found = fault_current.fault_i2t(prospective=PROSPECTIVE, time_constant=TAU, time=time)
    assert found == pytest.approx(i2t, abs=0.6)


@pytest.mark.arithmetic
def test_a_20_000_link_melts_after_2_2_milliseconds_of_that_fault():
    melted = fuse_melting.melting_time_on_fault(
        prospective=PROSPECTIVE, time_constant=TAU, pre_arcing_i2t=20e3
    )
    assert melted == pytest.approx(2.200e-3, abs=0.5e-6)


@pytest.mark.arithmetic
def test_clearing_60_000_takes_3_percent_of_what_10_square_millimetres_stand():
    withstand = (143.0 * 10.0) ** 2
    share = fuse.i2t_share(let_through=60e3, withstand=withstand)
    assert share == pytest.approx(0.0293, abs=5e-5)


@pytest.mark.property
@given(
    prospective=st.floats(10.0, 5e4),
    constant=st.floats(1e-5, 0.02),
    share=st.floats(1e-3, 50.0),
)
def test_the_i2t_of_a_fault_is_the_integral_of_its_squared_current(prospective, constant, share):
    time = share * constant

    def squared(moment: float) -> float:
        return (
            fault_current.fault_current(
                prospective=prospective, time_constant=constant, time=moment
            )
            ** 2
        )

    found = fault_current.fault_i2t(prospective=prospective, time_constant=constant, time=time)
    assert found == pytest.approx(quad(squared, 0.0, time, epsrel=1e-10)[0], rel=1e-7)


@pytest.mark.property
@given(
    prospective=st.floats(500.0, 3e4),
    constant=st.floats(1e-5, 0.02),
    longer=st.floats(1.0, 10.0),
    needed=st.floats(10.0, 1e6),
    bigger=st.floats(1.0, 10.0),
)
def test_a_bigger_fuse_lets_no_less_through_and_a_slower_rise_melts_none_sooner(
    prospective, constant, longer, needed, bigger
):
    def melted(i2t: float, rise: float) -> float:
        return fuse_melting.melting_time_on_fault(
            prospective=prospective, time_constant=rise, pre_arcing_i2t=i2t
        )

    time = melted(needed, constant)
    fault = {"prospective": prospective, "time_constant": constant}
    assert fault_current.fault_i2t(time=time, **fault) == pytest.approx(needed, rel=1e-9)
    later = melted(bigger * needed, constant)
    assert later >= time * (1.0 - 1e-12)
    peak = fault_current.fault_current(time=time, **fault)
    assert fault_current.fault_current(time=later, **fault) >= peak * (1.0 - 1e-12)
    assert melted(needed, longer * constant) >= time * (1.0 - 1e-12)


@pytest.mark.property
@given(
    name=st.sampled_from(sorted(CURVES)),
    first=st.floats(0.5, 60.0),
    more=st.floats(1.0, 5.0),
    constant=st.floats(1e-5, 5e-3),
)
def test_more_current_melts_a_fuse_no_later(name, first, more, constant):
    currents, times = CURVES[name]
    pair = {"currents": currents, "times": times}
    low, high = first * currents[0], more * first * currents[0]
    steady = fuse_melting.melting_time(current=low, **pair)
    assert fuse_melting.melting_time(current=high, **pair) <= steady * (1.0 + 1e-12)
    needed = currents[-1] ** 2 * times[-1]
    rising = [
        fuse_melting.melting_time_on_fault(
            prospective=current, time_constant=constant, pre_arcing_i2t=needed, **pair
        )
        for current in (low, high)
    ]
    assert rising[1] <= rising[0] * (1.0 + 1e-12)
    assert rising[0] >= steady * (1.0 - 1e-9)


@pytest.mark.property
@given(name=st.sampled_from(sorted(CURVES)), time=st.floats(1e-4, 3599.0))
def test_the_current_that_melts_in_a_time_melts_in_that_time(name, time):
    currents, times = CURVES[name]
    pair = {"currents": currents, "times": times}
    current = fuse_melting.melting_current(time=time, **pair)
    assert fuse_melting.melting_time(current=current, **pair) == pytest.approx(time, rel=1e-9)


@pytest.mark.arithmetic
def test_a_curve_is_read_at_its_points_between_them_and_outside():
    pair = {"currents": (100.0, 400.0), "times": (1000.0, 0.1)}
    assert fuse_melting.melting_time(current=99.9, **pair) == inf
    assert fuse_melting.melting_time(current=100.0, **pair) == pytest.approx(1000.0)
    assert fuse_melting.melting_time(current=200.0, **pair) == pytest.approx(10.0)
    assert fuse_melting.melting_time(current=800.0, **pair) == pytest.approx(0.025)
    assert fuse_melting.melting_current(time=10.0, **pair) == pytest.approx(200.0)
    assert fuse_melting.melting_current(time=0.025, **pair) == pytest.approx(800.0)
    assert fuse_melting.melting_current(time=1e5, **pair) == 100.0
    fault = {"time_constant": 1e-3, "pre_arcing_i2t": 16e3, **pair}
    assert fuse_melting.melting_time_on_fault(prospective=99.0, **fault) == inf
    assert fuse_melting.melting_time_on_fault(prospective=200.0, **fault) == pytest.approx(
        10.0, rel=1e-3
    )


@pytest.mark.arithmetic
def test_a_slow_fuse_of_its_make_takes_a_tenth_more_current_and_then_arcs():
    pair = {"currents": (100.0, 400.0), "times": (1000.0, 0.1)}
    slow = fuse_melting.clearing_time(current=220.0, tolerance=0.10, arc_time=0.5, **pair)
    assert slow == pytest.approx(10.5)
    assert fuse_melting.clearing_time(current=109.0, tolerance=0.10, **pair) == inf
    arc = fuse.arcing_time(clearing_i2t=60e3, pre_arcing_i2t=20e3, current=2000.0)
    assert arc == pytest.approx(0.010)


@every_curve
@pytest.mark.arithmetic
def test_the_melt_model_gives_back_the_curve_it_was_made_from(name):
    currents, times = CURVES[name]
    constants, weights = fuse_melting.melting_model(currents=currents, times=times)
    assert all(weight > 0.0 for weight in weights)
    assert all(a < b for a, b in pairwise(constants))
    for current, time in zip(currents, times, strict=True):
        share = current**2 * sum(
            w * (1.0 - np.exp(-time / tau)) for tau, w in zip(constants, weights, strict=True)
        )
        assert 1.0 / sqrt(share) == pytest.approx(1.0, abs=0.08)


@every_curve
@pytest.mark.arithmetic
def test_the_melt_models_weights_are_those_an_independent_solver_finds(name):
    currents, times = CURVES[name]
    steps = np.interp(
        np.arange(len(times) - 0.9, step=0.25), range(len(times)), np.log(times[::-1])
    )
    amps = np.exp(np.interp(steps, np.log(times[::-1]), np.log(currents[::-1])))
    decades = np.log10(times[0] / times[-1])
    grid = np.geomspace(times[-1] / 3.0, times[0], round(1.5 * decades) + 2)
    columns = amps[:, None] ** 2 * (1.0 - np.exp(-np.exp(steps)[:, None] / grid))
    miss = nnls(columns * currents[0] ** -2, np.ones(len(steps)))[1]
    constants, weights = fuse_melting.melting_model(currents=currents, times=times)
    ours = amps[:, None] ** 2 * (1.0 - np.exp(-np.exp(steps)[:, None] / np.array(constants)))
    assert np.linalg.norm(ours @ np.array(weights) - 1.0) == pytest.approx(miss, rel=1e-5)


@pytest.mark.property
@given(
    name=st.sampled_from(sorted(CURVES)), multiple=st.floats(1.1, 3.0), rest=st.floats(0.0, 200.0)
)
def test_a_fuse_that_is_still_warm_melts_sooner(name, multiple, rest):
    currents, times = CURVES[name]
    model = fuse_melting.melting_model(currents=currents, times=times)
    amps = multiple * currents[0]
    pulse, pause = np.full(20, amps), np.zeros(round(rest) + 1)
    shares = melt_share(np.concatenate([pulse, pause, pulse]), 1.0, *model)
    assert shares[-1] >= shares[19]
    assert all(b <= a for a, b in pairwise(shares[19 : 20 + len(pause)]))


@every_curve
@pytest.mark.arithmetic
def test_a_steady_current_melts_the_model_when_the_curve_says(name):
    currents, times = CURVES[name]
    model = fuse_melting.melting_model(currents=currents, times=times)
    at = fuse_melting.melting_current(time=30.0, currents=currents, times=times)
    below, above = (melt_share(np.full(60, share * at), 0.5, *model)[-1] for share in (0.92, 1.08))
    assert below < 1.0 < above


@pytest.mark.arithmetic
def test_a_fuse_keeps_its_voltage_to_2_milliseconds_and_claims_nothing_past_the_table():
    table = fuses.VOLTAGE_BY_TIME_CONSTANT
    pair = {"times": table.times, "factors": table.factors}
    assert fuse.voltage_factor(time_constant=43e-6, **pair) == 1.0
    assert fuse.voltage_factor(time_constant=2e-3, **pair) == 1.0
    assert fuse.voltage_factor(time_constant=15e-3, **pair) == 0.5
    assert fuse.voltage_factor(time_constant=16e-3, **pair) == 0.0
    assert fuse.permitted_voltage(voltage=500.0, factor=0.85) == pytest.approx(425.0)


@pytest.mark.property
@given(st.floats(0.0, 0.03), st.floats(0.0, 0.01))
def test_a_slower_circuit_never_allows_more_volts(constant, more):
    table = fuses.VOLTAGE_BY_TIME_CONSTANT
    pair = {"times": table.times, "factors": table.factors}
    quick = fuse.voltage_factor(time_constant=constant, **pair)
    assert fuse.voltage_factor(time_constant=constant + more, **pair) <= quick


@pytest.mark.arithmetic
def test_small_numbers_of_a_fuse():
    assert fuse.cold_resistance(rating=200.0, drop=0.08) == pytest.approx(0.4e-3)
    assert fuse.clearing_i2t(pre_arcing_i2t=15e3, arcing_factor=3.0) == pytest.approx(45e3)
    assert fuse.pulse_share(current=256.0, melting_current=535.0) == pytest.approx(0.4785, abs=1e-4)
    ratio = fuse.discrimination_ratio(branch_clearing_i2t=2.2e3, main_pre_arcing_i2t=14.1e3)
    assert isclose(ratio, 0.156, abs_tol=5e-4)
    link = fault_current.discharge_i2t(capacitance=1e-3, voltage=400.0, resistance=0.060)
    assert link == pytest.approx(1333.0, abs=0.5)


@pytest.mark.arithmetic
def test_a_curve_that_stops_after_half_a_minute_makes_a_model_too():
    currents, times = (300.0, 420.0, 700.0, 1500.0), (30.0, 5.0, 0.4, 0.01)
    constants, weights = fuse_melting.melting_model(currents=currents, times=times)
    for current, time in zip(currents, times, strict=True):
        share = melt_share([current], time, constants, weights)[-1]
        assert 1.0 / sqrt(share) == pytest.approx(1.0, abs=0.03)
