from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.base.display import PROFILES, WORLDS, written
from swapwright.base.errors import WorkingError
from swapwright.base.kinds import KINDS
from swapwright.base.quantity import both_worlds, parse, show

MILE = 1609.344


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("si", "kind", "metric", "us"),
    [
        (75e3, "power", "75.0 kW", "75.0 kW"),
        (250.0, "power", "250 W", "250 W"),
        (118.0, "torque", "118 N.m", "87.0 lb-ft"),
        (1239.6, "mass", "1240 kg", "2730 lb"),
        (2.43, "length", "2.43 m", "95.7 in"),
        (0.31, "length", "310 mm", "12.2 in"),
        (1500.0, "length", "1500 m", "4920 ft"),
        (90 / 3.6, "speed", "90.0 km/h", "55.9 mph"),
        (42.6 / 3.6, "range_rate", "42.6 km of range per hour", "26.5 miles of range per hour"),
        (0.8, "over_gravity", "0.800 g", "0.800 g"),
        (120e3, "distance", "120 km", "74.6 mi"),
        (293.15, "temperature", "20.0 degC", "68.0 degF"),
        (10.0, "temperature_difference", "10.0 K", "18.0 degF"),
        (0.115, "resistance", "115 mohm", "115 mohm"),
        (47e3, "resistance", "47.0 kohm", "47.0 kohm"),
        (5e-4, "capacitance", "500 uF", "500 uF"),
        (0.76, "area", "0.760 m^2", "8.18 ft^2"),
        (5e-5, "conductor_area", "50.0 mm^2", "98.7 kcmil"),
        (1.0722e-4, "conductor_area", "107 mm^2", "4/0 AWG"),
        (8.3656e-6, "conductor_area", "8.37 mm^2", "8 AWG"),
        (60.0, "energy", "60.0 J", "60.0 J"),
        (35.04 * 3.6e6, "energy", "35.0 kWh", "35.0 kWh"),
        (9.2e-8, "fuel_consumption", "9.20 L/100 km", "25.6 mpg"),
        (0.06, "grade", "6.00 %", "6.00 %"),
        (4.1, "ratio", "4.10", "4.10"),
        (3.0, "count", "3", "3"),
        (1234.0, "count", "1234", "1234"),
        (18.0, "time", "18.0 s", "18.0 s"),
        (90.0, "time", "90.0 s", "90.0 s"),
        (115.0, "time", "115 s", "115 s"),
        (120.0, "time", "2.00 min", "2.00 min"),
        (115 * 60.0, "time", "115 min", "115 min"),
        (2 * 3600.0, "time", "2.00 h", "2.00 h"),
        (9.5 * 0.3048, "length", "2.90 m", "114 in"),
        (10.0 * 0.3048, "length", "3.05 m", "10.0 ft"),
        (9.5 * 3600.0, "energy", "34.2 kJ", "34.2 kJ"),
        (10.0 * 3600.0, "energy", "10.0 Wh", "10.0 Wh"),
        (600.0, "time", "10.0 min", "10.0 min"),
        (2e-4, "time", "200 us", "200 us"),
        (133.31, "force", "133 N", "30.0 lbf"),
        (-3000.0, "power", "-3.00 kW", "-3.00 kW"),
        (0.0, "power", "0 W", "0 W"),
        (0.0, "mass", "0 kg", "0 lb"),
        (999.6, "power", "1.00 kW", "1.00 kW"),
    ],
)
def test_a_value_is_shown_in_the_units_of_the_country(si, kind, metric, us):
    assert show(si, kind) == metric
    assert show(si, kind, profile="us") == us


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("si", "kind", "shown"),
    [
        (90 / 3.6, "speed", "55.9 mph"),
        (120e3, "distance", "74.6 mi"),
        (9.2e-8, "fuel_consumption", "30.7 mpg (UK)"),
        (1239.6, "mass", "1240 kg"),
        (0.31, "length", "310 mm"),
        (0.048, "volume", "48.0 L"),
        (293.15, "temperature", "20.0 degC"),
        (118.0, "torque", "118 N.m"),
        (375 * 3600 / MILE, "consumption", "375 Wh/mi"),
    ],
)
def test_the_uk_drives_in_miles_and_builds_in_millimetres(si, kind, shown):
    assert show(si, kind, profile="uk") == shown


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("unit", "shown"),
    [
        ("Wh", "35.0 Wh (25.0..45.0)"),
        ("kWh", "0.0350 kWh (0.0250..0.0450)"),
        ("kJ", "126 kJ (90.0..162)"),
    ],
)
def test_a_ledger_shows_every_energy_in_the_unit_it_asks_for(unit, shown):
    ends = {"low": 25 * 3600.0, "high": 45 * 3600.0}
    assert show(35 * 3600.0, "energy", unit=unit, **ends) == shown


@pytest.mark.arithmetic
def test_a_unit_of_another_kind_cannot_be_asked_for():
    with pytest.raises(WorkingError, match="no unit 'kg' of 'energy'"):
        show(1.0, "energy", unit="kg")


@pytest.mark.arithmetic
def test_a_band_is_shown_in_the_unit_of_its_value():
    shown = show(128 * MILE, "distance", profile="us", low=112 * MILE, high=141 * MILE)
    assert shown == "128 mi (112..141)"


@pytest.mark.arithmetic
def test_a_band_of_miles_per_gallon_runs_from_the_lower_number():
    worse, better = (parse(text, "consumption").si for text in ("80 MPGe", "100 MPGe"))
    shown = show(
        parse("90 MPGe", "consumption").si,
        "consumption",
        profile="us",
        world="engine",
        low=better,
        high=worse,
    )
    assert shown == "90.0 MPGe (80.0..100)"


@pytest.mark.arithmetic
def test_a_band_of_consumption_that_reaches_below_nothing_has_no_miles_per_gallon():
    middle, low, high = (watt_hours * 3600 / MILE for watt_hours in (375.0, -5.0, 450.0))
    shown = show(middle, "consumption", profile="us", world="engine", low=low, high=high)
    assert shown == "375 Wh/mi (-5.00..450)"


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("si", "kind", "profile", "shown"),
    [
        (75e3, "power", "metric", "75.0 kW (102 PS)"),
        (75e3, "power", "us", "75.0 kW (101 hp)"),
        (375 * 3600 / MILE, "consumption", "us", "375 Wh/mi (89.9 MPGe)"),
        (375 * 3600 / MILE, "consumption", "metric", "23.3 kWh/100 km (2.62 Le/100 km)"),
        (33.705 * 3.6e6, "energy", "us", "33.7 kWh (1.00 gal gasoline)"),
        (75e3, "power", "uk", "75.0 kW (101 hp)"),
        (118.0, "torque", "uk", "118 N.m (87.0 lb-ft)"),
        (375 * 3600 / MILE, "consumption", "uk", "375 Wh/mi (108 MPGe (UK))"),
        (33.705 * 3.6e6, "energy", "uk", "33.7 kWh (3.79 L petrol)"),
        (0.0, "fuel_consumption", "uk", "0 L/100 km"),
        (118.0, "torque", "metric", "118 N.m"),
        (0.0, "consumption", "us", "0 Wh/mi"),
        (-50.0, "consumption", "us", "-22.4 Wh/mi"),
    ],
)
def test_electric_and_engine_people_read_the_same_value(si, kind, profile, shown):
    assert both_worlds(si, kind, profile) == shown


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("number", "text"),
    [
        (0.0, "0"),
        (-0.0, "0"),
        (0.012, "0.0120"),
        (1.0, "1.00"),
        (9.999, "10.0"),
        (12345.6, "12300"),
        (1234567.0, "1230000"),
        (1e-9, "1.00e-9"),
        (2.5e12, "2.50e12"),
    ],
)
def test_a_number_has_three_digits_and_no_exponent_at_ordinary_sizes(number, text):
    assert written(number) == text


@pytest.mark.arithmetic
@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_not_finite_is_never_shown(number):
    with pytest.raises(ValueError, match="cannot be shown as power"):
        show(number, "power")
    with pytest.raises(ValueError, match="cannot be shown as power"):
        show(1.0, "power", low=number, high=1.0)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("kind", "profile", "world"),
    [("colour", "metric", "electric"), ("power", "roman", "electric"), ("power", "us", "steam")],
)
def test_an_unknown_kind_profile_or_world_is_a_fault_of_ours(kind, profile, world):
    with pytest.raises(WorkingError, match="there is no"):
        show(1.0, kind, profile=profile, world=world)


@pytest.mark.property
@settings(deadline=None, max_examples=600)
@given(
    size=st.floats(-6.0, 7.0),
    sign=st.sampled_from((1.0, -1.0)),
    kind=st.sampled_from(sorted(KINDS)),
    profile=st.sampled_from(PROFILES),
    world=st.sampled_from(WORLDS),
)
def test_what_is_shown_can_be_read_back_within_three_digits(size, sign, kind, profile, world):
    the_kind = KINDS[kind]
    si = sign * 10.0**size
    if kind == "count":
        si = float(round(si))
    if kind == "fraction":
        si = 10.0 ** -abs(size)
    if not the_kind.low <= si:
        si = abs(si)
    if kind == "temperature":
        si += 10.0
    back = parse(show(si, kind, profile=profile, world=world), kind).si
    offset = 300.0 if kind == "temperature" else 0.0
    assert back == pytest.approx(si, rel=5.1e-3, abs=5.1e-3 * offset)


@pytest.mark.guard
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_can_be_shown_in_every_profile_and_world(kind):
    for profile in PROFILES:
        for world in WORLDS:
            assert show(1.0, kind, profile=profile, world=world)
