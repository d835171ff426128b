"""The cycles against the totals their regulations and publishers state."""

from __future__ import annotations

import pytest

from swapwright.base.errors import InputError
from swapwright.standards.cycles import CYCLES, cycle

MPH = 0.44704
KMH = 1 / 3.6


# 40 CFR 86 App. I(a) and (g), 40 CFR 600 App. I: totals of the printed schedules.
@pytest.mark.published
@pytest.mark.parametrize(
    ("name", "duration", "miles", "mean_mph", "max_mph", "acceleration", "deceleration"),
    [
        ("udds", 1369, 7.4504, 19.59, 56.7, 1.475, -1.475),
        ("hwfet", 765, 10.2567, 48.27, 59.9, 1.431, -1.475),
        ("us06", 600, 8.008, 48.05, 80.3, 3.755, -3.085),
    ],
)
def test_an_american_cycle_has_the_totals_of_its_schedule(
    name, duration, miles, mean_mph, max_mph, acceleration, deceleration
):
    it = cycle(name)
    steps = [b - a for a, b in zip(it.speeds, it.speeds[1:], strict=False)]
    assert it.duration == duration
    assert it.distance / 1609.344 == pytest.approx(miles, abs=1e-3 if name == "us06" else 5e-5)
    assert it.distance / it.duration / MPH == pytest.approx(mean_mph, abs=0.005)
    assert max(it.speeds) / MPH == pytest.approx(max_mph)
    assert max(steps) == pytest.approx(acceleration, abs=5e-4)
    assert min(steps) == pytest.approx(deceleration, abs=5e-4)


# US EPA dynamometer driving schedules, summary of the NYCC: 1.18 mi, 7.1 mph, 27.7 mph, 598 s.
@pytest.mark.published
def test_the_dense_city_cycle_has_its_published_totals():
    it = cycle("nycc")
    assert it.duration == 598
    assert it.distance / 1609.344 == pytest.approx(1.18, abs=0.005)
    assert it.distance / it.duration / MPH == pytest.approx(7.1, abs=0.05)
    assert max(it.speeds) / MPH == pytest.approx(27.7)


# UN GTR No. 15, Annex 1: the checksum printed with each trace, in km/h.
@pytest.mark.published
@pytest.mark.parametrize(
    ("name", "checksum"),
    [("wltc-1", 29151.2), ("wltc-2", 81536.9), ("wltc-3a", 83496.9), ("wltc-3b", 83758.6)],
)
def test_a_harmonised_cycle_sums_to_its_printed_checksum(name, checksum):
    assert sum(cycle(name).speeds) / KMH == pytest.approx(checksum, abs=0.05)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("name", "fingerprint"), [("udds", 26821.4), ("hwfet", 36924.1), ("us06", 28828.7)]
)
def test_an_american_cycle_sums_to_its_fingerprint(name, fingerprint):
    assert sum(cycle(name).speeds) / MPH == pytest.approx(fingerprint, abs=0.05)


# UN GTR No. 15, Annex 1: lengths of the four phases of class 3b, and the whole.
@pytest.mark.published
def test_the_phases_of_class_3b_have_their_printed_lengths():
    it = cycle("wltc-3b")
    lengths = [it.distance_between(phase.start, phase.end) for phase in it.phases]
    assert lengths == pytest.approx([3095, 4756, 7162, 8254], abs=0.6)
    assert it.distance == pytest.approx(23266, abs=0.5)
    assert it.duration == 1800


# UN GTR No. 15, Annex 1: the highest speed of class 3, and of its low phase.
@pytest.mark.published
def test_class_3b_reaches_its_printed_top_speeds():
    it = cycle("wltc-3b")
    low = it.phases[0]
    assert max(it.speeds) / KMH == pytest.approx(131.3)
    assert max(it.speeds[low.start : low.end + 1]) / KMH == pytest.approx(56.5)


@pytest.mark.arithmetic
def test_the_phases_of_class_3b_last_as_long_as_remembered():
    phases = cycle("wltc-3b").phases
    assert [phase.end - phase.start for phase in phases] == [589, 433, 455, 323]


@pytest.mark.arithmetic
def test_about_a_fifth_of_the_american_city_cycle_is_spent_at_rest():
    speeds = cycle("udds").speeds
    assert speeds.count(0.0) / len(speeds) == pytest.approx(0.189, abs=5e-4)


@pytest.mark.guard
@pytest.mark.parametrize("name", CYCLES)
def test_phases_join_end_to_end_and_meet_at_rest(name):
    it = cycle(name)
    assert it.phases[0].start == 0
    assert it.phases[-1].end == it.duration
    for before, after in zip(it.phases, it.phases[1:], strict=False):
        assert before.end == after.start
        assert it.speeds[before.end] == 0.0
    assert it.speeds[0] == it.speeds[-1] == 0.0
    assert sum(it.distance_between(p.start, p.end) for p in it.phases) == pytest.approx(it.distance)


@pytest.mark.guard
def test_an_unknown_cycle_is_refused_with_the_names_there_are():
    with pytest.raises(InputError, match="given: nedc; allowed: udds, hwfet"):
        cycle("nedc")
