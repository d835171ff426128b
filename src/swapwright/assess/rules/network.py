"""Buses and messages against numbers: length, stub, load, deadline, time-outs."""

from __future__ import annotations

from collections.abc import Callable

from swapwright.assess.context import Context, Subject
from swapwright.assess.rules.compare import compare_each
from swapwright.build.network import Bus, Message
from swapwright.standards.margins import NO_BAND
from swapwright.standards.network import LOAD_BAND, MAX_LOAD, SIGNAL_NAMES

NO_BUS = "no bus is given"
NO_MESSAGE = "no message on a bus is given"
TIMEOUT = ("can-timeout-practice",)


def entries_below(path: str) -> Callable[[str], str]:
    """Return what gives the build path of an entry of a row by its key."""
    return lambda key: f"{path}.{key}"


def bus_subject(bus: Bus) -> Subject:
    """Return a bus as what a rule judges."""
    return Subject(f"bus {bus.name}", bus.slug, bus.path, entries_below(bus.path))


def buses(context: Context) -> tuple[Subject, ...]:
    """Return every bus as what a rule judges one by one."""
    return tuple(bus_subject(bus) for bus in context.book.network.buses)


def _message_subject(bus: Bus, message: Message) -> Subject:
    slug = f"{bus.slug}.{message.slug}"
    return Subject(message.name, slug, message.path, entries_below(message.path))


def _messages(context: Context) -> tuple[Subject, ...]:
    """Return every message that stands on a bus."""
    return tuple(
        _message_subject(message.bus, message)
        for message in context.book.network.messages
        if message.bus is not None
    )


def _needed_messages(context: Context) -> tuple[Subject, ...]:
    """Return every message that carries what another node needs."""
    return tuple(
        _message_subject(message.bus, message)
        for message in context.book.network.messages
        if message.bus is not None and not set(SIGNAL_NAMES).isdisjoint(message.carries or ())
    )


RULES = (
    compare_each(
        "network.bit_rate_length",
        buses,
        subject="network.bus",
        value=":length",
        limit="network.{slug}.reach",
        sense="at_most",
        outside="fix",
        inside_text="The bus is no longer than its bit rate allows.",
        outside_text="The bus is longer than its bit rate allows: what the far end sends comes too late to be counted in its bit.",
        remedy="Shorten the wire, or set every node to a lower bit rate.",
        sources=("can-length-by-bit-rate",),
        skip_reason=NO_BUS,
    ),
    compare_each(
        "network.stub",
        buses,
        subject="network.bus",
        value=":longest_stub",
        limit="network.{slug}.stub_reach",
        sense="at_most",
        outside="fix",
        inside_text="No node stands further off the bus than its bit rate allows.",
        outside_text="A node stands further off the bus than its bit rate allows: the stub's echo spoils bits for everybody, and more so on a wet day.",
        remedy="Lead the two wires in to the node's plug and out again instead of branching off.",
        sources=("can-stub-practice",),
        skip_reason=NO_BUS,
        watch=NO_BAND,
    ),
    compare_each(
        "network.load",
        buses,
        subject="network.bus",
        value="network.{slug}.load",
        limit=MAX_LOAD,
        sense="at_most",
        outside="fix",
        inside_text="The bus has room for its messages, every frame at its longest.",
        outside_text="The bus is too full, every frame at its longest: the least urgent messages wait long, and one frame sent again delays all of them.",
        remedy="Send what changes slowly less often, drop what nobody reads, or raise the bit rate of every node.",
        sources=("can-load-practice",),
        skip_reason=NO_BUS,
        watch=LOAD_BAND,
    ),
    compare_each(
        "network.deadline",
        _messages,
        subject="network.message",
        value="network.{slug}.response",
        limit="network.{slug}.deadline",
        sense="at_most",
        outside="fix",
        inside_text="At its latest the message arrives within its deadline.",
        outside_text="At its latest the message arrives after its deadline: what acts on it acts on old numbers.",
        remedy="Give it a lower identifier, send what is more urgent less often, or raise the bit rate of every node.",
        sources=("can-response-davis-2007",),
        skip_reason=NO_MESSAGE,
    ),
    compare_each(
        "network.timeout_short",
        _needed_messages,
        subject="network.message",
        value=":timeout",
        limit="network.{slug}.least_timeout",
        sense="at_least",
        outside="fix",
        inside_text="A lost frame or two do not make the receivers take the message for lost.",
        outside_text="The receivers take the message for lost after a frame or two: the car drops out on a bump.",
        remedy="Set the receivers' time-out to three periods or more, or send the message more often.",
        sources=TIMEOUT,
        skip_reason="no message carries what another node needs",
        watch=NO_BAND,
    ),
    compare_each(
        "network.timeout_long",
        _needed_messages,
        subject="network.message",
        value=":timeout",
        limit="network.{slug}.most_timeout",
        sense="at_most",
        outside="fix",
        inside_text="The receivers give up soon enough when the message stays away; that they then let go is to be proved in commissioning, by unplugging its sender.",
        outside_text="The receivers carry on too long when the message stays away: the car drives, or charges, on what it last heard.",
        remedy="Set the receivers' time-out shorter, and have it take torque, or the charge current, away.",
        sources=("can-silence-drive-practice", "can-silence-charge-practice"),
        skip_reason="no message carries what another node needs",
        watch=NO_BAND,
    ),
)
