"""The writer of SVG and the room text takes."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.drawing.lettering import in_signs, text_width, wrapped
from swapwright.drawing.svg import document, number, words


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("value", "text"),
    [(1.0, "1"), (0.125, "0.12"), (-0.001, "0"), (1e6, "1000000"), (100.0, "100"), (2.5, "2.5")],
)
def test_a_length_is_short_and_fixed(value: float, text: str):
    assert number(value) == text


@pytest.mark.arithmetic
@pytest.mark.parametrize("value", [math.inf, -math.inf, math.nan])
def test_a_length_that_is_no_number_is_refused(value: float):
    with pytest.raises(ValueError, match="no place on a sheet"):
        number(value)


@pytest.mark.property
@given(st.text())
def test_any_text_comes_back_out_of_a_document(text: str):
    root = ET.fromstring(document(10.0, 10.0, text, words(text, 1.0, 1.0, size=3.0)).encode())
    kept = "".join(each for each in text if each.isprintable())
    said = "".join(each for each in root[-1].text or "" if each.isprintable())
    assert said == kept


@pytest.mark.property
@given(st.text(min_size=1, max_size=200), st.floats(8.0, 60.0))
def test_wrapped_lines_fit_and_lose_nothing(text: str, room: float):
    lines = wrapped(text, 3.0, room)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(text_width(line, 3.0) <= room for line in lines)


@pytest.mark.arithmetic
def test_a_number_keeps_its_unit_and_a_long_word_breaks_at_its_hyphen():
    assert wrapped("500 uF 450 V", 3.0, 13.0) == ("500 uF", "450 V")
    assert wrapped("y-capacitors", 3.0, 16.0) == ("y-", "capacitors")


@pytest.mark.arithmetic
def test_a_name_with_too_many_lines_is_cut_with_a_sign():
    lines = wrapped("one two three four five six seven", 3.0, 14.0, most=2)
    assert len(lines) == 2
    assert lines[-1].endswith("…")


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "drawn"),
    [
        ("70.0 mm^2 4.00 m", "70.0 mm² 4.00 m"),
        ("500 uF", "500 µF"),
        ("47.0 kohm 10.0 W", "47.0 kΩ 10.0 W"),
        ("2.40 Mohm", "2.40 MΩ"),
        ("5.90 mohm", "5.90 mΩ"),
        ("220 ohm", "220 Ω"),
        ("12 uohm", "12 µΩ"),
        ("500 ohm/V", "500 Ω/V"),
        ("90.0 degC", "90.0 °C"),
        ("class D, conduit", "class D, conduit"),
        ("5 units", "5 units"),
    ],
)
def test_units_are_drawn_in_the_signs_of_the_trade(text: str, drawn: str):
    assert in_signs(text) == drawn
