"""How far uncertain inputs move a figure: the wider of two ends, over the figure."""

from __future__ import annotations

from dataclasses import replace

import pytest
from example_cars import assessment_of

from swapwright.assess.swing_query import shares_moved

RANGE = "range.combined"

pytestmark = pytest.mark.arithmetic


def test_an_input_moves_a_figure_by_its_wider_end_as_a_share_of_the_figure():
    assessment = replace(
        assessment_of("ridgeway"), swings={RANGE: {"wide": (-20.0, 5.0), "narrow": (1.0, -2.0)}}
    )
    whole = assessment.figures[RANGE].value.si
    assert shares_moved(assessment, RANGE) == {"wide": 20.0 / whole, "narrow": 2.0 / whole}


def test_a_figure_that_is_not_there_is_moved_by_nothing():
    assert shares_moved(assessment_of("ridgeway"), "range.moon") == {}


def test_there_is_no_share_of_a_figure_that_is_nothing():
    assessment = assessment_of("ridgeway")
    figure = assessment.figures[RANGE]
    none = replace(figure, value=replace(figure.value, si=0.0, low=None, high=None))
    stopped = replace(assessment, figures={**assessment.figures, RANGE: none})
    assert assessment.swings[RANGE]
    assert shares_moved(stopped, RANGE) == {}
