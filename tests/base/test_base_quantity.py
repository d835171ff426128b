from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.base.errors import UnitError, WorkingError
from swapwright.base.kinds import KINDS, squash
from swapwright.base.quantity import bare_gallon, kind_of_unit, parse, si_unit, unit_of


def printed(digits: int) -> dict[str, float]:
    """Return the tolerance of a value printed with so many significant digits."""
    return {"rel": 0.5 * 10.0 ** (1 - digits)}


@pytest.mark.published
@pytest.mark.parametrize(
    ("text", "kind", "si", "digits"),
    [
        ("1 lb-ft", "torque", 1.355818, 7),
        ("1 hp", "power", 745.6999, 7),
        ("1 lbf", "force", 4.448222, 7),
        ("1 lb", "mass", 0.45359237, 8),
        ("1 mi", "distance", 1609.344, 7),
        ("1 mph", "speed", 0.44704, 5),
        ("1 in", "length", 0.0254, 3),
        ("1 psi", "pressure", 6894.757, 7),
        ("1 gal", "volume", 3.785412e-3, 7),
        ("1 gal (UK)", "volume", 4.54609e-3, 6),
        ("32 degF", "temperature", 273.15, 5),
        ("1 BTU", "energy", 1055.056, 7),
    ],
)
def test_a_unit_is_what_its_definition_says(text, kind, si, digits):
    """NIST SP 811 (2008), appendix B.8; the values as printed there."""
    assert parse(text, kind).si == pytest.approx(si, **printed(digits))


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("1 lbf.ft", "torque", 1.355817948),
        ("1 hp", "power", 745.699872),
        ("1 lbf", "force", 4.448222),
        ("1 lbf/mph", "force_per_speed", 9.950388),
        ("1 lbf/mph", "force_per_speed", 2.763997 * 3.6),
        ("1 lbf/mph^2", "force_per_speed_square", 22.258385),
        ("1 lbf/mph2", "force_per_speed_square", 1.717468 * 3.6**2),
        ("25 hp", "power", 18642.5),
        ("20 degC", "temperature", 293.15),
        ("500 ohm/V", "resistance_per_voltage", 500.0),
        ("100 V/krpm", "emf_constant", 0.954930),
        ("105 Ah", "charge", 378000.0),
    ],
)
def test_a_text_becomes_its_si_value(text, kind, si):
    assert parse(text, kind).si == pytest.approx(si, rel=2e-6)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "text", ["375 Wh/mi", "23.30 kWh/100km", "2.667 mi/kWh", "89.9 MPGe", "37.5 kWh/100 mi"]
)
def test_one_consumption_can_be_said_in_five_ways(text):
    assert parse(text, "consumption").si == pytest.approx(375 * 3600 / 1609.344, rel=5e-4)


@pytest.mark.arithmetic
def test_a_hundred_miles_per_gallon_equivalent_is_337_watt_hours_to_the_mile():
    said = parse("337.05 Wh/mi", "consumption").si
    assert parse("100 MPGe", "consumption").si == pytest.approx(said, rel=1e-12)


@pytest.mark.arithmetic
def test_an_imperial_gallon_goes_further_than_an_american_one():
    american, imperial = parse("30 mpg", "fuel_consumption"), parse("30 mpg-uk", "fuel_consumption")
    assert imperial.si / american.si == pytest.approx(1.20095, rel=1e-5)
    assert parse("235.215 L/100 km", "fuel_consumption").si == pytest.approx(
        parse("1 mpg (US)", "fuel_consumption").si, rel=1e-5
    )


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("8 gal", "gal"),
        ("8 Gallons", "gal"),
        ("31 mpg", "mpg"),
        ("31 MPG", "mpg"),
        ("30..32 mpg", "mpg"),
        ("30 mpg..32 mpg", "mpg"),
        ("1,200 gal", "gal"),
        ("2 gpm", "gpm"),
        ("2 gal/min", "gpm"),
        ("8 gal (UK)", ""),
        ("31 mpg-uk", ""),
        ("31 US mpg", ""),
        ("90 MPGe", ""),
        ("8 L", ""),
        ("gal", ""),
        ("", ""),
    ],
)
def test_a_gallon_that_does_not_say_whose_it_is_is_noticed(text, unit):
    assert bare_gallon(text) == unit


@pytest.mark.published
@pytest.mark.parametrize(("gauge", "inches"), [("4/0 AWG", 0.4600), ("36 AWG", 0.0050)])
def test_the_two_fixed_wire_gauges_have_their_defined_diameters(gauge, inches):
    """ASTM B258: 0000 is 0.4600 in, 36 is 0.0050 in, 38 equal ratios between."""
    area = parse(gauge, "conductor_area").si
    assert math.sqrt(4 * area / math.pi) / 0.0254 == pytest.approx(inches, abs=5e-5)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("gauge", "square_millimetres", "kcmil"),
    [
        ("10 AWG", 5.261, 10.38),
        ("AWG 8", 8.366, 16.51),
        ("6awg", 13.30, 26.25),
        ("#4 AWG", 21.15, 41.74),
        ("2 AWG", 33.63, 66.37),
        ("1 AWG", 42.41, 83.69),
        ("1/0 AWG", 53.48, 105.5),
        ("0 AWG", 53.48, 105.5),
        ("AWG 2/0", 67.43, 133.1),
        ("00 AWG", 67.43, 133.1),
        ("3/0 AWG", 85.03, 167.8),
        ("0000 AWG", 107.2, 211.6),
    ],
)
def test_a_wire_gauge_has_its_area_however_it_is_written(gauge, square_millimetres, kcmil):
    area = parse(gauge, "conductor_area").si
    assert area == pytest.approx(square_millimetres * 1e-6, **printed(4))
    assert area == pytest.approx(parse(f"{kcmil} kcmil", "conductor_area").si, **printed(4))


@pytest.mark.arithmetic
@pytest.mark.parametrize("text", ["2", "AWG", "5/0 AWG", "41 AWG", "AWG 2 AWG", "-2 AWG"])
def test_what_is_no_wire_gauge_is_refused(text):
    with pytest.raises(UnitError) as caught:
        parse(text, "conductor_area")
    assert "AWG" in caught.value.allowed


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("118 N.m", "torque", 118.0),
        ("118 N·m", "torque", 118.0),
        ("118 Nm", "torque", 118.0),
        ("118Nm", "torque", 118.0),
        ("118 NM", "torque", 118.0),
        ("118 N m", "torque", 118.0),
        ("118 newton", "force", 118.0),
        ("0.76 m²", "area", 0.76),
        ("47 kΩ", "resistance", 47e3),
        ("115 mΩ", "resistance", 0.115),
        ("115 mohm", "resistance", 0.115),
        ("115 Mohm", "resistance", 115e6),
        ("500 µF", "capacitance", 5e-4),
        ("500 uF", "capacitance", 5e-4),
        ("20 °C", "temperature", 293.15),
        ("−10 °C", "temperature", 263.15),
        ("60 KW", "power", 60e3),
        ("9.2 L/100km", "fuel_consumption", 9.2e-8),
        ("9.2 l/100 km", "fuel_consumption", 9.2e-8),
        ("1180\u202fkg", "mass", 1180.0),
        ("1,180 kg", "mass", 1180.0),
        ("1 180 kg", "mass", 1180.0),
        ("1,234,567 m", "distance", 1234567.0),
        ('4"', "length", 0.1016),
        ("4'", "length", 1.2192),
        ("1180 mm", "length", 1.18),
        ("5500 1/min", "angular_speed", 5500 * math.pi / 30),
        ("4.10:1", "ratio", 4.10),
        ("41 : 10", "ratio", 4.1),
        ("4.1", "ratio", 4.1),
        ("6 %", "grade", 0.06),
        ("0.06", "grade", 0.06),
        ("1 in 8", "grade", 0.125),
        ("80%", "fraction", 0.8),
        ("2", "count", 2.0),
        ("1e3 W", "power", 1000.0),
        ("-0.05 m", "position", -0.05),
        ("500 kbit/s", "bit_rate", 5e5),
        ("3.5 V per 1000 rpm", "emf_constant", 0.105 / math.pi),
    ],
)
def test_people_may_write_it_their_way(text, kind, si):
    assert parse(text, kind).si == pytest.approx(si, rel=1e-12)


@pytest.mark.arithmetic
def test_the_same_length_in_two_units_is_the_same_number():
    assert parse("1180 mm", "length").si == parse("1.18 m", "length").si
    assert parse("62 g", "mass").si == parse("0.062 kg", "mass").si


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "kind", "low", "middle", "high"),
    [
        ("0.30..0.38", "ratio", 0.30, 0.34, 0.38),
        ("5..5 kg", "mass", 5.0, 5.0, 5.0),
        ("0.72..0.80 m^2", "area", 0.72, 0.76, 0.80),
        ("4 ohm .. 5 ohm", "resistance", 4.0, 4.5, 5.0),
        ("900 W .. 1.1 kW", "power", 900.0, 1000.0, 1100.0),
        ("-10..20 degC", "temperature", 263.15, 278.15, 293.15),
        ("80..90 %", "fraction", 0.80, 0.85, 0.90),
        ("5..6 m", "length", 5.0, 5.5, 6.0),
    ],
)
def test_a_range_gives_its_ends_and_its_middle(text, kind, low, middle, high):
    quantity = parse(text, kind)
    assert (quantity.low, quantity.high) == (pytest.approx(low), pytest.approx(high))
    assert quantity.si == pytest.approx(middle)


@pytest.mark.arithmetic
def test_a_range_of_miles_per_kilowatt_hour_turns_round_into_consumption():
    quantity = parse("2.5..3.0 mi/kWh", "consumption")
    assert quantity.low == parse("3.0 mi/kWh", "consumption").si
    assert quantity.high == parse("2.5 mi/kWh", "consumption").si


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "kind", "message", "nearest"),
    [
        ("4,5 kg", "mass", "decimal comma", "4.5 kg"),
        ("0,850 m^2", "area", "decimal comma", "0.850 m^2"),
        ("1,18 m", "length", "decimal comma", "1.18 m"),
        ("0.38..0.30", "ratio", "upside down", ""),
        ("3.0..2.5 mi/kWh", "consumption", "upside down", ""),
        ("0.30-0.38", "ratio", "two points", "0.30..0.38"),
        ("0.30 to 0.38", "ratio", "two points", "0.30..0.38"),
        ("4 – 5 kg", "mass", "two points", "4..5 kg"),
        ("118", "torque", "needs a unit", "118 N.m"),
        ("150 hp", "torque", "'hp' is a unit of power, not of torque", ""),
        ("118 Nn", "torque", "is not a unit of torque", ""),
        ("90 kms/h", "speed", "is not a unit of speed", "km/h"),
        ("60 mw", "power", "is not a unit of power", "mW or MW"),
        ("30 MOHM", "resistance", "is not a unit", "mohm"),
        ("3 MF", "capacitance", "is not a unit", "mF"),
        ("nan kg", "mass", "not a number", ""),
        ("inf kg", "mass", "not a number", ""),
        ("1e400 kg", "mass", "not a finite number", ""),
        ("0 mpg", "fuel_consumption", "not a finite number", ""),
        ("-300 degC", "temperature", "beyond what a temperature can be", ""),
        ("110 %", "fraction", "beyond what a fraction can be", ""),
        ("-3 ohm", "resistance", "beyond what a resistance can be", ""),
        ("2.5", "count", "not a whole number", ""),
        ("2..3", "count", "cannot be a range", ""),
        ("4:0", "ratio", "cannot stand in a ratio", ""),
        ("", "mass", "nothing is written", ""),
        ("   ", "mass", "nothing is written", ""),
        ("kg", "mass", "not a number", ""),
        ("5 kg 3 kg", "mass", "is not a unit", ""),
        ("15-6 kg", "mass", "two points", "15..6 kg"),
        ("9" * 201, "mass", "too long", ""),
    ],
)
def test_what_cannot_be_read_says_why_and_what_would_do(text, kind, message, nearest):
    with pytest.raises(UnitError) as caught:
        parse(text, kind)
    assert message in caught.value.message
    assert KINDS[kind].label in caught.value.allowed or "41:10" in caught.value.allowed
    if nearest:
        assert nearest in caught.value.nearest


@pytest.mark.arithmetic
def test_a_refusal_lists_the_units_that_would_do():
    with pytest.raises(UnitError) as caught:
        parse("12 furlongs", "torque")
    assert caught.value.allowed.startswith("a torque: N.m, lb-ft, kgf.m")


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("kind", "allowed"),
    [
        ("grade", "a grade: a plain number or %"),
        ("count", "a whole number: a plain number"),
    ],
)
def test_where_a_plain_number_would_do_a_refusal_says_so(kind, allowed):
    with pytest.raises(UnitError) as caught:
        parse("5 kg", kind)
    assert caught.value.allowed == allowed


@pytest.mark.guard
@pytest.mark.parametrize("kind", KINDS)
def test_a_first_m_of_the_other_case_never_quietly_means_a_thousand_million_times(kind):
    for spelling in KINDS[kind].spellings:
        if not spelling.startswith(("m", "M")):
            continue
        own = KINDS[kind].units[squash(spelling)]
        try:
            other = unit_of(spelling[0].swapcase() + spelling[1:], kind)
        except UnitError:
            continue
        sizes = sorted((own.to_si(1.0), other.to_si(1.0)))
        assert sizes[0] == sizes[1] or sizes[1] == pytest.approx(1e9 * sizes[0])


@pytest.mark.arithmetic
def test_a_kind_and_its_si_unit_lead_to_each_other():
    assert (si_unit("torque"), kind_of_unit("N.m")) == ("N.m", "torque")
    assert (si_unit("temperature_difference"), kind_of_unit("K")) == ("K", "temperature")
    for kind in KINDS:
        assert si_unit(kind_of_unit(si_unit(kind))) == si_unit(kind)


@pytest.mark.arithmetic
def test_a_unit_nothing_is_kept_in_is_refused_with_the_likeliest():
    with pytest.raises(UnitError, match="no quantity is kept in 'Nm'") as caught:
        kind_of_unit("Nm")
    assert caught.value.nearest == "N.m"


@pytest.mark.arithmetic
def test_a_kind_there_is_not_is_a_fault_of_ours():
    with pytest.raises(WorkingError, match="there is no quantity kind 'colour'"):
        parse("5 kg", "colour")


signs = list("0123456789.,:/-+eE'\"²Ω%#µ\u202f ")
words = ["..", "nan", "inf", "1e308", "AWG", "kg", "m", "mi/kWh", "W", "to"]
pieces = st.sampled_from(signs + words)
anything = st.one_of(st.text(max_size=30), st.lists(pieces, max_size=8).map("".join))


@pytest.mark.property
@settings(deadline=None, max_examples=400)
@given(text=anything, kind=st.sampled_from(sorted(KINDS)))
def test_any_text_is_a_finite_quantity_or_is_refused(text, kind):
    try:
        quantity = parse(text, kind)
    except UnitError as error:
        assert error.message
        return
    ends = [end for end in (quantity.low, quantity.high) if end is not None]
    assert all(math.isfinite(number) for number in (quantity.si, *ends))
    if ends:
        assert ends[0] <= quantity.si <= ends[1]


@pytest.mark.property
@settings(deadline=None, max_examples=200)
@given(
    one=st.floats(1e-3, 1e6),
    other=st.floats(1e-3, 1e6),
    kind=st.sampled_from(sorted(set(KINDS) - {"count", "fraction"})),
    data=st.data(),
)
def test_a_larger_number_is_a_larger_quantity_and_an_inverse_unit_turns_it(one, other, kind, data):
    spelling = data.draw(st.sampled_from(KINDS[kind].spellings))
    low, high = sorted((one, other))
    below, above = (parse(f"{number!r} {spelling}", kind).si for number in (low, high))
    if KINDS[kind].units[squash(spelling)].inverse:
        below, above = above, below
    assert below <= above


@pytest.mark.arithmetic
def test_a_cable_of_aluminium_is_told_that_sizes_are_of_copper():
    with pytest.raises(UnitError) as caught:
        parse("70 mm^2 Al", "conductor_area")
    assert "copper" in caught.value.allowed
