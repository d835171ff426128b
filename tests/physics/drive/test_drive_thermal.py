from __future__ import annotations

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from swapwright.physics.drive.thermal import (
    conductance_from_continuous,
    heat_capacity_from_peak,
    steady_temperature,
    time_to_limit,
)

AMBIENT, LIMIT = 298.15, 428.15


def lump(peak_loss=9000.0, peak_time=30.0):
    conductance = conductance_from_continuous(
        continuous_loss=1300.0, max_temperature=LIMIT, ambient=AMBIENT
    )
    capacity = heat_capacity_from_peak(
        peak_loss=peak_loss,
        peak_time=peak_time,
        conductance=conductance,
        start=AMBIENT,
        max_temperature=LIMIT,
        ambient=AMBIENT,
    )
    return conductance, capacity


@pytest.mark.arithmetic
def test_1300_watts_over_130_kelvin_are_10_watts_a_kelvin():
    assert lump()[0] == pytest.approx(10.0)
    assert steady_temperature(loss=1300.0, conductance=10.0, ambient=AMBIENT) == pytest.approx(
        LIMIT
    )


@pytest.mark.arithmetic
def test_the_lump_made_from_the_ratings_gives_the_peak_time_back():
    conductance, capacity = lump()
    time = time_to_limit(
        loss=9000.0,
        conductance=conductance,
        heat_capacity=capacity,
        start=AMBIENT,
        max_temperature=LIMIT,
        ambient=AMBIENT,
    )
    assert time == pytest.approx(30.0)


@pytest.mark.arithmetic
def test_an_integration_over_the_time_to_the_limit_ends_at_the_limit():
    conductance, capacity = lump()
    time = time_to_limit(
        loss=4000.0,
        conductance=conductance,
        heat_capacity=capacity,
        start=310.0,
        max_temperature=LIMIT,
        ambient=AMBIENT,
    )
    run = solve_ivp(
        lambda _, t: (4000.0 - conductance * (t - AMBIENT)) / capacity,
        (0.0, time),
        [310.0],
        rtol=1e-10,
        atol=1e-8,
    )
    assert run.y[0, -1] == pytest.approx(LIMIT, abs=1e-5)


@pytest.mark.arithmetic
def test_a_loss_that_settles_below_the_limit_may_last_for_ever_and_a_hot_motor_not_at_all():
    lumped = {"conductance": 10.0, "heat_capacity": 2000.0, "ambient": AMBIENT}
    held = {"max_temperature": LIMIT, **lumped}
    assert time_to_limit(loss=1299.0, start=AMBIENT, **held) == inf
    assert time_to_limit(loss=5000.0, start=LIMIT, **held) == 0.0


@pytest.mark.property
@given(st.floats(1500.0, 2e4), st.floats(1.01, 2.0))
def test_more_loss_never_lasts_longer(loss, more):
    def lasts(watts):
        return time_to_limit(
            loss=watts,
            conductance=10.0,
            heat_capacity=2000.0,
            start=AMBIENT,
            max_temperature=LIMIT,
            ambient=AMBIENT,
        )

    assert lasts(loss * more) < lasts(loss)
