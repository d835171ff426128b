"""The pedal's map: what runs obey of it, how far down it holds a speed, what it leaves released."""

from __future__ import annotations

import numpy as np
import pytest
from example_cars import assessment_of, by_rule, car_from, car_of, changed, text_of
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.assess import controller, runs
from swapwright.assess.assessment import Assessment
from swapwright.assess.book import FigureBook
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.solve import assess, design
from swapwright.assess.stages.performance import drive_map, performance
from swapwright.base.errors import InputError, Missing
from swapwright.base.table import Line
from swapwright.build.car import Car
from swapwright.build.load import load_text
from swapwright.jobs.check import Checked
from swapwright.jobs.opening import Opened
from swapwright.jobs.system_tables import tables_of
from swapwright.simulate.batch import alike, run_batch
from swapwright.simulate.deliverable import DELIVERED
from swapwright.simulate.run import drive_trace, fresh
from swapwright.standards.marks import HALF_SOC

MAP = "drive.torque_by.pedal"
LINEAR = "{ x = [0, 1], y = [0, 1] }"
few = settings(max_examples=8, deadline=None, derandomize=True)


def with_map(name: str, table: str | None, **also: str | None) -> Car:
    return car_from(changed(text_of(name), {MAP: table, **also}))


def assessed(name: str, table: str | None, **also: str | None) -> Assessment:
    return assess(with_map(name, table, **also))


def tables(name: str, table: str, **also: str) -> dict[str, tuple[tuple[str, ...], ...]]:
    """Return the rows of the Drive stage's tables, by title."""
    car = with_map(name, table, **also)
    opened = Opened(name, load_text(text_of(name), name), car)
    found = tables_of("drive", Checked(opened, assess(car)), "metric")
    return {each.title: each.rows for each in found}


def number(assessment: Assessment, figure: str) -> float:
    return assessment.figures[figure].value.si


def sprint(name: str, full: float) -> FigureBook:
    book = FigureBook(with_map(name, f"{{ x = [0, 1], y = [0, {full:.4f}] }}"), keep=False)
    design(book)
    performance(book)
    return book


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", ["ridgeway", "bakery", "hill-farm", "parcel-round"])
def test_a_map_that_ends_in_all_of_the_torque_changes_nothing_else(name: str):
    free = assessed(name, None) if name == "ridgeway" else assessment_of(name)
    mapped = assessed(name, LINEAR)
    other = {key for key in mapped.figures if not key.startswith("drive.pedal.")}
    assert other == set(free.figures)
    assert all(number(mapped, key) == number(free, key) for key in other)


@pytest.mark.arithmetic
def test_a_map_that_ends_at_half_pulls_away_half_as_hard():
    free, half = assessment_of("bakery"), assessed("bakery", "{ x = [0, 1], y = [0, 0.5] }")
    assert number(half, "accel.start_force") == pytest.approx(
        0.5 * number(free, "accel.start_force"), rel=0.03
    )
    assert number(half, "start_grade.drive") < 0.6 * number(free, "start_grade.drive")
    assert by_rule(half)["drive.pedal_full"].verdict == "watch"


@pytest.mark.property
@few
@given(
    name=st.sampled_from(["ridgeway", "hill-farm", "parcel-round"]),
    full=st.floats(0.35, 1.0),
    less=st.floats(0.6, 1.0),
)
def test_less_torque_at_full_pedal_never_shortens_a_sprint(name: str, full: float, less: float):
    times = [sprint(name, share).get("accel.0_60mph") for share in (full, full * less)]
    if times[1] is not None:
        assert times[0] is not None
        assert times[1] >= times[0] * (1 - 1e-9)


@pytest.mark.property
@few
@given(
    ys=st.lists(st.floats(0.0, 1.0), min_size=3, max_size=6).map(sorted),
    places=st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 1.0)),
)
def test_more_pedal_never_gives_less_torque(ys: list[float], places: tuple[float, float]):
    table = Line(tuple(np.linspace(0.0, 1.0, len(ys)).tolist()), (*ys[:-1], 1.0), "1", "1")
    less, more = sorted(places)
    assert table.at(more) >= table.at(less)
    book = FigureBook(car_of("ridgeway"), keep=False)
    design(book)
    kit = setup(book)
    forces = []
    for place in (less, more):
        drive = kit.drive._replace(is_held_back=True, pedal_share=table.at(place))
        given_here = drive_map(kit._replace(drive=drive), np.array([5.0]), soc=HALF_SOC.si)
        forces.append(given_here[0, DELIVERED.index("force")])
    assert forces[1] >= forces[0] * (1 - 1e-9)


@pytest.mark.property
@given(
    ys=st.lists(st.floats(0.0, 1.0), min_size=2, max_size=6).map(sorted), share=st.floats(0.0, 1.0)
)
def test_the_pedal_found_for_a_share_asks_for_that_share(ys: list[float], share: float):
    table = Line(tuple(np.linspace(0.0, 1.0, len(ys)).tolist()), tuple(ys), "1", "1")
    if share > ys[-1]:
        with pytest.raises(Missing):
            controller.pedal_for(table, share)
        return
    travel = controller.pedal_for(table, share)
    assert table.at(travel) == pytest.approx(max(share, ys[0]), abs=1e-9)
    assert travel == 0.0 or table.at(travel - 1e-6) <= share + 1e-9


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", ["ridgeway", "bakery", "hill-farm", "parcel-round"])
@pytest.mark.parametrize("slug", ["range_speed", "30mph"])
def test_at_the_pedal_that_holds_a_speed_the_drive_pulls_as_the_road_does(name: str, slug: str):
    # The other way round: the share that pedal asks for, given to the drive map in that gear.
    found = assessed(name, "{ x = [0, 0.3, 1], y = [0, 0.1, 1] }")
    travel = number(found, f"drive.pedal.{slug}")
    share = Line((0.0, 0.3, 1.0), (0.0, 0.1, 1.0), "1", "1").at(travel)
    book = FigureBook(with_map(name, LINEAR), keep=False)
    design(book)
    kit = setup(book)
    speed = {"range_speed": book.get("goals.range.at"), "30mph": 13.4112}[slug]
    gear = int(runs.steady(kit, speed, soc=HALF_SOC.si).after.gear)
    unit = kit.drive.first
    one = unit._replace(
        gears=1,
        speed_ratio=unit.speed_ratio[gear : gear + 1],
        efficiency=unit.efficiency[gear : gear + 1],
        gear_share=unit.gear_share[gear : gear + 1],
    )
    drive = kit.drive._replace(first=one, second=one, is_held_back=True, pedal_share=share)
    given_here = drive_map(kit._replace(drive=drive), np.array([speed]), soc=HALF_SOC.si)[0]
    assert given_here[DELIVERED.index("force")] == pytest.approx(
        given_here[DELIVERED.index("road_load")], rel=1e-9
    )


@pytest.mark.arithmetic
def test_what_other_limits_hold_back_has_to_be_made_up_by_the_pedal():
    free = assessed("bakery", LINEAR)
    held = assessed("bakery", LINEAR, **{"drive.torque_by_gear": "[0.5, 0.5, 0.5, 0.5]"})
    for slug in ("range_speed", "30mph"):
        assert number(held, f"drive.pedal.{slug}") == pytest.approx(
            2.0 * number(free, f"drive.pedal.{slug}")
        )


@pytest.mark.arithmetic
def test_a_released_pedal_that_asks_for_torque_creeps_to_where_road_load_holds_it():
    # 8 % of 3,571 N in second gear less 23 N of drag, against 184 N of road load at rest.
    found = assessed("ridgeway", "{ x = [0, 1], y = [0.08, 1] }")
    force = 0.08 * number(found, "unit.gear2.force") - 22.96
    assert number(found, "drive.pedal.released_force") == pytest.approx(force, abs=0.05)
    speed = number(found, "drive.pedal.creep_speed")
    road = number(found, "road.a") + number(found, "road.c") * speed**2
    assert road == pytest.approx(force, rel=0.02)
    assert by_rule(found)["drive.pedal_override"].needs == ("network.pedal.brake_override",)


@pytest.mark.arithmetic
def test_a_released_pedal_that_asks_for_less_than_the_tyres_roll_with_does_not_move_the_car():
    found = assessed("ridgeway", "{ x = [0, 1], y = [0.03, 1] }")
    assert number(found, "drive.pedal.released_force") > 0.0
    assert number(found, "drive.pedal.creep_speed") == 0.0
    assert by_rule(found)["drive.pedal_released"].verdict == "met"
    assert by_rule(found)["drive.pedal_override"].verdict == "unknown"


@pytest.mark.arithmetic
def test_a_speed_no_pedal_holds_says_so():
    found = assessed("bakery", LINEAR)
    assert "does not hold 60 mph" in found.missing["drive.pedal.60mph"][0]
    weak = assessed("ridgeway", "{ x = [0, 1], y = [0, 0.25] }")
    assert by_rule(weak)["drive.pedal_climb"].verdict == "fix"
    assert "less than that at full pedal" in weak.missing["drive.pedal.climb"][0]


@pytest.mark.arithmetic
def test_the_drive_stage_lists_the_limits_point_by_point_and_the_pedal_by_speed():
    cell = '{ x = [0, 10], x_unit = "degC", y = [0.4, 1.0] }'
    by_gear = "[0.6, 0.9, 1.0, 1.0]"
    also = {"drive.torque_by.cell_temperature": cell, "drive.torque_by_gear": by_gear}
    found = tables("bakery", LINEAR, **also)
    assert found["What the controller allows"] == (
        ("pedal travel", "0 %", "0 %"),
        ("pedal travel", "100 %", "100 %"),
        ("cell temperature", "0 degC", "40.0 %"),
        ("cell temperature", "10.0 degC", "100 %"),
        ("gear", "1", "60.0 %"),
        ("gear", "2", "90.0 %"),
        ("gear", "3", "100 %"),
        ("gear", "4", "100 %"),
    )
    rows = {row[0]: row[1:] for row in found["The pedal"]}
    assert rows["30 mph on the level"][1] == rows["30 mph on the level"][2]
    assert "does not hold" in rows["60 mph on the level"][2]


@pytest.mark.arithmetic
def test_a_batch_obeys_the_full_pedal_as_a_single_run_does():
    book = FigureBook(with_map("ridgeway", "{ x = [0, 1], y = [0, 0.3] }"), keep=False)
    design(book)
    kit = setup(book)
    trace = runs.trace_of("us06")
    _, ledger = drive_trace(kit, fresh(kit, soc=0.9), trace)
    found = run_batch(kit, fresh(kit, soc=0.9), trace, alike(kit, 2))
    assert ledger.shortfall > 0.0
    assert found.shortfall == pytest.approx([ledger.shortfall] * 2)
    assert found.wheel_energy == pytest.approx([ledger.wheel_positive] * 2, rel=1e-9)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("table", "words"),
    [
        ("{ x = [0.05, 1], y = [0, 1] }", "x from 5.00 % to 100 %"),
        ("{ x = [0, 0.9], y = [0, 1] }", "x from 0 % to 90.0 %"),
        ("{ x = [0, 0.5, 1], y = [0, 0.6, 0.5] }", "y number 3: 50.0 %"),
        ("{ x = [0, 1], y = [0, 0.01] }", "full pedal 1.00 %"),
        ("{ x = [0, 1], y = [0, 1.2] }", "too high"),
        ("{ x = [0, 1, 1], y = [0, 1, 1] }", "does not rise"),
    ],
    ids=["starts late", "ends early", "falls", "ends in nothing", "too much", "stands still"],
)
def test_a_map_that_cannot_be_one_is_refused_with_what_is_allowed(table: str, words: str):
    line = next(line for line in text_of("ridgeway").splitlines() if "torque_by" in line)
    text = text_of("ridgeway").replace(line, f"torque_by = {{ pedal = {table} }}")
    with pytest.raises(InputError) as caught:
        load_text(text, "car.toml")
    (problem,) = caught.value.problems
    assert (problem.path, problem.file) == (MAP, "car.toml")
    assert problem.line == text.splitlines().index(f"torque_by = {{ pedal = {table} }}") + 1
    assert words in f"{problem.message} {problem.given}"
    assert problem.allowed


@pytest.mark.arithmetic
def test_a_climb_without_its_speed_asks_for_the_speed():
    found = by_rule(assessed("ridgeway", LINEAR, **{"goals.climb.at": None}))
    assert found["drive.pedal_climb"].verdict == "unknown"
    assert found["drive.pedal_climb"].needs == ("goals.climb.at",)
