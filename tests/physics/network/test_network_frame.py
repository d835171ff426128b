"""Lengths of CAN frames, bus load, identifiers and an ohmmeter's reading, held to the outside."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.physics.network.frame import (
    HEADER_11,
    HEADER_29,
    frame_bits,
    frame_time,
    message_load,
)
from swapwright.physics.network.identifier import (
    parameter_group,
    priority_key,
    source_address,
)
from swapwright.physics.network.termination import bus_resistance

data_bytes = st.integers(0, 8)


@pytest.mark.published
@given(data_bytes)
def test_a_frame_takes_the_bits_of_davis_2007_equations_2_and_3(s: int):
    # Davis, Burns, Bril, Lukkien, Real-Time Systems 35 (2007), as the header of an open-source
    # set of CAN tools quotes them: 55 + 10 s bits for 11-bit identifiers, 80 + 10 s for 29-bit.
    assert frame_bits(data_bytes=s, header=HEADER_11) == 55 + 10 * s
    assert frame_bits(data_bytes=s, header=HEADER_29) == 80 + 10 * s


@pytest.mark.published
@given(data_bytes, st.sampled_from((HEADER_11, HEADER_29)))
def test_the_stuff_bits_are_those_of_davis_2007_equation_1_rounded_down(s: int, header: float):
    stuffed = math.floor((header + 8 * s - 1) / 4)
    assert frame_bits(data_bytes=s, header=header) == header + 8 * s + 13 + stuffed


def _stuffed(bits: list[int]) -> int:
    """Return how many stuff bits a row of bits needs, by putting them in."""
    count, last, added = 0, None, 0
    for bit in bits:
        count = count + 1 if bit == last else 1
        last = bit
        if count == 5:
            added, last, count = added + 1, 1 - bit, 1
    return added


@pytest.mark.arithmetic
@pytest.mark.parametrize("header", [34, 54])
@pytest.mark.parametrize("s", range(9))
def test_no_content_needs_more_stuff_bits_and_one_needs_as_many(s: int, header: int):
    # The worst row there is: five alike, then four alike of the other kind, and so on.
    length = header + 8 * s
    worst = [1] * 5
    while len(worst) < length:
        worst += [1 - worst[-1]] * 4
    most = frame_bits(data_bytes=s, header=header) - length - 13
    assert _stuffed(worst[:length]) == most


@pytest.mark.property
@given(st.lists(st.integers(0, 1), min_size=98, max_size=98))
def test_whatever_eight_bytes_say_the_frame_is_no_longer(bits: list[int]):
    assert 98 + 13 + _stuffed(bits) <= frame_bits(data_bytes=8, header=HEADER_11)


@pytest.mark.arithmetic
def test_a_full_frame_lasts_270_microseconds_at_500_and_640_at_250_kilobits():
    assert frame_time(bits=135.0, bit_rate=500e3) == pytest.approx(270e-6, rel=1e-12)
    assert frame_time(bits=160.0, bit_rate=250e3) == pytest.approx(640e-6, rel=1e-12)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("rate", "header", "messages", "load"),
    [
        (500e3, HEADER_11, [(8, 0.01), (8, 0.02), (8, 0.1), (4, 0.01)], 0.0622),
        (250e3, HEADER_29, [(8, 0.01)] * 6 + [(8, 0.1)] * 10, 0.4480),
    ],
    ids=["four messages at 500 kbit/s", "sixteen messages at 250 kbit/s"],
)
def test_the_load_of_a_bus_is_its_bits_over_its_rate(rate, header, messages, load):
    found = sum(
        message_load(
            frame_time=frame_time(bits=frame_bits(data_bytes=s, header=header), bit_rate=rate),
            period=period,
        )
        for s, period in messages
    )
    assert found == pytest.approx(load, abs=5e-7)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("identifier", "group", "address"),
    [
        (0x18FEF100, 65265, 0x00),
        (0x0CF00400, 61444, 0x00),
        (0x18EA00F9, 59904, 0xF9),
        (0x1806E5F4, 0x0600, 0xF4),
        (0x18FF50E5, 65360, 0xE5),
    ],
)
def test_a_29_bit_identifier_of_j1939_gives_its_group_and_its_sender(identifier, group, address):
    assert parameter_group(identifier) == group
    assert source_address(identifier) == address


@pytest.mark.property
@given(st.integers(0, 0x7FF), st.integers(0, 0x7FF))
def test_of_two_11_bit_identifiers_the_lesser_wins(one: int, other: int):
    keys = [priority_key(identifier=each, is_extended=False) for each in (one, other)]
    assert (keys[0] < keys[1]) == (one < other)


@pytest.mark.arithmetic
def test_an_11_bit_identifier_wins_over_a_29_bit_one_that_begins_alike():
    short = priority_key(identifier=0x33C, is_extended=False)
    long = priority_key(identifier=0x33C << 18, is_extended=True)
    lesser = priority_key(identifier=0x33B << 18 | 0x3FFFF, is_extended=True)
    assert lesser < short < long


@pytest.mark.arithmetic
@pytest.mark.parametrize(("count", "ohms"), [(1, 120.0), (2, 60.0), (3, 40.0)])
def test_two_terminators_measure_sixty_ohms(count: int, ohms: float):
    assert bus_resistance(terminator=120.0, count=count) == ohms
