from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.circuit import insulation as formula
from swapwright.standards import insulation

GROUPS = ("I", "II", "IIIa", "IIIb")


def creepage(volts: float, degree: int, group: str) -> float | None:
    found = insulation.creepage(volts, pollution_degree=degree, group=group)
    return None if found is None else found.si * 1e3


# IEC 60664-1, Table F.4: mm for pollution degree 2 and 3, material group I, II, III.
@pytest.mark.published
@pytest.mark.parametrize(
    ("volts", "row"),
    [
        (250, (1.25, 1.8, 2.5, 3.2, 3.6, 4.0)),
        (320, (1.6, 2.2, 3.2, 4.0, 4.5, 5.0)),
        (400, (2.0, 2.8, 4.0, 5.0, 5.6, 6.3)),
        (500, (2.5, 3.6, 5.0, 6.3, 7.1, 8.0)),
        (630, (3.2, 4.5, 6.3, 8.0, 9.0, 10.0)),
        (800, (4.0, 5.6, 8.0, 10.0, 11.0, 12.5)),
        (1000, (5.0, 7.1, 10.0, 12.5, 14.0, 16.0)),
    ],
)
def test_a_creepage_of_the_table_is_as_printed(volts, row):
    found = [creepage(volts, degree, group) for degree in (2, 3) for group in GROUPS[:3]]
    assert found == pytest.approx(row)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("volts", "degree", "group", "distance"),
    [
        (403.2, 2, "IIIa", 4.032),
        (430.0, 3, "II", 6.05),
        (430.0, 2, "IIIa", 4.30),
        (850.0, 2, "II", 5.975),
        (100.0, 2, "IIIa", 1.4),
    ],
)
def test_between_the_rows_the_creepage_runs_straight(volts, degree, group, distance):
    assert creepage(volts, degree, group) == pytest.approx(distance)


@pytest.mark.arithmetic
def test_group_iiib_shares_the_column_of_iiia_and_ends_at_630_volts_where_it_is_dirty():
    assert creepage(630.0, 3, "IIIb") == creepage(630.0, 3, "IIIa") == pytest.approx(10.0)
    assert creepage(631.0, 3, "IIIb") is None
    assert creepage(800.0, 2, "IIIb") == pytest.approx(8.0)


@pytest.mark.arithmetic
def test_outside_the_table_there_is_no_creepage():
    assert creepage(1001.0, 2, "I") is None
    assert creepage(400.0, 4, "I") is None


# IEC 60664-1, Table F.2, inhomogeneous field: kV and mm.
@pytest.mark.published
@pytest.mark.parametrize(("impulse", "distance"), [(1.5, 0.5), (2.5, 1.5), (4.0, 3.0), (6.0, 5.5)])
def test_a_clearance_of_the_table_is_as_printed(impulse, distance):
    found = insulation.clearance(impulse * 1e3, pollution_degree=2)
    assert found.si * 1e3 == pytest.approx(distance)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("impulse", "degree", "distance"),
    [(8e3, 2, 8.0), (12e3, 2, 14.0), (1.5e3, 3, 0.8), (3e3, 3, 3.0)],
)
def test_a_clearance_is_that_of_the_next_impulse_voltage_up(impulse, degree, distance):
    found = insulation.clearance(impulse, pollution_degree=degree)
    assert found.si * 1e3 == pytest.approx(distance)


@pytest.mark.arithmetic
def test_outside_the_tables_there_is_no_clearance_and_no_altitude_factor():
    assert insulation.clearance(12_001.0, pollution_degree=2) is None
    assert insulation.clearance(4000.0, pollution_degree=4) is None
    assert insulation.altitude_factor(5001.0) is None
    assert insulation.impulse_voltage(1001.0) is None


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("volts", "altitude", "distance"), [(4e3, 3000.0, 3.42), (6e3, 4000.0, 7.095), (4e3, 0.0, 3.0)]
)
def test_thinner_air_asks_for_more_clearance(volts, altitude, distance):
    found = formula.required_clearance(
        at_sea_level=insulation.clearance(volts, pollution_degree=2).si,
        altitude_factor=insulation.altitude_factor(altitude).si,
    )
    assert found * 1e3 == pytest.approx(distance)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("volts", "impulse"), [(96.0, 2500), (500.0, 2500), (806.0, 4000)])
def test_the_impulse_voltage_is_chosen_by_the_maximum_working_voltage(volts, impulse):
    assert insulation.impulse_voltage(volts).si == impulse


@pytest.mark.arithmetic
def test_creepage_is_doubled_for_reinforced_insulation_and_never_below_the_clearance():
    twice = insulation.REINFORCED.si
    assert formula.required_creepage(basic=4e-3, times=twice, clearance=3e-3) == 8e-3
    assert formula.required_creepage(basic=1.25e-3, times=1.0, clearance=1.5e-3) == 1.5e-3


@pytest.mark.property
@given(
    st.floats(1.0, 1000.0),
    st.floats(1.0, 1000.0),
    st.sampled_from([2, 3]),
    st.sampled_from(GROUPS),
)
def test_a_higher_voltage_a_dirtier_place_or_a_worse_plastic_never_needs_less_creepage(
    one, two, degree, group
):
    low, high = sorted((one, two))
    here = creepage(low, degree, group)
    if here is None:
        assert creepage(high, degree, group) is None
        return
    more = creepage(high, degree, group)
    assert more is None or more >= here
    assert creepage(low, 2, group) <= here
    assert creepage(low, degree, "I") <= here


@pytest.mark.property
@given(
    st.floats(0.0, 5000.0),
    st.floats(0.0, 5000.0),
    st.floats(0.0, 12e3),
    st.floats(0.0, 12e3),
    st.sampled_from([2, 3]),
)
def test_more_altitude_or_impulse_never_needs_less_clearance(low, high, weak, strong, degree):
    low, high = sorted((low, high))
    weak, strong = sorted((weak, strong))
    assert insulation.altitude_factor(low).si <= insulation.altitude_factor(high).si
    lesser, greater = (
        insulation.clearance(each, pollution_degree=degree).si for each in (weak, strong)
    )
    assert lesser <= greater
