"""A reading is taken as typed, never refused, and stops the job where it does not fit."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.procedures.reading import AskAgain, Entered, judge, read
from swapwright.procedures.step import Expectation, ReadingSpec

NOTHING = Expectation(0.0, 12.0, "nothing should stand here")
ABSENT = ReadingSpec("dc voltage", "V", ("a", "b"), NOTHING, 12.0)
ABSENT_AC = ReadingSpec("ac voltage", "V", ("a", "b"), NOTHING, 12.0)
HALF_PACK = ReadingSpec(
    "dc voltage", "V", ("a", "b"), Expectation(150.0, 240.0, "the rear box keeps its half")
)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "quantity", "si", "step"),
    [
        ("0.3 V", "dc voltage", 0.3, 0.1),
        ("0,3 V", "dc voltage", 0.3, 0.1),
        ("0,300 V", "dc voltage", 0.3, 0.001),
        ("-403.2 V", "dc voltage", -403.2, 0.1),
        ("12 mV", "dc voltage", 0.012, 0.001),
        ("403 Vdc", "dc voltage", 403.0, 1.0),
        (" 0 V ", "dc voltage", 0.0, 1.0),
        (".5V", "dc voltage", 0.5, 0.1),
        ("1.2 kohm", "resistance", 1200.0, 100.0),
        ("2.1 Mohm", "resistance", 2.1e6, 1e5),
        ("25 degC", "temperature", 298.15, 1.0),
    ],
)
def test_a_reading_is_taken_as_it_is_typed(text, quantity, si, step):
    found = read(text, quantity, "V")
    assert isinstance(found, Entered)
    assert found.si == pytest.approx(si, rel=1e-12)
    assert found.step == pytest.approx(step, rel=1e-9)


@pytest.mark.arithmetic
def test_where_a_comma_may_part_thousands_the_larger_reading_counts():
    found = read("1,234 V", "dc voltage", "V")
    assert isinstance(found, Entered) and found.si == 1234.0


@pytest.mark.arithmetic
@pytest.mark.parametrize("text", ["OL", "-OL", "OL V", "over range", "overload"])
def test_a_meter_over_its_range_is_a_reading_and_never_a_small_one(text):
    found = read(text, "dc voltage", "V")
    assert isinstance(found, Entered) and found.si == math.inf
    assert judge(ABSENT, found).word == "above the class boundary"


@pytest.mark.arithmetic
@pytest.mark.parametrize("text", ["12.3", "0,3", "12.3 ohm", "403 A", "12 Volz", "0"])
def test_a_number_without_its_unit_is_kept_and_asked_for_again(text):
    found = read(text, "dc voltage", "V")
    assert isinstance(found, AskAgain)
    assert found.is_kept and "which unit" in found.words


@pytest.mark.arithmetic
@pytest.mark.parametrize("text", ["", "   ", "none", "volts", "about nothing", "-", "."])
def test_what_is_no_number_is_sent_back_for_retyping(text):
    found = read(text, "dc voltage", "V")
    assert isinstance(found, AskAgain)
    assert not found.is_kept and "not a number" in found.words


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("value", "word"),
    [
        (0.0, "as expected"),
        (12.0, "as expected"),
        (-12.0, "as expected"),
        (12.01, "not verified: find the source"),
        (60.0, "not verified: find the source"),
        (-60.01, "above the class boundary"),
        (403.0, "above the class boundary"),
    ],
)
def test_absence_is_judged_at_twelve_volts_and_told_apart_at_the_class_boundary(value, word):
    found = judge(ABSENT, Entered(value))
    assert found.word == word
    assert found.stops is (word != "as expected")


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("value", "word"),
    [(30.0, "not verified: find the source"), (30.1, "above the class boundary")],
)
def test_the_class_boundary_of_alternating_voltage_is_thirty_volts(value, word):
    assert judge(ABSENT_AC, Entered(value)).word == word


@pytest.mark.arithmetic
@pytest.mark.parametrize("value", [0.0, 12.0, 149.9])
def test_nothing_where_volts_were_expected_stops_as_well(value):
    found = judge(HALF_PACK, Entered(value))
    assert (found.word, found.stops) == ("lower than expected", True)


@pytest.mark.arithmetic
def test_more_than_was_expected_stops_and_what_was_expected_does_not():
    assert judge(HALF_PACK, Entered(240.1)).word == "higher than expected"
    assert not judge(HALF_PACK, Entered(-200.0)).stops


@pytest.mark.arithmetic
def test_a_reading_that_rises_by_more_than_its_last_digit_has_a_source():
    first = Entered(0.2, 0.1)
    assert not judge(ABSENT, Entered(0.3, 0.1), first).stops
    assert judge(ABSENT, Entered(0.4, 0.1), first).word == "risen since the first reading"
    assert not judge(ABSENT, Entered(-0.1, 0.1), first).stops
    assert judge(ABSENT, Entered(-5.0, 0.1), first).stops, "the other way round it rises too"


@pytest.mark.property
@given(text=st.text(max_size=30))
def test_whatever_is_typed_is_answered(text: str):
    found = read(text, "dc voltage", "V")
    if isinstance(found, Entered):
        assert not math.isnan(found.si)
        assert judge(ABSENT, found).words


@pytest.mark.property
@given(value=st.floats(0.0, 1e4), more=st.floats(0.0, 1e4))
def test_a_higher_reading_never_looks_more_absent(value: float, more: float):
    if judge(ABSENT, Entered(value)).stops:
        assert judge(ABSENT, Entered(value + more)).stops
