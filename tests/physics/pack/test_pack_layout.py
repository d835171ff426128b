from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.pack import layout, pack, shape

# Sixteen modules of 6 in series and 2 in parallel, in two strings of eight.
MODULES, STRINGS = 8, 2
MODULE_SERIES, MODULE_PARALLEL = 6, 2


@pytest.mark.arithmetic
def test_sixteen_modules_of_twelve_cells_are_48_in_series_and_4_in_parallel():
    series = layout.cells_in_series(modules=MODULES, module_series=MODULE_SERIES)
    parallel = layout.cells_in_parallel(strings=STRINGS, module_parallel=MODULE_PARALLEL)
    assert (series, parallel) == (48, 4)
    count = layout.cell_count(series=series, parallel=parallel)
    assert count == MODULES * STRINGS * MODULE_SERIES * MODULE_PARALLEL
    assert layout.mass_of_all(count=count, each=0.9) == pytest.approx(172.8)
    assert layout.volume_of_all(count=count, each=4e-4) == pytest.approx(0.0768)


@pytest.mark.property
@given(st.floats(0.0, 1000.0), st.integers(1, 100))
def test_the_cells_side_by_side_share_the_current(current, parallel):
    each = layout.current_per_cell(current=current, parallel=parallel)
    assert each <= current
    assert layout.pack_current(cell_current=each, parallel=parallel) == pytest.approx(current)


@pytest.mark.property
@given(
    st.integers(1, 50),
    st.integers(1, 20),
    st.integers(1, 8),
    st.integers(1, 8),
    st.floats(0.0, 1e-3),
    st.floats(0.0, 1e-2),
)
def test_joints_seen_by_a_cell_or_by_the_pack_are_the_same_joints(
    modules, module_series, strings, module_parallel, module_joints, string_joints
):
    series = layout.cells_in_series(modules=modules, module_series=module_series)
    parallel = layout.cells_in_parallel(strings=strings, module_parallel=module_parallel)
    joints = {"modules": modules, "module_joints": module_joints, "string_joints": string_joints}
    each = layout.joint_resistance_per_cell(
        module_parallel=module_parallel, series=series, **joints
    )
    whole = pack.pack_resistance(
        series=series, parallel=parallel, cell_resistance=1e-3, strings=strings, **joints
    )
    assert series * (1e-3 + each) / parallel == pytest.approx(whole)


@pytest.mark.arithmetic
def test_a_prismatic_cell_of_148_by_27_by_92_millimetres_takes_0_368_litres():
    found = shape.box_volume(length=0.148, width=0.027, height=0.092)
    assert found * 1e3 == pytest.approx(0.3676, abs=5e-5)


@pytest.mark.property
@given(st.floats(0.01, 0.1), st.floats(0.01, 0.2))
def test_a_round_cell_fills_pi_quarters_of_the_box_round_it(diameter, height):
    box = shape.box_volume(length=diameter, width=diameter, height=height)
    found = shape.cylinder_volume(diameter=diameter, height=height)
    assert found / box == pytest.approx(pi / 4)
