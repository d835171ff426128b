"""Modules measured one by one: sharing of unlike strings, and what stands side by side."""

from __future__ import annotations

from math import fsum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.pack import salvage

ohms = st.lists(st.floats(1e-3, 1.0), min_size=2, max_size=8)


@pytest.mark.arithmetic
def test_a_string_of_half_the_resistance_carries_two_thirds_of_the_current():
    worse, better = (salvage.conductance(resistance=r) for r in (0.2, 0.1))
    carried = salvage.string_current(
        current=300.0, conductance=better, conductance_of_all=worse + better
    )
    assert carried == pytest.approx(200.0)
    together = salvage.resistance_of(conductance=worse + better)
    assert together == pytest.approx(0.2 / 3.0)


@pytest.mark.property
@given(ohms, st.floats(1.0, 1000.0))
def test_strings_together_carry_the_whole_current_and_the_best_one_the_most(resistances, current):
    each = [salvage.conductance(resistance=r) for r in resistances]
    shares = [
        salvage.string_current(current=current, conductance=g, conductance_of_all=fsum(each))
        for g in each
    ]
    assert fsum(shares) == pytest.approx(current)
    assert max(shares) == pytest.approx(shares[resistances.index(min(resistances))])
    drops = [share * ohm for share, ohm in zip(shares, resistances, strict=True)]
    assert max(drops) == pytest.approx(min(drops))


@pytest.mark.arithmetic
def test_a_module_of_48_of_its_60_ah_keeps_eighty_per_cent():
    assert salvage.measured_share(measured=48.0 * 3600.0, rated=60.0 * 3600.0) == pytest.approx(0.8)
    assert salvage.least_allowed(rated=60.0, share=0.8) == pytest.approx(48.0)
    assert salvage.resistance_allowed(middle=0.010, ratio=1.2) == pytest.approx(0.012)
    assert salvage.spread_per_cell(spread=0.24, series=8.0) == pytest.approx(0.03)
