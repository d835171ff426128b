"""The classical CAN data frame: how many bits it can take, how long it lasts, what load it is."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working

BITS_PER_BYTE = 8.0
UNSTUFFED_TAIL = 13.0
"""CRC delimiter, acknowledge slot and its delimiter, end of frame, space before the next."""

HEADER_11 = 34.0
HEADER_29 = 54.0
"""Bits open to stuffing beside the data, by the length of the identifier: header and CRC."""


def frame_bits(*, data_bytes: float, header: float) -> float:
    """Return the most bits a data frame can take, with every stuff bit its content can ask for.

    A stuff bit can follow the first five bits and then every four, so (g + 8 s - 1)/4 rounded
    down. With the two headers there are, g + 8 s is two above a multiple of four, and the rounded
    number is exactly (g + 8 s - 2)/4.

    data_bytes: 0 to 8 [1]
    header: bits open to stuffing beside the data: 34 or 54 [1]
    result: with the space before the next frame [1]
    source: Davis, Burns, Bril and Lukkien 2007, equations 1 to 3
    """
    stuffable = header + BITS_PER_BYTE * data_bytes
    return stuffable + UNSTUFFED_TAIL + (stuffable - 2.0) / 4.0


def frame_time(*, bits: float, bit_rate: float) -> float:
    """Return how long a frame holds the bus.

    bits: of the frame [1]
    bit_rate: [bit/s]
    result: [s]
    source: Davis, Burns, Bril and Lukkien 2007, equation 1
    """
    return bits / bit_rate


def message_load(*, frame_time: float, period: float) -> float:
    """Return the share of its bus that one message takes.

    frame_time: [s]
    period: it is sent every [s]
    result: [1]
    source: Davis, Burns, Bril and Lukkien 2007, definition of the utilisation
    """
    return frame_time / period


_LENGTH = ("can-frame-bits-davis-2007",)
_TIME = Symbol("frame_time", "s", 1e-5, 0.1, "time of a frame", "time")
_NOT_COVERED = "frames with a flexible data rate (CAN FD), remote frames, error frames"

FRAME_BITS = Working(
    frame_bits,
    "g + 8*s + 13 + (g + 8*s - 2)/4",
    {
        "g": Symbol("header", "1", 34.0, 54.0, "bits open to stuffing beside the data", "count"),
        "s": Symbol("data_bytes", "1", 0.0, 8.0, "data bytes", "count"),
    },
    Symbol("n", "1", 55.0, 160.0, "most bits of the frame", "count"),
    _LENGTH,
    "the worst content there can be: a stuff bit wherever one can be needed",
    _NOT_COVERED,
)

FRAME_TIME = Working(
    frame_time,
    "n/r",
    {
        "n": Symbol("bits", "1", 44.0, 160.0, "bits of the frame", "count"),
        "r": Symbol("bit_rate", "bit/s", 5e3, 1e6, "bit rate", "bit_rate"),
    },
    _TIME,
    _LENGTH,
    "one bit rate for the whole frame",
    _NOT_COVERED,
)

MESSAGE_LOAD = Working(
    message_load,
    "C/T",
    {"C": _TIME, "T": Symbol("period", "s", 1e-3, 3600.0, "sent every", "time")},
    Symbol("u", "1", 0.0, 100.0, "share of the bus", "fraction"),
    _LENGTH,
    "sent as often as its period says, each frame at its longest",
    "frames sent again after an error",
)

WORKINGS: tuple[Working, ...] = (FRAME_BITS, FRAME_TIME, MESSAGE_LOAD)
