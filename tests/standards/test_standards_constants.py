from __future__ import annotations

import fluids
import pytest

from swapwright.standards import (
    atmosphere,
    consumption,
    margins,
    ratings,
    reference_conditions,
    voltage_class,
)
from swapwright.standards import road_load_typical as typical

R_DRY_AIR = 287.055
"""Gas constant of dry air, J/kg/K."""


# ISO 2533 / US Standard Atmosphere 1976, as tabulated by an independent library.
@pytest.mark.published
def test_the_standard_atmosphere_starts_where_the_tables_do():
    sea, kilometre = fluids.ATMOSPHERE_1976(0.0), fluids.ATMOSPHERE_1976(1000.0)
    assert atmosphere.SEA_LEVEL_TEMPERATURE.si == sea.T
    assert atmosphere.SEA_LEVEL_PRESSURE.si == pytest.approx(sea.P, rel=1e-9)
    assert atmosphere.SEA_LEVEL_DENSITY.si == pytest.approx(sea.rho, rel=1e-5)
    assert atmosphere.LAPSE_RATE.si * 1000.0 == pytest.approx(sea.T - kilometre.T, rel=1e-3)


# 40 CFR 1066.310 prints 1.17 kg/m^3 for 20 degC and 98.21 kPa.
@pytest.mark.published
def test_reference_air_of_the_american_coast_down_rounds_to_the_printed_density():
    assert round(reference_conditions.SAE_J2263.density.si, 2) == 1.17


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "air", [reference_conditions.SAE_J2263, reference_conditions.UN_GTR15], ids=["j2263", "gtr15"]
)
def test_reference_density_is_that_of_dry_air_at_the_reference_state(air):
    density = air.pressure.si / (R_DRY_AIR * air.temperature.si)
    assert air.density.si == pytest.approx(density, rel=1e-3)


# ISO 6469-3: class B is above 60 V dc, up to 1500 V dc.
@pytest.mark.published
def test_voltage_class_b_is_above_60_volts_dc_up_to_1500():
    assert (voltage_class.MAX_CLASS_A_DC.si, voltage_class.MAX_CLASS_B_DC.si) == (60.0, 1500.0)


# 76 FR 39478 (2011): a gallon of gasoline is 33.7 kWh on the label.
@pytest.mark.published
def test_the_unrounded_gallon_rounds_to_the_one_on_the_label():
    kilowatt_hours = consumption.GASOLINE_GALLON_ENERGY.si / 3.6e6
    assert round(kilowatt_hours, 1) == consumption.LABEL_GALLON_ENERGY.si / 3.6e6 == 33.7


@pytest.mark.arithmetic
def test_the_label_figures_of_a_worked_car_come_out():
    city, highway = (consumption.LABEL_ADJUSTMENT.si * mpge for mpge in (180.4, 144.2))
    share = consumption.CITY_SHARE.si
    combined = 1.0 / (share / city + (1.0 - share) / highway)
    watt_hours = consumption.GASOLINE_GALLON_ENERGY.si / 3600.0 / combined
    assert (city, highway) == pytest.approx((126.28, 100.94), abs=0.005)
    assert combined == pytest.approx(113.46, abs=0.005)
    assert watt_hours == pytest.approx(297.06, abs=0.01)


@pytest.mark.arithmetic
@pytest.mark.parametrize("style", typical.BODY_STYLES, ids=lambda style: style.name)
def test_a_typical_drag_area_is_near_coefficient_times_frontal_area(style):
    assert style.cd_a.si == pytest.approx(style.cd.si * style.frontal_area.si, rel=0.06)


@pytest.mark.guard
def test_typical_bands_hold_their_own_middle_and_keep_their_order():
    bands = [style.cd_a for style in typical.BODY_STYLES]
    bands += [style.c_rr for style in typical.TYRE_STYLES]
    assert all(band.low < band.si < band.high for band in bands)
    resistances = [style.c_rr.si for style in typical.TYRE_STYLES]
    assert resistances == sorted(resistances)


# Numbers of the trade, without a document to hold them against; ends of the bands, SI.
@pytest.mark.golden
def test_the_typical_cars_and_tyres_stay_as_they_were():
    assert {
        style.name: [(each.low, each.high) for each in (style.cd, style.frontal_area, style.cd_a)]
        for style in typical.BODY_STYLES
    } == {
        "saloon-1960s": [(0.45, 0.50), (2.0, 2.2), (0.9, 1.1)],
        "coupe-1960s": [(0.40, 0.45), (1.8, 1.9), (0.72, 0.85)],
        "saloon-small": [(0.45, 0.48), (1.8, 1.8), (0.81, 0.86)],
        "roadster": [(0.50, 0.60), (1.4, 1.5), (0.75, 0.85)],
        "box-4x4": [(0.55, 0.65), (2.4, 2.7), (1.4, 1.7)],
        "pickup-1970s": [(0.48, 0.55), (2.6, 2.9), (1.3, 1.6)],
        "van-1970s": [(0.42, 0.50), (2.3, 2.9), (1.1, 1.4)],
        "hatch-1990s": [(0.32, 0.35), (1.9, 2.0), (0.62, 0.70)],
    }
    assert [(style.c_rr.low, style.c_rr.high) for style in typical.TYRE_STYLES] == [
        (0.008, 0.010),
        (0.010, 0.013),
        (0.013, 0.018),
    ]


@pytest.mark.golden
@pytest.mark.parametrize(
    ("name", "si", "unit"),
    [
        ("WATCH_MARGIN", 0.10, "1"),
        ("MAX_PEAK_RATING_TIME", 60.0, "s"),
        ("END_OF_LIFE_HEALTH", 0.80, "1"),
        ("OCCUPANT_MASS", 75.0, "kg"),
        ("DEFAULT_PHASE_CURRENT_MARGIN", 1.05, "1"),
        ("INVERTER_MAX_TEMPERATURE", 273.15 + 85.0, "K"),
        ("INVERTER_DERATE_SPAN", 15.0, "K"),
        ("MOTOR_DERATE_SPAN", 25.0, "K"),
        ("INVERTER_WARM_UP", 40.0, "s"),
        ("RATING_AMBIENT", 273.15 + 40.0, "K"),
        ("RUNNING_WINDING_TEMPERATURE", 273.15 + 80.0, "K"),
        ("MOST_BEHIND", 0.02, "1"),
        ("NO_DERATING", 1.0, "1"),
        ("COPPER_SHARE", 0.10, "1"),
        ("COPPER_SPECIFIC_HEAT", 385.0, "J/kg/K"),
        ("TEN_SECONDS", 10.0, "s"),
    ],
)
def test_what_the_trade_judges_by_stays_as_it_was(name, si, unit):
    found = getattr(ratings, name)
    assert (found.si, found.unit) == (pytest.approx(si), unit)


@pytest.mark.golden
@pytest.mark.parametrize(
    ("name", "si", "unit"),
    [
        ("NO_BAND", 0.0, "1"),
        ("VOLTAGE_BAND", 0.02, "1"),
        ("SAG_BAND", 0.05, "1"),
        ("CONTINUOUS_POWER_BAND", 0.05, "1"),
        ("TEMPERATURE_BAND", 5.0, "K"),
        ("WEIGHT_BAND", 0.02, "1"),
        ("PACKING_BAND", 0.30, "1"),
    ],
)
def test_how_little_margin_is_watch_stays_as_it_was(name, si, unit):
    found = getattr(margins, name)
    assert (found.si, found.unit) == (si, unit)
