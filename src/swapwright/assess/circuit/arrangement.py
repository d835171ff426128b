"""How a circuit is laid out: what a fuse, a contactor or a lockable gap does not stand before."""

from __future__ import annotations

from collections.abc import Mapping

from swapwright.assess.circuit.place import places, potentials, string_ends
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Device, Element
from swapwright.physics.circuit.graph import joined

CONTACTORS = (model.CONTACTOR, model.PRECHARGE_RELAY)


def islands(circuit: Circuit, opened: frozenset[str], *, through_packs: bool) -> Mapping[str, str]:
    """Return which nodes conductors join, every switch but those opened closed.

    With ``through_packs`` cells count as conductors, which they are for a fault's current.
    """
    return joined(
        (element.plus, element.minus)
        for element in circuit.elements
        if element.name not in opened
        and (element.kind in model.SERIES or (through_packs and element.kind == model.PACK))
    )


def names_of(circuit: Circuit, *kinds: str) -> frozenset[str]:
    """Return the names of the elements of some kinds."""
    return frozenset(element.name for element in circuit.of_kind(*kinds))


def _are_joined(island: Mapping[str, str], one: str, other: str) -> bool:
    return island.get(one, one) == island.get(other, other)


def is_fed(circuit: Circuit, plus: str, minus: str, opened: frozenset[str]) -> bool:
    """Tell whether a pack can drive current through a fault between two nodes, some opened."""
    return _are_joined(islands(circuit, opened, through_packs=True), plus, minus)


def unfused_converters(circuit: Circuit) -> tuple[Element, ...]:
    """Return the converters at which no fuse would end a short between their terminals."""
    fuses = names_of(circuit, model.FUSE)
    return tuple(
        each
        for each in circuit.of_kind(*model.CONVERTERS)
        if is_fed(circuit, each.plus, each.minus, fuses)
    )


def unfused_cables(circuit: Circuit) -> tuple[Device, ...]:
    """Return the cables along a pole a short at whose near end no fuse would end."""
    fuses = names_of(circuit, model.FUSE)
    island = islands(circuit, fuses, through_packs=True)
    near = {place.plus: place.minus for place in places(circuit)}
    inside = {device.name for device in cables_in_strings(circuit)}
    return tuple(
        device
        for device in circuit.devices_of(model.CABLE)
        if device.name not in inside
        and any(
            _are_joined(island, element.plus, near[element.plus])
            for element in device.elements
            if element.plus in near
        )
    )


def cables_in_strings(circuit: Circuit) -> tuple[Device, ...]:
    """Return the cables between two boxes of a string, neither end at a pole."""
    return tuple(
        device
        for device in circuit.devices_of(model.CABLE)
        if any(_is_inside(circuit, element) for element in device.elements)
    )


def _is_inside(circuit: Circuit, element: Element) -> bool:
    levels = potentials(circuit)
    top = max(levels.values(), default=0.0)
    return 0.0 < levels.get(element.plus, 0.0) < top


def unfused_in_strings(circuit: Circuit) -> tuple[Device, ...]:
    """Return the cables between two boxes of a string that has no fuse in its middle too."""
    has_middle_fuse = any(_is_inside(circuit, each) for each in circuit.of_kind(model.FUSE))
    return () if has_middle_fuse else cables_in_strings(circuit)


def unlockable(circuit: Circuit) -> tuple[Element, ...]:
    """Return the converters a pack still feeds with every service disconnect open.

    Contactors count as closed, for they are no gap.
    """
    gaps = names_of(circuit, model.DISCONNECT)
    return tuple(
        each
        for each in circuit.of_kind(*model.CONVERTERS)
        if is_fed(circuit, each.plus, each.minus, gaps)
    )


def unparted_inlets(circuit: Circuit) -> tuple[Element, ...]:
    """Return the inlets that no contactor of their own parts from all else, in either pole."""
    island = islands(circuit, names_of(circuit, *CONTACTORS), through_packs=False)
    inlets = circuit.of_kind(model.INLET)
    others = {
        island.get(node, node)
        for each in circuit.of_kind(model.PACK, model.LINK, *model.CONVERTERS)
        if all((each.plus, each.minus) != (inlet.plus, inlet.minus) for inlet in inlets)
        for node in (each.plus, each.minus)
    }
    return tuple(
        inlet
        for inlet in inlets
        if {island.get(inlet.plus, inlet.plus), island.get(inlet.minus, inlet.minus)} & others
    )


def bare_strings(circuit: Circuit) -> tuple[Element, ...]:
    """Return the first element of each string that the others feed with every fuse open."""
    fuses = names_of(circuit, model.FUSE)
    packs = circuit.of_kind(model.PACK)
    ends = string_ends(circuit, potentials(circuit))
    found = []
    for number, (high, low) in zip(dict.fromkeys(e.string for e in packs), ends, strict=True):
        own = [element for element in packs if element.string == number]
        others = fuses | frozenset(element.name for element in own)
        if _are_joined(islands(circuit, others, through_packs=True), high, low):
            found.append(own[0])
    return tuple(found)
