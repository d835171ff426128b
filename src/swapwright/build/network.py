"""The network of a car as its file tells it: buses, messages, lines; what they are called by."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from swapwright.build.car import Car
from swapwright.build.circuit.model import slug
from swapwright.standards.network import ROLES

BUS, MESSAGE, LINE = "network.bus", "network.message", "network.line"
_WORD_SIGNS = str.maketrans("_-", "  ")


@dataclass(frozen=True)
class Bus:
    """One bus: its build path, its name, what its figures are called by, and its nodes in order."""

    path: str
    name: str
    slug: str
    nodes: tuple[str, ...]


@dataclass(frozen=True)
class Message:
    """One message: its build path, name, slug, and the bus it stands on, None where there is none.

    ``bus_name`` and ``sender`` are as written, empty where nothing is.
    """

    path: str
    name: str
    slug: str
    bus: Bus | None
    bus_name: str
    sender: str
    carries: tuple[str, ...] | None


@dataclass(frozen=True)
class Line:
    """One wire of its own: its build path, name and kind."""

    path: str
    name: str
    kind: str


@dataclass(frozen=True)
class Network:
    """Every bus, message and line of a car."""

    buses: tuple[Bus, ...]
    messages: tuple[Message, ...]
    lines: tuple[Line, ...]

    def on(self, bus: Bus) -> tuple[Message, ...]:
        """Return the messages of a bus."""
        return tuple(each for each in self.messages if each.bus == bus)

    def roles(self) -> frozenset[str]:
        """Return what the nodes of all buses do."""
        return frozenset(role for bus in self.buses for role in roles_on(bus))


def network_of(car: Car) -> Network:
    """Return the network of a car."""
    buses = _buses(car)
    by_name = {bus.name: bus for bus in buses}
    paths = _rows(car, MESSAGE)
    names = [car.texts.get(f"{path}.name", "") for path in paths]
    messages = tuple(
        Message(
            path,
            name,
            own,
            by_name.get(car.texts.get(f"{path}.bus", "")),
            car.texts.get(f"{path}.bus", ""),
            car.texts.get(f"{path}.sender", ""),
            _words(car, f"{path}.carries"),
        )
        for path, name, own in zip(paths, names, _told_apart(names), strict=True)
    )
    lines = tuple(
        Line(path, car.texts.get(f"{path}.name", ""), car.texts.get(f"{path}.kind", ""))
        for path in _rows(car, LINE)
    )
    return Network(buses, messages, lines)


def role_of(node: str) -> str:
    """Return what a node does by its name (``BMS``: pack controller), empty if it does not tell."""
    spelled = node.lower().translate(_WORD_SIGNS)
    for role, names in ROLES:
        if any(f" {name}" in f" {spelled}" for name in names):
            return role
    return ""


def roles_on(bus: Bus) -> frozenset[str]:
    """Return what the nodes of a bus do."""
    return frozenset(filter(None, map(role_of, bus.nodes)))


def is_extended(car: Car, message: Message) -> bool:
    """Tell whether a message's identifier has 29 bits; where nothing is said it has 11."""
    return car.flags.get(f"{message.path}.extended", False)


def _buses(car: Car) -> tuple[Bus, ...]:
    paths = _rows(car, BUS)
    names = [car.texts.get(f"{path}.name", "") for path in paths]
    return tuple(
        Bus(path, name, own, _words(car, f"{path}.nodes") or ())
        for path, name, own in zip(paths, names, _told_apart(names), strict=True)
    )


def _rows(car: Car, path: str) -> tuple[str, ...]:
    return tuple(f"{path}[{number}]" for number in range(car.counts.get(path, 0)))


def _words(car: Car, path: str) -> tuple[str, ...] | None:
    return car.words(path) if path in car.counts else None


def _told_apart(names: Iterable[str]) -> tuple[str, ...]:
    """Return the names as they stand in ids; one like an earlier one gets its number behind it."""
    found: list[str] = []
    for name in names:
        own, number = slug(name), 1
        while own in found:
            number += 1
            own = f"{slug(name)}_{number}"
        found.append(own)
    return tuple(found)
