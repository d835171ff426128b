from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from swapwright.jobs.merging import Conflict, merged, raw_of, text_at, told

pytestmark = pytest.mark.arithmetic

BASE: Mapping[str, Any] = {
    "car": {"name": "coupe", "kerb_mass": "1180 kg"},
    "drive": {"motor": "motor-a"},
    "mass": [{"remove": "engine", "x": "0.1 m"}, {"add": "pack", "x": "2 m"}],
}


def now_with(**changed: Any) -> dict[str, Any]:
    return {**BASE, **changed}


def test_entries_changed_apart_are_both_kept():
    now = now_with(car={"name": "the coupe", "kerb_mass": "1180 kg"})
    assert merged({"car.kerb_mass": "1200 kg"}, BASE, now) == {"car.kerb_mass": "1200 kg"}


def test_one_entry_changed_by_two_is_told_with_all_three_texts():
    now = now_with(car={"name": "coupe", "kerb_mass": "1190 kg"})
    found = merged({"car.kerb_mass": "1200 kg"}, BASE, now)
    assert found == Conflict("car.kerb_mass", "1180 kg", "1190 kg", "1200 kg")


def test_two_who_typed_the_same_do_not_meet():
    now = now_with(car={"name": "coupe", "kerb_mass": "1200 kg"})
    assert merged({"car.kerb_mass": "1200 kg"}, BASE, now) == {"car.kerb_mass": "1200 kg"}


def test_an_entry_taken_out_by_one_and_changed_by_the_other_is_told():
    now = now_with(car={"name": "coupe"})
    found = merged({"car.kerb_mass": "1200 kg"}, BASE, now)
    assert found == Conflict("car.kerb_mass", "1180 kg", "", "1200 kg")


def test_a_part_chosen_anew_does_not_wipe_out_what_another_said_of_the_old_one():
    now = now_with(drive={"motor": {"part": "motor-a", "mass": "48 kg"}})
    found = merged({"drive.motor": "motor-b"}, BASE, now)
    assert isinstance(found, Conflict)
    assert found.now == '{ part = "motor-a", mass = "48 kg" }'
    same = merged({"drive.motor": "motor-a"}, BASE, now)
    assert isinstance(same, Conflict)


def test_what_is_said_of_a_part_does_not_go_onto_another_part():
    found = merged({"drive.motor.mass": "48 kg"}, BASE, now_with(drive={"motor": "motor-b"}))
    assert found == Conflict("drive.motor.mass", "motor-a", "motor-b", "48 kg")


def test_a_row_keeps_what_was_typed_for_it_where_one_came_in_before_it():
    now = now_with(mass=[{"remove": "tank", "x": "3 m"}, *BASE["mass"]])
    assert merged({"mass[1].x": "2.1 m"}, BASE, now) == {"mass[2].x": "2.1 m"}


def test_a_row_keeps_what_was_typed_for_it_where_one_before_it_is_gone():
    assert merged({"mass[1].x": "2.1 m"}, BASE, now_with(mass=BASE["mass"][1:])) == {
        "mass[0].x": "2.1 m"
    }


def test_a_row_that_is_gone_takes_nothing():
    now = now_with(mass=BASE["mass"][:1])
    assert merged({"mass[1].x": "2.1 m"}, BASE, now) == Conflict("mass[1].x", "2 m", "", "2.1 m")


def test_different_entries_of_one_row_are_both_kept():
    now = now_with(mass=[{"remove": "the engine", "x": "0.1 m"}, BASE["mass"][1]])
    assert merged({"mass[0].x": "0.2 m"}, BASE, now) == {"mass[0].x": "0.2 m"}


def test_rows_added_by_two_are_both_kept():
    now = now_with(mass=[*BASE["mass"], {"add": "charger"}])
    typed = {"mass[2].add": "cables", "mass[2].mass": "12 kg"}
    assert merged(typed, BASE, now) == {"mass[3].add": "cables", "mass[3].mass": "12 kg"}


def test_rows_that_changed_places_keep_what_was_typed_for_them():
    now = now_with(mass=BASE["mass"][::-1])
    assert merged({"mass[1].x": "2.1 m"}, BASE, now) == {"mass[0].x": "2.1 m"}


def test_a_row_taken_out_by_one_while_another_changed_it_is_told():
    now = now_with(mass=[BASE["mass"][0], {"add": "pack", "x": "2.2 m"}])
    found = merged({"mass[1]": None}, BASE, now)
    assert isinstance(found, Conflict)
    assert found.now == '{ add = "pack", x = "2.2 m" }'


def test_where_what_it_was_is_not_known_nothing_said_is_written_over():
    found = merged({"car.kerb_mass": "1200 kg"}, None, BASE)
    assert found == Conflict("car.kerb_mass", "", "1180 kg", "1200 kg", is_before_known=False)
    assert merged({"car.kerb_mass": "1180 kg"}, None, BASE) == {"car.kerb_mass": "1180 kg"}
    assert merged({"goals.top_speed": "120 km/h"}, None, BASE) == {"goals.top_speed": "120 km/h"}


def test_where_what_it_was_is_not_known_no_row_is_trusted_by_its_number():
    assert isinstance(merged({"mass[2].add": "cables"}, None, BASE), Conflict)


def test_a_text_that_is_no_toml_says_nothing():
    assert raw_of("kerb = = 3") is None
    assert raw_of("\ufeffformat = 1") == {"format": 1}


def test_an_entry_is_told_as_a_person_would_type_it():
    raw = {"a": True, "b": [1.5, "x, y", False], "c": {"part": "m", "mass": "2 kg"}, "d": [[0, 1]]}
    assert [text_at(raw, key) for key in "abcd"] == [
        "true",
        '[1.5, "x, y", false]',
        "m",
        "[[0, 1]]",
    ]
    assert text_at(raw, "b[1]") == "x, y"
    assert text_at(raw, "e.f[3]") == ""
    assert len(told("x" * 900)) < 300
