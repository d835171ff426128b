"""Places of a circuit: pairs of nodes where a fault, a person or a meter may bridge the poles."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Element, slug

Edge = tuple[str, str]

_NO_PLACE = model.TO_CHASSIS | {model.PRECHARGE_RELAY, model.PRECHARGE_RESISTOR}


@dataclass(frozen=True)
class Place:
    """Two nodes of opposite poles that lie beside each other, named after what is there.

    ``element`` is the name of the element that stands there or feeds it.
    """

    name: str
    plus: str
    minus: str
    element: str
    path: str

    @property
    def slug(self) -> str:
        """Return its name as it stands in figure ids."""
        return slug(self.name)


@model.kept
def potentials(circuit: Circuit) -> Mapping[str, float]:
    """Return the potential of each node, the pack's highest as 1, with every switch closed.

    Nodes no pack reaches along the poles are left out. A string counts as one whole, so that half
    of it stands at its share.
    """
    along: dict[str, list[tuple[str, float]]] = {}
    for element in circuit.elements:
        if element.kind == model.PACK:
            rise = element.share
        elif element.kind in model.SERIES:
            rise = 0.0
        else:
            continue
        along.setdefault(element.minus, []).append((element.plus, rise))
        along.setdefault(element.plus, []).append((element.minus, -rise))
    found: dict[str, float] = {}
    for element in circuit.of_kind(model.PACK):
        if element.minus in found:
            continue
        found[element.minus] = 0.0
        waiting = [element.minus]
        while waiting:
            node = waiting.pop()
            for far, rise in along.get(node, ()):
                if far not in found:
                    found[far] = found[node] + rise
                    waiting.append(far)
    lowest = min(found.values(), default=0.0)
    return {node: level - lowest for node, level in found.items()}


@model.kept
def places(circuit: Circuit) -> tuple[Place, ...]:
    """Return the places of a circuit: each pack part, the string's ends, along the plus pole."""
    levels = potentials(circuit)
    top = max(levels.values(), default=0.0)
    bridging, along = _bridging(circuit, levels), _along(circuit)
    found: dict[frozenset[str], Place] = {}
    named: set[str] = set()

    def note(name: str, plus: str, minus: str, element: Element) -> None:
        pair = frozenset((plus, minus))
        if plus == minus or pair in found:
            return
        if slug(name) in named:
            name = f"{name}, {element.name}"
        named.add(slug(name))
        found[pair] = Place(name, plus, minus, element.name, element.path)

    for element in circuit.of_kind(model.PACK):
        note(element.name, element.plus, element.minus, element)
    for element in circuit.elements:
        if element.kind in model.CONVERTERS:
            note(element.name, element.plus, element.minus, element)
    for element in circuit.elements:
        plus = element.minus if element.kind in model.SERIES else element.plus
        if levels.get(plus, 0.0) < top - _LEVEL or element.kind in _NO_PLACE:
            continue
        minus = _partner(plus, bridging, along)
        if minus is not None:
            note(_name(circuit, element), plus, minus, element)
    order = {element.name: number for number, element in enumerate(circuit.elements)}
    return tuple(sorted(found.values(), key=lambda place: order[place.element]))


_LEVEL = 1e-9
"""How near two potentials count as one: strings cut in different places add up differently."""


def _name(circuit: Circuit, element: Element) -> str:
    """Return the name of the place at the far side of an element, or at a string's own ends."""
    if element.kind != model.PACK:
        return f"behind {element.device}"
    numbers = {each.string for each in circuit.of_kind(model.PACK) if each.string}
    return f"terminals of string {element.string}" if len(numbers) > 1 else "pack terminals"


def _bridging(circuit: Circuit, levels: Mapping[str, float]) -> Mapping[str, list[str]]:
    """Return for each node the nodes of the other pole that something joins it to."""
    found: dict[str, list[str]] = {}
    for element in circuit.elements:
        if element.kind in model.ACROSS:
            found.setdefault(element.plus, []).append(element.minus)
            found.setdefault(element.minus, []).append(element.plus)
    for high, low in string_ends(circuit, levels):
        found.setdefault(high, []).append(low)
        found.setdefault(low, []).append(high)
    return found


def string_ends(circuit: Circuit, levels: Mapping[str, float]) -> list[Edge]:
    """Return the highest and the lowest node of each string."""
    ends = []
    for number in dict.fromkeys(e.string for e in circuit.of_kind(model.PACK)):
        nodes = [
            node
            for e in circuit.of_kind(model.PACK)
            if e.string == number
            for node in (e.plus, e.minus)
        ]
        known = [node for node in nodes if node in levels]
        if known:
            ends.append((max(known, key=levels.__getitem__), min(known, key=levels.__getitem__)))
    return ends


def _partner(
    start: str, bridging: Mapping[str, list[str]], along: Mapping[str, list[str]]
) -> str | None:
    """Return the node of the other pole nearest to a node, along the pole it is on."""
    seen, waiting = {start}, [start]
    while waiting:
        following = []
        for node in waiting:
            if node in bridging:
                return bridging[node][0]
            for far in along.get(node, ()):
                if far not in seen:
                    seen.add(far)
                    following.append(far)
        waiting = following
    return None


def _along(circuit: Circuit) -> Mapping[str, list[str]]:
    """Return for each node the nodes next to it along the poles."""
    found: dict[str, list[str]] = {}
    for element in circuit.elements:
        if element.kind in model.SERIES:
            found.setdefault(element.plus, []).append(element.minus)
            found.setdefault(element.minus, []).append(element.plus)
    return found
