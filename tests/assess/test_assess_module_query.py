"""Where measured modules are put: weak with weak in strings, weak beside strong in groups."""

from __future__ import annotations

from itertools import permutations
from math import fsum

import pytest
from example_cars import STRINGS, car_from, text_of
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.assess.module_query import Placing, placing

AH = 3600.0


def placed(modules: list[tuple[float | None, int, int | None]]) -> Placing:
    """Return the placing of modules (capacity Ah, string, group)."""
    rows = "".join(
        f'\n[[pack.tested]]\nserial = "M{at:02d}"\nstring = {string}\n'
        + ("" if group is None else f"group = {group}\n")
        + ("" if capacity is None else f'capacity = "{capacity} Ah"\n')
        for at, (capacity, string, group) in enumerate(modules)
    )
    return placing(car_from(text_of(STRINGS) + rows))


@pytest.mark.arithmetic
def test_two_weak_modules_go_into_one_string_so_that_the_other_is_not_held_back():
    found = placed([(60.0, 1, None), (45.0, 1, None), (59.0, 2, None), (46.0, 2, None)])
    assert found.capacity_as_listed == pytest.approx((45.0 + 46.0) * AH)
    assert found.capacity == pytest.approx((59.0 + 45.0) * AH)
    strings = {each.module.serial: each.string for each in found.placed}
    assert strings == {"M00": 1, "M02": 1, "M01": 2, "M03": 2}


@pytest.mark.arithmetic
def test_side_by_side_the_strong_one_is_put_beside_the_weak_one():
    found = placed([(60.0, 1, 1), (58.0, 1, 1), (44.0, 1, 2), (42.0, 1, 2)])
    assert found.capacity_as_listed == pytest.approx(86.0 * AH)
    assert found.capacity == pytest.approx(102.0 * AH)


@pytest.mark.arithmetic
def test_with_a_capacity_not_measured_nothing_is_proposed():
    found = placed([(60.0, 1, None), (None, 1, None)])
    assert (found.placed, found.lacking) == ((), ("M01",))


capacities = st.lists(st.integers(30, 60).map(float), min_size=4, max_size=4)


@pytest.mark.property
@settings(max_examples=25, deadline=None)
@given(capacities, st.booleans())
def test_a_proposal_uses_every_module_once_and_is_the_best_there_is_of_four(values, side_by_side):
    places = [(1, 1), (1, 1), (1, 2), (1, 2)] if side_by_side else [(1, 1), (1, 2), (2, 3), (2, 4)]
    found = placed([(v, s, g) for v, (s, g) in zip(values, places, strict=True)])

    def capacity(order: tuple[float, ...]) -> float:
        groups: dict[tuple[int, int], list[float]] = {}
        for value, place in zip(order, places, strict=True):
            groups.setdefault(place, []).append(value)
        strings: dict[int, list[float]] = {}
        for (string, _), members in groups.items():
            strings.setdefault(string, []).append(fsum(members))
        return fsum(min(sums) for sums in strings.values()) * AH

    best = max(capacity(order) for order in permutations(values))
    assert found.capacity == pytest.approx(best)
    assert sorted(each.capacity for each in found.placed) == pytest.approx(
        sorted(value * AH for value in values)
    )
