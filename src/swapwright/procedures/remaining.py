"""What a procedure does not take away: a pack is never off. Where, how much, what it means."""

from __future__ import annotations

from swapwright.assess.circuit.people import work_points
from swapwright.assess.circuit.section import SectionState
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Device, Element
from swapwright.procedures.facts import Facts
from swapwright.procedures.points import Opened, gaps
from swapwright.procedures.step import Remaining
from swapwright.procedures.wording import listed, sentence, told

_CAPACITORS = (model.LINK, model.Y_CAPACITOR)


def remaining(found: Opened, facts: Facts) -> tuple[Remaining, ...]:
    """Return the hazards that stay when every step is done."""
    circuit = found.circuit
    kept = [_pack(pack, facts) for pack in circuit.of_kind(model.PACK)]
    kept += [_section(circuit, state, facts) for state in found.reached]
    kept += [_gap(gap, facts) for gap in gaps(circuit)]
    kept += _places(found, facts)
    if gaps(circuit):
        kept.append(_two_faults(found, facts))
    return tuple(kept)


def _pack(pack: Element, facts: Facts) -> Remaining:
    volts = told(pack.share * facts.highest, "voltage")
    words = f"never off: up to {volts} between its terminals whatever the disconnect does"
    if pack.name in facts.modules:
        words += f"; {facts.modules[pack.name]}"
    words += ". Work inside it is live work"
    return Remaining(pack.name, sentence(words), facts.arcs.get(model.slug(pack.name), ()))


def _section(circuit: Circuit, state: SectionState, facts: Facts) -> Remaining:
    """Return what stays live with a part of the pack: its terminal box and all joined to it."""
    inside = {each.device for each in circuit.at(state.section.nodes)}
    packs = {each.device for each in circuit.of_kind(model.PACK)}
    to_chassis = {each.device for each in circuit.elements if each.kind in model.TO_CHASSIS}
    devices = [d.name for d in circuit.devices if d.name in inside - packs - to_chassis]
    where = f"terminal box of {state.section.name}"
    if not any(circuit.by_name[name].kind == model.PACK for name in state.section.elements):
        where = f"section {state.section.name}"
    between = told(state.driven_span * facts.highest, "voltage")
    to = told(state.pole_span * facts.highest, "voltage")
    words = f"{state.word}: up to {between} between its conductors, up to {to} to the chassis with"
    words += " one isolation fault"
    if devices:
        words += f"; it reaches the near side of {listed(devices)}"
    stores = [name for name in state.stores if circuit.by_name[name].kind in _CAPACITORS]
    if stores:
        words += f"; no waiting empties {listed(stores)}, which stand in it"
    return Remaining(where, sentence(words))


def _gap(gap: Device, facts: Facts) -> Remaining:
    volts = told(facts.highest, "voltage")
    return Remaining(
        gap.name,
        f"The open gap itself sees up to {volts}, the whole pack, from side to side.",
    )


def _places(found: Opened, facts: Facts) -> list[Remaining]:
    """Return the work points that stay fed though they are no part of the pack."""
    live = {node for state in found.reached for node in state.section.nodes}
    packs = {each.name for each in found.circuit.of_kind(model.PACK)}
    return [
        Remaining(
            f"work point {place.name}",
            "An arc here is fed from both sides once the gap is closed or bridged; one side of it "
            "is live now.",
            facts.arcs.get(place.slug, ()),
        )
        for place in work_points(found.circuit)
        if place.name not in packs and {place.plus, place.minus} & live
    ]


def _two_faults(found: Opened, facts: Facts) -> Remaining:
    packs = listed(each.name for each in found.circuit.of_kind(model.PACK))
    return Remaining(
        "two isolation faults at once",
        sentence(
            f"one on each side of an open gap put {packs} back in series through body or chassis, "
            f"up to {told(facts.highest, 'voltage')}, past the gap and past a fuse in it"
        ),
    )
