"""Curves as numbers people read: one unit to a column, gaps kept, text that stays text."""

from __future__ import annotations

import csv
import io
import itertools
import json
import math
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.curve import Axis, Curve, Mark, Series
from swapwright.base.errors import InputError
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.chart_table import chart_table, csv_of, document_of, shown_rows
from swapwright.jobs.check import Checked, check
from swapwright.jobs.curve_drawing import curve_of, stage_of_curve, svg_of, table_of, words_of
from swapwright.jobs.trace import read_trace

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SPEEDS = (0.0, 10.0, 20.0, 30.0)
KMH_PER_M_PER_S = 3.6


@cache
def checked(name: str) -> Checked:
    return check(EXAMPLES / f"{name}.toml", Catalogue(), date(2026, 11, 27))


def curve(**changes) -> Curve:
    given_ = {
        "id": "drive.force",
        "label": "force against speed",
        "x": Axis("road speed", "speed", "m/s", SPEEDS),
        "ys": (
            Series("peak", "force", "N", (5000.0, 4000.0, None, 900.0), ("grip", "heat", "", "x")),
            Series("road load", "force", "N", (100.0, 150.0, 300.0, 600.0)),
            Series("power", "power", "W", (0.0, 40e3, None, 27e3)),
        ),
        "marks": (Mark("limit", x=25.0), Mark("level", y=2000.0)),
    }
    return Curve(**(given_ | changes))


def cells(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text)))


@pytest.mark.arithmetic
def test_series_of_one_kind_have_the_unit_of_the_largest_of_them():
    table = chart_table(curve(), "metric")
    assert [column.unit for column in table.columns] == ["kN", "kN", "kW"]
    assert table.columns[1].numbers == pytest.approx((0.1, 0.15, 0.3, 0.6))
    assert [panel.columns for panel in table.panels] == [(0, 1), (2,)]


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("profile", "world", "units"),
    [
        ("metric", "electric", ["km/h", "kN", "kN", "kW"]),
        ("us", "electric", ["mph", "lbf", "lbf", "kW"]),
        ("us", "engine", ["mph", "lbf", "lbf", "hp"]),
        ("uk", "engine", ["mph", "kN", "kN", "hp"]),
    ],
)
def test_columns_are_in_the_units_of_country_and_trade(profile, world, units):
    table = chart_table(curve(), profile, world)
    assert [table.x.unit, *(column.unit for column in table.columns)] == units


@pytest.mark.arithmetic
def test_marks_stand_in_the_units_of_their_axes():
    along, level = chart_table(curve(), "metric").marks
    assert (along.x, along.text) == (pytest.approx(25.0 * KMH_PER_M_PER_S), "90.0 km/h")
    assert (level.y, level.text) == (pytest.approx(2.0), "2.00 kN")


@pytest.mark.arithmetic
def test_a_logarithmic_chart_keeps_the_plain_unit_and_leaves_out_what_is_not_above_zero():
    series = Series("fuse", "time", "s", (0.0, 7200.0, 0.002, None))
    table = chart_table(curve(ys=(series,), marks=()), "metric", is_log=True, y_range=(1e-3, 1e4))
    assert table.columns[0].unit == "s"
    assert table.columns[0].numbers == (None, 7200.0, 0.002, None)
    assert table.panels[0].ends == (1e-3, 1e4)


@pytest.mark.arithmetic
def test_what_arithmetic_leaves_over_is_shown_as_nothing():
    series = Series("power", "power", "W", (3e-6, 30e3, 0.0, -2e-9))
    table = chart_table(curve(ys=(series,), marks=()), "metric")
    assert table.columns[0].numbers == pytest.approx((0.0, 30.0, 0.0, 0.0), abs=0.0)


@pytest.mark.arithmetic
def test_the_csv_has_every_row_the_unit_in_the_header_and_an_empty_cell_for_a_gap():
    rows = cells(csv_of(chart_table(curve(), "metric")))
    assert rows[0] == [
        "road speed [km/h]",
        "peak [kN]",
        "peak: limited by",
        "road load [kN]",
        "power [kW]",
    ]
    assert len(rows) == 1 + len(SPEEDS)
    assert rows[2] == ["36", "4", "heat", "0.15", "40"]
    assert rows[3][1] == ""


@pytest.mark.arithmetic
@pytest.mark.parametrize("start", ["=", "+", "-", "@"])
def test_no_text_of_a_csv_is_a_formula(start):
    text = f"{start}1+1"
    series = Series(text, "force", "N", (1.0,) * 4, (text,) * 4)
    rows = cells(
        csv_of(chart_table(curve(x=Axis(text, "speed", "m/s", SPEEDS), ys=(series,)), "us"))
    )
    texts = [*rows[0], *(row[2] for row in rows[1:])]
    assert all(each.startswith("'") for each in texts)


@pytest.mark.arithmetic
def test_a_long_table_is_shown_from_its_first_to_its_last_row_in_even_steps():
    times = tuple(float(each) for each in range(1, 1370))
    run = curve(
        x=Axis("time", "time", "s", times), ys=(Series("v", "speed", "m/s", times),), marks=()
    )
    shown = shown_rows(chart_table(run, "metric"), 80)
    numbers = [float(along) for along, _ in shown.rows]
    assert (len(numbers), shown.of) == (80, 1369)
    assert (numbers[0], numbers[-1]) == (1.0, 1369.0)
    steps = {round(b - a) for a, b in itertools.pairwise(numbers)}
    assert steps <= {17, 18}


@pytest.mark.arithmetic
def test_a_short_table_is_shown_whole_with_what_limits_each_number():
    shown = shown_rows(chart_table(curve(), "metric"))
    assert [along for along, _ in shown.rows] == ["0", "36", "72", "108"]
    assert shown.rows[1][1][0] == ("4.00", "heat")
    assert shown.rows[2][1][0] == ("", "")


@pytest.mark.arithmetic
def test_the_document_says_units_gaps_and_line_patterns():
    document = document_of(chart_table(curve(), "metric"))
    first, second = document["panels"][0]["series"]
    assert document["x"]["unit"] == "km/h"
    assert first["points"] == [5.0, 4.0, None, 0.9]
    assert first["notes"][0] == "grip"
    assert (first["letter"], second["letter"]) == ("A", "B")
    assert first["dashes"] != second["dashes"]


@pytest.mark.property
@given(st.lists(st.floats(allow_nan=True, allow_infinity=True), min_size=4, max_size=4))
def test_no_number_that_is_none_leaves_in_a_document(values):
    given_ = curve(ys=(Series("power", "power", "W", tuple(values)),), marks=())
    for world in ("electric", "engine"):
        text = json.dumps(document_of(chart_table(given_, "us", world)), allow_nan=False)
        points = json.loads(text)["panels"][0]["series"][0]["points"]
        for value, point in zip(values, points, strict=True):
            assert point is None or math.isfinite(value)


@pytest.mark.property
@given(st.lists(st.floats(-1e6, 1e6), min_size=4, max_size=4))
def test_numbers_of_a_csv_are_those_of_the_curve_to_nine_digits(values):
    given_ = curve(ys=(Series("power", "power", "W", tuple(values)),), marks=())
    table = chart_table(given_, "metric")
    size = {"mW": 1e-3, "W": 1.0, "kW": 1e3}[table.columns[0].unit]
    rows = cells(csv_of(table))[1:]
    largest = max(map(abs, values))
    for value, row in zip(values, rows, strict=True):
        assert float(row[1]) * size == pytest.approx(value, rel=1e-8, abs=1e-7 * largest)


@pytest.mark.arithmetic
def test_the_csv_of_a_city_cycle_can_be_driven_again(tmp_path: Path):
    text = csv_of(table_of(checked("ridgeway"), "run.city", "us"))
    path = tmp_path / "city.csv"
    path.write_text(text, "utf-8")
    trace = read_trace(path)
    driven = checked("ridgeway").assessment.curves["run.city"].ys[0].points
    assert trace.step == 1.0
    assert trace.speeds.tolist() == pytest.approx(list(driven), abs=1e-6)


@pytest.mark.arithmetic
@pytest.mark.parametrize("is_small", [False, True], ids=["a sheet of its own", "within a page"])
@pytest.mark.parametrize("profile", ["metric", "us"])
def test_every_curve_of_a_car_has_a_drawing_and_a_table(profile, is_small):
    for curve_id in checked("ridgeway").assessment.curves:
        assert svg_of(checked("ridgeway"), curve_id, profile, is_small=is_small).count("<svg") == 1
        assert shown_rows(table_of(checked("ridgeway"), curve_id, profile)).rows
        assert stage_of_curve(curve_id) is not None


@pytest.mark.arithmetic
def test_windows_of_the_parts_are_drawn_with_their_voltages():
    text = svg_of(checked("ridgeway"), "pack.voltage", "metric")
    for label in (
        "inverter, highest running; charger, highest; dc-dc, highest: 430 V",
        "inverter, absolute maximum: 450 V",
        "inverter, lowest: 240 V",
        "charger, lowest; dc-dc, lowest: 250 V",
        "cells, charge end: 403 V",
        "cells, lowest: 288 V",
        "contactors, lowest rating; fuses, lowest rating: 500 V",
    ):
        assert f">{label}<" in text


@pytest.mark.arithmetic
def test_a_curve_of_gaps_alone_is_no_chart():
    nothing = curve(ys=(Series("power", "power", "W", (None, None, math.nan, None)),))
    car = checked("ridgeway")
    hollow = replace(car, assessment=replace(car.assessment, curves={"drive.force": nothing}))
    assert curve_of(hollow, "drive.force") is None


@pytest.mark.arithmetic
def test_a_curve_a_car_has_not_is_refused_by_name():
    with pytest.raises(InputError, match=r"no such curve.*run\.moon"):
        svg_of(checked("ridgeway"), "run.moon", "metric")


@pytest.mark.guard
@pytest.mark.parametrize("car", ["ridgeway", "bakery", "parcel-round", "hill-farm", "fault-finder"])
def test_every_chart_of_a_car_says_below_it_what_it_shows(car: str):
    curves = checked(car).assessment.curves
    assert curves
    assert [curve_id for curve_id in curves if not words_of(curve_id)] == []
