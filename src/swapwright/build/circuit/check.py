"""What is wrong with a circuit before anything is solved: ends, loops, shorts, places."""

from __future__ import annotations

from collections import Counter

from swapwright.base.nearest import nearest
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.full_form import Fault
from swapwright.build.circuit.model import CHASSIS, Circuit
from swapwright.build.circuit.place import known_places, place_word
from swapwright.build.circuit.short_form import box_names
from swapwright.physics.circuit.graph import joined

MOST_ELEMENTS = 500


def circuit_faults(circuit: Circuit) -> tuple[Fault, ...]:
    """Return what is wrong with a circuit given in full."""
    return (*_loops(circuit), *_shorts(circuit), *_dangling(circuit), *_no_source(circuit))


def name_faults(circuit: Circuit) -> tuple[Fault, ...]:
    """Return the parts called like another one: what is said of one could be said of the other.

    Names are alike that differ in signs and in upper and lower case alone.
    """
    faults: dict[str, Fault] = {}
    kinds: dict[str, str] = {}
    devices: dict[str, str] = {}
    elements: set[str] = set()
    for element in circuit.elements:
        alike = model.slug(element.device)
        is_first = devices.setdefault(alike, element.device) == element.device
        is_one = kinds.setdefault(alike, element.kind) == element.kind
        if not is_first or not is_one or element.name in elements:
            faults.setdefault(
                element.device,
                Fault(
                    element.path,
                    "another part of the circuit is called like this one",
                    element.device,
                    "a name of its own, in letters and digits",
                ),
            )
        elements.add(element.name)
    return tuple(faults.values())


def _loops(circuit: Circuit) -> list[Fault]:
    """Name elements that start and end at one node."""
    return [
        Fault(
            element.path,
            "this element is a loop: both its ends are at one node",
            f"{element.name}: {element.plus}",
            "two different nodes",
        )
        for element in circuit.elements
        if element.plus == element.minus
    ]


def _shorts(circuit: Circuit) -> list[Fault]:
    """Name packs whose poles are joined by nothing but conductors, every switch closed."""
    along = [
        (element.plus, element.minus)
        for element in circuit.elements
        if element.kind in model.SERIES and element.kind != model.PRECHARGE_RESISTOR
    ]
    group = joined(along)
    return [
        Fault(
            element.path,
            "this source is shorted: conductors and closed switches alone join its poles",
            element.name,
            "a load, a capacitor or a resistor between its poles",
        )
        for element in circuit.of_kind(model.PACK)
        if element.plus != element.minus
        and group.get(element.plus, element.plus) == group.get(element.minus, element.minus)
    ]


def _dangling(circuit: Circuit) -> list[Fault]:
    ends = Counter(node for element in circuit.elements for node in (element.plus, element.minus))
    return [
        Fault(
            element.path,
            f"this element's {side} end is joined to nothing",
            element.name,
            "a terminal of another element, by from or to of either of them",
        )
        for element in circuit.elements
        for side, node in (("plus", element.plus), ("minus", element.minus))
        if ends[node] < 1 + 1 and node != CHASSIS
    ]


def _no_source(circuit: Circuit) -> list[Fault]:
    if circuit.of_kind(model.PACK) or not circuit.elements:
        return []
    return [Fault("hv.element", "no element is a pack: the circuit has no source")]


_BOXES = (" box", " pack")


def place_faults(car: Car) -> tuple[Fault, ...]:
    """Return the cables and connectors of the short form that lie between unknown places."""
    branches = [
        car.texts.get(f"hv.branch[{number}].name", "")
        for number in range(car.counts.get("hv.branch", 0))
    ]
    boxes = box_names(car)
    places = known_places(boxes, branches)
    words = {place_word(place) for place in places}
    faults = []
    for kind, keys in (("hv.cable", ("from", "to")), ("hv.connector", ("at",))):
        for number in range(car.counts.get(kind, 0)):
            for key in keys:
                path = f"{kind}[{number}].{key}"
                said = car.texts.get(path)
                if said is None or place_word(said) in words:
                    continue
                if boxes or not said.lower().endswith(_BOXES):  # as long as no box has a name
                    near = nearest(said, places) or ""
                    faults.append(
                        Fault(path, "there is no such place", said, ", ".join(places), near)
                    )
    return tuple(faults)


def module_faults(car: Car, circuit: Circuit) -> tuple[Fault, ...]:
    """Return a fault where pack elements given in full do not hold the pack's modules."""
    packs = circuit.of_kind(model.PACK)
    strings = car.get("pack.strings")
    if not packs or strings is None or not car.has("pack.modules_per_string"):
        return ()
    held = sum(element.share * element.parallel for element in packs)
    if abs(held - strings.si) < 1e-9:
        return ()
    in_string = car.number("pack.modules_per_string")
    return (
        Fault(
            packs[0].path,
            "the pack elements do not hold the pack's modules",
            f"{held * in_string:g} modules",
            f"{strings.si * in_string:g}: pack.modules_per_string for each of pack.strings",
        ),
    )
