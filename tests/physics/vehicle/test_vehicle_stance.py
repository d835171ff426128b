"""How a car stands: height of its weight, corners, springs, and what holds its pack boxes."""

from __future__ import annotations

from math import fsum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.vehicle import corner, height, restraint, spring

LEDGER = (  # kg, m above the road
    (1100.0, 0.54),  # the donor
    (-135.0, 0.55),  # engine and gearbox out
    (-25.0, 0.40),  # exhaust out
    (-35.0, 0.45),  # tank and fuel out
    (-12.0, 0.60),  # radiator out
    (75.0, 0.50),  # motor and inverter
    (95.0, 0.60),  # front pack
    (130.0, 0.50),  # rear pack
    (18.0, 0.70),  # charger and converter
)


@pytest.mark.arithmetic
def test_a_conversions_ledger_gives_the_height_of_its_centre_of_gravity():
    # By moments, as in Gillespie 1992, chapter 1, from memory; the car is invented.
    moment = fsum(height.height_moment(mass=m, height=z) for m, z in LEDGER)
    total = fsum(m for m, _ in LEDGER)
    assert height.cg_height(moment=moment, mass=total) == pytest.approx(0.5441, abs=0.5e-4)


@pytest.mark.property
@given(st.lists(st.tuples(st.floats(1.0, 2000.0), st.floats(0.1, 2.0)), min_size=1, max_size=12))
def test_the_centre_of_gravity_lies_between_the_lowest_and_the_highest_mass(rows):
    moment = fsum(height.height_moment(mass=m, height=z) for m, z in rows)
    found = height.cg_height(moment=moment, mass=fsum(m for m, _ in rows))
    heights = [z for _, z in rows]
    assert min(heights) - 1e-9 <= found <= max(heights) + 1e-9


@pytest.mark.arithmetic
def test_a_car_as_wide_as_twice_its_height_rolls_at_once_gravity():
    assert height.rollover_threshold(track=1.3, cg_height=0.65) == 1.0


sides = st.floats(0.0, 400.0)


@pytest.mark.property
@given(sides, sides, st.floats(-200.0, 200.0), st.floats(-100.0, 100.0))
def test_the_corners_of_an_axle_together_carry_the_axle(left, right, gained, moment):
    load = {"axle_load": left + right + gained, "axle_before": left + right}
    each = [
        corner.corner_load(corner=was, moment=moment, track=1.4, side=side, **load)
        for was, side in ((left, -1.0), (right, 1.0))
    ]
    assert fsum(each) == pytest.approx(load["axle_load"], abs=1e-9)
    turned = (each[1] - each[0]) * 1.4 / 2.0
    assert turned == pytest.approx((right - left) * 1.4 / 2.0 + moment, abs=1e-9)


@pytest.mark.arithmetic
def test_a_box_of_fifty_kilograms_half_a_metre_to_the_right_loads_that_wheel_more():
    moment = corner.side_moment(axle_part=50.0, y=0.5)
    right = corner.corner_load(
        corner=300.0, axle_load=650.0, axle_before=600.0, moment=moment, track=1.25, side=1.0
    )
    assert right == pytest.approx(300.0 + 25.0 + 20.0)
    assert corner.heavier(left=305.0, right=right) == right
    assert corner.side_share(front=345.0, rear=300.0, mass=1250.0) == pytest.approx(0.516)
    assert corner.pads_difference(pads=1170.0, mass=1180.0) == pytest.approx(10.0 / 1180.0)


@pytest.mark.arithmetic
def test_a_hundred_kilograms_on_two_springs_of_20_n_per_mm_sink_24_5_mm():
    sunk = spring.ride_drop(load=700.0, load_before=600.0, spring_rate=20e3)
    assert sunk == pytest.approx(0.024517, abs=1e-6)
    assert spring.ride_change(drop=-sunk) == sunk


@pytest.mark.property
@given(st.floats(100.0, 2000.0), st.floats(100.0, 2000.0), st.floats(5e3, 2e5))
def test_the_restoring_rate_bends_as_far_under_the_new_load_as_the_old_one_did(now, was, rate):
    restored = spring.restoring_rate(spring_rate=rate, load=now, load_before=was)
    assert now / restored == pytest.approx(was / rate)


@pytest.mark.arithmetic
def test_eight_m10_bolts_of_class_8_8_hold_178_kn_in_shear():
    # EN 1993-1-8, table 3.4, from memory: 0.6 x 800 MPa x 58.0 mm2 / 1.25 = 22.3 kN each.
    held = restraint.bolts_in_shear(
        bolts=8.0, strength=800e6, area=58.0e-6, factor=0.6, margin=1.25
    )
    assert held == pytest.approx(178.2e3, abs=50.0)
    pull = restraint.restraint_load(mass=112.0, acceleration=20.0 * 9.80665)
    assert pull == pytest.approx(21.97e3, abs=5.0)
