"""Launch, sprint, held speed and climb: what limits them, and on which day."""

from __future__ import annotations

import math
from functools import cache

import pytest
from example_cars import SOUND, TWIN, assessment_of, by_rule, car_from, car_of, changed, text_of

from swapwright.assess import runs
from swapwright.assess.assessment import Assessment
from swapwright.assess.book import FigureBook
from swapwright.assess.days import HOT
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.solve import assess, design
from swapwright.base.figure import SimulatedWorking
from swapwright.simulate.inputs import Setup
from swapwright.standards.ratings import COPPER_SHARE, COPPER_SPECIFIC_HEAT

pytestmark = pytest.mark.arithmetic


def assessed(name: str, changes: dict[str, str | None]) -> Assessment:
    return assess(car_from(changed(text_of(name), changes)))


def number(assessment: Assessment, figure: str) -> float:
    return assessment.figures[figure].value.si


@cache
def hot_kit(name: str) -> Setup:
    book = FigureBook(car_of(name), keep=False)
    design(book)
    return setup(book, day=HOT)


def test_the_motor_that_is_first_at_its_end_ends_a_car_with_two():
    twin = assessment_of(TWIN)
    ends = [number(twin, f"{unit}.top_speed") for unit in ("unit", "unit2")]
    assert ends[0] != ends[1]
    assert number(twin, "drive.top_speed") == min(ends)
    assert number(twin, "top_speed.peak") <= min(ends)


def test_a_slow_car_is_given_as_long_as_its_goal_allows():
    slow = {"drive.torque_limit": "40 N.m", "goals.zero_to_60": None}
    hurried = assessed("ridgeway", slow)
    assert "60 s" in hurried.missing["accel.0_60mph"][0]
    patient = assessed("ridgeway", {**slow, "goals.zero_to_60": "180 s"})
    assert 60.0 < number(patient, "accel.0_60mph") < 180.0
    assert by_rule(patient)["goals.zero_to_60"].verdict in ("met", "watch")


def test_a_speed_not_reached_within_the_goal_is_to_be_mended():
    slow = {"drive.torque_limit": "15 N.m", "goals.zero_to_60": "70 s"}
    assert by_rule(assessed("ridgeway", slow))["goals.zero_to_60"].verdict == "fix"


@pytest.mark.parametrize("name", ["bakery", "parcel-round", "fault-finder"])
def test_the_speed_that_can_be_held_is_where_heat_begins_to_slow_the_simulated_car(name: str):
    kit = hot_kit(name)
    # Half charge throughout, so that heat alone can slow the car.
    kit = kit._replace(pack=kit.pack._replace(capacity=1e9, per_capacity=1e-9))
    held = number(assessment_of(name), "top_speed.sustained")
    assert held < number(assessment_of(name), "top_speed.peak")
    slower, faster = (
        runs.hold(kit, speed=share * held, grade=0.0, time=3600.0, soc=0.5).ledger.shortfall
        for share in (0.98, 1.02)
    )
    assert slower == 0.0
    assert faster > 0.0


@pytest.mark.parametrize("name", SOUND)
def test_a_speed_that_can_be_held_is_never_above_the_peak(name: str):
    told = assessment_of(name)
    assert number(told, "top_speed.sustained") <= number(told, "top_speed.peak")


def test_the_heat_of_a_winding_does_not_hang_on_what_the_software_allows():
    capacity = "unit.winding_heat_capacity"
    for limit in ("60 N.m", "100 N.m"):
        held_back = assessed("ridgeway", {"drive.torque_limit": limit})
        assert number(held_back, capacity) == number(assessment_of("ridgeway"), capacity)


def test_a_motor_whose_peak_is_its_continuous_rating_warms_by_its_copper():
    rated = '{ part = "pm-radial-75kw", continuous_power = "75 kW", continuous_torque = "160 N.m" }'
    told = assessed("ridgeway", {"drive.motor": rated})
    mass = car_of("ridgeway").number("drive.motor.mass")
    assert number(told, "unit.winding_heat_capacity") == pytest.approx(
        mass * COPPER_SHARE.si * COPPER_SPECIFIC_HEAT.si
    )
    assert number(told, "climb.heat_left") == 1.0


def test_a_drive_that_loses_more_than_modelled_keeps_its_ratings():
    lossy = assessed("ridgeway", {"drive.loss_factor": "1.3"})
    for figure in ("climb.motor_temperature", "top_speed.sustained"):
        assert number(lossy, figure) == pytest.approx(
            number(assessment_of("ridgeway"), figure), rel=5e-3
        )
    assert number(lossy, "range.city") < number(assessment_of("ridgeway"), "range.city")


def test_a_climb_is_driven_on_the_hot_day():
    hotter = assessed("parcel-round", {"conditions.hot_day": "45 degC"})
    usual = assessment_of("parcel-round")
    assert number(hotter, "climb.motor_temperature") > number(usual, "climb.motor_temperature")
    assert number(hotter, "climb.heat_left") < number(usual, "climb.heat_left") < 1.0
    assert by_rule(usual)["thermal.derating"].verdict == "watch"
    assert by_rule(assessment_of("hill-farm"))["thermal.derating"].verdict == "met"


def test_a_car_shifted_at_rest_sprints_in_its_tallest_gear_and_starts_hills_in_its_lowest():
    at_rest = assessed("ridgeway", {"drive.gearbox.shift": "at rest"})
    moving = assessment_of("ridgeway")
    lowest, tallest = (number(moving, f"unit.gear{gear}.overall") for gear in (2, 3))
    for figure in ("drive.launch_force", "start_grade.drive"):
        assert number(at_rest, figure) == number(moving, figure)
    assert number(at_rest, "accel.start_force") == pytest.approx(
        number(moving, "accel.start_force") * tallest / lowest, rel=0.02
    )
    assert number(at_rest, "accel.0_60mph") > number(moving, "accel.0_60mph")


def test_a_slower_hand_at_the_gear_lever_costs_time_once_a_change():
    quick, slow = (
        number(assessed("ridgeway", {"drive.gearbox.shift_time": time}), "accel.0_60mph")
        for time in ("0.5 s", "1.5 s")
    )
    assert quick < slow < quick + 1.5


def test_a_climb_longer_than_the_pack_lasts_still_accounts_for_its_energy():
    told = assessed("parcel-round", {"goals.climb.for": "7000 s"})
    speed = told.figures["climb.speed"]
    assert speed.value.si < car_of("parcel-round").number("goals.climb.at")
    assert isinstance(speed.working, SimulatedWorking)
    ledger = speed.working.ledger.values()
    assert abs(math.fsum(ledger)) < 1e-6 * max(abs(joules) for joules in ledger)
    assert by_rule(told)["goals.climb"].verdict == "fix"


HALF = "{ x = [0.0, 1.0], y = [0.5, 0.5] }"


def test_a_controller_that_allows_half_the_torque_sets_off_half_as_hard():
    free = number(assessment_of("bakery"), "accel.start_force")
    held = assessed("bakery", {"drive.torque_by.state_of_charge": HALF})
    assert number(held, "accel.start_force") == pytest.approx(0.5 * free, rel=0.05)
    assert number(held, "accel.0_30mph") > number(assessment_of("bakery"), "accel.0_30mph")


def test_cold_cells_hold_back_by_the_temperature_they_have():
    table = '{ x = [0, 10], x_unit = "degC", y = [0.4, 1.0] }'
    held = assessed("ridgeway", {"drive.torque_by.cell_temperature": table})
    free = assessment_of("ridgeway")
    assert number(held, "accel.0_60mph") == number(free, "accel.0_60mph")
    assert number(held, "cold.wheel_power") < number(free, "cold.wheel_power")


def test_a_gear_for_which_no_share_is_given_leaves_the_runs_unknown():
    held = assessed("bakery", {"drive.torque_by_gear": "[0.6]"})
    (reason,) = held.missing["accel.0_30mph"]
    assert reason == "drive.torque_by_gear does not give a share for each gear in use"
