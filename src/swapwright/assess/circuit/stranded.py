"""Capacitors behind a fuse of their own: what they keep once that fuse has blown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swapwright.assess.book import FigureBook
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Element
from swapwright.physics.circuit.discharge import stored_energy, worst_capacitance
from swapwright.physics.circuit.graph import blocks
from swapwright.standards.discharge import CAPACITOR_TOLERANCE

VOLTAGE = "pack.max_working_voltage"
_EMPTYING = frozenset({model.BLEED, model.ACTIVE_DISCHARGE})
_CARRYING = model.SERIES | _EMPTYING


@dataclass(frozen=True)
class Stranded:
    """A capacitor that nothing empties once any one of these fuses has blown."""

    capacitor: Element
    fuses: tuple[str, ...]


@model.kept
def stranded(circuit: Circuit) -> tuple[Stranded, ...]:
    """Return the capacitors that a blown fuse cuts off from every bleed and active discharge."""
    along = [e for e in circuit.elements if e.kind in _CARRYING and not e.is_switch]
    found = []
    for capacitor in circuit.of_kind(model.LINK):
        parts = [*along, capacitor]
        ring = _emptying_ring(parts)
        # A fuse outside the ring leaves it whole.
        fuses = [each for each in ring if each.kind == model.FUSE]
        cut = [f.device for f in fuses if not _emptying_ring([e for e in parts if e is not f])]
        if cut:
            found.append(Stranded(capacitor, tuple(dict.fromkeys(cut))))
    return tuple(found)


def _emptying_ring(parts: Sequence[Element]) -> tuple[Element, ...]:
    """Return what a capacitor, the last of the parts, empties through; () where nothing."""
    for block in blocks([(e.plus, e.minus) for e in parts]):
        if len(parts) - 1 in block:
            inside = tuple(parts[number] for number in sorted(block))
            return inside if any(e.kind in _EMPTYING for e in inside) else ()
    return ()


def stranded_charges(book: FigureBook) -> None:
    """Write what each capacitor keeps that a blown fuse can strand."""
    for each in stranded(book.circuit):
        slug = model.slug(each.capacitor.device)
        label = f"{each.capacitor.name}, cut off by a blown fuse"
        book.make(
            worst_capacitance,
            f"circuit.{slug}.stranded_capacitance",
            label=f"{label}: capacitance at its upper tolerance",
            capacitance=each.capacitor.entry("capacitance"),
            tolerance=CAPACITOR_TOLERANCE,
        )
        book.make(
            stored_energy,
            f"circuit.{slug}.stranded_energy",
            label=f"{label}: energy it keeps",
            capacitance=f"circuit.{slug}.stranded_capacitance",
            voltage=VOLTAGE,
        )
