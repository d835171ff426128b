"""A wait is never shorter than it has to be, whatever is done to the clock."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.procedures.waiting import Moment, elapsed

NOON = datetime(2026, 11, 27, 12, tzinfo=UTC)
SECONDS = st.floats(0.0, 1e5)
SET = st.floats(-1e6, 1e6)
NEEDED = st.floats(1.0, 7200.0)


def moment(wall: float, ticks: float, boot: str = "one") -> Moment:
    return Moment(NOON + timedelta(seconds=wall), boot, ticks)


def left(begun: Moment, now: Moment, needed: float) -> float:
    """Return how many s of a wait are left."""
    return max(needed - elapsed(begun, now), 0.0)


@pytest.mark.arithmetic
def test_a_wait_runs_by_the_machines_own_count():
    begun = moment(0.0, 1000.0)
    assert left(begun, moment(60.0, 1060.0), 300.0) == 240.0
    assert left(begun, moment(300.0, 1300.0), 300.0) == 0.0
    assert left(begun, moment(900.0, 1900.0), 300.0) == 0.0


@pytest.mark.arithmetic
@pytest.mark.parametrize("wall", [-86_400.0, 0.0, 86_400.0, 366 * 86_400.0])
def test_setting_the_clock_neither_ends_a_wait_nor_lengthens_it(wall: float):
    assert left(moment(0.0, 1000.0), moment(wall, 1060.0), 300.0) == 240.0


@pytest.mark.arithmetic
def test_after_a_restart_no_more_counts_than_the_machine_has_run_since():
    begun = moment(0.0, 5000.0)
    assert elapsed(begun, moment(200.0, 40.0, "two")) == 40.0
    assert elapsed(begun, moment(-3600.0, 40.0, "two")) == 0.0
    assert elapsed(begun, moment(30.0, 40.0, "two")) == 30.0


@pytest.mark.property
@given(ran=SECONDS, gone=SECONDS, set_by=SET, needed=NEEDED)
def test_within_one_start_a_wait_that_is_over_has_been_waited(ran, gone, set_by, needed):
    begun, now = moment(0.0, ran), moment(gone + set_by, ran + gone)
    if left(begun, now, needed) == 0.0:
        assert gone >= needed * (1.0 - 1e-9) - 1e-6


@pytest.mark.property
@given(before=SECONDS, off=SECONDS, since=SECONDS, set_by=SET, needed=NEEDED)
def test_over_a_restart_a_wait_that_is_over_has_been_waited(before, off, since, set_by, needed):
    gone = before + off + since
    begun, now = moment(0.0, 7.0), moment(gone + set_by, since, "two")
    if left(begun, now, needed) == 0.0:
        assert gone >= needed


@pytest.mark.property
@given(one=SECONDS, more=SECONDS, needed=NEEDED)
def test_the_longer_it_runs_the_less_is_left(one, more, needed):
    begun = moment(0.0, 0.0)
    early, late = moment(one, one), moment(one + more, one + more)
    assert left(begun, late, needed) <= left(begun, early, needed) <= needed
