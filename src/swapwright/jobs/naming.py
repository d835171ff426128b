"""What a person calls a place, an element, a terminal: found, or told what there is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from swapwright.assess.circuit.place import Place, places, potentials
from swapwright.base.errors import InputError, Problem
from swapwright.base.nearest import nearest
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.model import CHASSIS, Circuit, slug


def circuit_in(car: Car, file: str) -> Circuit:
    """Return a car's circuit; raise InputError where its file says nothing of one."""
    circuit = circuit_of(car)
    if not circuit.elements:
        raise InputError(Problem(file, "hv", "the file says nothing of a high-voltage circuit"))
    return circuit


def place_called(circuit: Circuit, said: str) -> Place:
    """Return the place a person named; raise InputError with what there is."""
    there = places(circuit)
    found = {slug(place.name): place for place in there}
    found |= {slug(place.name.removeprefix("behind ")): place for place in reversed(there)} | found
    if slug(said) in found:
        return found[slug(said)]
    raise _none_such("--at", "there is no such place", said, [place.name for place in there])


def elements_called(
    circuit: Circuit, option: str, said: Iterable[str], kinds: Iterable[str] = ()
) -> tuple[str, ...]:
    """Return the names of the elements a person named, one by one or as a device."""
    wanted = frozenset(kinds) or frozenset(model.KINDS)
    known: dict[str, list[str]] = {}
    shown: dict[str, None] = {}
    for element in circuit.elements:
        if element.kind in wanted:
            shown[element.device] = None
            for name in {slug(element.name), slug(element.device)}:
                known.setdefault(name, []).append(element.name)
    found: list[str] = []
    for each in said:
        if slug(each) not in known:
            raise _none_such(option, "there is no such element", each, list(shown))
        found += known[slug(each)]
    return tuple(dict.fromkeys(found))


def nodes_called(circuit: Circuit, option: str, said: Iterable[str]) -> Mapping[str, str]:
    """Return the nodes a person named, by what they were called.

    A node goes by an element's terminal (``front pack.plus``), or as ``plus pole``, ``minus pole``.
    """
    levels = potentials(circuit)
    known = {"plus pole": max(levels, key=levels.__getitem__, default="")}
    known["minus pole"] = min(levels, key=levels.__getitem__, default="")
    for element in circuit.elements:
        for end, node in (("plus", element.plus), ("minus", element.minus)):
            if node in levels and node != CHASSIS:
                known[f"{element.name}.{end}"] = node
    folded = {_folded(name): node for name, node in known.items()}
    found = {}
    for each in said:
        if _folded(each) not in folded:
            raise _none_such(option, "there is no such terminal", each, list(known))
        found[each] = folded[_folded(each)]
    return found


def _folded(name: str) -> str:
    return " ".join(name.lower().split())


def _none_such(option: str, message: str, said: str, names: list[str]) -> InputError:
    return InputError(Problem(option, "", message, said, ", ".join(names), nearest(said, names)))
