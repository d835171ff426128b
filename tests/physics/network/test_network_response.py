"""Worst-case response times on a CAN bus: an example, a bus simulated beside it, and laws."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.physics.network.response import (
    Stream,
    least_timeout,
    response,
    worst_delay,
)

BIT = 1.0 / 125e3
MS = 1e-3


def responses(streams: list[Stream], bit_time: float = BIT) -> list[float]:
    """Return the worst-case response of each message, most urgent first; infinite without bound."""
    found = []
    for rank, own in enumerate(streams):
        blocking = max((each.frame_time for each in streams[rank + 1 :]), default=0.0)
        delay = worst_delay(
            own=own, higher=tuple(streams[:rank]), blocking=blocking, bit_time=bit_time
        )
        found.append(math.inf if delay is None else response_of(own, delay.queued, delay.instance))
    return found


def response_of(own: Stream, queued: float, instance: int) -> float:
    return response(
        jitter=own.jitter,
        queued=queued,
        instance=instance,
        period=own.period,
        frame_time=own.frame_time,
    )


REFUTED = [
    Stream(1 * MS, 2.5 * MS, 0.0),
    Stream(1 * MS, 3.5 * MS, 0.0),
    Stream(1 * MS, 3.5 * MS, 0.0),
]
"""Three messages of 7 bytes (125 bits) at 125 kbit/s: the example by which the earlier analysis
was refuted (Davis, Burns, Bril and Lukkien 2007, Controller Area Network schedulability analysis:
refuted, revisited and revised, Real-Time Systems 35, section 3), from memory."""
DEADLINES = [2.5 * MS, 3.25 * MS, 3.25 * MS]


@pytest.mark.arithmetic
def test_the_second_instance_of_the_last_message_waits_longest():
    # By hand: C queued at 0 is sent 2..3 ms; queued again at 3.5 ms it waits for A and B: 6..7 ms.
    assert responses(REFUTED) == pytest.approx([2 * MS, 3 * MS, 3.5 * MS], rel=1e-9)
    delay = worst_delay(own=REFUTED[2], higher=tuple(REFUTED[:2]), blocking=0.0, bit_time=BIT)
    assert delay is not None
    assert delay.instance == 1
    assert delay.queued == pytest.approx(6 * MS)


@pytest.mark.arithmetic
def test_a_first_instance_in_time_does_not_speak_for_the_second():
    # By hand, all queued at 0: A sends at 0, B at 1, C at 2; A again at 3, B at 4, A at 5, C at 6,
    # and at 7 ms, just when B is queued for the third time, nothing is left waiting.
    sent_once = Stream(1 * MS, 1000 * MS, 0.0)
    first = responses([*REFUTED[:2], sent_once])[2]
    second = responses(REFUTED)[2]
    assert (first, second) == pytest.approx((3 * MS, 3.5 * MS))
    assert first < DEADLINES[2] < second
    for found, deadline in zip(responses(REFUTED)[:2], DEADLINES[:2], strict=True):
        assert found < deadline


def simulated(streams: list[Stream], offsets: list[float], until: float) -> list[float]:
    """Return the longest response of each message on a bus followed frame by frame."""
    queue: list[tuple[float, int]] = []
    for rank, (stream, offset) in enumerate(zip(streams, offsets, strict=True)):
        count = int(until / stream.period)
        queue += [(offset + number * stream.period, rank) for number in range(count)]
    queue.sort()
    worst, now = [0.0] * len(streams), 0.0
    while queue:
        waiting = [each for each in queue if each[0] <= now + 1e-12]
        if not waiting:
            now = queue[0][0]
            continue
        queued, rank = min(waiting, key=lambda each: (each[1], each[0]))
        queue.remove((queued, rank))
        now += streams[rank].frame_time
        worst[rank] = max(worst[rank], now - queued)
    return worst


@pytest.mark.arithmetic
def test_a_bus_followed_frame_by_frame_gives_the_same_worst_response():
    assert simulated(REFUTED, [0.0, 0.0, 0.0], 0.07)[2] == pytest.approx(3.5 * MS)


frames = st.sampled_from((55, 75, 95, 115, 135, 160)).map(lambda bits: bits * BIT)
periods = st.sampled_from((5, 7, 10, 13, 20, 50, 100)).map(lambda period: period * MS)
jitters = st.sampled_from((0.0, 0.5 * MS, 2 * MS))
sets = st.lists(st.builds(Stream, frames, periods, jitters), min_size=1, max_size=6)
still = st.lists(st.builds(Stream, frames, periods, st.just(0.0)), min_size=1, max_size=6)


@pytest.mark.property
@settings(max_examples=60, deadline=None)
@given(still, st.data())
def test_no_message_on_a_followed_bus_is_later_than_its_worst_case(streams, data):
    offsets = [data.draw(st.floats(0.0, each.period)) for each in streams]
    worst = responses(streams)
    for found, bound in zip(simulated(streams, offsets, 0.4), worst, strict=True):
        assert found <= bound * (1 + 1e-9)


@pytest.mark.property
@settings(max_examples=150, deadline=None)
@given(sets, st.builds(Stream, frames, periods, jitters), st.data())
def test_another_message_never_shortens_a_response(streams, more, data):
    rank = data.draw(st.integers(0, len(streams)))
    before = responses(streams)
    after = responses([*streams[:rank], more, *streams[rank:]])
    for was, now in zip(before, after[:rank] + after[rank + 1 :], strict=True):
        assert now >= was * (1 - 1e-9)


@pytest.mark.property
@settings(max_examples=100, deadline=None)
@given(sets)
def test_no_response_is_shorter_than_the_frame_and_its_jitter(streams):
    for stream, found in zip(streams, responses(streams), strict=True):
        assert found >= (stream.frame_time + stream.jitter) * (1 - 1e-9)


@pytest.mark.property
@settings(max_examples=60, deadline=None)
@given(sets)
def test_the_delay_found_solves_its_own_equation(streams):
    for rank, own in enumerate(streams):
        blocking = max((each.frame_time for each in streams[rank + 1 :]), default=0.0)
        delay = worst_delay(own=own, higher=tuple(streams[:rank]), blocking=blocking, bit_time=BIT)
        if delay is None:
            continue
        waits = blocking + delay.instance * own.frame_time
        for each in streams[:rank]:
            arrivals = math.ceil((delay.queued + each.jitter + BIT) / each.period - 1e-12)
            waits += arrivals * each.frame_time
        assert waits == pytest.approx(delay.queued, rel=1e-9, abs=1e-15)


@pytest.mark.arithmetic
def test_a_message_alone_on_its_bus_waits_for_nothing():
    assert responses([Stream(270e-6, 0.01, 0.0)]) == pytest.approx([270e-6])


@pytest.mark.arithmetic
def test_a_bus_that_is_over_full_gives_its_last_message_no_bound():
    crowd = [Stream(1 * MS, 2 * MS, 0.0)] * 3
    found = responses(crowd)
    assert math.isfinite(found[0])
    assert math.isinf(found[2])


@pytest.mark.arithmetic
def test_a_time_out_outlasts_two_lost_frames_and_a_late_third():
    assert least_timeout(period=0.1, missed=2.0, response=0.002) == pytest.approx(0.302)
