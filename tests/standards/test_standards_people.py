from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.standards import arc_flash, body, isolation
from swapwright.standards.gloves import (
    BASELINE_CLASS,
    GLOVE_CLASSES,
    GLOVES,
    least_glove_class,
    least_glove_class_by_dc,
)
from swapwright.standards.meters import (
    METER_CATEGORIES,
    MIN_METER_CATEGORY,
    MIN_METER_VOLTAGE,
    RATINGS,
    meets_baseline,
    surge_ranking,
)


# 29 CFR 1910.137, tables; dc of use as ASTM D120, 1.5 times the ac.
@pytest.mark.published
@pytest.mark.parametrize(
    ("name", "ac", "dc", "proof_ac", "proof_dc", "colour"),
    [
        ("00", 500, 750, 2_500, None, "beige"),
        ("0", 1_000, 1_500, 5_000, 20_000, "red"),
        ("1", 7_500, 11_250, 10_000, 40_000, "white"),
        ("2", 17_000, 25_500, 20_000, 50_000, "yellow"),
        ("3", 26_500, 39_750, 30_000, 60_000, "green"),
        ("4", 36_000, 54_000, 40_000, 70_000, "orange"),
    ],
)
def test_a_class_of_gloves_has_its_printed_voltages(name, ac, dc, proof_ac, proof_dc, colour):
    row = GLOVES[name]
    assert (row.ac.si, row.dc.si, row.proof_ac.si, row.colour) == (ac, dc, proof_ac, colour)
    if proof_dc is not None:
        assert row.proof_dc.si == proof_dc


@pytest.mark.arithmetic
def test_class_00_is_proved_at_ten_kilovolts_dc():
    assert GLOVES["00"].proof_dc.si == 10_000


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("volts", "by_ac", "by_dc"),
    [
        (403.2, "00", "00"),
        (500.0, "00", "00"),
        (710.0, "0", "00"),
        (800.0, "0", "0"),
        (806.0, "0", "0"),
        (1600.0, "1", "1"),
    ],
)
def test_the_least_class_that_covers_a_pack_by_either_figure(volts, by_ac, by_dc):
    assert least_glove_class(volts).name == by_ac
    assert least_glove_class_by_dc(volts).name == by_dc


@pytest.mark.arithmetic
def test_the_trade_wears_class_0_which_covers_403_volts_nearly_four_times():
    assert GLOVES[BASELINE_CLASS].dc.si / 403.2 == pytest.approx(3.72, abs=0.005)
    assert least_glove_class(1e6) is least_glove_class_by_dc(1e6) is None


@pytest.mark.property
@given(st.floats(0.0, 36e3), st.floats(0.0, 36e3))
def test_a_higher_voltage_never_asks_for_thinner_gloves_nor_the_dc_figure_for_thicker(one, two):
    low, high = (GLOVE_CLASSES.index(least_glove_class(each)) for each in sorted((one, two)))
    assert low <= high
    assert GLOVE_CLASSES.index(least_glove_class_by_dc(max(one, two))) <= high


# IEC 61010-2-033, measuring categories: impulse voltages at 150, 300, 600 and 1000 V.
@pytest.mark.published
@pytest.mark.parametrize(
    ("name", "impulses", "ohms"),
    [
        ("CAT II", (1500, 2500, 4000, 6000), 12),
        ("CAT III", (2500, 4000, 6000, 8000), 2),
        ("CAT IV", (4000, 6000, 8000, 12000), 2),
    ],
)
def test_a_category_stands_its_printed_surge(name, impulses, ohms):
    row = METER_CATEGORIES[name]
    assert tuple(row.impulse[rated].si for rated in RATINGS) == impulses
    assert row.source_resistance.si == ohms


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("name", "rated", "amps"),
    [
        ("CAT II", 600, 333.3),
        ("CAT II", 1000, 500.0),
        ("CAT III", 600, 3000.0),
        ("CAT III", 1000, 4000.0),
        ("CAT IV", 600, 4000.0),
    ],
)
def test_what_a_surge_drives_into_a_short(name, rated, amps):
    assert METER_CATEGORIES[name].peak_current(rated) == pytest.approx(amps, abs=0.05)


@pytest.mark.arithmetic
def test_cat_iii_600_outranks_cat_ii_1000_at_the_same_peak():
    ranking = surge_ranking()
    assert ranking.index(("CAT III", 600)) > ranking.index(("CAT II", 1000))
    volts = [
        METER_CATEGORIES[name].impulse[rated].si
        for name, rated in (("CAT III", 600), ("CAT II", 1000))
    ]
    assert volts == [6000.0, 6000.0]


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("name", "rated", "is_enough"),
    [
        ("CAT III", 1000.0, True),
        ("CAT IV", 1000.0, True),
        ("CAT III", 1500.0, True),
        ("CAT IV", 600.0, False),
        ("CAT III", 600.0, False),
        ("CAT II", 1000.0, False),
        ("CAT I", 1000.0, False),
        ("", 1000.0, False),
    ],
)
def test_the_trade_asks_for_cat_iii_1000_volts_of_meter_and_leads(name, rated, is_enough):
    assert meets_baseline(name, rated) is is_enough
    assert (MIN_METER_CATEGORY, MIN_METER_VOLTAGE.si) == ("CAT III", 1000.0)


# UN R100, 5.1.3, its annex on measuring isolation, and 5.1.2.2.
@pytest.mark.published
def test_isolation_and_bonding_are_asked_for_as_the_regulation_says():
    assert isolation.DC_OHMS_PER_VOLT.si == 100.0
    assert isolation.AC_OHMS_PER_VOLT.si == 500.0
    assert isolation.MIN_METER_RESISTANCE.si == 10e6
    assert isolation.RESISTOR_SPREAD.si == 0.20
    assert isolation.MAX_BONDING_RESISTANCE.si == 0.1
    assert isolation.BONDING_TEST_CURRENT.si == 0.2


# NFPA 70E, Table 130.4(E)(b), dc, 301 V to 1 kV: 3 ft 6 in and 1 ft.
@pytest.mark.published
@pytest.mark.parametrize("volts", [301.0, 403.2, 1000.0])
def test_approach_to_a_car_of_400_volts_is_limited_at_107_and_restricted_at_30_centimetres(volts):
    row = isolation.approach(volts)
    assert row.limited.si == pytest.approx(1.07, abs=0.005)
    assert row.restricted.si == pytest.approx(0.305, abs=0.0005)


@pytest.mark.arithmetic
@pytest.mark.parametrize("volts", [62.0, 100.0, 300.0])
def test_up_to_300_volts_the_restricted_approach_is_no_contact(volts):
    row = isolation.approach(volts)
    assert row.restricted is None
    assert row.limited.si == pytest.approx(1.07, abs=0.005)


@pytest.mark.arithmetic
@pytest.mark.parametrize("volts", [48.0, 50.0, 1001.0])
def test_no_approach_distance_is_given_outside_the_table(volts):
    assert isolation.approach(volts) is None


# IEC TS 60479-1, heart-current factors.
@pytest.mark.published
@pytest.mark.parametrize(
    ("path", "factor"),
    [
        ("left hand to feet", 1.0),
        ("both hands to feet", 1.0),
        ("right hand to feet", 0.8),
        ("hand to hand", 0.4),
        ("chest to left hand", 1.5),
        ("chest to right hand", 1.3),
        ("back to left hand", 0.7),
        ("back to right hand", 0.3),
        ("seat to hands", 0.7),
        ("foot to foot", 0.04),
    ],
)
def test_a_path_has_its_printed_heart_factor(path, factor):
    assert body.HEART_FACTORS[path].si == factor


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("volts", "ohms"), [(96.0, (1011.6, 1769.0, 3201.0)), (360.0, (717.1, 1012.9, 1417.9))]
)
def test_between_the_rows_the_impedance_runs_straight(volts, ohms):
    found = [body.body_impedance(volts, percentile=share).si for share in body.PERCENTILES]
    assert found == pytest.approx(ohms, abs=0.06)


# IEC 60479-1, 1994: plain water lowers the impedance by 10 to 25 % up to 50 V.
@pytest.mark.published
def test_plain_water_takes_a_quarter_off_at_50_volts_and_nothing_at_400():
    assert body.body_impedance(50.0, skin="water-wet").si == pytest.approx(0.75 * 1375.0)
    assert body.body_impedance(400.0, skin="water-wet").si == 700.0


@pytest.mark.arithmetic
def test_salt_water_halves_a_skin_at_25_volts_and_matters_little_at_225():
    at_low = body.body_impedance(25.0, skin="saltwater-wet").si
    assert at_low / body.body_impedance(25.0).si == pytest.approx(0.55, abs=0.01)
    assert body.body_impedance(225.0, skin="saltwater-wet").si == 770.0
    assert [body.SALTWATER[share].at(100.0) for share in body.PERCENTILES] == [880, 1225, 1655]


# NFPA 70E, Annex D.5 and Table 130.7(C)(15)(b): 2 s, 18 in, three times out of a box.
@pytest.mark.published
def test_an_arc_counts_for_two_seconds_at_eighteen_inches():
    assert arc_flash.MAX_ARC_TIME.si == 2.0
    assert arc_flash.WORKING_DISTANCE.si == pytest.approx(0.4572)
    assert arc_flash.BOX_FACTOR.si == 3.0


@pytest.mark.arithmetic
def test_bare_skin_stands_one_point_two_calories():
    assert arc_flash.BOUNDARY_ENERGY.si == pytest.approx(50_208.0)


# Enclosures of the paper on dc arc models: reach in mm and share thrown forward.
@pytest.mark.published
@pytest.mark.parametrize(
    ("name", "reach", "focus"),
    [
        ("panelboard", 100, 0.127),
        ("low-voltage switchgear", 400, 0.312),
        ("medium-voltage switchgear", 950, 0.416),
    ],
)
def test_an_enclosure_has_its_printed_reach_and_share(name, reach, focus):
    row = next(each for each in arc_flash.ENCLOSURES if each.name == name)
    assert (row.reach.si * 1e3, row.focus.si) == pytest.approx((reach, focus))
