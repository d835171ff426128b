"""Brake vacuum by Boyle's law: what a stop takes, what is left, how long the pump runs."""

from __future__ import annotations

from math import log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.vehicle import vacuum

AIR = 101325.0
LITRE = 1e-3

volumes = st.floats(0.2, 20.0).map(lambda litres: litres * LITRE)


@pytest.mark.arithmetic
def test_a_stop_takes_an_eighth_of_a_bar_out_of_five_and_a_half_litres():
    lost = vacuum.vacuum_lost(air_pressure=AIR, air_per_stop=0.7 * LITRE, store=5.5 * LITRE)
    assert lost == pytest.approx(12896.0, abs=0.5)
    stops = vacuum.assisted_stops(vacuum=55000.0, least_vacuum=35000.0, vacuum_lost=lost)
    assert stops == pytest.approx(20000.0 / 12895.9, rel=1e-4)


@pytest.mark.arithmetic
def test_a_store_that_has_fallen_below_what_helps_has_no_stop_left():
    assert vacuum.assisted_stops(vacuum=30000.0, least_vacuum=35000.0, vacuum_lost=12000.0) == 0.0


@pytest.mark.arithmetic
def test_half_a_litre_a_second_draws_five_and_a_half_litres_down_in_six_seconds():
    run = vacuum.pump_down_time(
        store=5.5 * LITRE,
        pump_flow=0.5 * LITRE,
        air_pressure=AIR,
        from_vacuum=55000.0,
        to_vacuum=75000.0,
    )
    assert run == pytest.approx(11.0 * log(46325.0 / 26325.0))
    assert run == pytest.approx(6.22, abs=0.005)


@pytest.mark.arithmetic
def test_pumping_in_small_steps_comes_to_the_same_time():
    store, flow, pressure, seconds, step = 5.5 * LITRE, 0.5 * LITRE, AIR - 55000.0, 0.0, 1e-4
    while pressure > AIR - 75000.0:
        pressure -= pressure * flow / store * step
        seconds += step
    run = vacuum.pump_down_time(
        store=store, pump_flow=flow, air_pressure=AIR, from_vacuum=55000.0, to_vacuum=75000.0
    )
    assert run == pytest.approx(seconds, rel=1e-3)


@pytest.mark.property
@given(volumes, volumes, volumes)
def test_a_larger_reservoir_never_leaves_fewer_stops(air: float, one: float, other: float):
    small, large = sorted((one, other))

    def stops(store: float) -> float:
        lost = vacuum.vacuum_lost(air_pressure=AIR, air_per_stop=air, store=store)
        return vacuum.assisted_stops(vacuum=60000.0, least_vacuum=35000.0, vacuum_lost=lost)

    assert stops(small) <= stops(large) * (1.0 + 1e-12)


@pytest.mark.property
@given(volumes, volumes)
def test_the_size_of_the_store_does_not_change_what_the_pump_runs_for_a_stop(one, other):
    def run(store: float) -> float:
        cycle = {"from_vacuum": 55000.0, "to_vacuum": 75000.0}
        lost = vacuum.vacuum_lost(air_pressure=AIR, air_per_stop=0.7 * LITRE, store=store)
        whole = vacuum.pump_down_time(store=store, pump_flow=0.5 * LITRE, air_pressure=AIR, **cycle)
        return vacuum.pump_time_per_stop(pump_down_time=whole, vacuum_lost=lost, **cycle)

    assert run(one) == pytest.approx(run(other))
    assert run(one) == pytest.approx(4.01, abs=0.005)


@pytest.mark.arithmetic
def test_a_run_of_four_seconds_every_forty_is_a_duty_of_a_tenth():
    assert vacuum.share_of_interval(time=4.0, interval=40.0) == pytest.approx(0.1)


@pytest.mark.arithmetic
def test_a_pump_reaches_less_where_the_air_is_thin():
    assert vacuum.reachable_vacuum(air_pressure=100000.0, share=0.87) == pytest.approx(87000.0)
    assert vacuum.reachable_vacuum(air_pressure=74000.0, share=0.87) == pytest.approx(64380.0)
