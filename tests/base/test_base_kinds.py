"""Every accepted spelling of a unit, held against pint or, where pint cannot read it, by hand."""

from __future__ import annotations

import math

import pint
import pytest

from swapwright.base.kinds import KINDS, squash

ureg = pint.UnitRegistry()

POUND_FOOT = 1.3558179483314
MILE = 1609.344

# One of each that pint misreads or does not know (a "PS" is a petasiemens to it), in SI;
# for a temperature and an inverse unit, the SI value of 20 of it.
BY_HAND = {
    ("mass", "kgs"): 1.0,
    ("mass", "lbm"): 0.45359237,
    ("length", '"'): 0.0254,
    ("length", "'"): 0.3048,
    ("length", "MI"): MILE,
    ("area", "m2"): 1.0,
    ("conductor_area", "MCM"): 5.067074790974977e-7,
    ("volume", "gal (US)"): 231 * 0.0254**3,
    ("volume", "US gal"): 231 * 0.0254**3,
    ("volume", "gal-us"): 231 * 0.0254**3,
    ("volume", "gal (UK)"): 4.54609e-3,
    ("volume", "UK gal"): 4.54609e-3,
    ("volume", "gal-uk"): 4.54609e-3,
    ("volume", "gal (imp)"): 4.54609e-3,
    ("volume", "imp gal"): 4.54609e-3,
    ("volume", "ccm"): 1e-6,
    ("volume", "cu m"): 1.0,
    ("volume", "cu in"): 0.0254**3,
    ("volume", "cu ft"): 0.3048**3,
    ("time", "MIN"): 60.0,
    ("speed", "kmh"): 1 / 3.6,
    ("speed", "kmph"): 1 / 3.6,
    ("acceleration", "g"): 9.80665,
    ("over_gravity", "g"): 1.0,
    ("angular_speed", "r/min"): math.pi / 30,
    ("angular_speed", "rev/min"): math.pi / 30,
    ("angular_speed", "1/min"): math.pi / 30,
    ("angular_speed", "min^-1"): math.pi / 30,
    ("angular_speed", "rev/s"): 2 * math.pi,
    ("force", "pound-force"): 4.4482216152605,
    ("force", "kp"): 9.80665,
    ("torque", "lb-ft"): POUND_FOOT,
    ("torque", "ft-lb"): POUND_FOOT,
    ("torque", "lb-in"): POUND_FOOT / 12,
    ("torque", "in-lb"): POUND_FOOT / 12,
    ("torque", "kg.m"): 9.80665,
    ("torque", "m.kg"): 9.80665,
    ("power", "bhp"): 745.69987158227022,
    ("power", "PS"): 735.49875,
    ("power", "ch"): 735.49875,
    ("power", "cv"): 735.49875,
    ("power", "metric hp"): 735.49875,
    ("power", "hp (metric)"): 735.49875,
    ("power", "BTU/h"): 1055.05585262 / 3600,
    ("energy", "BTU"): 1055.05585262,
    ("energy", "gal gasoline"): 33.705 * 3.6e6,
    ("energy", "gal petrol"): 33.705 * 3.6e6,
    ("energy", "L petrol"): 33.705 * 3.6e6 / 3.785411784,
    ("energy", "L gasoline"): 33.705 * 3.6e6 / 3.785411784,
    ("consumption", "kWh/100 km"): 36.0,
    ("consumption", "kWh/100 mi"): 36000 / MILE,
    ("consumption", "kWh/100 miles"): 36000 / MILE,
    ("consumption", "mi/kWh"): 3.6e6 / (20 * MILE),
    ("consumption", "miles/kWh"): 3.6e6 / (20 * MILE),
    ("consumption", "km/kWh"): 180.0,
    ("consumption", "MPGe"): 33.705 * 3.6e6 / (20 * MILE),
    ("consumption", "mpge"): 33.705 * 3.6e6 / (20 * MILE),
    ("consumption", "MPGe (UK)"): 33.705 * 3.6e6 / 3.785411784e-3 * 4.54609e-3 / (20 * MILE),
    ("consumption", "MPGe-uk"): 33.705 * 3.6e6 / 3.785411784e-3 * 4.54609e-3 / (20 * MILE),
    ("consumption", "Le/100 km"): 33.705 * 36 / 3.785411784,
    ("price_of_energy", "/kWh"): 1 / 3.6e6,
    ("price_of_energy", "per kWh"): 1 / 3.6e6,
    ("price_of_volume", "/L"): 1e3,
    ("price_of_volume", "per L"): 1e3,
    ("price_of_volume", "/gal"): 1 / 3.785411784e-3,
    ("price_of_volume", "per gal"): 1 / 3.785411784e-3,
    ("price_of_volume", "/gal-uk"): 1 / 4.54609e-3,
    ("price_of_volume", "per gal-uk"): 1 / 4.54609e-3,
    ("price_of_time", "/h"): 1 / 3600,
    ("price_of_time", "per h"): 1 / 3600,
    ("price_of_distance", "/100 km"): 1e-5,
    ("price_of_distance", "per 100 km"): 1e-5,
    ("price_of_distance", "/km"): 1e-3,
    ("price_of_distance", "per km"): 1e-3,
    ("price_of_distance", "/mi"): 1 / MILE,
    ("price_of_distance", "per mi"): 1 / MILE,
    ("price_of_distance", "per mile"): 1 / MILE,
    ("range_rate", "km of range per hour"): 1 / 3.6,
    ("range_rate", "miles of range per hour"): MILE / 3600,
    ("time", "wk"): 604800.0,
    ("fuel_consumption", "L/100 km"): 1e-8,
    ("fuel_consumption", "mpg"): 3.785411784e-3 / (20 * MILE),
    ("fuel_consumption", "MPG"): 3.785411784e-3 / (20 * MILE),
    ("fuel_consumption", "mpg (US)"): 3.785411784e-3 / (20 * MILE),
    ("fuel_consumption", "mpg-us"): 3.785411784e-3 / (20 * MILE),
    ("fuel_consumption", "US mpg"): 3.785411784e-3 / (20 * MILE),
    ("fuel_consumption", "mi/gal"): 3.785411784e-3 / (20 * MILE),
    ("fuel_consumption", "mpg (UK)"): 4.54609e-3 / (20 * MILE),
    ("fuel_consumption", "mpg-uk"): 4.54609e-3 / (20 * MILE),
    ("fuel_consumption", "UK mpg"): 4.54609e-3 / (20 * MILE),
    ("fuel_consumption", "mpg (imp)"): 4.54609e-3 / (20 * MILE),
    ("fuel_consumption", "mpg-imp"): 4.54609e-3 / (20 * MILE),
    ("fuel_consumption", "imp mpg"): 4.54609e-3 / (20 * MILE),
    ("fuel_consumption", "km/L"): 5e-8,
    ("temperature", "deg C"): 293.15,
    ("temperature", "C"): 293.15,
    ("temperature", "deg F"): 266.483333333333333,
    ("temperature", "F"): 266.483333333333333,
    ("temperature_difference", "degC"): 1.0,
    ("temperature_difference", "deg C"): 1.0,
    ("temperature_difference", "degF"): 5 / 9,
    ("temperature_difference", "deg F"): 5 / 9,
    ("specific_heat", "J/kg.K"): 1.0,
    ("specific_heat", "kJ/kg.K"): 1000.0,
    ("specific_heat", "BTU/(lb.degF)"): 4186.8,
    ("thermal_conductance", "W/degC"): 1.0,
    ("thermal_resistance", "degC/W"): 1.0,
    ("flow", "lpm"): 1 / 60000,
    ("flow", "LPM"): 1 / 60000,
    ("flow", "lph"): 1 / 3600000,
    ("flow", "LPH"): 1 / 3600000,
    ("volume", "ltr"): 1e-3,
    ("pressure", "in Hg"): 13595.1 * 9.80665 * 0.0254,
    ("pressure", "mWC"): 9806.65,
    ("flow", "gpm"): 3.785411784e-3 / 60,
    ("flow", "gpm (US)"): 3.785411784e-3 / 60,
    ("flow", "gpm-us"): 3.785411784e-3 / 60,
    ("flow", "gpm (UK)"): 4.54609e-3 / 60,
    ("flow", "gpm-uk"): 4.54609e-3 / 60,
    ("voltage", "Vdc"): 1.0,
    ("voltage", "Vac"): 1.0,
    ("current", "amps"): 1.0,
    ("resistance", "mOhm"): 1e-3,
    ("resistance", "MOhm"): 1e6,
    ("emf_constant", "V/1000 rpm"): 0.03 / math.pi,
    ("emf_constant", "V per 1000 rpm"): 0.03 / math.pi,
    ("torque_per_current", "lb-ft/A"): POUND_FOOT,
    ("torque_per_current", "ft-lb/A"): POUND_FOOT,
}
for _kind in ("position", "distance"):
    BY_HAND |= {(_kind, sign): BY_HAND["length", sign] for sign in ('"', "'", "MI")}
for _kind in ("ratio", "factor", "fraction", "grade"):
    BY_HAND |= {(_kind, "per cent"): 0.01, (_kind, "pct"): 0.01}

EVERY = [(kind.name, each) for kind in KINDS.values() for each in kind.spellings if each]
IDS = [f"{each} for {kind}" for kind, each in EVERY]


def si_by_pint(kind: str, spelling: str, number: float) -> float:
    expression = spelling.replace(".", "*").replace("-", "*")
    if kind == "temperature":
        return float(ureg.Quantity(number, expression).to("kelvin").magnitude)
    quantity = ureg.Quantity(number * ureg.parse_expression(expression))
    return float(quantity.to(KINDS[kind].unit.replace(".", "*")).magnitude)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("kind", "spelling"), EVERY, ids=IDS)
def test_every_spelling_means_what_an_independent_reading_says(kind, spelling):
    unit = KINDS[kind].units[squash(spelling)]
    number = 20.0 if unit.inverse or kind == "temperature" else 1.0
    by_hand = BY_HAND.get((kind, spelling))
    expected = si_by_pint(kind, spelling, number) if by_hand is None else by_hand
    assert unit.to_si(number) == pytest.approx(expected, rel=1e-12)


@pytest.mark.guard
def test_the_list_worked_by_hand_names_only_spellings_there_are():
    assert set(BY_HAND) <= set(EVERY)


@pytest.mark.guard
@pytest.mark.parametrize("kind", KINDS)
def test_the_si_unit_of_a_kind_is_one_pint_knows(kind):
    unit = KINDS[kind].unit.replace(".", "*")
    assert ureg.parse_expression(unit) is not None


@pytest.mark.property
@pytest.mark.parametrize("kind", KINDS)
def test_a_number_taken_to_si_and_back_is_the_number(kind):
    for unit in KINDS[kind].units.values():
        for number in (0.003, 1.0, 47.5, 1e6):
            assert unit.from_si(unit.to_si(number)) == pytest.approx(number, rel=1e-9)
