"""What moves a figure: its own swings, the widest first, told at their ends."""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from swapwright.assess.solve import assess
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import Checked, check
from swapwright.jobs.tornado import MOST_ROWS, Tornado, tornado, tornado_svg

pytestmark = pytest.mark.arithmetic

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TODAY = date(2026, 11, 27)
RANGE = "range.combined"


@cache
def checked_of(name: str) -> Checked:
    return check(EXAMPLES / f"{name}.toml", Catalogue(), TODAY)


def moved(figure: str = RANGE, profile: str = "metric", world: str = "electric") -> Tornado:
    found = tornado(checked_of("ridgeway"), figure, profile, world)
    assert found is not None
    return found


def test_the_input_that_moves_the_range_most_comes_first():
    reach = [
        max(abs(row.low_si - found.nominal_si), abs(row.high_si - found.nominal_si))
        for found in (moved(),)
        for row in found.rows
    ]
    assert reach == sorted(reach, reverse=True)
    assert len(reach) >= 3
    assert reach[-1] > 0.0


def test_a_row_says_what_the_figure_is_with_that_input_alone_at_its_ends():
    found = moved()
    car = checked_of("ridgeway").opened.car
    row = next(each for each in found.rows if each.path == "drive.loss_factor")
    value = car.value(row.path)
    for end, told in ((value.low, row.low_si), (value.high, row.high_si)):
        assert end is not None
        alone = assess(car.with_values({row.path: end})).figures[RANGE].value.si
        assert alone == pytest.approx(told, rel=0.01)


def test_inputs_and_figure_are_told_in_the_units_of_the_profile():
    metric, us = moved(), moved(profile="us")
    assert metric.nominal.endswith(" km")
    assert us.nominal.endswith(" mi")
    drag = next(each for each in us.rows if each.path == "car.road_load.cd_a")
    assert drag.label
    assert re.fullmatch(r"[\d.]+ ft\^2", drag.low)


def test_a_figure_nothing_moves_has_no_rows_and_an_unknown_one_is_none():
    checked = checked_of("ridgeway")
    still = next(each for each in checked.assessment.figures if each not in _swung(checked))
    assert moved(still).rows == ()
    assert tornado(checked, "no.such.figure", "metric", "electric") is None


def _swung(checked: Checked) -> set[str]:
    return {figure for figure, swings in checked.assessment.swings.items() if swings}


def test_every_figure_that_has_swings_can_be_told_and_drawn():
    checked = checked_of("ridgeway")
    for figure in _swung(checked):
        found = tornado(checked, figure, "us", "engine")
        assert found is not None
        assert 0 < len(found.rows) <= MOST_ROWS
        text = tornado_svg(found, lambda path: f"/entry#{path}", "a car")
        assert text.count("/entry#") == len(found.rows)
