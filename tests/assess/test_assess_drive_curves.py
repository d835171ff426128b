"""The drive's curves: each gear, the road and the old engine against the figures they belong to."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from example_cars import ALL_CARS, FLAWED, SOUND, TWIN, assessment_of, car_from, changed, text_of

from swapwright.assess.assessment import Assessment
from swapwright.assess.solve import assess
from swapwright.base.curve import Curve, Series
from swapwright.base.kinds import KINDS

pytestmark = pytest.mark.arithmetic

ONE_UNIT = (*SOUND, FLAWED)
GEARS, MOTOR = "drive.gears", "drive.motor"
SHIFTED_AT_REST = "hill-farm"
"""Driven in its tallest gear, whatever its others would give."""


@cache
def assessed(name: str, *changes: tuple[str, str | None]) -> Assessment:
    return assess(car_from(changed(text_of(name), dict(changes))))


def number(assessment: Assessment, figure: str) -> float:
    return assessment.figures[figure].value.si


def series(curve: Curve, start: str) -> Series:
    return next(each for each in curve.ys if each.label.startswith(start))


def reading(curve: Curve, start: str, x: float) -> float:
    rows = zip(curve.x.points, series(curve, start).points, strict=True)
    known = [(along, y) for along, y in rows if y is not None]
    return float(np.interp(x, *zip(*known, strict=True)))


@pytest.mark.parametrize("name", ALL_CARS)
def test_in_its_lowest_gear_at_rest_the_drive_pulls_with_its_launch_force(name: str):
    assessment = assessment_of(name)
    first = assessment.curves[GEARS].ys[0]
    assert first.label.startswith("gear ")
    assert first.points[0] == pytest.approx(number(assessment, "drive.launch_force"), rel=1e-9)


@pytest.mark.parametrize("name", ALL_CARS)
def test_the_road_asks_for_what_its_three_terms_give(name: str):
    assessment = assessment_of(name)
    curve = assessment.curves[GEARS]
    a, b, c = (number(assessment, f"road.{term}") for term in "abc")
    for speed, force in zip(curve.x.points, series(curve, "road load, level").points, strict=True):
        assert force == pytest.approx(a + b * speed + c * speed**2, rel=1e-9)


def test_a_car_shifted_at_rest_still_shows_what_its_lower_gears_would_give():
    curves = assessment_of(SHIFTED_AT_REST).curves
    whole, gears = curves["drive.force"], curves[GEARS]
    assert len([each for each in gears.ys if each.label.startswith("gear ")]) == 2
    speed = 0.2 * whole.x.points[-1]
    force = reading(whole, "deliverable, half charge, mild day", speed)
    assert reading(gears, "gear 2", speed) == pytest.approx(force, rel=0.03)
    assert reading(gears, "gear 1", speed) > 1.5 * force


def test_the_goals_grade_lifts_the_road_load_by_the_cars_weight_along_it():
    assessment = assessment_of("ridgeway")
    curve = assessment.curves[GEARS]
    mass = number(assessment, "mass.test")
    pull = mass * 9.80665 * np.sin(np.arctan(0.06))
    level, climb = series(curve, "road load, level"), series(curve, "road load, goal's grade")
    assert climb.label.endswith("6.0 %")
    for low, high in zip(level.points, climb.points, strict=True):
        assert low is not None
        assert high == pytest.approx(low + pull, rel=1e-6)


def test_without_a_climb_among_the_goals_the_level_road_stands_alone():
    gone = (("goals.climb.grade", None), ("goals.climb.at", None), ("goals.climb.for", None))
    labels = [each.label for each in assessed("ridgeway", *gone).curves[GEARS].ys]
    assert [label for label in labels if label.startswith("road load")] == ["road load, level"]


@pytest.mark.parametrize("name", ONE_UNIT)
def test_each_gear_ends_where_its_motor_turns_as_fast_as_it_may(name: str):
    assessment = assessment_of(name)
    curve = assessment.curves[GEARS]
    for each in curve.ys:
        if not each.label.startswith("gear "):
            continue
        gear = each.label.split()[1]
        rows = zip(curve.x.points, each.points, strict=True)
        last = max(speed for speed, force in rows if force is not None)
        assert last == pytest.approx(number(assessment, f"unit.gear{gear}.top_speed"), rel=1e-3)


@pytest.mark.parametrize("name", [name for name in ONE_UNIT if name != SHIFTED_AT_REST])
def test_the_best_gear_gives_what_the_car_as_a_whole_gives(name: str):
    assessment = assessment_of(name)
    gears, whole = assessment.curves[GEARS], assessment.curves["drive.force"]
    labels = [each.label for each in gears.ys if each.label.startswith("gear ")]
    for share in (0.1, 0.3, 0.6, 0.9):
        speed = share * whole.x.points[-1]
        force = reading(whole, "deliverable, half charge, mild day", speed)
        reached = [
            reading(gears, label, speed)
            for label in labels
            if speed <= number(assessment, f"unit.gear{label.split()[1]}.top_speed")
        ]
        assert max(reached) == pytest.approx(force, rel=0.03)


def test_the_old_engine_gives_its_power_at_every_speed_and_never_more_than_the_tyres_bear():
    assessment = assessment_of("ridgeway")
    curve = assessment.curves[GEARS]
    old = series(curve, "old engine's power")
    grip = number(assessment, "traction.limit")
    rows = list(zip(curve.x.points, old.points, strict=True))
    drawn = [(speed, force) for speed, force in rows if force is not None]
    assert drawn
    for speed, force in drawn:
        assert force * speed == pytest.approx(60e3, rel=1e-9)
        assert force <= grip * (1.0 + 1e-9)
    assert rows[0][1] is None


def test_a_car_whose_old_engine_is_not_told_of_has_no_line_for_it():
    gone = tuple(
        (f"car.engine_before.{key}", None) for key in ("power", "power_at", "torque", "torque_at")
    )
    curves = assessed("ridgeway", *gone).curves
    for curve in (curves[GEARS], curves[MOTOR]):
        assert not [each for each in curve.ys if each.label.startswith("old engine")]


@pytest.mark.parametrize("name", ONE_UNIT)
def test_at_rest_the_motor_has_its_torque_limit_and_for_good_its_continuous_torque(name: str):
    assessment = assessment_of(name)
    curve = assessment.curves[MOTOR]
    cap = number(assessment, "unit.torque_cap")
    lasting = series(curve, "continuous torque").points[0]
    assert series(curve, "peak torque").points[0] == pytest.approx(cap, rel=1e-6)
    assert lasting is not None
    assert 0.0 < lasting <= cap


@pytest.mark.parametrize("name", ALL_CARS)
def test_power_is_torque_times_speed(name: str):
    curve = assessment_of(name).curves[MOTOR]
    for torque in curve.ys:
        if not torque.notes or torque.kind != "torque":
            continue
        power = series(curve, torque.label.replace("torque", "power"))
        rows = zip(curve.x.points, torque.points, power.points, strict=True)
        for speed, twist, work in rows:
            assert (twist is None) == (work is None)
            if twist is not None:
                assert work == pytest.approx(twist * speed, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize("name", ["ridgeway", "hill-farm"])
def test_a_gear_carries_the_motors_torque_to_the_road(name: str):
    """Where the tyres do not hold it back; gears lose a share of what goes through them."""
    assessment = assessment_of(name)
    car = assessment.curves
    tyre = number(assessment, "tyre.radius")
    gear = car[GEARS].ys[0].label.split()[1]
    ratio = number(assessment, f"unit.gear{gear}.overall")
    share = number(assessment, f"unit.gear{gear}.force") * tyre / ratio
    share /= number(assessment, "unit.torque_cap")
    speed = 0.7 * number(assessment, f"unit.gear{gear}.top_speed")
    torque = reading(car[MOTOR], "peak torque", speed * ratio / tyre)
    force = torque * ratio * share / tyre
    assert reading(car[GEARS], f"gear {gear}", speed) == pytest.approx(force, rel=0.01)


def test_the_old_engines_points_stand_at_the_speeds_the_file_gives():
    curve = assessment_of("ridgeway").curves[MOTOR]
    rpm = KINDS["angular_speed"].units["rpm"]
    for label, kind, value, at in (
        ("old engine's torque", "torque", 118.0, 3500.0),
        ("old engine's power", "power", 60e3, 5500.0),
    ):
        found = series(curve, label)
        points = [
            (speed, point)
            for speed, point in zip(curve.x.points, found.points, strict=True)
            if point is not None
        ]
        assert found.kind == kind
        assert points == [(pytest.approx(rpm.to_si(at)), pytest.approx(value))]


def test_of_two_motors_each_has_its_lines_and_the_slower_one_ends_first():
    curve = assessment_of(TWIN).curves[MOTOR]
    labels = {each.label for each in curve.ys}
    assert {f"peak torque, {which} motor" for which in ("first", "second")} <= labels
    first, second = (
        series(curve, f"peak torque, {which} motor").points for which in ("first", "second")
    )
    assert sum(each is not None for each in second) < sum(each is not None for each in first)


def test_a_car_without_a_motor_has_neither_curve():
    curves = assessed("ridgeway", ("drive.motor", None)).curves
    assert not {GEARS, MOTOR} & set(curves)
