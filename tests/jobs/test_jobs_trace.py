from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.errors import InputError
from swapwright.jobs.trace import MAX_ROWS, read_trace, trace_of
from swapwright.standards.cycles import CYCLES


@pytest.fixture
def write(tmp_path):
    def written(text: str):
        path = tmp_path / "trip.csv"
        path.write_text(text, encoding="utf-8")
        return path

    return written


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("header", "metres_per_second"),
    [
        ("speed_kmh", 10.0),
        ("speed_km/h", 10.0),
        ("speed [km/h]", 10.0),
        ("Speed (kph)", 10.0),
        ("speed_m/s", 36.0),
        ("speed_mph", 36.0 * 0.44704),
    ],
)
def test_a_column_is_read_in_the_unit_it_names(write, header, metres_per_second):
    trace = read_trace(write(f"{header}\n0\n36\n"))
    assert trace.speeds[1] == pytest.approx(metres_per_second)
    assert trace.step == 1.0


@pytest.mark.arithmetic
def test_a_spreadsheet_with_semicolons_and_decimal_commas_is_read(write):
    trace = read_trace(write("time_s;speed_kmh\n0;0\n0,5;3,6\n1,0;7,2\n"))
    assert trace.step == 0.5
    assert trace.speeds == pytest.approx([0.0, 1.0, 2.0])


@pytest.mark.arithmetic
def test_columns_of_other_things_are_left_alone(write):
    trace = read_trace(write("heart rate,speed_kmh\nhigh,0\n,36\n"))
    assert trace.speeds == pytest.approx([0.0, 10.0])


@pytest.mark.arithmetic
def test_a_grade_becomes_the_sine_over_each_step(write):
    trace = read_trace(write("speed_m/s,grade_%\n5,0\n5,10\n5,10\n"))
    assert trace.grades == pytest.approx([math.sin(math.atan(0.05)), math.sin(math.atan(0.10))])


@pytest.mark.arithmetic
def test_more_rows_than_allowed_are_refused(write):
    path = write("speed_kmh\n" + "5\n" * (MAX_ROWS + 1))
    with pytest.raises(InputError, match="more than 200,000 rows"):
        read_trace(path)


@pytest.mark.arithmetic
@pytest.mark.parametrize("step", [0.001, 20.0])
def test_a_time_step_that_cannot_be_driven_is_refused(write, step):
    path = write(f"time_s,speed_kmh\n0,0\n{step},1\n{2 * step},2\n")
    with pytest.raises(InputError, match="cannot be driven"):
        read_trace(path)


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", CYCLES)
def test_every_cycle_of_a_regulation_can_be_named(name):
    trace = trace_of(name)
    assert trace.step == 1.0
    assert trace.speeds[0] == trace.speeds[-1] == 0.0


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("given", "name"),
    [("City", "udds"), ("highway", "hwfet"), ("UDDS", "udds"), ("WLTC-3b", "wltc-3b")],
)
def test_a_cycle_goes_by_its_road_and_by_capitals(given, name):
    assert trace_of(given).name == name


@pytest.mark.arithmetic
@pytest.mark.parametrize("given", ["60 mph", "steady:60 mph", " 60mph "])
def test_a_speed_alone_is_driven_steadily(given):
    trace = trace_of(given)
    assert trace.speeds == pytest.approx([60 * 0.44704] * len(trace.speeds))
    assert trace.name.startswith("steady:")


@pytest.mark.property
@given(st.text(max_size=200))
def test_any_text_is_a_trace_or_is_refused_with_a_reason(tmp_path_factory, text):
    path = tmp_path_factory.mktemp("trip") / "trip.csv"
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    try:
        trace = read_trace(path)
    except InputError as error:
        assert all("\n" not in str(problem) for problem in error.problems)
    else:
        assert np.all(np.isfinite(trace.speeds))
