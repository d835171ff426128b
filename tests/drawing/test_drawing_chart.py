"""Charts: gaps stay gaps, lines differ without colour, scales have round numbers."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET

import pytest

from swapwright.base.curve import Axis, Curve, Mark, Series
from swapwright.drawing import style
from swapwright.drawing.chart import TOP, Band, line_chart
from swapwright.drawing.lettering import text_width
from swapwright.drawing.scale import log_unit, plain, scale_of, shown_unit

pytestmark = pytest.mark.arithmetic

CURRENTS = (100.0, 200.0, 400.0, 800.0, 1600.0, 3200.0, 6400.0)
NAMES = (
    "main fuse melts",
    "main fuse clears",
    "cable withstand",
    "contactor limit",
    "this car",
)


def curve(**changes) -> Curve:
    series = tuple(
        Series(name, "time", "s", tuple((place + 1) * 1e6 / each**2 for each in CURRENTS))
        for place, name in enumerate(NAMES)
    )
    given = {
        "id": "circuit.coordination",
        "label": "coordination",
        "x": Axis("current", "current", "A", CURRENTS),
        "ys": series,
        "marks": (Mark("weakest fault", x=1000.0), Mark("strongest fault", x=4000.0)),
    }
    return Curve(**(given | changes))


def drawn(a_curve: Curve | None = None, **changes) -> str:
    given = {"title": "Coordination", "log_x": True, "log_y": True, "y_range": (1e-3, 1e4)}
    return line_chart(a_curve or curve(), **(given | changes))


def lines_of(text: str) -> dict[str, list[ET.Element]]:
    """Return the paths of each series by its name."""
    root = ET.fromstring(text)
    return {each.get("data-series"): list(each) for each in root.iter() if each.get("data-series")}


def test_each_series_is_drawn_with_a_pattern_of_its_own_and_named_in_the_legend():
    text = drawn()
    found = lines_of(text)
    assert set(found) == set(NAMES)
    patterns = {paths[0].get("stroke-dasharray") for paths in found.values()}
    assert len(patterns) == len(NAMES)
    for name in NAMES:
        assert f">{name}<" in text


def test_a_chart_has_no_colour():
    for colour in re.findall(r"#[0-9a-f]{6}", drawn(bands=(Band("fault range", 1e3, 4e3),))):
        assert colour[1:3] == colour[3:5] == colour[5:7]


def test_a_gap_in_a_series_is_a_gap_in_its_line():
    points = (10.0, 5.0, None, 2.0, 1.0, None, 0.5)
    text = drawn(curve(ys=(Series("fuse", "time", "s", points),)))
    names = [each.tag.rpartition("}")[2] for each in lines_of(text)["fuse"]]
    assert names == ["path", "path", "circle"]  # the last value has nothing to be joined to


def test_a_logarithmic_axis_is_numbered_by_decades_in_plain_numbers():
    text = drawn()
    for number in ("0.001", "0.01", "0.1", "1", "10", "100", "1,000", "10,000"):
        assert f">{number}<" in text


def test_the_axes_say_what_they_are_and_in_which_unit():
    text = drawn(y_label="time")
    assert ">current, A<" in text
    assert ">time, s<" in text


def test_an_even_axis_is_in_the_unit_its_largest_value_is_shown_in():
    series = Series("power", "power", "W", tuple(40.0 * each for each in CURRENTS))
    text = line_chart(curve(ys=(series,), marks=()), title="Power")
    assert ">power, kW<" in text
    assert ">current, kA<" in text


def test_the_marks_and_the_band_are_labelled():
    text = drawn(bands=(Band("pack fault range", 1000.0, 4000.0),), notes=("typical data",))
    for words in ("weakest fault", "strongest fault", "pack fault range", "typical data"):
        assert f">{words}<" in text


def test_labels_of_marks_stand_above_the_frame_where_no_line_runs_over_them():
    near = (Mark("weakest fault", x=1000.0), Mark("strongest fault", x=1100.0))
    root = ET.fromstring(drawn(curve(marks=near)))
    found = {
        each.text: each for each in root.iter() if each.text in ("weakest fault", "strongest fault")
    }
    assert len({each.get("y") for each in found.values()}) == 2
    for each in found.values():
        assert float(each.get("y")) < TOP


def test_labels_of_levels_close_together_do_not_lie_on_each_other():
    near = tuple(Mark(f"window of part {n}", y=430.0 + n) for n in range(4))
    series = Series("at rest", "voltage", "V", (300.0, 320.0, 340.0, 350.0, 360.0, 380.0, 400.0))
    text = line_chart(curve(ys=(series,), marks=near), title="Pack")
    root = ET.fromstring(text)
    found = [each for each in root.iter() if (each.text or "").startswith("window of part")]
    starts = sorted(float(each.get("x")) for each in found)
    wide = text_width("window of part 0", style.SMALL)
    assert all(b - a >= wide for a, b in itertools.pairwise(starts))


def test_parts_with_one_level_share_its_line_and_label():
    same = (Mark("inverter", y=3.0), Mark("charger", y=3.0))
    assert ">inverter; charger<" in drawn(curve(marks=same), y_range=(1.0, 10.0))


def test_on_a_narrow_sheet_the_legend_stands_below_and_nothing_beside_it():
    root = ET.fromstring(drawn(width_mm=130.0, height_mm=90.0))
    assert float(root.get("height").removesuffix("mm")) > 90.0
    names = [each for each in root.iter() if each.text in NAMES]
    assert len(names) == len(NAMES)
    for each in names:
        assert float(each.get("y")) > 75.0


def test_a_chart_whose_page_names_it_is_still_named_for_who_cannot_see_it():
    root = ET.fromstring(drawn(has_title=False))
    assert root.get("role") == "img"
    assert [each.text for each in root.iter() if each.text == "Coordination"] == ["Coordination"]
    assert root[0].tag.endswith("title")


def test_an_axis_of_a_drive_is_in_seconds():
    assert shown_unit([0.0, 1369.0], "time", "metric")[0] == "s"


@pytest.mark.parametrize(
    ("longest", "step", "unit"),
    [(600.0, 10.0, "min"), (90.0, 5.0, "s"), (1800.0, 1.0, "s"), (21_600.0, 60.0, "h")],
    ids=["ten minutes uphill", "a minute and a half", "a drive by the second", "a charge"],
)
def test_an_axis_of_time_has_the_unit_of_what_goes_on(longest: float, step: float, unit: str):
    assert shown_unit([0.0, longest], "time", "metric", step=step)[0] == unit


@pytest.mark.parametrize(
    ("shortest", "longest", "unit"),
    [
        (250.0, 7300.0, "min"),
        (86_400.0, 60 * 86_400.0, "d"),
        (7200.0, 3e5, "h"),
        (1e-3, 1e4, "s"),
    ],
    ids=["a 12 V battery alone", "days parked", "hours", "fuses"],
)
def test_a_logarithmic_axis_of_time_is_numbered_in_what_lies_in_its_middle(
    shortest: float, longest: float, unit: str
):
    ends = (shortest, longest)
    scale = scale_of(ends, (0.0, 70.0), None, kind="time", is_log=True, profile="metric")
    assert scale.unit == unit == log_unit(ends, "time")[0]
    assert scale.low <= shortest
    assert scale.high >= longest
    assert any(tick.text for tick in scale.ticks)
    for tick in scale.ticks:
        number = log_unit(ends, "time")[1].from_si(tick.si)
        assert not tick.text or tick.text == plain(number)


def test_a_logarithmic_axis_of_current_stays_in_amperes_as_data_sheets_have_it():
    assert log_unit((100.0, 5e4), "current")[0] == "A"


def test_miles_per_gallon_give_way_where_there_is_a_zero():
    unit, scale = shown_unit([0.0, 720.0], "consumption", "us", "engine")
    assert unit == "Wh/mi"
    assert scale.from_si(0.0) == 0.0


def test_what_lies_outside_a_fixed_range_is_cut_at_the_edge():
    text = drawn(y_range=(1.0, 10.0))
    root = ET.fromstring(text)
    (frame,) = [
        each.get("d")
        for each in root.iter()
        if each.get("stroke-width") == str(style.OUTLINE) and each.get("d", "").endswith("Z")
    ]
    heights = [float(y) for _, y in re.findall(r"([\d.-]+) ([\d.-]+)", frame)]
    for paths in lines_of(text).values():
        for path in paths:
            for _, y in re.findall(r"([\d.-]+) ([\d.-]+)", path.get("d")):
                assert min(heights) - 0.01 <= float(y) <= max(heights) + 0.01


def test_hostile_names_stay_text():
    name = "<script>'x' & \"y\"</script>"
    text = drawn(
        curve(
            ys=(Series(name, "time", "s", (1.0,) * len(CURRENTS)),), marks=(Mark(name, x=900.0),)
        ),
        title=name,
        notes=(name,),
        y_label=name,
    )
    assert ET.fromstring(text) is not None
    assert "<script" not in text


def test_a_chart_of_two_kinds_is_refused():
    series = (*curve().ys, Series("power", "power", "W", CURRENTS))
    with pytest.raises(ValueError, match="one kind of quantity"):
        drawn(curve(ys=series))


def test_a_logarithmic_axis_without_a_value_above_zero_is_refused():
    series = Series("nothing", "time", "s", (None,) * len(CURRENTS))
    with pytest.raises(ValueError, match="no time"):
        drawn(curve(ys=(series,)), y_range=None)


def test_a_series_with_no_point_on_the_sheet_is_named_and_said_to_be_missing():
    series = Series("nothing", "time", "s", (None,) * len(CURRENTS))
    assert "not on this sheet" in drawn(curve(ys=(*curve().ys, series)))


def test_a_chart_is_drawn_the_same_each_time():
    assert drawn() == drawn()


def test_a_decade_takes_the_same_room_wherever_it_lies():
    scale = scale_of([], (0.0, 70.0), (1e-3, 1e4), kind="time", is_log=True, profile="metric")
    assert [scale.at(10.0**n) for n in range(-3, 5)] == pytest.approx([10.0 * n for n in range(8)])


@pytest.mark.parametrize(
    ("value", "text"), [(1e-3, "0.001"), (0.5, "0.5"), (1.0, "1"), (2e4, "20,000")]
)
def test_a_round_number_is_written_out(value: float, text: str):
    assert plain(value) == text


def test_a_point_alone_between_gaps_is_a_dot_with_its_letter():
    points = (None, None, 2.0, None, 1.0, 0.5, 0.2)
    paths = lines_of(drawn(curve(ys=(Series("fuse", "time", "s", points),))))["fuse"]
    assert sorted(each.tag.rpartition("}")[2] for each in paths) == ["circle", "path"]
    lone = (None, None, 2.0, None, None, None, None)
    text = drawn(curve(ys=(*curve().ys, Series("old fuse", "time", "s", lone))))
    assert [each.tag.rpartition("}")[2] for each in lines_of(text)["old fuse"]] == ["circle"]
    assert "(not on this sheet)" not in text
