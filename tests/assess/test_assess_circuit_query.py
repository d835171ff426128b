"""Shares of the pack's highest voltage in volts, and where voltage class B begins."""

from __future__ import annotations

import pytest
from example_cars import ALL_CARS, car_of

from swapwright.assess.circuit_query import box_modules, box_voltage, is_class_b, section_spans
from swapwright.assess.queries import STATES, section_states
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of


@pytest.mark.property
@pytest.mark.parametrize("name", ALL_CARS)
def test_what_stands_without_charge_is_never_more_than_what_stands_with_it(name: str):
    for state in STATES:
        for each in section_states(car_of(name), state):
            found = section_spans(each, 400.0)
            assert 0.0 <= found.driven <= found.between
            assert (found.between, found.to_chassis) == (each.span * 400.0, each.pole_span * 400.0)


# 96 cells at 4.2 V are 403.2 V over 12 modules: 5 of them are 168 V, 7 are 235.2 V.
@pytest.mark.arithmetic
def test_the_boxes_of_a_string_share_its_voltage_by_their_modules():
    front, rear = circuit_of(car_of("ridgeway")).of_kind(model.PACK)
    assert (box_modules(front, 12.0), box_modules(rear, 12.0)) == (5, 7)
    assert box_voltage(front, 403.2) == pytest.approx(168.0)
    assert box_voltage(rear, 403.2) == pytest.approx(235.2)


@pytest.mark.arithmetic
def test_class_b_begins_above_sixty_volts_dc():
    assert not is_class_b(60.0)
    assert is_class_b(60.01)
