"""Reading sidewalls, right and wrong."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.errors import UnitError
from swapwright.physics.vehicle.tyre_size import tyre_size


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "width", "aspect", "rim", "loads", "symbol"),
    [
        ("175/70 R13 82T", 0.175, 0.70, 13, (82,), "T"),
        ("205/55R16", 0.205, 0.55, 16, (), ""),
        ("P205/55R16", 0.205, 0.55, 16, (), ""),
        ("205/55 R16 91V XL", 0.205, 0.55, 16, (91,), "V"),
        ("205/55ZR16 (91W)", 0.205, 0.55, 16, (91,), "W"),
        ("165 R13", 0.165, 0.82, 13, (), ""),
        ("165 SR 13", 0.165, 0.82, 13, (), "S"),
        ("185/70 HR 14", 0.185, 0.70, 14, (), "H"),
        ("145-10", 0.145, 0.82, 10, (), ""),
        ("195/70 R15C 104/102R", 0.195, 0.70, 15, (104, 102), "R"),
        ("LT235/75R15", 0.235, 0.75, 15, (), ""),
        ("7.50-16", 0.1905, 1.0, 16, (), ""),
        ("5.60 x 15", 0.14224, 1.0, 15, (), ""),
        ("6.00-16 6PR", 0.1524, 1.0, 16, (), ""),
        ("7.50R16C 112/110N", 0.1905, 1.0, 16, (112, 110), "N"),
        ("175/70r13  82t", 0.175, 0.70, 13, (82,), "T"),
    ],
)
def test_a_sidewall_is_read_as_it_stands(text, width, aspect, rim, loads, symbol):
    size = tyre_size(text)
    assert size.section_width == pytest.approx(width)
    assert size.aspect == pytest.approx(aspect)
    assert size.rim_diameter == pytest.approx(rim * 0.0254)
    assert size.load_indexes == loads
    assert size.speed_symbol == symbol
    assert size.text == text


@pytest.mark.arithmetic
def test_a_flotation_size_prints_its_diameter():
    size = tyre_size("31x10.50R15LT 109S")
    assert size.outside_diameter == pytest.approx(31 * 0.0254)
    assert size.section_width == pytest.approx(10.5 * 0.0254)
    assert not size.aspect_is_assumed
    assert size.use == "commercial"


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "construction", "use", "assumed"),
    [
        ("175/70 R13 82T", "radial", "car", False),
        ("165 R13", "radial", "car", True),
        ("7.50-16", "bias", "car", True),
        ("195/70 R15C 104/102R", "radial", "commercial", False),
        ("LT235/75R15", "radial", "commercial", False),
    ],
)
def test_a_sidewall_tells_the_build_and_what_had_to_be_assumed(text, construction, use, assumed):
    size = tyre_size(text)
    assert (size.construction, size.use, size.aspect_is_assumed) == (construction, use, assumed)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "nearest"),
    [
        ("205-55-16", "205/55 R16"),
        ("205/55 16", "205/55 R16"),
        ("185/65-15", "185/65 R15"),
        ("165 13", "165 R13"),
        ("", ""),
        ("round and black", ""),
        ("-205/55R16", "205/55 R16"),
    ],
)
def test_a_code_that_is_none_is_refused_with_the_likeliest_spelling(text, nearest):
    with pytest.raises(UnitError, match="is not a tyre size") as caught:
        tyre_size(text)
    assert "175/70 R13" in caught.value.allowed
    assert caught.value.nearest == nearest


@pytest.mark.arithmetic
def test_the_longest_text_of_a_size_is_still_read():
    assert tyre_size("205/55R16".ljust(60)).section_width == pytest.approx(0.205)
    with pytest.raises(UnitError, match="too long"):
        tyre_size("205/55R16".ljust(61))


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("955/55R16", "section width"),
        ("205/155R16", "aspect ratio"),
        ("205/55R44", "rim diameter"),
        ("99.99-16", "section width"),
        ("10x10.50R15", "aspect ratio"),
        ("31x0.0R15", "section width"),
    ],
)
def test_a_code_no_road_tyre_has_is_refused_by_the_number_that_is_wrong(text, what):
    with pytest.raises(UnitError, match=what):
        tyre_size(text)


@pytest.mark.property
@given(st.text(max_size=80))
def test_any_text_is_a_size_or_is_refused(text):
    try:
        size = tyre_size(text)
    except UnitError:
        return
    assert 0.2 < size.outside_diameter < 1.6


@pytest.mark.property
@given(st.integers(15, 40), st.integers(5, 16), st.integers(10, 22), st.integers(70, 120))
def test_every_ordinary_size_is_read_back(tens, fives, rim, load):
    size = tyre_size(f"{tens * 10 + 5}/{fives * 5} R{rim} {load}H")
    assert size.section_width == pytest.approx((tens * 10 + 5) / 1000)
    assert size.aspect == pytest.approx(fives * 5 / 100)
    assert size.load_indexes == (load,)
