"""Every source of energy of a car's circuit, and how it is taken away. A contactor never does."""

from __future__ import annotations

from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Device, Element
from swapwright.physics.circuit.graph import groups
from swapwright.procedures.facts import Facts
from swapwright.procedures.points import gaps
from swapwright.procedures.step import EnergySource
from swapwright.procedures.wording import listed, sentence, told

PLUG = "charging plug out, inlet locked"
LEAD = "12 V battery's lead off and locked away"
CHOCKS = "driven wheels chocked or off the ground"

OTHERS = EnergySource(
    "anything the file does not show",
    (),
    "taken off and kept away",
    "Solar panels, spare or range packs, a second charger, boost precharge from the 12 V side, "
    "bench supplies and test gear: nothing of the kind may be joined.",
)


def energy_sources(circuit: Circuit, facts: Facts) -> tuple[EnergySource, ...]:
    """Return the sources of a circuit: packs, what comes in from outside, wheels, capacitors."""
    packs = [_pack(circuit, each, facts) for each in circuit.of_kind(model.PACK)]
    outside = [
        _outside(each, facts)
        for kinds in ((model.CHARGER, model.INLET), (model.DCDC,), (model.INVERTER,))
        for each in circuit.of_kind(*kinds)
    ]
    stores = [_store(each) for each in circuit.of_kind(model.LINK, model.Y_CAPACITOR)]
    return (*packs, *outside, *stores, OTHERS)


_IN_STRING = frozenset({model.PACK, model.DISCONNECT, model.CABLE, model.CONNECTOR})


def string_gaps(circuit: Circuit, pack: Element) -> tuple[Device, ...]:
    """Return the gaps that cut the string a part of the pack belongs to."""
    along = [(e.plus, e.minus) for e in circuit.elements if e.kind in _IN_STRING]
    own = [e for e in circuit.of_kind(model.PACK) if e.string == pack.string]
    ends = {e.plus for e in own} | {e.minus for e in own}
    found = {node for group in groups(circuit.nodes, along) if ends & set(group) for node in group}
    return tuple(gap for gap in gaps(circuit) if gap.first.plus in found)


def _pack(circuit: Circuit, pack: Element, facts: Facts) -> EnergySource:
    volts = told(pack.share * facts.highest, "voltage")
    cut = string_gaps(circuit, pack)
    words = f"Up to {volts} between its own terminals, and that stays whatever is opened."
    if not cut:
        words += " No gap that can be locked stands in its string."
    return EnergySource(pack.name, (pack.name,), listed(gap.name for gap in cut), words)


def _outside(element: Element, facts: Facts) -> EnergySource:
    up_to = f"up to {told(facts.highest, 'voltage')}"
    if element.kind == model.INVERTER:
        turning = facts.turning.get(element.name, "the file says nothing of its motor")
        words = f"Its motor while it turns: {turning}."
        return EnergySource(f"motor at {element.name}", (element.name,), CHOCKS, words)
    if element.kind == model.DCDC:
        words = f"It can feed back from the 12 V side, {up_to}."
        return EnergySource(element.name, (element.name,), LEAD, words)
    words = f"With a plug in it gives {up_to}; it may give mains out too. The inlet counts as live."
    return EnergySource(element.name, (element.name,), PLUG, words)


def _store(element: Element) -> EnergySource:
    where = "to the chassis" if element.kind == model.Y_CAPACITOR else "between the poles"
    words = sentence(f"stored charge {where}: no gap takes it away, only what empties it")
    return EnergySource(element.name, (element.name,), "", words)
