"""Bars about a nominal: as long as what each input does, told apart by fill, linked to entries."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from swapwright.drawing.tornado import ENDS, Bar, tornado_drawing

pytestmark = pytest.mark.arithmetic

SVG = "{http://www.w3.org/2000/svg}"
MIDDLE = sum(ENDS) / 2.0
HALF = (ENDS[1] - ENDS[0]) / 2.0
BARS = (
    Bar("losses", "0.6 to 1.6", 110.0, 80.0, "110 km", "80 km", "/cars/a/drive?at=x&y#entry"),
    Bar("drag <area>", "0.7 m^2 to 0.8 m^2", 104.0, 96.0, "104 km", "96 km"),
    Bar("one side", "1 to 2", 105.0, 110.0, "105 km", "110 km"),
)


def drawn() -> str:
    return tornado_drawing(BARS, nominal=100.0, nominal_text="100 km", title="what moves it")


def rectangles(text: str, label: str) -> dict[str, tuple[float, float]]:
    """Return the left and right edges of a bar's halves by their fill."""
    for each in ET.fromstring(text).iter(f"{SVG}g"):
        if each.get("data-bar") == label:
            return {
                box.get("fill", ""): (
                    float(box.get("x", "0")),
                    float(box.get("x", "0")) + float(box.get("width", "0")),
                )
                for box in each.iter(f"{SVG}rect")
            }
    raise AssertionError(label)


def test_a_bar_reaches_as_far_as_its_input_moves_the_number():
    found = rectangles(drawn(), "losses")
    low, high = found["#ffffff"], found["#eeeeee"]
    assert low == pytest.approx((MIDDLE, MIDDLE + HALF * 10.0 / 20.0), abs=0.02)
    assert high == pytest.approx((MIDDLE - HALF, MIDDLE), abs=0.02)


def test_two_ends_on_one_side_both_stay_in_sight():
    found = rectangles(drawn(), "one side")
    assert list(found) == ["#eeeeee", "#ffffff"]
    assert found["#ffffff"][1] < found["#eeeeee"][1]
    assert ">105 km<" in drawn()


def test_the_numbers_at_both_ends_and_the_nominal_are_written():
    text = drawn()
    for number in ("100 km", "110 km", "80 km", "104 km", "96 km", "0.6 to 1.6"):
        assert f">{number}<" in text
    assert ">0.7 m² to 0.8 m²<" in text


def test_a_name_leads_to_its_entry_and_no_name_becomes_markup():
    text = drawn()
    links = [each.get("href") for each in ET.fromstring(text).iter(f"{SVG}a")]
    assert links == ["/cars/a/drive?at=x&y#entry"]
    assert "drag &lt;area&gt;" in text
    assert 'role="group"' in text


def test_bars_have_no_colour_and_no_bar_is_refused():
    for colour in re.findall(r"#[0-9a-f]{6}", drawn()):
        assert colour[1:3] == colour[3:5] == colour[5:7]
    with pytest.raises(ValueError, match="no bar"):
        tornado_drawing((), nominal=1.0, nominal_text="1", title="nothing")
