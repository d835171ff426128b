from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.base.table import Line, Map

LINE = Line((0.0, 10.0, 30.0), (5.0, 15.0, 5.0), "rad/s", "N.m")
TILE = Map((0.0, 10.0), (0.0, 1.0, 2.0), ((1.0, 2.0, 4.0), (11.0, 22.0, 44.0)), "K", "1", "ohm")


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("x", "y"), [(0.0, 5.0), (5.0, 10.0), (10.0, 15.0), (20.0, 10.0), (30.0, 5.0)]
)
def test_a_line_goes_straight_between_its_points(x, y):
    assert LINE.at(x) == pytest.approx(y)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("x", "y"), [(-100.0, 5.0), (100.0, 5.0)])
def test_beyond_its_ends_a_line_keeps_its_end_value(x, y):
    assert LINE.at(x) == y


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("row", "column", "z"),
    [
        (0.0, 0.0, 1.0),
        (10.0, 2.0, 44.0),
        (5.0, 0.0, 6.0),
        (0.0, 1.5, 3.0),
        (5.0, 0.5, 9.0),
        (-9.0, -9.0, 1.0),
        (99.0, 99.0, 44.0),
    ],
)
def test_a_map_is_bilinear_inside_and_flat_outside(row, column, z):
    assert TILE.at(row, column) == pytest.approx(z)


@pytest.mark.property
@settings(deadline=None, max_examples=100)
@given(row=st.floats(-50, 50), column=st.floats(-50, 50))
def test_a_map_never_leaves_the_span_of_its_numbers(row, column):
    assert 1.0 - 1e-9 <= TILE.at(row, column) <= 44.0 + 1e-9
