"""What masses moved along the car do: moments balance, nothing gets heavier, the solve agrees."""

from __future__ import annotations

import math

import pytest
from example_cars import ALL_CARS, SOUND, assessment_of, car_from, car_of, changed, text_of
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.assess.queries import weight_findings_with, weights_with
from swapwright.assess.solve import assess
from swapwright.assess.weight_query import CG_HEIGHT, CG_X_UNLADEN, PLACED_RULES
from swapwright.build.car import Car

ROUNDING = 1e-9
names = st.sampled_from(SOUND)
places = st.floats(-1.0, 4.0)
shares = st.floats(0.0, 1.0, exclude_max=True)
often = settings(max_examples=60, deadline=None, derandomize=True)
few = settings(max_examples=4, deadline=None, derandomize=True)


def numbers(car: Car, positions: dict[int, float] | None = None) -> dict[str, float]:
    return {figure.id: figure.value.si for figure in weights_with(car, positions or {})}


def row_of(car: Car, share: float) -> int:
    return int(share * car.counts["mass"])


@pytest.mark.property
@pytest.mark.parametrize("name", ALL_CARS)
def test_with_nothing_moved_the_weights_are_those_of_the_assessment(name: str):
    solved = assessment_of(name).figures
    found = numbers(car_of(name))
    assert set(found) - set(solved) == {CG_X_UNLADEN}
    for figure_id, si in found.items():
        if figure_id in solved:
            assert si == solved[figure_id].value.si


@pytest.mark.property
@few
@given(name=names, share=shares, centimetres=st.integers(-100, 350))
def test_a_mass_moved_weighs_on_the_axles_as_if_its_place_were_in_the_file(
    name: str, share: float, centimetres: int
):
    row, x = row_of(car_of(name), share), centimetres / 100.0
    solved = assess(car_from(changed(text_of(name), {f"mass[{row}].x": f"{x} m"})))
    found = numbers(car_of(name), {row: x})
    for figure_id in found.keys() & solved.figures.keys():
        assert found[figure_id] == pytest.approx(solved.figures[figure_id].value.si, rel=ROUNDING)
    verdicts = {each.rule: each.verdict for each in solved.findings if each.rule in PLACED_RULES}
    moved = {each.rule: each.verdict for each in weight_findings_with(car_of(name), {row: x})}
    assert moved == verdicts


@pytest.mark.property
@often
@given(name=names, share=shares, x=places, further=st.floats(0.0, 1.0))
def test_a_mass_moved_forward_never_lightens_the_front_axle(
    name: str, share: float, x: float, further: float
):
    car = car_of(name)
    row = row_of(car, share)
    behind, ahead = (numbers(car, {row: place}) for place in (x, x - further))
    gained = ahead["weight.front_loaded"] - behind["weight.front_loaded"]
    if f"mass[{row}].remove" in car.texts:
        gained = -gained
    assert gained >= -ROUNDING * ahead["mass.loaded"]


@pytest.mark.property
@often
@given(name=names, share=shares, x=places)
def test_moving_a_mass_changes_no_total(name: str, share: float, x: float):
    car = car_of(name)
    found, before = numbers(car, {row_of(car, share): x}), numbers(car)
    for total in ("mass.kerb", "mass.loaded", "mass.removed", "mass.added"):
        assert found[total] == before[total]
    for suffix in ("", "_loaded"):
        axles = found[f"weight.front{suffix}"] + found[f"weight.rear{suffix}"]
        was = before[f"weight.front{suffix}"] + before[f"weight.rear{suffix}"]
        assert axles == pytest.approx(was, rel=ROUNDING)


@pytest.mark.arithmetic
def test_the_centre_of_gravity_moves_by_the_moment_of_what_was_moved():
    car = car_of("ridgeway")
    found, before = numbers(car, {8: 1.45}), numbers(car)  # the rear pack, a metre forward
    mass = car.number("mass[8].mass")
    for centre, whole in ((CG_X_UNLADEN, "mass.kerb"), ("weight.cg_x", "mass.loaded")):
        assert before[centre] - found[centre] == pytest.approx(mass * 1.0 / before[whole])
    assert found[CG_HEIGHT] == before[CG_HEIGHT]


@pytest.mark.arithmetic
def test_masses_put_behind_the_rear_axle_until_the_front_lifts_have_no_centre_of_gravity():
    car = car_of("ridgeway")
    found = numbers(car, dict.fromkeys(range(5, 13), 11.0))
    assert "weight.front" not in found
    assert CG_X_UNLADEN not in found
    verdicts = {each.rule: each.verdict for each in weight_findings_with(car, {8: 11.0})}
    assert verdicts["weight.rear_axle"] == "stop"


@pytest.mark.arithmetic
def test_a_row_without_a_place_can_be_given_one():
    bare = car_from(changed(text_of("ridgeway"), {"mass[8].x": None}))
    assert "weight.front" not in numbers(bare)
    whole = numbers(car_of("ridgeway"))["weight.front"]
    assert math.isclose(numbers(bare, {8: 2.45})["weight.front"], whole)


@pytest.mark.arithmetic
def test_a_row_that_is_not_there_cannot_be_moved():
    with pytest.raises(ValueError, match="there is no mass row 99"):
        weights_with(car_of("ridgeway"), {99: 1.0})
