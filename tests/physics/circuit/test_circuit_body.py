from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.circuit import body
from swapwright.standards import body as table

CURVES = {
    "perception": table.DC_PERCEPTION.si,
    "curve_b": table.DC_CURVE_B,
    "curve_c1": table.DC_CURVE_C1,
}
ZONES = ("DC-1", "DC-2", "DC-3", "DC-4")


def zone(current: float, time: float, *, heart: float | None = None, error: float = 0.0) -> str:
    seen = current if heart is None else heart
    return body.dc_zone(current=current, heart=seen, time=time, error=error, **CURVES)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("volts", "milliamps"),
    [
        (100.0, (101.0, 58.0, 32.0)),
        (225.0, (290.3, 183.7, 118.4)),
        (400.0, (571.4, 421.1, 313.7)),
        (500.0, (800.0, 588.2, 434.8)),
        (1000.0, (1739.0, 1290.0, 952.4)),
        (96.0, (94.9, 54.3, 30.0)),
        (360.0, (502.0, 355.4, 253.9)),
    ],
)
def test_the_current_through_a_dry_body_by_voltage_and_share_of_people(volts, milliamps):
    for share, expected in zip(table.PERCENTILES, milliamps, strict=True):
        impedance = table.body_impedance(volts, percentile=share).si
        current = body.body_current(voltage=volts, impedance=impedance)
        assert current * 1e3 == pytest.approx(expected, rel=1e-3)


# Impedances of the older edition of the same report, 1984 and 1994.
@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("volts", "ohms", "milliamps"),
    [
        (50.0, (1450.0, 2625.0, 4375.0), (34.5, 19.0, 11.4)),
        (220.0, (1000.0, 1350.0, 2125.0), (220.0, 163.0, 103.5)),
        (1000.0, (700.0, 1050.0, 1500.0), (1429.0, 952.4, 666.7)),
    ],
)
def test_the_newer_impedances_never_show_the_worst_twentieth_less_current(volts, ohms, milliamps):
    currents = [1e3 * body.body_current(voltage=volts, impedance=each) for each in ohms]
    assert currents == pytest.approx(milliamps, rel=3e-3)
    assert table.body_impedance(volts, percentile=5).si <= ohms[0]


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("path", "current", "reference"),
    [
        ("hand to hand", 0.200, 0.0800),
        ("hand to hand", 0.4211, 0.1684),
        ("chest to left hand", 0.050, 0.0750),
    ],
)
def test_what_the_heart_sees_of_a_current_by_its_path(path, current, reference):
    found = body.heart_current(factor=table.HEART_FACTORS[path].si, current=current)
    assert found == pytest.approx(reference, rel=1e-3)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("current", "time", "expected"),
    [
        (0.0019, 10.0, "DC-1"),
        (0.0021, 10.0, "DC-2"),
        (0.199, 0.01, "DC-2"),
        (0.201, 0.01, "DC-3"),
        (0.024, 10.0, "DC-2"),
        (0.026, 10.0, "DC-3"),
        (0.499, 0.2, "DC-3"),
        (0.500, 0.2, "DC-4"),
        (0.151, 1.0, "DC-4"),
        (0.141, 60.0, "DC-4"),
        (0.050, 1.0, "DC-3"),
    ],
)
def test_a_direct_current_falls_into_its_zone(current, time, expected):
    assert zone(current, time) == expected


@pytest.mark.arithmetic
def test_the_curves_are_lowered_by_what_their_reading_may_be_off():
    assert zone(0.130, 10.0) == "DC-3"
    assert zone(0.130, 10.0, error=table.DC_CURVE_ERROR.si) == "DC-4"
    between = body.threshold_current(curve=table.DC_CURVE_C1, time=10.0**0.5, error=0.0)
    assert between == pytest.approx((0.150 * 0.140) ** 0.5)


@pytest.mark.arithmetic
def test_held_muscles_go_by_the_current_and_the_heart_by_its_share():
    assert zone(0.2, 10.0, heart=0.08) == "DC-3"
    assert zone(0.5, 10.0, heart=0.2) == "DC-4"


@pytest.mark.property
@given(
    st.floats(1e-4, 10.0),
    st.floats(1e-3, 100.0),
    st.floats(1.0, 10.0),
    st.floats(1.0, 10.0),
    st.floats(0.0, 0.5),
)
def test_more_current_or_more_time_never_makes_the_zone_milder(current, time, more, longer, error):
    found = ZONES.index(zone(current, time, error=error))
    assert ZONES.index(zone(current * more, time * longer, error=error)) >= found


@pytest.mark.property
@given(st.floats(1.0, 1500.0), st.floats(1.0, 1500.0), st.sampled_from(table.PERCENTILES))
def test_a_wetter_skin_or_a_higher_voltage_never_lowers_the_current(one, two, share):
    low, high = sorted((one, two))

    def current(volts: float, skin: table.Skin) -> float:
        impedance = table.body_impedance(volts, percentile=share, skin=skin).si
        return body.body_current(voltage=volts, impedance=impedance)

    dry, water, salt = (current(low, skin) for skin in ("dry", "water-wet", "saltwater-wet"))
    assert dry <= water <= salt * (1.0 + 1e-12)
    for skin, at_low in (("dry", dry), ("water-wet", water), ("saltwater-wet", salt)):
        assert current(high, skin) >= at_low * (1.0 - 1e-12)
