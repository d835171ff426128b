"""A bus written as a DBC file, the trade's text form of what goes over a CAN bus."""

from __future__ import annotations

from swapwright.base.errors import InputError, Problem
from swapwright.build.car import Car
from swapwright.build.circuit.model import slug
from swapwright.build.network import Bus, Message, Network, is_extended, network_of

EXTENDED = 0x80000000
"""Set in the number of a message whose identifier has 29 bits."""
LONGEST_NAME = 32
LONGEST_CYCLE = 3_600_000
_NEEDED = ("identifier", "bytes")


def bus_named(car: Car, file: str, name: str) -> Bus:
    """Return the bus of a name, or the only one where no name is given; raise InputError."""
    buses = network_of(car).buses
    found = [bus for bus in buses if name in ("", bus.name)]
    if len(found) == 1:
        return found[0]
    allowed = ", ".join(bus.name for bus in buses) or "none: the file has no [[network.bus]]"
    message = "there is no such bus" if name else "say which bus is meant, with --bus"
    raise InputError(Problem(file, "network.bus", message, name, allowed))


def dbc_of(car: Car, file: str, bus: Bus) -> str:
    """Return the DBC text of a bus: its nodes and messages, each with how often it is sent.

    What stands in the bytes of a message is not in the build file, so the messages have no
    signals; what they carry stands in their comments. Raises InputError naming every entry
    that is needed and not there.
    """
    network = network_of(car)
    messages = network.on(bus)
    problems = [
        Problem(file, f"{message.path}.{key}", "needed for the DBC, and not given")
        for message in messages
        for key in _NEEDED
        if car.get(f"{message.path}.{key}") is None
    ]
    problems += [
        Problem(
            file,
            f"{message.path}.sender",
            "not a node of its bus",
            message.sender,
            ", ".join(bus.nodes),
        )
        for message in messages
        if message.sender not in bus.nodes
    ]
    if problems:
        raise InputError(*problems)
    return "\n".join((*_head(bus, network), *_messages(car, bus, messages), ""))


def _head(bus: Bus, network: Network) -> list[str]:
    nodes = _identifiers(bus.nodes)
    return ['VERSION ""', "", "NS_ :", "", "BS_:", "", " ".join(("BU_:", *nodes.values())), ""]


def _messages(car: Car, bus: Bus, messages: tuple[Message, ...]) -> list[str]:
    nodes = _identifiers(bus.nodes)
    names = _identifiers(tuple(message.name for message in messages))
    lines: list[str] = []
    comments: list[str] = []
    cycles: list[str] = []
    for message in messages:
        number = int(car.number(f"{message.path}.identifier"))
        if is_extended(car, message):
            number |= EXTENDED
        size = car.number(f"{message.path}.bytes")
        lines += [f"BO_ {number} {names[message.name]}: {size:.0f} {nodes[message.sender]}", ""]
        told = ", ".join((message.name, *(message.carries or ())))
        comments.append(f'CM_ BO_ {number} "{_quoted(told)}";')
        period = car.get(f"{message.path}.period")
        if period is not None:
            cycles.append(f'BA_ "GenMsgCycleTime" BO_ {number} {period.si * 1000.0:.6g};')
    return [*lines, *comments, *_attributes(car, bus, cycles)]


def _attributes(car: Car, bus: Bus, cycles: list[str]) -> list[str]:
    """Return what the file says beside the messages: bus, bit rate, how often each is sent."""
    is_whole = all(float(line.rstrip(";").rpartition(" ")[2]).is_integer() for line in cycles)
    rate = car.get(f"{bus.path}.bit_rate")
    protocol = car.texts.get(f"{bus.path}.protocol")
    lines = [
        f'BA_DEF_ BO_ "GenMsgCycleTime" {"INT" if is_whole else "FLOAT"} 0 {LONGEST_CYCLE};',
        'BA_DEF_ "DBName" STRING ;',
        'BA_DEF_ "Baudrate" INT 0 10000000;',
        'BA_DEF_ "ProtocolType" STRING ;',
        'BA_DEF_DEF_ "GenMsgCycleTime" 0;',
        'BA_DEF_DEF_ "DBName" "";',
        'BA_DEF_DEF_ "Baudrate" 0;',
        'BA_DEF_DEF_ "ProtocolType" "";',
        f'BA_ "DBName" "{_quoted(bus.name)}";',
    ]
    if rate is not None:
        lines.append(f'BA_ "Baudrate" {rate.si:.0f};')
    if protocol == "J1939":
        lines.append('BA_ "ProtocolType" "J1939";')
    return [*lines, *cycles]


def _identifiers(names: tuple[str, ...]) -> dict[str, str]:
    """Return each name as a word of letters, digits and underscores that no other one has."""
    found: dict[str, str] = {}
    for name in names:
        word = slug(name)
        word = (f"_{word}" if word[0].isdigit() else word)[:LONGEST_NAME]
        number, spelled = 1, word
        while spelled in found.values():
            number += 1
            spelled = f"{word[: LONGEST_NAME - 1 - len(str(number))]}_{number}"
        found.setdefault(name, spelled)
    return found


def _quoted(text: str) -> str:
    """Return a text for between quotes; a DBC has no other way to write a quote or a backslash."""
    return text.replace("\\", "/").replace('"', "'").replace("\n", " ").replace("\t", " ")
