from __future__ import annotations

import math
from datetime import date, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.base.errors import UnitError, WorkingError
from swapwright.base.field import Field
from swapwright.base.figure import Value
from swapwright.base.reading import read
from swapwright.base.table import Line, Map


def field(kind: str, **more: object) -> Field:
    return Field("car.thing", kind, "thing", **more)


def taken(kind: str, raw: object, **more: object) -> object:
    return read(field(kind, **more), raw, ref="car.thing", origin="entered")


def refused(kind: str, raw: object, **more: object) -> UnitError:
    with pytest.raises(UnitError) as caught:
        taken(kind, raw, **more)
    return caught.value


TORQUE_CURVE = {"x": [0, 3000, 8000], "y": [160, 160, 60], "x_unit": "rpm", "y_unit": "N.m"}
RESISTANCE_MAP = {
    "rows": [-20, 25],
    "columns": [0.0, 0.5, 1.0],
    "z": [[9.0, 7.0, 6.0], [2.0, 1.5, 1.4]],
    "row_unit": "degC",
    "z_unit": "mohm",
}


@pytest.mark.arithmetic
def test_a_quantity_keeps_where_it_came_from():
    value = read(field("mass"), "1180 kg", ref="car.kerb_mass", origin="entered")
    assert value == Value(1180.0, "kg", "entered", "car.kerb_mass")


@pytest.mark.arithmetic
def test_a_range_is_kept_as_uncertain():
    value = taken("area", "0.72..0.80 m^2")
    assert isinstance(value, Value)
    assert value.is_uncertain
    assert (value.low, value.high) == (0.72, 0.80)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("kind", "raw", "si"),
    [("ratio", 3.9, 3.9), ("fraction", 1, 1.0), ("grade", 0.06, 0.06), ("count", 12, 12.0)],
)
def test_a_pure_number_needs_no_quotes(kind, raw, si):
    value = taken(kind, raw)
    assert isinstance(value, Value)
    assert (value.si, value.unit) == (si, "1")


@pytest.mark.arithmetic
def test_a_quantity_without_a_unit_is_refused_with_the_likely_text():
    error = refused("mass", 1180)
    assert (error.message, error.nearest) == ("a mass needs a unit", "1180 kg")


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("kind", "raw", "message"),
    [
        ("mass", True, "true is not a number"),
        ("mass", ["1 kg"], "a list is not a number"),
        ("mass", {"kg": 1}, "a table is not a number"),
        ("ratio", math.nan, "not finite"),
        ("ratio", math.inf, "not finite"),
        ("ratio", 10**400, "not finite"),
        ("count", 2.5, "not a whole number"),
        ("count", -1, "too low"),
        ("fraction", 80, "8000 % is too high"),
        ("flag", "yes", "neither true nor false"),
        ("flag", 1, "neither true nor false"),
        ("text", 5, "is not a text"),
        ("text", "  ", "nothing is written"),
        ("text", "a\x00b", "control character"),
        ("text", "x" * 2001, "too long"),
        ("name", "../boxes", "cannot be a name"),
        ("name", "a\\b", "cannot be a name"),
        ("name", "..", "cannot be a name"),
        ("date", "yesterday", "is not a date"),
        ("date", datetime(2026, 11, 25, 12, 0), "is not a date"),
        ("date", 20261125, "is not a date"),
        ("list:ratio", 3.9, "is not a list"),
        ("list:ratio", [3.4, "2.0 kg"], "item 2: 'kg' is a unit of mass, not of ratio"),
        ("list:ratio", [1.0] * 501, "too long"),
        ("list:text", ["pump", 3], "item 2: 3 is not a text"),
    ],
)
def test_a_raw_value_of_the_wrong_sort_is_refused(kind, raw, message):
    assert message in str(refused(kind, raw))


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("raw", "message"),
    [
        ("100 kg", "100.0 kg is too low"),
        ("30 t", "30000 kg is too high"),
        ("-5 kg", "-5.000 kg is too low"),
        ("140..200 kg", "140.0 kg is too low"),
        ("200..40000 lb", "90.72 kg is too low"),
    ],
)
def test_a_value_out_of_range_is_told_the_range(raw, message):
    error = refused("mass", raw, low=150.0, high=20000.0)
    assert error.message == message
    assert error.allowed == "at least 150.0 kg and at most 20000 kg"


@pytest.mark.arithmetic
@pytest.mark.parametrize("raw", ["150 kg", "20 t"])
def test_the_ends_of_the_range_are_allowed(raw):
    assert isinstance(taken("mass", raw, low=150.0, high=20000.0), Value)


@pytest.mark.arithmetic
def test_a_wrong_choice_is_told_the_choices_and_the_likeliest():
    error = refused("choice", "reer", choices=("front", "rear", "all"))
    assert (error.allowed, error.nearest) == ("front or rear or all", "rear")
    assert taken("choice", "rear", choices=("front", "rear", "all")) == "rear"


@pytest.mark.arithmetic
def test_texts_names_flags_and_dates_come_through():
    assert taken("text", "1972 two-door coupé\n") == "1972 two-door coupé\n"
    assert taken("name", "rear box 2") == "rear box 2"
    assert taken("flag", True) is True
    assert taken("date", date(2026, 11, 25)) == taken("date", "2026-11-25") == date(2026, 11, 25)


@pytest.mark.arithmetic
def test_each_item_of_a_list_has_its_own_place():
    values = taken("list:ratio", [3.44, "2.01:1"])
    assert values == (
        Value(3.44, "1", "entered", "car.thing[0]"),
        Value(2.01, "1", "entered", "car.thing[1]"),
    )
    assert taken("list:text", ["pump", "radiator"]) == ("pump", "radiator")


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("kind", "raw"),
    [("list:ratio", [1.0] * 500), ("text", "x" * 2000), ("name", "x" * 100)],
    ids=["list", "text", "name"],
)
def test_the_longest_that_may_be_written_is_still_read(kind, raw):
    assert len(taken(kind, raw)) == len(raw)


@pytest.mark.arithmetic
def test_the_longest_curve_is_still_read():
    raw = {**TORQUE_CURVE, "x": list(range(1000)), "y": [160] * 1000}
    assert len(taken("curve:angular_speed,torque", raw).x) == 1000


@pytest.mark.arithmetic
def test_a_part_is_not_read_from_one_value():
    with pytest.raises(WorkingError, match="'part:motor' is not read from one value"):
        taken("part:motor", "pm-radial")


@pytest.mark.arithmetic
def test_a_curve_is_taken_to_si():
    line = taken("curve:angular_speed,torque", TORQUE_CURVE)
    assert isinstance(line, Line)
    assert line.x == pytest.approx((0.0, 100 * math.pi, 8000 * math.pi / 30))
    assert (line.y, line.x_unit, line.y_unit) == ((160.0, 160.0, 60.0), "rad/s", "N.m")


@pytest.mark.arithmetic
def test_a_map_is_taken_to_si_and_a_fraction_needs_no_unit():
    table = taken("map:temperature,fraction,resistance", RESISTANCE_MAP)
    assert isinstance(table, Map)
    assert table.rows == pytest.approx((253.15, 298.15))
    assert table.columns == (0.0, 0.5, 1.0)
    assert table.at(298.15, 0.5) == pytest.approx(1.5e-3)
    assert (table.row_unit, table.column_unit, table.z_unit) == ("K", "1", "ohm")


@pytest.mark.arithmetic
@pytest.mark.parametrize("unit", ["1", ""])
def test_a_pure_number_may_say_so(unit):
    table = taken("map:temperature,fraction,resistance", RESISTANCE_MAP | {"column_unit": unit})
    assert isinstance(table, Map)


@pytest.mark.arithmetic
def test_the_columns_of_a_map_may_be_in_per_cent():
    raw = RESISTANCE_MAP | {"columns": [0, 50, 100], "column_unit": "%"}
    assert taken("map:temperature,fraction,resistance", raw) == taken(
        "map:temperature,fraction,resistance", RESISTANCE_MAP
    )


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"x": [0, 3000]}, "x has 2 points and y has 3"),
        ({"x": [0, 3000, 3000]}, "x does not rise"),
        ({"x": [0, "3000 rpm", 8000]}, "x number 2: '3000 rpm' is not a number"),
        ({"y": [160, math.nan, 60]}, "y number 2: the number is not finite"),
        ({"y": [160, 1e308, True]}, "y number 3: true is not a number"),
        ({"x": [0], "y": [160]}, "one point makes no curve"),
        ({"x": []}, "x is not a list of numbers"),
        ({"x": 5}, "x is not a list of numbers"),
        ({"x": list(range(1001))}, "x has 1001 numbers"),
        ({"x_unit": 1}, "x_unit: 1 is not a unit"),
        ({"x_unit": "rpn"}, "x_unit: 'rpn' is not a unit of rotational speed"),
        ({"x_unit": "kg"}, "x_unit: 'kg' is a unit of mass"),
        ({"y_unit": ""}, "y_unit: a torque needs a unit"),
        ({"z": [1]}, "'z' is no part of this table"),
    ],
)
def test_a_faulty_curve_says_which_number(change, message):
    assert message in str(refused("curve:angular_speed,torque", TORQUE_CURVE | change))


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"z": [[9.0, 7.0, 6.0]]}, "z does not have one line for each of rows"),
        ({"z": [[9.0, 7.0, 6.0], [2.0, 1.5]]}, "z line 2 has 2 numbers and columns has 3"),
        ({"z": [[9.0, 7.0, 6.0], [2.0, -1.5, 1.4]]}, "z line 2 number 2: -1.500 mohm is too low"),
        ({"columns": [0.0, 50.0, 100.0]}, "columns number 2: 5000 % is too high"),
        ({"rows": [-20, -300]}, "rows number 2: -300.0 degC is too low"),
        ({"rows": [25, -20]}, "rows does not rise"),
    ],
)
def test_a_faulty_map_says_which_number(change, message):
    raw = RESISTANCE_MAP | change
    assert message in str(refused("map:temperature,fraction,resistance", raw))


@pytest.mark.arithmetic
def test_a_curve_without_a_column_is_told_what_a_curve_holds():
    error = refused("curve:fraction,voltage", {"x": [0.0, 1.0]})
    assert (error.message, error.allowed) == ("the table has no y", "x, y, x_unit, y_unit")
    assert "'3.7 V' is not a table" in str(refused("curve:fraction,voltage", "3.7 V"))


@pytest.mark.arithmetic
def test_the_fields_bounds_hold_for_what_a_curve_gives():
    error = refused("curve:angular_speed,torque", TORQUE_CURVE, low=0.0, high=150.0)
    assert "y number 1: 160.0 N.m is too high" in str(error)


single = ["mass", "ratio", "count", "fraction", "text", "name", "flag", "date", "choice"]
several = ["list:ratio", "list:text", "curve:fraction,voltage"]
kinds = st.sampled_from([*single, *several, "map:temperature,fraction,resistance"])
leaves = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=12), st.dates()
)
keys = st.sampled_from(["x", "y", "x_unit", "y_unit", "rows", "columns", "z", "z_unit", "w"])
anything = st.recursive(
    leaves,
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(keys, inner, max_size=6)),
    max_leaves=12,
)


@pytest.mark.property
@settings(deadline=None, max_examples=400)
@given(kind=kinds, raw=anything)
def test_any_raw_value_is_read_or_refused_never_more(kind, raw):
    try:
        result = taken(kind, raw, choices=("front", "rear"))
    except UnitError as error:
        assert error.message
        return
    if isinstance(result, Value):
        assert math.isfinite(result.si)
