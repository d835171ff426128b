from __future__ import annotations

import fluids
import pytest

from swapwright.standards import (
    atmosphere,
    consumption,
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


# ISO 6469-3: class B is above 60 V dc or 30 V ac, up to 1500 V dc or 1000 V ac.
@pytest.mark.published
def test_voltage_class_b_begins_above_60_volts_dc_and_30_volts_ac():
    assert (voltage_class.MAX_CLASS_A_DC.si, voltage_class.MAX_CLASS_A_AC.si) == (60.0, 30.0)
    assert (voltage_class.MAX_CLASS_B_DC.si, voltage_class.MAX_CLASS_B_AC.si) == (1500.0, 1000.0)


# 76 FR 39478 (2011): a gallon of gasoline is 33.7 kWh on the label.
@pytest.mark.published
def test_the_unrounded_gallon_rounds_to_the_one_on_the_label():
    kilowatt_hours = consumption.GASOLINE_GALLON_ENERGY.si / 3.6e6
    assert round(kilowatt_hours, 1) == consumption.LABEL_GALLON_ENERGY.si / 3.6e6 == 33.7


@pytest.mark.arithmetic
def test_the_label_figures_of_a_worked_car_come_out():
    city, highway = (consumption.LABEL_ADJUSTMENT.si * mpge for mpge in (180.4, 144.2))
    shares = consumption.CITY_SHARE.si, consumption.HIGHWAY_SHARE.si
    combined = 1.0 / (shares[0] / city + shares[1] / highway)
    watt_hours = consumption.GASOLINE_GALLON_ENERGY.si / 3600.0 / combined
    assert (city, highway) == pytest.approx((126.28, 100.94), abs=0.005)
    assert combined == pytest.approx(113.46, abs=0.005)
    assert watt_hours == pytest.approx(297.06, abs=0.01)
    assert sum(shares) == 1.0


@pytest.mark.arithmetic
@pytest.mark.parametrize("style", typical.BODY_STYLES, ids=lambda style: style.name)
def test_a_typical_drag_area_is_near_coefficient_times_frontal_area(style):
    assert style.cd_a.si == pytest.approx(style.cd.si * style.frontal_area.si, rel=0.06)


@pytest.mark.guard
def test_typical_bands_hold_their_own_middle_and_keep_their_order():
    bands = [style.cd_a for style in typical.BODY_STYLES]
    bands += [style.c_rr for style in typical.TYRE_STYLES]
    bands += [ratings.BATTERY_TO_WHEEL_AT_CRUISE, ratings.POWER_OVER_ORIGINAL]
    bands += list(ratings.PACK_SPECIFIC_ENERGY.values())
    assert all(band.low < band.si < band.high for band in bands)
    resistances = [style.c_rr.si for style in typical.TYRE_STYLES]
    assert resistances == sorted(resistances)


@pytest.mark.arithmetic
def test_a_whole_pack_of_nmc_holds_110_to_170_watt_hours_per_kilogram():
    band = ratings.PACK_SPECIFIC_ENERGY["nmc"]
    assert [end / 3600.0 for end in (band.low, band.si, band.high)] == pytest.approx(
        [110, 140, 170]
    )
