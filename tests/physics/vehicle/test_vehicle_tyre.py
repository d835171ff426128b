"""Tyre geometry from the size on the sidewall."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.vehicle import tyre
from swapwright.physics.vehicle.tyre_size import tyre_size


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("size", "diameter", "circumference", "radius", "per_km", "per_mile"),
    [
        ("205/55R16", 631.9, 1927.3, 306.7, 518.9, 835.0),
        ("195/65R15", 634.5, 1935.2, 308.0, 516.7, 831.6),
        ("185/70R14", 614.6, 1874.5, 298.3, 533.5, 858.5),
        ("165R13", 600.8, 1832.4, 291.6, 545.7, 878.3),
        ("235/75R15", 733.5, 2237.2, 356.1, 447.0, 719.4),
    ],
)
def test_a_size_gives_diameter_circumference_and_turns(
    size, diameter, circumference, radius, per_km, per_mile
):
    outside = tyre_size(size).outside_diameter
    rolls = tyre.rolling_circumference(outside_diameter=outside)
    assert outside * 1e3 == pytest.approx(diameter, abs=0.06)
    assert rolls * 1e3 == pytest.approx(circumference, abs=0.06)
    assert tyre.rolling_radius(rolling_circumference=rolls) * 1e3 == pytest.approx(radius, abs=0.06)
    assert tyre.wheel_turns(distance=1000.0, rolling_circumference=rolls) == pytest.approx(
        per_km, abs=0.06
    )
    assert tyre.wheel_turns(distance=1609.344, rolling_circumference=rolls) == pytest.approx(
        per_mile, abs=0.06
    )


@pytest.mark.property
@given(st.floats(0.2, 0.6), st.floats(0.1, 0.3), st.floats(0.3, 0.9), st.floats(0.01, 0.1))
def test_a_taller_sidewall_turns_less_often(rim, width, aspect, taller):
    def turns(height: float) -> float:
        outside = tyre.outside_diameter(rim_diameter=rim, section_width=width, aspect=height)
        rolls = tyre.rolling_circumference(outside_diameter=outside)
        return tyre.wheel_turns(distance=1000.0, rolling_circumference=rolls)

    assert turns(aspect + taller) < turns(aspect)


@pytest.mark.arithmetic
def test_an_axle_load_is_shared_by_its_tyres():
    assert tyre.tyre_load(axle_load=1230.0, tyres=2.0) == 615.0
