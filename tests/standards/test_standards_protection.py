"""Limits and typical data of fuses, precharge and discharge."""

from __future__ import annotations

from itertools import pairwise

import pytest

from swapwright.standards import contactors, discharge, fuses


# ISO 6469-4:2015, 5.2.3: stored energy below 0.2 J.
@pytest.mark.published
def test_the_stored_energy_limit_is_a_fifth_of_a_joule():
    assert discharge.DISCHARGED_ENERGY.si == 0.2


# Semiconductor fuse guide: factors Cf3 0.8 for occasional, B'2 0.6 for repeated overload.
@pytest.mark.published
def test_pulses_stay_below_shares_of_the_melting_current():
    assert (fuses.OCCASIONAL_SHARE.si, fuses.REPEATED_SHARE.si) == (0.8, 0.6)


# Semiconductor fuse guide, factor A1: a from 130 to 150 degC, T0 from 25 to 30 degC.
@pytest.mark.published
def test_the_stricter_ends_of_the_ambient_factor_are_taken():
    assert fuses.MELT_LIMIT_TEMPERATURE.si == pytest.approx(130.0 + 273.15)
    assert fuses.RATING_TEMPERATURE.si == pytest.approx(25.0 + 273.15)


@pytest.mark.arithmetic
def test_the_workers_target_lies_far_below_the_class_boundary():
    assert discharge.ABSENCE_VOLTAGE.si < 0.5 * discharge.DISCHARGED_VOLTAGE.si
    assert discharge.SHOP_WAIT.si == 5 * 60
    assert discharge.ACTIVE_DISCHARGE_TIME.si < discharge.PASSIVE_DISCHARGE_TIME.si


@pytest.mark.arithmetic
def test_the_generic_melting_curve_is_that_of_a_full_range_fuse():
    curve = fuses.GENERIC_MELTING
    by_time = dict(zip(curve.times, curve.multiples, strict=True))
    assert all(a < b for a, b in pairwise(curve.multiples))
    assert all(a > b for a, b in pairwise(curve.times))
    assert 1.35 <= by_time[3600.0] <= 1.6
    assert 1.9 <= by_time[60.0] <= 2.1
    assert 2.6 <= by_time[10.0] <= 3.0
    assert 5.0 <= by_time[0.1] <= 6.0
    assert curve.pre_arcing == pytest.approx(curve.multiples[-1] ** 2 * curve.times[-1], rel=0.01)


@pytest.mark.arithmetic
def test_a_fuse_never_gains_voltage_as_the_circuit_slows():
    table = fuses.VOLTAGE_BY_TIME_CONSTANT
    assert all(a < b for a, b in pairwise(table.times))
    assert all(a >= b for a, b in pairwise(table.factors))
    assert table.factors[0] == 1.0


@pytest.mark.arithmetic
def test_precharge_shares_rise_and_the_resistor_starts_from_room_temperature():
    shares = [each.si for each in contactors.PRECHARGE_SHARES]
    assert shares == sorted(shares) == [0.90, 0.95, 0.98]
    start = contactors.RESISTOR_MAX_TEMPERATURE.si - contactors.PULSE_RISE.si
    assert start == pytest.approx(298.15)
