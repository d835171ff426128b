"""Cars with entries lost and others at the ends of their ranges: always an assessment, no NaN."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from build_paths import ranges_of_entries
from example_cars import ALL_CARS, car_of
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.assess.solve import assess
from swapwright.base.figure import SimulatedWorking

LEDGER_TOLERANCE = 1e-6


@st.composite
def broken_cars(draw: st.DrawFn):
    car = car_of(draw(st.sampled_from(ALL_CARS)))
    values = dict(car.values)
    for path in draw(st.lists(st.sampled_from(sorted(values)), max_size=4, unique=True)):
        del values[path]
    ranges = ranges_of_entries()
    ends = st.tuples(st.sampled_from(sorted(set(ranges) & set(values))), st.sampled_from((0, 1)))
    changes = draw(st.lists(ends, max_size=4, unique_by=lambda change: change[0]))
    for path, end in changes:
        values[path] = replace(values[path], si=ranges[path][end], low=None, high=None)
    parts = dict(car.part_names)
    for path in draw(st.lists(st.sampled_from(sorted(parts)), max_size=1)):
        del parts[path]
    return replace(car, values=values, part_names=parts, revision=f"{sorted(changes)}")


@pytest.mark.property
@settings(max_examples=60, deadline=None, derandomize=True)
@given(car=broken_cars())
def test_whatever_is_lost_or_absurd_a_car_is_assessed_in_finite_numbers(car):
    assessment = assess(car)
    for figure_id, figure in assessment.figures.items():
        value = figure.value
        assert math.isfinite(value.si), figure_id
        if value.low is not None and value.high is not None:
            assert value.low <= value.si <= value.high, figure_id
        if isinstance(figure.working, SimulatedWorking):
            ledger = figure.working.ledger.values()
            largest = max(abs(joules) for joules in ledger)
            assert abs(math.fsum(ledger)) <= LEDGER_TOLERANCE * largest, figure_id
    for curve in assessment.curves.values():
        for series in curve.ys:
            assert all(math.isfinite(number) for number in series.points), curve.id
    for figure_id, needs in assessment.missing.items():
        assert needs, figure_id
