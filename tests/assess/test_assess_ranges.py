"""Ranges: cycles a car cannot follow, the goal's own day, and regeneration nobody spoke of."""

from __future__ import annotations

import pytest
from example_cars import SOUND, assessment_of, by_rule, car_from, changed, text_of

from swapwright.assess.assessment import Assessment
from swapwright.assess.solve import assess
from swapwright.assess.stages.ranges import CASES
from swapwright.base.figure import SimulatedWorking
from swapwright.standards.ratings import MOST_BEHIND, STEP_BUDGET

pytestmark = pytest.mark.arithmetic

REGEN = ("wheel_torque", "off_above_soc", "off_below_cell", "limited_by_pack")


def assessed(name: str, changes: dict[str, str | None]) -> Assessment:
    return assess(car_from(changed(text_of(name), changes)))


def number(assessment: Assessment, figure: str) -> float:
    return assessment.figures[figure].value.si


def steps(assessment: Assessment) -> int:
    """Return the steps the runs behind the ranges took together."""
    runs = [
        figure.working.settings["steps"]
        for figure_id, figure in assessment.figures.items()
        if figure_id.startswith("range.") and isinstance(figure.working, SimulatedWorking)
    ]
    return sum(int(count) for count in runs)


def test_a_car_geared_for_the_town_does_not_follow_the_highway_cycle_and_says_so():
    bakery = assessment_of("bakery")
    assert number(bakery, "behind.highway") > MOST_BEHIND.si
    highway = bakery.figures["range.highway"]
    assert highway.label.endswith("not followed")
    assert isinstance(highway.working, SimulatedWorking)
    assert highway.working.settings["trace followed"].startswith("no")
    for figure in ("range.combined", "range.everyday", "consumption.label"):
        assert figure not in bakery.figures
        assert "does not follow" in bakery.missing[figure][0]
    assert by_rule(bakery)["goals.follows_cycle"].verdict == "fix"


def test_a_car_that_follows_its_cycles_has_a_combined_range_between_the_two():
    ridgeway = assessment_of("ridgeway")
    assert number(ridgeway, "behind.worst") == 0.0
    city, highway = (number(ridgeway, f"consumption.{name}") for name in ("city", "highway"))
    assert min(city, highway) < number(ridgeway, "consumption.combined") < max(city, highway)


def test_a_second_behind_is_counted_against_the_whole_run():
    bakery = assessment_of("bakery")
    working = bakery.figures["range.highway"].working
    assert isinstance(working, SimulatedWorking)
    behind = float(working.settings["seconds behind the trace"])
    share = behind / float(working.settings["steps"])
    assert number(bakery, "behind.highway") == pytest.approx(share, rel=1e-3)


@pytest.mark.parametrize(
    ("temperature", "cabin"),
    [("0 degC", "heater"), ("20 degC", None), ("35 degC", "air_conditioner")],
    ids=["heated in the cold", "neither on a mild day", "cooled in the heat"],
)
def test_the_goals_range_is_told_at_its_own_temperature_with_its_cabin(temperature, cabin):
    told = assessed("ridgeway", {"goals.range.at_temperature": temperature})
    inputs = told.figures["estimate.at_goal_speed.battery_power"].inputs
    loads = [value.si for value in inputs.values() if value.unit == "W"]
    car = car_from(text_of("ridgeway"))
    wanted = car.number("auxiliaries.driving")
    wanted += car.number(f"auxiliaries.{cabin}") if cabin else 0.0
    assert pytest.approx(wanted) in loads


def test_a_goal_in_the_cold_is_further_to_reach():
    mild, cold = (
        number(assessed("bakery", {"goals.range.at_temperature": at}), "range.at_goal_speed")
        for at in ("20 degC", "0 degC")
    )
    assert cold < 0.9 * mild


def test_cold_air_is_denser_and_cold_tyres_roll_harder_at_the_goals_temperature():
    bakery = assessment_of("bakery")
    for figure in ("air.density", "road.a", "road.c"):
        assert number(bakery, f"{figure}_goal") > number(bakery, figure)


def test_a_speed_the_car_cannot_hold_has_no_range():
    told = assessed("bakery", {"goals.range.at": "120 km/h"})
    assert "does not hold" in told.missing["range.at_goal_speed"][0]
    assert by_rule(told)["goals.range"].verdict == "unknown"


def test_a_build_that_says_nothing_of_regeneration_has_none():
    silent = assessed("ridgeway", {f"drive.regen.{entry}": None for entry in REGEN})
    assert "drive.regen.share" in silent.assumed
    assert number(silent, "estimate.city.caught") == 0.0
    assert number(silent, "range.city") < 0.9 * number(assessment_of("ridgeway"), "range.city")


def test_a_build_that_states_a_regeneration_limit_only_keeps_the_usual_share():
    limit = {f"drive.regen.{entry}": None for entry in REGEN if entry != "wheel_torque"}
    told = assessed("ridgeway", limit)
    assert number(told, "estimate.city.caught") > 0.2


def test_a_car_the_wind_drives_has_no_consumption():
    blown = {"conditions.headwind": "-30 m/s", "goals.range.at": "30 km/h"}
    blown["car.road_load.cd_a"] = "3 m^2"
    told = assessed("ridgeway", blown)
    assert "the wind drives it" in told.missing["range.at_goal_speed"][0]


def test_a_huge_pack_is_told_as_far_as_the_step_budget_lasts():
    told = assessed("ridgeway", {"pack.strings": "15", "pack.boxes": None})
    used_up = "run too long: the assessment's step budget is used up"
    ranges = [f"range.{case.name}" for case in CASES]
    lacking = [figure for figure in ranges if told.missing.get(figure) == (used_up,)]
    made = [figure for figure in ranges if figure in told.figures]
    assert [*made, *lacking] == ranges
    assert made
    assert lacking
    assert steps(told) <= STEP_BUDGET.si


def test_the_range_the_owner_asked_for_is_the_first_to_be_driven():
    told = assessed("ridgeway", {"pack.strings": "15", "pack.boxes": None})
    assert by_rule(told)["goals.range"].verdict == "met"


def test_a_pack_that_no_budget_empties_leaves_every_range_unknown():
    huge = {"pack.strings": "200", "pack.boxes": None, "goals.range.at": "10 km/h"}
    told = assessed("ridgeway", huge)
    used_up = "run too long: the assessment's step budget is used up"
    for figure in (*(case.name for case in CASES), "at_goal_speed"):
        assert used_up in told.missing[f"range.{figure}"][0]
    assert by_rule(told)["goals.range"].verdict == "unknown"
    assert used_up in by_rule(told)["goals.range"].text


@pytest.mark.parametrize("name", SOUND)
def test_a_usual_car_takes_less_than_half_the_step_budget(name: str):
    assert steps(assessment_of(name)) < 0.5 * STEP_BUDGET.si
