"""The full form of the circuit: every element with its two ends, as ``[[hv.element]]`` rows.

An element has two terminals, ``name.plus`` and ``name.minus``. ``from`` joins its plus terminal to
another element's terminal or to ``chassis``, ``to`` its minus terminal. Terminals joined to each
other, directly or over others, are one node. Either may be left out where another element refers
to it.

A ``+`` or ``-`` at the end of a name is the pole the element stands in: two of the same data whose
names differ by that sign are one device. Packs that follow each other along the poles are one
string.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from swapwright.base.nearest import nearest
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Element
from swapwright.physics.circuit.graph import groups, joined

# Where the data of an element stand: below its own path, or below a part of it that has a name.
_IN_PART = {
    model.FUSE: "fuse",
    model.CONTACTOR: "contactor",
    model.PRECHARGE_RELAY: "contactor",
}
_PLAIN = {
    model.FUSE: {"rating": "current", "voltage": "voltage", "breaking": "breaking"},
    model.CONTACTOR: {"carry": "current", "voltage": "voltage"},
    model.PRECHARGE_RELAY: {"carry": "current", "voltage": "voltage"},
}


@dataclass(frozen=True)
class Fault:
    """What is wrong with a circuit, at a build path; in the words of a problem."""

    path: str
    message: str
    given: str = ""
    allowed: str = ""
    near: str = ""


def full_form(car: Car) -> tuple[Circuit, tuple[Fault, ...]]:
    """Return the circuit of a car whose file writes every element, and what is wrong with it."""
    count = car.counts.get("hv.element", 0)
    names = [car.texts[f"hv.element[{number}].name"] for number in range(count)]
    terminals = _Joined(names)
    faults = [
        fault
        for number, name in enumerate(names)
        for fault in terminals.join(car, f"hv.element[{number}]", name)
    ]
    devices = _devices(car, names)
    elements: list[Element] = []
    for number, name in enumerate(names):
        path = f"hv.element[{number}]"
        kind = car.texts[f"{path}.kind"]
        at = _path(car, path, kind)
        elements.append(
            Element(
                name=name,
                kind=kind,
                plus=terminals.node(f"{name}.plus"),
                minus=terminals.node(f"{name}.minus"),
                device=devices[name],
                path=at,
                entries=MappingProxyType(_entries(car, path, at, kind)),
                share=_share(car, path) if kind == model.PACK else 1.0,
                parallel=_number(car, f"{path}.strings", 1.0),
            )
        )
    return Circuit(_in_strings(elements)), tuple(faults)


def _devices(car: Car, names: Sequence[str]) -> Mapping[str, str]:
    """Return the device each element belongs to: its name without the sign of its pole.

    The signs stay where the two poles' elements are not alike, or another goes by the bare name.
    """
    data = {name: _data(car, f"hv.element[{number}]") for number, name in enumerate(names)}
    bare = {name: re.sub(r" [+-]$", "", name) for name in names}
    found = {}
    for name in names:
        poles = [data[pole] for pole in names if bare[pole] == bare[name]]
        is_one = bare[name] not in names and all(each == poles[0] for each in poles)
        found[name] = bare[name] if is_one else name
    return found


def _data(car: Car, path: str) -> Mapping[str, object]:
    """Return what an element says of itself, its name and its ends left out."""
    start = f"{path}."
    own = {f"{start}{key}" for key in ("name", "from", "to")}
    found: dict[str, object] = {}
    holders: tuple[Mapping[str, object], ...] = (
        car.texts,
        car.flags,
        car.tables,
        car.part_names,
    )
    for holder in holders:
        for at, entry in holder.items():
            if at.startswith(start) and at not in own:
                found[at.removeprefix(start)] = entry
    for at, value in car.values.items():
        if at.startswith(start):
            found[at.removeprefix(start)] = (value.si, value.low, value.high)
    # A part written in full goes by its own path.
    return {key: entry for key, entry in found.items() if not str(entry).startswith(start)}


def _in_strings(elements: list[Element]) -> tuple[Element, ...]:
    """Number the strings of the pack: packs joined minus to plus along the poles are one."""
    along = joined((e.plus, e.minus) for e in elements if e.kind in model.SERIES)
    packs = [e for e in elements if e.kind == model.PACK]
    ends = {e.name: (along.get(e.plus, e.plus), along.get(e.minus, e.minus)) for e in packs}
    following = [
        (one.name, other.name)
        for one in packs
        for other in packs
        if one is not other and ends[one.name][0] == ends[other.name][1]
    ]
    numbers = {
        name: number
        for number, group in enumerate(groups([e.name for e in packs], following), start=1)
        for name in group
    }
    return tuple(
        replace(e, string=numbers[e.name]) if e.kind == model.PACK else e for e in elements
    )


class _Joined:
    """Terminals and which of them are one node."""

    def __init__(self, names: list[str]) -> None:
        self._names = names
        self._above: dict[str, str] = {CHASSIS: CHASSIS}
        for name in names:
            self._above[f"{name}.plus"] = f"{name}.plus"
            self._above[f"{name}.minus"] = f"{name}.minus"

    def node(self, terminal: str) -> str:
        """Return the node a terminal is part of: the first of its terminals, or the chassis."""
        while self._above[terminal] != terminal:
            terminal = self._above[terminal]
        return terminal

    def join(self, car: Car, path: str, name: str) -> list[Fault]:
        faults = []
        for key, terminal in (("from", f"{name}.plus"), ("to", f"{name}.minus")):
            said = car.texts.get(f"{path}.{key}")
            if said is None:
                continue
            if said not in self._above:
                faults.append(self._unknown(f"{path}.{key}", said))
                continue
            self._join(terminal, said)
        return faults

    def _join(self, one: str, other: str) -> None:
        first, second = self.node(one), self.node(other)
        if first == second:
            return
        order = {terminal: place for place, terminal in enumerate(self._above)}
        upper, lower = sorted((first, second), key=order.__getitem__)
        self._above[lower] = upper

    def _unknown(self, path: str, said: str) -> Fault:
        known = [terminal for terminal in self._above if terminal != CHASSIS]
        return Fault(
            path,
            "there is no such terminal",
            said,
            "the plus or minus terminal of an element (name.plus, name.minus), or chassis",
            nearest(said, [*known, CHASSIS]) or "",
        )


def _path(car: Car, path: str, kind: str) -> str:
    """Return the build path an element's own data stand below."""
    if kind == model.INVERTER:
        second = car.texts.get(f"{path}.drive") == "second"
        return "drive.second.inverter" if second else "drive.inverter"
    part = _IN_PART.get(kind)
    return path if part is None else f"{path}.{part}"


def _entries(car: Car, path: str, at: str, kind: str) -> dict[str, str]:
    """Return where an element's data stand whose key is not their name: no part describes it."""
    plain = {} if car.has(at) else _PLAIN.get(kind, {})
    return {name: f"{path}.{key}" for name, key in plain.items()}


def _share(car: Car, path: str) -> float:
    in_string = _number(car, "pack.modules_per_string", _number(car, "pack.series", 1.0))
    return _number(car, f"{path}.modules", in_string) / in_string


def _number(car: Car, path: str, otherwise: float) -> float:
    value = car.get(path)
    return otherwise if value is None else value.si
