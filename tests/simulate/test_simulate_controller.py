"""The controller's own limits of torque: runs obey them when driving, and nothing else changes."""

from __future__ import annotations

import numpy as np
import plain_car
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.physics.drive.drive_step import share_at
from swapwright.simulate.batch import alike, run_batch
from swapwright.simulate.deliverable import DELIVERED, deliverable_force
from swapwright.simulate.inputs import LIMITS, Setup
from swapwright.simulate.run import drive_trace, fresh

FORCE, LIMIT = DELIVERED.index("force"), DELIVERED.index("limit")
SLOW = np.array([3.0])
OPEN = ((0.0, 1.0), (1.0, 1.0))
WARM = ((200.0, 1.0), (400.0, 1.0))


def force_at(car: Setup, soc: float) -> tuple[float, str]:
    """Return the most force at a crawl, with what limits it."""
    out = np.zeros((1, len(DELIVERED)))
    deliverable_force(car, fresh(car, soc=soc), SLOW, 0.0, out)
    return float(out[0, FORCE]), LIMITS[int(out[0, LIMIT])]


@pytest.mark.arithmetic
def test_half_the_torque_pulls_half_as_hard_less_what_the_gears_drag():
    plain = plain_car.car()
    half = plain_car.held_back(plain.drive, by_soc=((0.0, 0.5), (1.0, 0.5)), by_cell=WARM)
    unit = plain.drive.first
    per_torque = unit.speed_ratio[0] * unit.efficiency[0]
    force, limit = force_at(plain._replace(drive=half), 0.9)
    assert force == pytest.approx((0.5 * unit.torque_cap - unit.drag) * per_torque)
    assert limit == "controller"


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("soc", "share"), [(0.05, 0.3), (0.1, 0.3), (0.3, 0.65), (0.5, 1.0), (0.9, 1.0)]
)
def test_between_two_points_the_share_is_straight_and_beyond_them_it_stays(soc, share):
    drive = plain_car.held_back(plain_car.drive())
    assert share_at.py_func(drive.by_soc, soc) == pytest.approx(share)


@pytest.mark.arithmetic
def test_a_gear_held_back_pulls_by_its_share_and_the_others_are_as_they_were():
    plain = plain_car.drive(gears=3, drag=0.0)
    for gear, share in enumerate((0.6, 0.9, 1.0)):
        forces = []
        for drive in (plain, plain_car.held_back(plain, gears=(0.6, 0.9, 1.0), by_soc=OPEN)):
            place = slice(gear, gear + 1)
            one = drive.first._replace(
                gears=1,
                speed_ratio=drive.first.speed_ratio[place],
                efficiency=drive.first.efficiency[place],
                gear_share=drive.first.gear_share[place],
            )
            car = plain_car.car(drive=drive._replace(first=one, second=one))
            forces.append(force_at(car, 0.9)[0])
        assert forces[1] == pytest.approx(share * forces[0])


@pytest.mark.property
def test_a_controller_that_allows_everything_changes_no_digit_of_a_run():
    plain = plain_car.car(drive=plain_car.drive(gears=3, units=2))
    open_car = plain._replace(drive=plain_car.held_back(plain.drive, by_soc=OPEN, by_cell=WARM))
    runs = [
        drive_trace(car, fresh(car, soc=0.9), plain_car.trace("us06")) for car in (plain, open_car)
    ]
    assert runs[0] == runs[1]


@pytest.mark.property
def test_braking_takes_back_as_much_whatever_the_controller_allows_for_driving():
    plain = plain_car.car()
    held = plain._replace(drive=plain_car.held_back(plain.drive, by_soc=((0.0, 0.4), (1.0, 0.4))))
    speeds = np.linspace(15.0, 0.0, 16)
    taken = []
    for car in (plain, held):
        start = fresh(car, soc=0.6)._replace(speed=15.0)
        taken.append(drive_trace(car, start, speeds)[1].terminal_in)
    assert taken[1] == pytest.approx(taken[0], rel=1e-6)


@pytest.mark.property
@settings(max_examples=20, deadline=None)
@given(share=st.floats(0.05, 1.0), less=st.floats(0.1, 1.0), soc=st.floats(0.2, 0.95))
def test_allowing_less_never_pulls_harder(share: float, less: float, soc: float):
    plain = plain_car.car()
    forces = [
        force_at(
            plain._replace(
                drive=plain_car.held_back(plain.drive, by_soc=((0.0, each), (1.0, each)))
            ),
            soc,
        )[0]
        for each in (share, share * less)
    ]
    assert forces[1] <= forces[0] * (1 + 1e-9)


@pytest.mark.arithmetic
def test_a_batch_obeys_the_controller_as_a_single_run_does():
    car = plain_car.car()
    car = car._replace(drive=plain_car.held_back(car.drive, by_soc=((0.0, 0.2), (1.0, 0.8))))
    trace = plain_car.trace("us06")
    _, book = drive_trace(car, fresh(car, soc=0.9), trace)
    found = run_batch(car, fresh(car, soc=0.9), trace, alike(car, 2))
    assert book.shortfall > 0.0
    assert found.shortfall == pytest.approx([book.shortfall] * 2)
    assert found.wheel_energy == pytest.approx([book.wheel_positive] * 2, rel=1e-9)
