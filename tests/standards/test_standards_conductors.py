from __future__ import annotations

from itertools import pairwise
from math import log, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.standards import conductors

MM2 = 1e-6
sizes = st.floats(0.5, 240.0).map(lambda size: size * MM2)


# IEC 60228:2004 table 3, class 5, plain copper, ohm/km at 20 degC.
@pytest.mark.published
@pytest.mark.parametrize(
    ("size", "ohm_per_km"),
    [
        (10, 1.91),
        (16, 1.21),
        (25, 0.780),
        (35, 0.554),
        (50, 0.386),
        (70, 0.272),
        (95, 0.206),
        (120, 0.161),
    ],
)
def test_a_flexible_conductor_has_its_printed_resistance(size, ohm_per_km):
    assert conductors.class_5_resistance(size * MM2) * 1e3 == pytest.approx(ohm_per_km, rel=1e-12)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("size", "ohm_per_km"), [(1.5, 13.3), (2.5, 7.98), (4.0, 4.95), (6.0, 3.30)]
)
def test_thin_conductors_have_the_resistance_remembered_and_say_so(size, ohm_per_km):
    assert conductors.class_5_resistance(size * MM2) * 1e3 == pytest.approx(ohm_per_km, rel=1e-12)
    row = next(row for row in conductors.CLASS_5 if row.area == size * MM2)
    assert row.source == conductors.CLASS_5_SMALL_SOURCE


# IEC 60028: 58.0 MS/m is 0.017241 ohm.mm2/m; 0.00393 per kelvin at 20 degC.
@pytest.mark.published
def test_copper_has_the_resistivity_of_the_standard():
    assert round(conductors.COPPER_RESISTIVITY.si / MM2, 6) == 0.017241
    assert conductors.COPPER_TEMPERATURE_COEFFICIENT.si == 0.00393


@pytest.mark.arithmetic
@pytest.mark.parametrize("row", conductors.CLASS_5, ids=lambda row: f"{row.area / MM2:g} mm2")
def test_a_class_5_conductor_is_a_tenth_worse_than_solid_copper(row):
    solid = conductors.COPPER_RESISTIVITY.si / row.area
    assert 1.09 < row.resistance / solid < 1.17


@pytest.mark.property
@given(sizes, sizes)
def test_a_thicker_conductor_never_has_more_resistance(one, other):
    thin, thick = sorted((one, other))
    assert conductors.class_5_resistance(thin) >= conductors.class_5_resistance(thick)


@pytest.mark.arithmetic
def test_between_rows_the_logarithms_lie_on_a_line_and_beyond_them_area_rules():
    found = conductors.class_5_resistance((50 * 70) ** 0.5 * MM2)
    assert log(found) == pytest.approx((log(0.386e-3) + log(0.272e-3)) / 2)
    assert conductors.class_5_resistance(240 * MM2) == pytest.approx(0.161e-3 / 2)
    assert conductors.class_5_resistance(0.75 * MM2) == pytest.approx(13.3e-3 * 2)


# ASTM B258: diameters in the ratio 92^(1/39), areas in mm2.
@pytest.mark.published
@pytest.mark.parametrize(
    ("gauge", "area", "digits"),
    [(10, 5.261, 3), (8, 8.366, 3), (2, 33.63, 2), (0, 53.48, 2), (-1, 67.43, 2), (-3, 107.2, 1)],
)
def test_a_gauge_has_its_printed_area(gauge, area, digits):
    assert round(conductors.awg_area(gauge) / MM2, digits) == area


# Temperature classes of car cable, letters of ISO 6722-1.
@pytest.mark.published
@pytest.mark.parametrize(
    ("letter", "degrees"),
    [("A", 85), ("B", 100), ("C", 125), ("D", 150), ("E", 175), ("F", 200), ("G", 225), ("H", 250)],
)
def test_an_insulation_class_bears_its_printed_temperature(letter, degrees):
    found = conductors.INSULATION_CLASSES[f"class {letter}"].max_temperature
    assert found.si - 273.15 == pytest.approx(degrees)


@pytest.mark.guard
def test_every_class_has_a_material_that_bears_a_short_circuit():
    for each in conductors.INSULATION_CLASSES.values():
        material = conductors.INSULATION_MATERIALS[each.material]
        assert material.final_temperature.si > each.max_temperature.si


@pytest.mark.arithmetic
def test_the_tables_differ_at_one_size_and_each_says_what_it_holds_for():
    found = {table.name: amps for table, amps in conductors.published_ampacities(50 * MM2)}
    assert found["flexible-is9857"] == 248.0
    assert found["free-air-iec"] == 242.0
    # Between 1 and 1/0 AWG, 42.41 and 53.48 mm2.
    assert 220.0 < found["free-air-nec"] < 260.0
    for table in conductors.AMPACITY_TABLES:
        assert table.bundling
        assert (table.conductor_temperature.si, table.ambient.si) == (363.15, 303.15)


@pytest.mark.arithmetic
def test_no_table_is_read_beyond_its_ends():
    def names(size):
        return [table.name for table, _ in conductors.published_ampacities(size * MM2)]

    assert names(6) == []
    assert names(10) == ["free-air-nec"]
    assert names(16) == ["flexible-is9857", "free-air-nec"]
    assert names(120) == ["free-air-iec"]
    assert names(150) == []


@pytest.mark.guard
def test_in_every_table_a_thicker_conductor_carries_more_in_all_and_less_for_its_area():
    for table in conductors.AMPACITY_TABLES:
        for (thin, less), (thick, more) in pairwise(table.rows):
            assert thin < thick
            assert less < more
            assert less / thin > more / thick


@pytest.mark.arithmetic
def test_bunched_circuits_leave_less_and_a_group_beyond_the_table_is_not_known():
    assert [conductors.grouping_factor(n).si for n in (1, 2, 3, 4, 6)] == [1, 0.8, 0.7, 0.65, 0.57]
    assert conductors.grouping_factor(5) == conductors.GROUPING[6]
    assert conductors.grouping_factor(7) is None


@pytest.mark.guard
def test_no_way_of_laying_adds_current_or_cools_the_air():
    for each in conductors.ROUTINGS.values():
        assert 0.0 < each.factor.si <= 1.0
        assert each.added_ambient.si >= 0.0
    assert conductors.ROUTINGS["near exhaust"].added_ambient.si == 30.0


@pytest.mark.property
@given(sizes)
def test_the_copper_fits_under_the_insulation(area):
    found = conductors.cable_diameters(area)
    assert found.conductor < found.overall
    # Strands fill between half and three quarters of the circle round them.
    assert 0.5 < area / (pi / 4 * found.conductor**2) < 0.8


@pytest.mark.property
@given(sizes, sizes)
def test_a_thicker_conductor_makes_a_thicker_cable(one, other):
    thin, thick = (conductors.cable_diameters(area) for area in sorted((one, other)))
    assert thin.overall <= thick.overall * (1 + 1e-9)
    assert thin.conductor <= thick.conductor * (1 + 1e-9)
