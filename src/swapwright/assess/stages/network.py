"""The network: resistance and reach of each bus, length, load and response of each message."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.assess.book import FigureBook, standard
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.build.network import Bus, Message, Network, is_extended
from swapwright.physics.network.frame import (
    HEADER_11,
    HEADER_29,
    frame_bits,
    frame_time,
    message_load,
)
from swapwright.physics.network.identifier import priority_key
from swapwright.physics.network.response import (
    Delay,
    Stream,
    least_timeout,
    response,
    worst_delay,
)
from swapwright.physics.network.termination import bus_resistance
from swapwright.standards import network as table

FRAMES = "can-frame-bits-davis-2007"
SOLVED = "can-response-davis-2007"
OVER_FULL = "messages as urgent or more fill the bus: this one may never get through"
NO_TERMINATOR = "no terminator is listed, and the nodes' own inputs are all there is to measure"
TOO_FAST = "beyond 1 Mbit/s no reach of a classical bus is known"
SHORT_HEADER = standard(HEADER_11, "1", FRAMES)
LONG_HEADER = standard(HEADER_29, "1", FRAMES)


def network(book: FigureBook) -> None:
    """Write the figures of every bus, and of every message on it."""
    found = book.network
    for bus in found.buses:
        _wire(book, bus)
        messages = found.on(bus)
        for message in messages:
            _frame(book, bus, message)
        _load(book, bus, messages)
        _responses(book, found, bus)


def named(bus: Bus, message: Message, what: str) -> str:
    """Return the id of a figure of a message."""
    return f"network.{bus.slug}.{message.slug}.{what}"


def _wire(book: FigureBook, bus: Bus) -> None:
    """Write what an ohmmeter should read, and how far the bus may reach at its bit rate."""
    at = f"network.{bus.slug}"
    book.make(
        bus_resistance,
        f"{at}.expected_resistance",
        label=f"resistance {bus.name} should measure between its wires, power off",
        terminator=table.TERMINATOR,
        count=table.TERMINATORS,
    )
    with book.attempt(f"{at}.fitted_resistance"):
        fitted = len(book.car.words(f"{bus.path}.terminated_at"))
        if not fitted:
            raise Missing(reason=NO_TERMINATOR)
        book.make(
            bus_resistance,
            f"{at}.fitted_resistance",
            label=f"resistance {bus.name} measures with the terminators listed",
            terminator=f"{bus.path}.terminator",
            count=Value(float(fitted), "1", "entered", f"{bus.path}.terminated_at"),
        )
    with book.attempt(f"{at}.reach", f"{at}.stub_reach"):
        rate = book.value(f"{bus.path}.bit_rate")
        row = next((row for row in table.REACH if row.bit_rate.si >= rate.si), None)
        if row is None:
            raise Missing(reason=TOO_FAST)
        for name, label, reach in (
            ("reach", f"longest {bus.name} may be at its bit rate", row.length),
            ("stub_reach", f"longest stub of {bus.name} at its bit rate", row.stub),
        ):
            book.look_up(
                f"{at}.{name}",
                label,
                reach.si,
                "m",
                LookedUp("reach by bit rate", f"{row.bit_rate.si:.0f} bit/s", name, reach.ref),
                "length",
                bit_rate=rate,
            )


def _frame(book: FigureBook, bus: Bus, message: Message) -> None:
    """Write a message's longest frame, its time, its share of the bus, and its deadline."""
    bits, time = named(bus, message, "bits"), named(bus, message, "frame_time")
    book.make(
        frame_bits,
        bits,
        label=f"most bits of a frame of {message.name}",
        data_bytes=f"{message.path}.bytes",
        header=LONG_HEADER if is_extended(book.car, message) else SHORT_HEADER,
    )
    book.make(
        frame_time,
        time,
        label=f"time of a frame of {message.name}",
        bits=bits,
        bit_rate=f"{bus.path}.bit_rate",
    )
    book.make(
        message_load,
        named(bus, message, "load"),
        label=f"share of {bus.name} that {message.name} takes",
        frame_time=time,
        period=f"{message.path}.period",
    )
    _deadline(book, bus, message)
    _silence(book, bus, message)


def _deadline(book: FigureBook, bus: Bus, message: Message) -> None:
    name = named(bus, message, "deadline")
    said = f"{message.path}.deadline"
    is_said = book.has(said)
    with book.attempt(name):
        found = book.value(said if is_said else f"{message.path}.period")
        row = "as the file says" if is_said else "its period, as no deadline is given"
        book.look_up(
            name,
            f"{message.name} must arrive within",
            found.si,
            "s",
            LookedUp("deadline", row, "s", "swapwright-deadline-is-period"),
            "time",
            found=found,
        )


def _silence(book: FigureBook, bus: Bus, message: Message) -> None:
    """Write how long a taker may go without what a message carries; the most pressing counts."""
    carried = [each for each in table.SIGNALS if each.name in (message.carries or ())]
    if not carried:
        return
    least = min(carried, key=lambda each: each.silence.si)
    book.look_up(
        named(bus, message, "most_timeout"),
        f"longest a receiver may go without {message.name}",
        least.silence.si,
        "s",
        LookedUp("longest silence by signal", least.name, "s", least.silence.ref),
        "time",
    )


def _load(book: FigureBook, bus: Bus, messages: tuple[Message, ...]) -> None:
    if not messages:
        book.note_missing(f"network.{bus.slug}.load", Missing("network.message"))
        return
    book.total(
        f"network.{bus.slug}.load",
        f"load of {bus.name}, every frame at its longest",
        "1",
        [(message.name, named(bus, message, "load"), 1.0) for message in messages],
        "fraction",
    )


@dataclass(frozen=True)
class _Ranked:
    """A message with its place in the arbitration and what its bus sees of it."""

    message: Message
    key: tuple[int, bool, int]
    stream: Stream


def _responses(book: FigureBook, network: Network, bus: Bus) -> None:
    """Write the worst-case response of every message of a bus, and the least time-out."""
    messages = network.on(bus)
    names = ("queued", "instance", "response", "least_timeout")
    every = [named(bus, message, name) for message in messages for name in names]
    with book.attempt(*every):
        ranked = _ranked(book, bus, messages)
        bit_time = 1.0 / book.number(f"{bus.path}.bit_rate")
        for each in ranked:
            higher = [other for other in ranked if other.key <= each.key and other is not each]
            lower = [other for other in ranked if other.key > each.key]
            blocking = max((other.stream.frame_time for other in lower), default=0.0)
            delay = worst_delay(
                own=each.stream,
                higher=tuple(other.stream for other in higher),
                blocking=blocking,
                bit_time=bit_time,
            )
            _response(book, bus, each.message, delay, len(higher))


def _ranked(book: FigureBook, bus: Bus, messages: tuple[Message, ...]) -> list[_Ranked]:
    """Return what the analysis needs of a bus; raise Missing with all that is not there."""
    lacking: dict[str, None] = {}
    found: list[_Ranked] = []
    for message in messages:
        try:
            key = priority_key(
                identifier=int(book.number(f"{message.path}.identifier")),
                is_extended=is_extended(book.car, message),
            )
            stream = Stream(
                book.number(named(bus, message, "frame_time")),
                book.number(f"{message.path}.period"),
                book.number(f"{bus.path}.jitter"),
            )
        except Missing as missing:
            if not missing.paths:
                raise
            lacking.update(dict.fromkeys(missing.paths))
            continue
        found.append(_Ranked(message, key, stream))
    if lacking:
        raise Missing(*lacking)
    return found


def _response(
    book: FigureBook, bus: Bus, message: Message, delay: Delay | None, higher: int
) -> None:
    queued, instance = named(bus, message, "queued"), named(bus, message, "instance")
    found, least = named(bus, message, "response"), named(bus, message, "least_timeout")
    frame = named(bus, message, "frame_time")
    if delay is None:
        for name in (queued, instance, found, least):
            book.note_missing(name, Missing(reason=f"{message.name}: {OVER_FULL}"))
        return
    row = f"{higher} more urgent on {bus.name}"
    inputs = {"frame_time": book.value(frame), "period": book.value(f"{message.path}.period")}
    for name, label, si, unit, kind, column in (
        (queued, "queued since the busy period began", delay.queued, "s", "time", "w"),
        (instance, "instance that waits longest, from 0", float(delay.instance), "1", "", "q"),
    ):
        cell = LookedUp("solved busy period", row, column, SOLVED)
        book.look_up(name, f"{message.name}: {label}", si, unit, cell, kind, **inputs)
    book.make(
        response,
        found,
        label=f"worst-case response of {message.name}",
        jitter=f"{bus.path}.jitter",
        queued=queued,
        instance=instance,
        period=f"{message.path}.period",
        frame_time=frame,
    )
    book.make(
        least_timeout,
        least,
        label=f"least time-out for {message.name}",
        period=f"{message.path}.period",
        missed=table.MISSED_FRAMES,
        response=found,
    )
