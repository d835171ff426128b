"""The levels beside the pack's voltage: every window of its parts, as their data sheets say it."""

from __future__ import annotations

import pytest
from example_cars import FLAWED, TWIN, car_from, car_of, changed, text_of

from swapwright.assess.book import FigureBook
from swapwright.assess.solve import before_circuit
from swapwright.assess.voltage_windows import voltage_windows
from swapwright.build.car import Car

pytestmark = pytest.mark.arithmetic


def levels(car: Car) -> dict[str, float]:
    book = FigureBook(car)
    before_circuit(book)
    return {mark.label: mark.y or 0.0 for mark in voltage_windows(book)}


def test_every_part_with_a_window_has_its_ends_as_its_data_sheet_gives_them():
    assert levels(car_of("bakery")) == pytest.approx(
        {
            "inverter, highest running": 140.0,
            "inverter, absolute maximum": 150.0,
            "inverter, lowest": 80.0,
            "charger, highest": 150.0,
            "charger, lowest": 80.0,
            "dc-dc, highest": 150.0,
            "dc-dc, lowest": 72.0,
            "cells, charge end": 131.4,
            "cells, lowest": 100.8,
            "contactors, lowest rating": 200.0,
            "fuses, lowest rating": 250.0,
        }
    )


def test_a_second_drive_unit_has_a_window_of_its_own():
    found = levels(car_of(TWIN))
    assert found["inverter, highest running"] == 430.0
    assert found["second inverter, lowest"] == 240.0
    assert found["second inverter, highest running"] == 430.0
    assert found["second inverter, absolute maximum"] == 450.0


# The fault finder: contactors of 450 V, a relay of 900 V; fuses of 500 V and of 1000 V.
def test_of_several_contactors_and_fuses_the_weakest_is_marked():
    found = levels(car_of(FLAWED))
    assert found["contactors, lowest rating"] == 450.0
    assert found["fuses, lowest rating"] == 500.0


def test_a_precharge_relay_weaker_than_the_contactors_is_the_one_marked():
    weak = {"hv.precharge.relay": "contactor-200vdc-50a"}
    assert levels(car_from(changed(text_of("ridgeway"), weak)))["contactors, lowest rating"] == 200


def test_where_one_rating_is_not_given_the_lowest_is_only_that_of_those_known():
    unrated = '{ rating = "200 A", poles = "both" }'
    found = levels(car_from(changed(text_of("ridgeway"), {"hv.main_fuse": unrated})))
    assert found["fuses, lowest rating known"] == 500.0
    assert "fuses, lowest rating" not in found


def test_a_part_the_car_has_not_has_no_window():
    found = levels(car_from(changed(text_of("ridgeway"), {"lv.dcdc": None})))
    assert not any(label.startswith("dc-dc") for label in found)
    assert not any(label.startswith("second") for label in found)
