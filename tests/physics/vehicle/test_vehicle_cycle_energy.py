"""Wheel energy over the city and highway cycles, for eight cars of the public test lists."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.quantity import parse
from swapwright.physics.vehicle.cycle_energy import cycle_energy
from swapwright.standards.cycles import cycle

WH_PER_MILE = 3600.0 / 1609.344
ROWS = Path(__file__).with_name("electric_test_cars.csv").read_text(encoding="utf-8").splitlines()
CARS = tuple(csv.DictReader(row for row in ROWS if not row.startswith("#")))
EVERY_CAR = pytest.mark.parametrize("car", CARS, ids=[car["vehicle"] for car in CARS])


def wheel_energy(car, speeds):
    return cycle_energy(
        speeds,
        a=parse(f"{car['a']} lbf", "force").si,
        b=parse(f"{car['b']} lbf/mph", "force_per_speed").si,
        c=parse(f"{car['c']} lbf/mph^2", "force_per_speed_square").si,
        effective_mass=parse(f"{car['weight']} lb", "mass").si,
    )


@pytest.mark.arithmetic
@EVERY_CAR
@pytest.mark.parametrize(("name", "column"), [("udds", "city"), ("hwfet", "highway")])
def test_a_cars_wheel_energy_is_the_tables_to_half_a_percent(car, name, column):
    found = wheel_energy(car, cycle(name).speeds)
    per_mile = found.distance * WH_PER_MILE
    for part in ("traction", "braking", "net"):
        expected = float(car[f"{column}_{part}"])
        # the table prints tenths, which is all there is of the smallest braking energies
        assert getattr(found, part) / per_mile == pytest.approx(expected, rel=0.005, abs=0.051)


@pytest.mark.arithmetic
@EVERY_CAR
@pytest.mark.parametrize("name", ["udds", "hwfet", "us06", "wltc-3b"])
def test_between_two_stops_the_road_keeps_exactly_its_own_load(car, name):
    """Kinetic energy closes: net equals the integral of A + B v + C v^2 over the distance."""
    speeds = np.asarray(cycle(name).speeds)
    middle = (speeds[1:] + speeds[:-1]) / 2.0
    a, b, c = (
        parse(f"{car['a']} lbf", "force").si,
        parse(f"{car['b']} lbf/mph", "force_per_speed").si,
        parse(f"{car['c']} lbf/mph^2", "force_per_speed_square").si,
    )
    road = float(((a + b * middle + c * middle**2) * middle).sum())
    assert wheel_energy(car, speeds).net == pytest.approx(road, rel=1e-3)


@pytest.mark.arithmetic
def test_a_steady_speed_takes_force_times_distance():
    found = cycle_energy([20.0] * 101, a=200.0, b=1.0, c=0.4, effective_mass=1500.0)
    assert found.distance == pytest.approx(2000.0)
    assert found.duration == 100.0
    assert found.mean_speed == pytest.approx(20.0)
    assert found.traction == pytest.approx((200.0 + 20.0 + 160.0) * 2000.0)
    assert found.braking == 0.0


@pytest.mark.arithmetic
def test_a_stop_from_speed_gives_its_kinetic_energy_to_the_brakes():
    found = cycle_energy([20.0, 10.0, 0.0], a=0.0, b=0.0, c=0.0, effective_mass=1500.0, step=2.0)
    assert found.braking == pytest.approx(0.5 * 1500.0 * 20.0**2)
    assert found.distance == pytest.approx(40.0)
    assert found.duration == 4.0


@pytest.mark.arithmetic
def test_a_trace_of_one_point_is_refused():
    with pytest.raises(ValueError, match="at least two speeds"):
        cycle_energy([0.0], a=1.0, b=0.0, c=0.4, effective_mass=1000.0)


traces = st.lists(st.floats(0.0, 40.0), min_size=2, max_size=60)
CAR = {"a": 150.0, "b": 1.0, "c": 0.45}


@pytest.mark.property
@given(traces, st.floats(500.0, 4000.0), st.floats(1.0, 500.0))
def test_from_rest_more_mass_never_uses_less_traction_energy(trace, mass, more):
    heavy = cycle_energy([0.0, *trace], effective_mass=mass + more, **CAR).traction
    light = cycle_energy([0.0, *trace], effective_mass=mass, **CAR).traction
    assert heavy >= light * (1.0 - 1e-12)


@pytest.mark.property
@given(traces, st.floats(500.0, 4000.0), st.floats(0.5, 3.0))
def test_the_energy_account_closes(trace, mass, step):
    found = cycle_energy(trace, effective_mass=mass, step=step, **CAR)
    v = np.asarray(trace)
    middle = (v[1:] + v[:-1]) / 2.0
    road = float(((150.0 + middle + 0.45 * middle**2) * middle).sum()) * step
    gained = 0.5 * mass * (v[-1] ** 2 - v[0] ** 2)
    largest = max(found.traction, found.braking, road, 1.0)
    assert found.net - road - gained == pytest.approx(0.0, abs=1e-9 * largest)


@pytest.mark.property
@given(st.integers(2, 50), st.floats(500.0, 4000.0))
def test_standing_still_costs_nothing(seconds, mass):
    found = cycle_energy([0.0] * seconds, effective_mass=mass, **CAR)
    assert (found.traction, found.braking, found.distance) == (0.0, 0.0, 0.0)
