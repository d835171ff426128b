"""Traces: a panel for each kind of quantity, all over the same axis."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.curve import Axis, Curve, Mark, Series
from swapwright.drawing.plot import THINNED_BY, THINNED_FROM, panels_of, thinned
from swapwright.drawing.svg import inline
from swapwright.drawing.traces import traces

TIMES = tuple(float(each) for each in range(1, 11))
RISING = tuple(10.0 * each for each in TIMES)
HOT = tuple(293.15 + each for each in TIMES)


def run(**changes) -> Curve:
    given_ = {
        "id": "run.city",
        "label": "one cycle",
        "x": Axis("time", "time", "s", TIMES),
        "ys": (
            Series("speed", "speed", "m/s", RISING),
            Series("cell temperature", "temperature", "K", HOT),
            Series("power", "power", "W", tuple(-each for each in RISING)),
            Series("motor temperature", "temperature", "K", tuple(2 * each - 293 for each in HOT)),
        ),
    }
    return Curve(**(given_ | changes))


def frames(text: str) -> list[tuple[float, float, float, float]]:
    """Return left, right, upper and lower edge of each panel's frame."""
    found = []
    for path in re.findall(r'<path d="(M[^"]*Z)"', text):
        points = [(float(x), float(y)) for x, y in re.findall(r"([\d.-]+) ([\d.-]+)", path)]
        xs, ys = zip(*points, strict=True)
        found.append((min(xs), max(xs), min(ys), max(ys)))
    return found


def said(text: str) -> list[str]:
    return [each.text for each in ET.fromstring(text).iter() if each.text and each.text.strip()]


@pytest.mark.arithmetic
def test_series_of_one_kind_share_a_panel():
    assert panels_of(run()) == ((0,), (1, 3), (2,))
    assert len(frames(traces(run(), title="Run"))) == 3


@pytest.mark.arithmetic
def test_all_panels_stand_below_each_other_over_the_same_stretch_of_the_axis():
    found = frames(traces(run(), title="Run"))
    assert len({(left, right) for left, right, _, _ in found}) == 1
    edges = [edge for _, _, upper, lower in found for edge in (upper, lower)]
    assert edges == sorted(edges)


@pytest.mark.arithmetic
def test_each_panel_names_its_quantity_with_its_unit_and_the_axis_is_named_once():
    words = said(traces(run(), title="Run"))
    for name in ("speed, km/h", "temperature, °C", "power, W"):
        assert words.count(name) == 1
    assert words.count("time, s") == 1


@pytest.mark.arithmetic
def test_a_person_of_another_country_and_trade_has_their_units():
    big = Series("power", "power", "W", tuple(1e4 * each for each in TIMES))
    words = said(traces(run(ys=(*run().ys[:2], big)), title="Run", profile="us", world="engine"))
    for name in ("speed, mph", "cell temperature, °F", "power, hp"):
        assert name in words


@pytest.mark.arithmetic
def test_lines_that_share_a_panel_differ_in_pattern_and_letter():
    root = ET.fromstring(traces(run(), title="Run"))
    lines = {each.get("data-series"): each[0] for each in root.iter() if each.get("data-series")}
    patterns = [lines[f"{part} temperature"].get("stroke-dasharray") for part in ("cell", "motor")]
    assert patterns[0] != patterns[1]
    assert {"A", "B"} <= set(said(traces(run(), title="Run")))


@pytest.mark.arithmetic
def test_a_gap_in_a_trace_stays_a_gap():
    points = (1.0, 2.0, 3.0, None, 5.0, 6.0, None, None, 9.0, 10.0)
    root = ET.fromstring(traces(run(ys=(Series("speed", "speed", "m/s", points),)), title="Run"))
    (line,) = [each for each in root.iter() if each.get("data-series")]
    assert len(line) == 3


@pytest.mark.arithmetic
def test_a_mark_on_the_axis_runs_through_every_panel_and_is_named_once():
    text = traces(run(marks=(Mark("gear changed", x=4.0),)), title="Run")
    assert text.count('class="mark-line"') == 3
    assert said(text).count("gear changed") == 1


@pytest.mark.arithmetic
def test_a_trace_without_any_point_says_so():
    nothing = Series("current", "current", "A", (None,) * len(TIMES))
    assert "(no points)" in said(traces(run(ys=(*run().ys, nothing)), title="Run"))


@pytest.mark.arithmetic
def test_hostile_labels_of_traces_stay_text():
    name = "</title><script>x</script>"
    text = traces(run(ys=(Series(name, "speed", "m/s", RISING),)), title=name)
    assert "<script" not in text
    assert ET.fromstring(text) is not None


@pytest.mark.arithmetic
def test_a_drawing_within_a_page_has_no_header_and_no_size_but_its_shape():
    text = inline(traces(run(), title="Run"), "chart-full")
    assert text.startswith('<svg class="chart-full"')
    root = ET.fromstring(text)
    assert root.get("width") is None
    assert root.get("height") is None
    assert len(root.get("viewBox").split()) == 4
    assert root.get("role") == "img"


@pytest.mark.arithmetic
def test_what_is_no_drawing_does_not_stand_in_a_page():
    with pytest.raises(ValueError, match="no drawing"):
        inline("<p>words</p>", "chart-full")


@pytest.mark.property
@given(
    st.lists(st.floats(-100.0, 100.0), min_size=THINNED_FROM, max_size=THINNED_FROM + 200),
    st.booleans(),
)
def test_a_thinned_line_passes_every_point_left_out_closer_than_its_own_width(heights, is_smooth):
    if is_smooth:
        heights = [sum(heights[: n + 1]) / (n + 1) for n in range(len(heights))]
    points = [(0.15 * n, height) for n, height in enumerate(heights)]
    kept = thinned(points)
    assert kept[0] == points[0]
    assert kept[-1] == points[-1]
    place = 0
    for x, y in points:
        while kept[place + 1][0] < x:
            place += 1
        (x0, y0), (x1, y1) = kept[place], kept[place + 1]
        assert abs(y0 + (y1 - y0) * (x - x0) / (x1 - x0) - y) <= THINNED_BY + 1e-9


@pytest.mark.property
@given(st.lists(st.floats(-100.0, 100.0), min_size=2, max_size=THINNED_FROM - 1))
def test_a_line_of_few_points_keeps_them_all(heights):
    points = list(enumerate(heights))
    assert thinned(points) == points
