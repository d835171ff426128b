"""Laws that hold for any car on any trace."""

from __future__ import annotations

import numpy as np
import plain_car
import pytest
from energy_balance import worst
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from swapwright.physics.drive.drive_step import Regen
from swapwright.simulate.demand import MOTOR_SPEED
from swapwright.simulate.inputs import EMPTY_LEDGER, Setup
from swapwright.simulate.run import (
    COLUMNS,
    NO_GRADE,
    drive_trace,
    fresh,
    full_throttle,
    run_recorded,
    run_until_empty,
)

pytestmark = pytest.mark.property

UDDS = plain_car.trace("udds")
US06 = plain_car.trace("us06")
some = settings(max_examples=40, deadline=None)


@st.composite
def cars(draw: st.DrawFn) -> Setup:
    """Draw a car: one or two units, up to three gears, strong or weak, mild or cold."""
    mass = draw(st.floats(700.0, 3000.0))
    return plain_car.car(
        body=plain_car.body(
            mass=mass,
            rolling_mass=mass * draw(st.floats(1.0, 1.08)),
            a=mass * 9.80665 * draw(st.floats(0.006, 0.02)),
            b=draw(st.floats(0.0, 3.0)),
            c=draw(st.floats(0.2, 1.0)),
            headwind=draw(st.floats(0.0, 10.0)),
            drive_force_limit=draw(st.floats(1500.0, 9000.0)),
            auxiliary_power=draw(st.floats(0.0, 3000.0)),
        ),
        regen=Regen(draw(st.floats(0.0, 1.0)), draw(st.floats(0.0, 6000.0)), 0.5, 0.97, 273.15),
        drive=plain_car.drive(
            gears=draw(st.integers(1, 3)),
            units=draw(st.integers(1, 2)),
            peak_power=draw(st.floats(15e3, 150e3)),
            inertia=draw(st.floats(0.0, 0.1)),
        ),
        pack=plain_car.pack(
            parallel=draw(st.sampled_from([1.0, 2.0])), current_limit=draw(st.floats(60.0, 400.0))
        ),
        ambient=draw(st.floats(258.0, 318.0)),
    )


@some
@given(car=cars(), soc=st.floats(0.2, 0.95), trace=st.sampled_from([UDDS, US06]))
def test_energy_is_conserved_in_any_car(car, soc, trace):
    before = fresh(car, soc=soc)
    after, book = drive_trace(car, before, trace)
    assert worst(car, before, after, book) < 1e-6


@st.composite
def odd_cars(draw: st.DrawFn) -> Setup:
    """Draw a car at the edge of sense: a tiny pack, deep cold, a gale, hardly any brakes."""
    plain = draw(cars())
    capacity = 3600.0 * draw(st.sampled_from([0.3, 2.0, 5.0, 60.0]))
    return plain._replace(
        body=plain.body._replace(
            headwind=draw(st.floats(-60.0, 60.0)),
            drive_force_limit=draw(st.floats(200.0, 9000.0)),
            brake_force_limit=draw(st.floats(300.0, 12000.0)),
            auxiliary_power=draw(st.floats(0.0, 8000.0)),
        ),
        cells=plain_car.cells(c1=draw(st.floats(300.0, 3e4)), c2=draw(st.floats(3e3, 3e5))),
        pack=plain.pack._replace(
            series=draw(st.sampled_from([12.0, 96.0])),
            capacity=capacity,
            per_capacity=1.0 / capacity,
            min_voltage=draw(st.sampled_from([2.0, 2.7, 3.2])),
        ),
        ambient=draw(st.floats(233.15, 328.15)),
    )


@settings(max_examples=150, deadline=None)
@given(
    car=odd_cars(),
    soc=st.floats(0.0, 1.0),
    start=st.floats(0.0, 70.0),
    speeds=st.lists(st.floats(0.0, 60.0), min_size=3, max_size=12),
    grade=st.floats(-0.7, 0.7),
    dt=st.sampled_from([0.05, 1.0, 5.0]),
)
def test_the_oddest_car_never_rolls_back_and_loses_no_joule(car, soc, start, speeds, grade, dt):
    speeds = np.repeat(speeds, 12)
    out = np.zeros((len(speeds) - 1, len(COLUMNS)))
    before = fresh(car, soc=soc, speed=start)
    after, book = run_recorded(car, before, speeds, np.full(len(out), grade), dt, out)
    assert np.all(np.isfinite([*after, *book]))
    assert np.all(np.isfinite(out))
    assert np.all(out[:, COLUMNS.index("speed")] >= 0.0)
    assert worst(car, before, after, book) < 1e-6


@some
@given(
    start=st.floats(0.0, 80.0),
    target=st.floats(0.0, 80.0),
    limit=st.floats(1000.0, 12000.0),
    gears=st.integers(1, 3),
)
def test_a_car_above_its_motors_speed_comes_down_inside_its_brakes(start, target, limit, gears):
    """At 435 rad/s through 29 rad/s a m/s the lowest gear ends at 15 m/s."""
    car = plain_car.car(
        body=plain_car.body(brake_force_limit=limit),
        drive=plain_car.drive(gears=gears, max_speed=435.0),
    )
    out = np.zeros((60, len(COLUMNS)))
    before = fresh(car, soc=0.8, speed=start)._replace(gear=gears - 1.0)
    after, book = run_recorded(car, before, np.full(61, target), NO_GRADE, 1.0, out)
    reached = out[:, COLUMNS.index("speed")]
    fastest = 15.0 * 1.6 ** (gears - 1)
    assert np.all(reached >= 0.0)
    assert np.all(reached <= max(start, fastest))
    assert np.all(out[:, COLUMNS.index("wheel_force")] >= -limit * (1.0 + 1e-3))
    assert worst(car, before, after, book) < 1e-6
    if target > fastest:
        assert after.limit == MOTOR_SPEED
        assert after.speed < max(fastest, start)


@some
@given(car=cars(), soc=st.floats(0.2, 0.95), trace=st.sampled_from([UDDS, US06]))
def test_current_and_voltage_stay_inside_their_limits(car, soc, trace):
    _, book = drive_trace(car, fresh(car, soc=soc), trace)
    pack = car.pack
    warm = min(max((car.ambient + 40.0 - 243.15) / 50.0, 0.0), 1.0)
    most = min(400.0 * warm, pack.current_limit) * pack.parallel
    assert book.max_current <= most * 1.005
    assert book.max_charge_current <= most * 1.005
    assert book.min_volts >= pack.min_voltage * pack.series * 0.995
    assert book.max_volts <= pack.max_voltage * pack.series * 1.005


@some
@given(car=cars(), more=st.floats(1.02, 1.5))
def test_more_mass_never_takes_less_energy_on_a_level_cycle(car, more):
    body = car.body
    heavy = car._replace(
        body=body._replace(
            mass=body.mass * more, rolling_mass=body.rolling_mass * more, a=body.a * more
        )
    )
    _, light_book = drive_trace(car, fresh(car, soc=0.9), UDDS)
    _, heavy_book = drive_trace(heavy, fresh(heavy, soc=0.9), UDDS)
    assume(heavy_book.shortfall == 0.0)
    assert heavy_book.terminal_out - heavy_book.terminal_in > (
        light_book.terminal_out - light_book.terminal_in
    )


@some
@given(car=cars(), wind=st.floats(0.5, 10.0))
def test_a_headwind_never_helps(car, wind):
    calm = car._replace(body=car.body._replace(headwind=0.0))
    windy = car._replace(body=car.body._replace(headwind=wind))
    _, calm_book = drive_trace(calm, fresh(calm, soc=0.9), UDDS)
    _, windy_book = drive_trace(windy, fresh(windy, soc=0.9), UDDS)
    assume(windy_book.shortfall == 0.0)
    assert windy_book.terminal_out - windy_book.terminal_in > (
        calm_book.terminal_out - calm_book.terminal_in
    )


@settings(max_examples=10, deadline=None)
@given(cold=st.floats(256.0, 288.0))
def test_a_colder_pack_never_goes_further_and_never_pulls_harder(cold):
    mild = plain_car.car(regen=Regen(0.75, 3000.0, 0.5, 0.97, 273.15))
    chilled = mild._replace(ambient=cold)
    reached, gone = [], []
    for car in (mild, chilled):
        _, book, _ = run_until_empty(car, fresh(car, soc=0.9), UDDS, 1.0, 60_000)
        gone.append(book.distance)
        out = np.zeros((160, len(COLUMNS)))
        state, _, _ = full_throttle(car, fresh(car, soc=0.5), 0.0, 0.05, 99.0, 1e9, out)
        reached.append(state.speed)
    assert gone[1] < gone[0]
    assert reached[1] <= reached[0] + 1e-9


@pytest.mark.parametrize("points", [0, 1])
def test_a_trace_of_no_length_takes_nothing(points):
    car = plain_car.car()
    before = fresh(car, soc=0.9)
    after, book = drive_trace(car, before, np.zeros(points))
    assert after == before
    assert book == EMPTY_LEDGER


@some
@given(car=cars())
def test_a_car_that_falls_behind_says_so(car):
    weak = car._replace(drive=plain_car.drive(peak_power=8e3))
    _, book = drive_trace(weak, fresh(weak, soc=0.9), US06)
    asked = float(np.sum(0.5 * (US06[1:] + US06[:-1])))
    assert book.distance < asked
    assert book.shortfall > 0.0
    assert book.limit > 0.0


@some
@given(car=cars())
def test_a_car_that_keeps_up_covers_the_whole_trace(car):
    _, book = drive_trace(car, fresh(car, soc=0.9), UDDS)
    assume(book.shortfall == 0.0)
    asked = float(np.sum(0.5 * (UDDS[1:] + UDDS[:-1])))
    assert book.distance == pytest.approx(asked, rel=1e-12)


def test_brakes_that_cannot_follow_count_as_shortfall():
    car = plain_car.car(body=plain_car.body(brake_force_limit=1500.0))
    _, book = drive_trace(car, fresh(car, soc=0.9), US06)
    assert book.shortfall > 0.0


def test_a_full_or_cold_pack_takes_no_braking_energy():
    warm = plain_car.car(body=plain_car.body(auxiliary_power=0.0))
    full = warm._replace(regen=warm.regen._replace(max_soc=0.5))
    cold = warm._replace(ambient=263.15)
    taken = [
        drive_trace(car, fresh(car, soc=0.6), UDDS[:300])[1].terminal_in
        for car in (warm, full, cold)
    ]
    assert taken[0] > 1e4
    assert taken[1:] == pytest.approx([0.0, 0.0], abs=1e-6)
