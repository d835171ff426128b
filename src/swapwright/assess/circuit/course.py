"""What the runs in time are made of: conductors, capacitors, paths and loads as parts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.resistance import FULL
from swapwright.assess.circuit.wiring import conductors
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Element
from swapwright.physics.circuit.discharge import equivalent_resistance
from swapwright.physics.circuit.graph import blocks, joined
from swapwright.physics.circuit.network import Network, Part
from swapwright.standards.circuit import LINK_INDUCTANCE, LINK_RESISTANCE, LOAD_STARTS
from swapwright.standards.discharge import DISCHARGED_VOLTAGE

VOLTAGE = "pack.max_working_voltage"


def conducting(book: FigureBook, left_out: Iterable[str] = (), state: str = FULL) -> list[Part]:
    """Return packs and conductors, elements that are open left out; raise Missing."""
    return list(conductors(book, state, left_out).parts)


def capacitors(book: FigureBook, left_out: Iterable[str], start: float) -> list[Part]:
    """Return the link capacitors, each with its own small resistance, at a voltage."""
    gone = set(left_out)
    return [
        Part(
            each.name,
            "capacitor",
            each.plus,
            each.minus,
            book.number(each.entry("capacitance")),
            resistance=LINK_RESISTANCE.si,
            inductance=LINK_INDUCTANCE.si,
            start=start,
        )
        for each in book.circuit.of_kind(model.LINK)
        if each.name not in gone
    ]


def bleeds(book: FigureBook, left_out: Iterable[str]) -> list[Part]:
    """Return the bleed resistors as marked."""
    gone = set(left_out)
    return [
        _resistor(each, book.number(each.entry("resistance")))
        for each in book.circuit.of_kind(model.BLEED)
        if each.name not in gone
    ]


def active_discharges(book: FigureBook, left_out: Iterable[str], capacitance: float) -> list[Part]:
    """Return active discharges as the resistances that reach 60 V in their time."""
    gone, found = set(left_out), []
    for each in book.circuit.of_kind(model.ACTIVE_DISCHARGE):
        if each.name not in gone:
            resistance = equivalent_resistance(
                time=book.number(each.entry("time")),
                capacitance=capacitance,
                voltage=book.number(VOLTAGE),
                target=DISCHARGED_VOLTAGE.si,
            )
            found.append(_resistor(each, resistance))
    return found


def _resistor(element: Element, resistance: float) -> Part:
    return Part(element.name, "resistor", element.plus, element.minus, resistance)


def load_left_on(book: FigureBook, element: Element) -> Part:
    """Return a converter that draws its power as soon as there is voltage enough; raise Missing."""
    if element.kind == model.DCDC and book.has("lv.dcdc.power"):
        power = book.number("lv.dcdc.power")
    elif book.has(element.entry("power")):
        power = book.number(element.entry("power"))
    else:
        current = book.number(f"circuit.{model.slug(element.device)}.draw")
        power = current * book.number("pack.voltage_nominal")
    at = element if _is_buffered(book, element) else (largest_link(book) or element)
    starts = book.get("lv.dcdc.min_voltage") if element.kind == model.DCDC else None
    return Part(
        element.name,
        "power",
        at.plus,
        at.minus,
        power,
        cutoff=starts or LOAD_STARTS.si * book.number(VOLTAGE),
    )


def _is_buffered(book: FigureBook, element: Element) -> bool:
    """Tell whether a capacitor stands across a converter; one without counts at the link."""
    ends = {element.plus, element.minus}
    return any({e.plus, e.minus} == ends for e in book.circuit.of_kind(model.LINK))


def by_device(circuit: Circuit, names: Iterable[str]) -> tuple[str, ...]:
    """Return the elements that go by these names: their own or their device's."""
    wanted = set(names)
    return tuple(e.name for e in circuit.elements if wanted & {e.name, e.device})


def joined_to(parts: Iterable[Part], start: str) -> Network:
    """Return the parts that hang together with a node; what floats apart would have no voltage."""
    listed = list(parts)
    of = joined((part.a, part.b) for part in listed)
    return Network(tuple(part for part in listed if of.get(part.a) == of.get(start)))


def open_in_precharge(circuit: Circuit, link: Element) -> frozenset[str]:
    """Return the contactors that are open while the link fills.

    The one the resistor bypasses, and those that do not lie between the pack and the link.
    """
    resistor = next(iter(circuit.of_kind(model.PRECHARGE_RESISTOR)), None)
    kinds = model.SERIES | {model.PACK}
    ring = [e for e in circuit.elements if e.kind in kinds or e is link]
    within: set[str] = set()
    for block in blocks([(e.plus, e.minus) for e in ring]):
        names = {ring[number].name for number in block}
        within |= names if link.name in names else set()
    over = _bypassed(circuit, resistor)
    return frozenset(
        e.name for e in circuit.of_kind(model.CONTACTOR) if e.name not in within or e.name in over
    )


def _bypassed(circuit: Circuit, resistor: Element | None) -> frozenset[str]:
    """Return the contactors that lie across the precharge relay and its resistor."""
    if resistor is None:
        return frozenset()
    branch = [*circuit.of_kind(model.PRECHARGE_RELAY), *circuit.of_kind(model.PRECHARGE_RESISTOR)]
    of = joined((e.plus, e.minus) for e in branch)
    return frozenset(
        e.name
        for e in circuit.of_kind(model.CONTACTOR)
        if e.plus in of and of[e.plus] == of.get(e.minus)
    )


def largest_link(book: FigureBook) -> Element | None:
    """Return the largest capacitor between the poles, None where the circuit has none."""
    links = [e for e in book.circuit.of_kind(model.LINK) if book.has(e.entry("capacitance"))]
    return max(links, key=lambda e: book.number(e.entry("capacitance")), default=None)


def unhurried(parts: Iterable[Part]) -> list[Part]:
    """Return parts without their inductance, which nothing that takes milliseconds feels."""
    return [replace(part, inductance=0.0) for part in parts]
