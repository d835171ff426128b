"""Axle loads, the place of the centre of gravity and load transfer."""

from __future__ import annotations

from math import fsum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.vehicle import weight

WHEELBASE = 2.40
DONOR = (1100.0, 480.0 * WHEELBASE / 1100.0)
LEDGER = (  # kg, m behind the front axle
    DONOR,
    (-135.0, 0.05),  # engine and gearbox out
    (-25.0, 0.35),  # exhaust out
    (-35.0, 2.75),  # tank and fuel out
    (-12.0, 0.30),  # radiator out
    (75.0, 0.10),  # motor and inverter
    (95.0, -0.05),  # front pack
    (130.0, 2.55),  # rear pack
    (18.0, 0.20),  # charger and converter
)


def axle_loads(rows) -> tuple[float, float]:
    front = fsum(weight.front_axle_part(mass=m, x=x, wheelbase=WHEELBASE) for m, x in rows)
    rear = fsum(weight.rear_axle_part(mass=m, x=x, wheelbase=WHEELBASE) for m, x in rows)
    return front, rear


@pytest.mark.arithmetic
def test_a_conversions_ledger_gives_its_axle_loads_and_centre_of_gravity():
    front, rear = axle_loads(LEDGER)
    total = fsum(m for m, _ in LEDGER)
    assert total == pytest.approx(1211.0, abs=1e-9)
    assert front == pytest.approx(638.29, abs=0.005)
    assert rear == pytest.approx(572.71, abs=0.005)
    assert weight.axle_share(axle_load=front, mass=total) == pytest.approx(0.5271, abs=0.5e-4)
    x = weight.cg_x(rear_axle_load=rear, mass=total, wheelbase=WHEELBASE)
    assert x == pytest.approx(1.1350, abs=0.5e-4)


@pytest.mark.arithmetic
def test_four_tenths_of_gravity_move_125_kg_to_the_rear():
    moved = weight.load_transfer(
        mass=1500.0, acceleration=0.4 * 9.80665, cg_height=0.52, wheelbase=2.50
    )
    assert moved == pytest.approx(124.8, abs=0.05)
    assert moved * 9.80665 == pytest.approx(1223.9, abs=0.05)


rows = st.lists(st.tuples(st.floats(-300.0, 2000.0), st.floats(-1.0, 5.0)), max_size=20)


@pytest.mark.property
@given(rows)
def test_the_axles_together_carry_the_whole_car(rows):
    front, rear = axle_loads(rows)
    assert front + rear == pytest.approx(fsum(m for m, _ in rows), abs=1e-6)


@pytest.mark.property
@given(st.floats(1.0, 500.0), st.floats(-1.0, 4.0), st.floats(0.01, 1.0))
def test_moving_a_mass_back_loads_the_rear_axle(mass, x, further):
    there = weight.rear_axle_part(mass=mass, x=x + further, wheelbase=WHEELBASE)
    assert there > weight.rear_axle_part(mass=mass, x=x, wheelbase=WHEELBASE)


@pytest.mark.property
@given(st.floats(300.0, 4000.0), st.floats(0.1, 5.0))
def test_a_mass_behind_the_rear_axle_lightens_the_front(mass, overhang):
    x = WHEELBASE + overhang
    assert weight.front_axle_part(mass=mass, x=x, wheelbase=WHEELBASE) < 0.0
    assert weight.rear_axle_part(mass=mass, x=x, wheelbase=WHEELBASE) > mass


@pytest.mark.property
@given(st.floats(300.0, 4000.0), st.floats(0.0, 2.4))
def test_the_centre_of_gravity_of_one_mass_is_where_it_lies(mass, x):
    rear = weight.rear_axle_part(mass=mass, x=x, wheelbase=WHEELBASE)
    assert weight.cg_x(rear_axle_load=rear, mass=mass, wheelbase=WHEELBASE) == pytest.approx(x)
