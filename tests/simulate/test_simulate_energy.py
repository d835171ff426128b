"""Energy is conserved: every balance is taken from sides that share no arithmetic."""

from __future__ import annotations

import numpy as np
import plain_car
import pytest
from energy_balance import worst

from swapwright.physics.drive.drive_step import Regen
from swapwright.simulate.run import NO_GRADE, drive_trace, fresh, full_throttle

CLOSES = 1e-6
GRAVITY = 9.80665

WEAK = plain_car.pack(current_limit=90.0)
ROOMS = {
    "mild": {},
    "cold": {"ambient": 261.0},
    "hot": {"ambient": 318.0},
    "weak pack": {"pack": WEAK},
    "weak motor": {"drive": plain_car.drive(peak_power=25e3)},
    "slippery": {"body": plain_car.body(drive_force_limit=1200.0, brake_force_limit=2000.0)},
    "two units": {"drive": plain_car.drive(units=2)},
    "two weak units": {"drive": plain_car.drive(units=2, peak_power=12e3)},
    "three gears": {"drive": plain_car.drive(gears=3)},
    "headwind": {"body": plain_car.body(headwind=8.0)},
    "no regen": {"regen": Regen(0.0, 0.0, 1.0, 1.0, 0.0)},
}
CYCLES = ("udds", "us06", "wltc-3b")


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", CYCLES)
@pytest.mark.parametrize("room", ROOMS)
def test_every_joule_of_a_cycle_is_accounted_for(name, room):
    car = plain_car.car(**ROOMS[room])
    before = fresh(car, soc=0.9)
    after, book = drive_trace(car, before, plain_car.trace(name))
    assert book.terminal_out > 1e5
    assert worst(car, before, after, book) < CLOSES


@pytest.mark.arithmetic
@pytest.mark.parametrize("soc", [0.9, 0.2, 0.06])
@pytest.mark.parametrize("dt", [1, 5])
def test_every_joule_of_a_small_pack_is_accounted_for_over_the_bends_of_its_voltage(dt, soc):
    """5 Ah: five seconds at 60 A take 1.7 per cent, past two bends of a curve of 100 pieces."""
    car = plain_car.car(
        pack=plain_car.pack(
            capacity=18000.0, per_capacity=1 / 18000.0, current_limit=60.0, min_voltage=2.5
        ),
        cells=plain_car.cells(resistance=np.full((9, 21, 3), 2e-4)),
    )
    before = fresh(car, soc=soc)
    after, book = drive_trace(car, before, plain_car.trace("us06")[::dt], dt=float(dt))
    assert book.max_current > 50.0
    assert after.charge - before.charge > 0.04 * car.pack.capacity
    assert worst(car, before, after, book) < CLOSES


@pytest.mark.arithmetic
@pytest.mark.parametrize("rise", [0.06, -0.06])
def test_every_joule_of_a_hilly_drive_is_accounted_for(rise):
    car, speeds = plain_car.car(), plain_car.trace("wltc-3b")
    grades = rise * np.sin(np.arange(len(speeds) - 1) / 100.0)
    before = fresh(car, soc=0.8)
    after, book = drive_trace(car, before, speeds, grades=grades)
    steps = 0.5 * (speeds[1:] + speeds[:-1])
    if book.shortfall == 0.0:
        height = float(np.sum(steps * grades))
        assert book.climb == pytest.approx(car.body.mass * GRAVITY * height, rel=1e-9, abs=1.0)
    assert worst(car, before, after, book) < CLOSES


@pytest.mark.arithmetic
@pytest.mark.parametrize("gears", [1, 3])
def test_every_joule_of_a_full_throttle_run_is_accounted_for(gears):
    car = plain_car.car(drive=plain_car.drive(gears=gears))
    before = fresh(car, soc=0.9)
    after, book, _ = full_throttle(car, before, 0.0, 0.05, 40.0, 0.0, np.zeros((1500, 13)))
    assert after.gear == gears - 1
    assert worst(car, before, after, book) < CLOSES


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "entry",
    ["tyres", "aero", "driveline", "motor", "inverter", "auxiliaries", "friction", "ohmic",
     "polarisation", "terminal_out", "terminal_in", "wheel_positive", "wheel_negative"],
)  # fmt: skip
def test_a_loss_booked_one_per_cent_wrong_is_seen(entry):
    car = plain_car.car()
    before = fresh(car, soc=0.9)
    after, book = drive_trace(car, before, plain_car.trace("udds"))
    wrong = book._replace(**{entry: 1.01 * getattr(book, entry)})
    assert worst(car, before, after, book) < CLOSES
    assert worst(car, before, after, wrong) > 10.0 * CLOSES


@pytest.mark.arithmetic
def test_road_load_worked_out_apart_gives_the_same_tyres_and_air():
    car, speeds = plain_car.car(), plain_car.trace("udds")
    _, book = drive_trace(car, fresh(car, soc=0.9), speeds, grades=NO_GRADE)
    middle = 0.5 * (speeds[1:] + speeds[:-1])
    assert book.shortfall == 0.0
    assert book.tyres == pytest.approx(
        np.sum((car.body.a + car.body.b * middle) * middle), rel=1e-12
    )
    assert book.aero == pytest.approx(np.sum(car.body.c * middle**3), rel=1e-12)
