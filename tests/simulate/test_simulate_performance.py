"""Full throttle and steady speed against closed forms."""

from __future__ import annotations

import numpy as np
import plain_car
import pytest
from scipy.integrate import quad

from swapwright.simulate.deliverable import DELIVERED, deliverable_force
from swapwright.simulate.inputs import LIMITS
from swapwright.simulate.run import COLUMNS, drive_trace, fresh, full_throttle, run_recorded

MPH = 0.44704
MILE = 1609.344
STEP = 0.01


def stiff_battery():
    """Cells and pack so large that voltage stands and no limit bites."""
    cells = plain_car.cells(
        ocv=np.array([3.7, 3.7]),
        resistance=np.full((9, 21, 3), 1e-9),
        limits=np.full((9, 4), 1e9),
    )
    return cells, plain_car.pack(
        joint_resistance=0.0, current_limit=1e9, min_voltage=0.0, max_voltage=9.0
    )


def lossless(**changes):
    """A drive without losses, drag or inertia of its own: only the gears' efficiency."""
    plain = {
        "efficiency": np.array([0.95]),
        "drag": 0.0,
        "inertia": 0.0,
        "loss": np.zeros((33, 49, 2)),
        "envelope": np.full(64, 1e9),
        "motor_max_temperature": 1e9,
        "inverter_max_temperature": 1e9,
    }
    return plain_car.drive(**{**plain, **changes})


def accelerator():
    """1500 kg, 220 N.m and 80 kW, 8.2 to 1 at 0.95, 0.307 m, Crr 0.012, CdA 0.75, 1.20 kg/m^3."""
    cells, pack = stiff_battery()
    return plain_car.car(
        body=plain_car.body(
            mass=1500.0,
            rolling_mass=1590.0,
            a=0.012 * 1500.0 * 9.80665,
            b=0.0,
            c=0.5 * 1.20 * 0.75,
            drive_force_limit=1e9,
            auxiliary_power=0.0,
        ),
        drive=lossless(
            speed_ratio=np.array([8.2 / 0.307]),
            torque_cap=220.0,
            peak_power=80e3,
            max_speed=9000.0 * np.pi / 30.0,
        ),
        cells=cells,
        pack=pack,
    )


def times(out: np.ndarray, *speeds: float) -> list[float]:
    rows = np.vstack([np.zeros(len(COLUMNS)), out])
    return [float(np.interp(speed, rows[:, 1], rows[:, 0])) for speed in speeds]


@pytest.mark.arithmetic
def test_acceleration_agrees_with_the_integral_of_mass_over_spare_force():
    """Times t = integral of m dv / (F - R); the figures were worked out outside this project."""
    car = accelerator()
    out = np.zeros((2000, len(COLUMNS)))
    _, _, steps = full_throttle(car, fresh(car, soc=0.8), 0.0, STEP, 28.0, 0.0, out)
    to_30, to_50, to_60, to_100_kmh = times(out[:steps], 30 * MPH, 50 * MPH, 60 * MPH, 100 / 3.6)
    assert to_60 == pytest.approx(10.300, rel=0.005)
    assert to_100_kmh == pytest.approx(10.969, rel=0.005)
    assert to_50 - to_30 == pytest.approx(3.640, rel=0.005)

    def slowness(speed: float) -> float:
        force = min(220.0 * 8.2 * 0.95 / 0.307, 80e3 * 0.95 / max(speed, 1e-9))
        return 1590.0 / (force - 0.012 * 1500.0 * 9.80665 - 0.45 * speed**2)

    exact = quad(slowness, 0.0, 60 * MPH, points=[13.614])[0]
    assert to_60 == pytest.approx(exact, rel=5e-4)


@pytest.mark.arithmetic
def test_top_speed_is_where_the_motor_may_turn_no_faster():
    """9000 rpm through 8.2 to 1 on 0.307 m is 35.285 m/s."""
    car = accelerator()
    out = np.zeros((3000, len(COLUMNS)))
    after, book, _ = full_throttle(car, fresh(car, soc=0.8), 0.0, 0.05, 99.0, 1e9, out)
    assert after.speed == pytest.approx(35.285, rel=1e-4)
    assert book.limit == 8.0


def unequal_units():
    """Two units on one road: the first could do 36 m/s, the second's motor ends at 20 m/s."""
    drive = plain_car.drive(units=2)
    return plain_car.car(drive=drive._replace(second=drive.second._replace(max_speed=20.0 * 29.0)))


@pytest.mark.arithmetic
def test_two_units_go_no_faster_than_the_one_that_ends_first():
    car = unequal_units()
    out = np.zeros((1500, len(COLUMNS)))
    pulled, _, _ = full_throttle(car, fresh(car, soc=0.9), 0.0, 0.05, 99.0, 1e9, out)
    asked = np.minimum(0.5 * np.arange(90), 30.0)
    followed, book = drive_trace(car, fresh(car, soc=0.9), asked)
    for after in (pulled, followed):
        assert after.speed == pytest.approx(20.0, rel=1e-6)
        assert LIMITS[int(after.limit)] == "motor speed"
    assert book.shortfall == np.sum(asked > 20.0)


@pytest.mark.arithmetic
def test_beyond_the_speed_of_one_unit_neither_pulls():
    car = unequal_units()
    out = np.zeros((2, len(DELIVERED)))
    deliverable_force(car, fresh(car, soc=0.9), np.array([19.9, 20.1]), 0.0, out)
    assert out[0, DELIVERED.index("force")] > 1000.0
    assert out[1, DELIVERED.index("force")] == 0.0
    assert LIMITS[int(out[1, DELIVERED.index("limit")])] == "motor speed"


@pytest.mark.arithmetic
def test_a_stall_names_what_is_short_at_a_standstill():
    """Up sin 0.9 towards 36 m/s motor power is short; at a standstill it is motor torque."""
    car = plain_car.car()
    out = np.zeros((10, len(COLUMNS)))
    before = fresh(car, soc=0.9, speed=20.0)
    after, _ = run_recorded(car, before, np.full(11, 36.0), np.full(10, 0.9), 1.0, out)
    named = [LIMITS[int(code)] for code in out[:, COLUMNS.index("limit")]]
    assert after.speed == 0.0
    assert named[0] == "motor power"
    assert set(named[3:]) == {"motor torque"}


@pytest.mark.arithmetic
def test_full_throttle_holds_the_power_the_pack_may_give():
    car = accelerator()
    weak = car._replace(pack=car.pack._replace(current_limit=100.0))
    out = np.zeros((2000, len(COLUMNS)))
    _, book, steps = full_throttle(weak, fresh(weak, soc=0.8), 0.0, STEP, 20.0, 0.0, out)
    late = out[:steps][out[:steps, 1] > 14.0]
    assert late[:, COLUMNS.index("power")] == pytest.approx(96 * 3.7 * 100.0, rel=1e-4)
    assert book.max_current <= 100.0 * (1.0 + 1e-9)
    assert book.limit == 5.0


@pytest.mark.arithmetic
def test_the_trade_rule_for_a_heavy_square_car_at_50_mph():
    """Trade rule: about 25 hp from the battery and 375 Wh a mile; 2000 kg, CdA 1.4, Crr 0.015."""
    cells, pack = stiff_battery()
    car = plain_car.car(
        body=plain_car.body(
            mass=2000.0,
            rolling_mass=2080.0,
            a=0.015 * 2000.0 * 9.80665,
            b=0.0,
            c=0.5 * 1.20 * 1.4,
            auxiliary_power=0.0,
        ),
        drive=lossless(efficiency=np.array([0.85])),
        cells=cells,
        pack=pack,
    )
    speed = 50 * MPH
    _, book = drive_trace(car, fresh(car, soc=0.9, speed=speed), np.full(601, speed))
    per_mile = book.terminal_out / 3600.0 / (book.distance / MILE)
    assert per_mile == pytest.approx(375.0, rel=0.02)
    assert book.terminal_out / book.time / 745.7 == pytest.approx(25.0, rel=0.02)


@pytest.mark.arithmetic
def test_a_gear_change_cuts_the_torque_for_as_long_as_it_lasts():
    car = plain_car.car(drive=plain_car.drive(gears=2, shift_time=0.5))
    out = np.zeros((1000, len(COLUMNS)))
    _, _, steps = full_throttle(car, fresh(car, soc=0.9), 0.0, 0.05, 38.0, 0.0, out)
    limits = out[:steps, COLUMNS.index("limit")]
    cut = out[:steps][limits == 10.0]
    assert len(cut) == 10
    assert np.all(np.abs(cut[:, COLUMNS.index("wheel_force")]) < 1e-3)
    assert out[steps - 1, COLUMNS.index("gear")] == 1.0
