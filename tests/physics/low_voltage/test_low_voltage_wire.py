"""Wires of the 12 V loom: current, fuse, and the voltage lost on the way."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.circuit.conductor import conductor_resistance, pair_voltage_drop
from swapwright.physics.low_voltage import wire
from swapwright.standards.conductors import LOOM_WIRE, class_5_resistance, loom_wire_current

MM2 = 1e-6
TABLE = {"rated_temperature": 343.15, "rated_ambient": 303.15}

sizes = st.floats(0.75, 120.0).map(lambda mm2: mm2 * MM2)


@pytest.mark.published
@pytest.mark.parametrize(
    ("size", "amps"),
    [(0.75, 15.0), (1.0, 19.0), (2.5, 32.0), (6.0, 54.0), (16.0, 98.0), (35.0, 158.0)],
)
def test_single_cores_carry_what_din_vde_0298_4_2023_table_11_gives_them(size: float, amps: float):
    assert loom_wire_current(size * MM2) == amps


@pytest.mark.arithmetic
def test_no_current_is_made_up_for_a_wire_thinner_or_thicker_than_the_table():
    assert loom_wire_current(0.5 * MM2) is None
    assert loom_wire_current(150.0 * MM2) is None


@pytest.mark.arithmetic
@pytest.mark.parametrize(("ambient", "factor"), [(40.0, 0.866), (50.0, 0.707), (60.0, 0.5)])
def test_wire_of_70_degrees_loses_in_warm_air_what_the_square_law_takes(ambient, factor: float):
    amps = wire.wire_ampacity(
        rated_current=32.0,
        max_temperature=343.15,
        ambient=ambient + 273.15,
        loom_factor=1.0,
        **TABLE,
    )
    assert amps / 32.0 == pytest.approx(factor, abs=0.001)


@pytest.mark.arithmetic
def test_cold_air_and_better_insulation_never_lift_a_wire_above_its_table():
    amps = wire.wire_ampacity(
        rated_current=32.0, max_temperature=398.15, ambient=273.15, loom_factor=0.7, **TABLE
    )
    assert amps == pytest.approx(22.4)


@pytest.mark.arithmetic
def test_a_load_of_12_amperes_wants_a_fuse_of_15():
    assert wire.fuse_wanted(current=12.0, fuse_share=0.8) == pytest.approx(15.0)


@pytest.mark.arithmetic
def test_three_metres_of_two_and_a_half_square_lose_over_half_a_volt_to_the_lamps():
    cold = conductor_resistance(
        resistance_per_length=class_5_resistance(2.5 * MM2),
        length=3.0,
        temperature=293.15,
        reference_temperature=293.15,
        temperature_coefficient=0.00393,
    )
    drop = pair_voltage_drop(current=12.0, resistance=cold)
    assert drop == pytest.approx(2.0 * 12.0 * 3.0 * 7.98e-3)
    assert wire.share_lost(drop=drop, voltage=14.0) == pytest.approx(0.0410, abs=0.0001)


@pytest.mark.property
@given(sizes, sizes, st.floats(1.0, 100.0))
def test_a_thicker_wire_never_drops_more_nor_carries_less(one, other, current: float):
    thin, thick = sorted((one, other))
    assert pair_voltage_drop(
        current=current, resistance=class_5_resistance(thick)
    ) <= pair_voltage_drop(current=current, resistance=class_5_resistance(thin)) * (1.0 + 1e-12)
    assert loom_wire_current(thin) <= loom_wire_current(thick) * (1.0 + 1e-12)


@pytest.mark.property
@given(st.floats(260.0, 380.0), st.floats(0.0, 60.0), st.floats(0.3, 1.0))
def test_a_wire_in_hotter_air_never_carries_more(ambient: float, hotter: float, factor: float):
    def amps(air: float) -> float:
        return wire.wire_ampacity(
            rated_current=24.0, max_temperature=373.15, ambient=air, loom_factor=factor, **TABLE
        )

    assert 0.0 <= amps(ambient + hotter) <= amps(ambient) <= 24.0 * factor


@pytest.mark.arithmetic
def test_the_loom_wires_table_is_given_for_70_degrees_in_air_at_30():
    assert LOOM_WIRE.conductor_temperature.si == pytest.approx(343.15)
    assert LOOM_WIRE.ambient.si == pytest.approx(303.15)
