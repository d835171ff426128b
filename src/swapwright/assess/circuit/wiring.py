"""The one place where a car's circuit becomes a network of plain numbers for the solver."""

from __future__ import annotations

from collections.abc import Iterable

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.resistance import FULL, LOW
from swapwright.base.errors import Missing
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Element
from swapwright.physics.circuit.network import Network, Part
from swapwright.standards.circuit import ELEMENT_INDUCTANCE, MODULE_INDUCTANCE
from swapwright.standards.conductors import CONDUCTOR_INDUCTANCE

CONDUCTING = model.SERIES - {model.PRECHARGE_RELAY, model.PRECHARGE_RESISTOR}
"""What carries the current of a running car, and of a fault."""

SOURCE_VOLTAGE = {FULL: "pack.max_working_voltage", LOW: "pack.rest_voltage_low"}
"""A fault is fed by the highest voltage there can be, or by a nearly empty pack at rest."""


STAND_INS = (1e-5, 1e3)
"""ohm; what comes out alike with both in place of an unknown resistance does not rest on it."""

_PER_OHM = 1e-6
"""H to the ohm of a stand-in: its inductance is as little known."""


def conductors(
    book: FigureBook, state: str, left_out: Iterable[str] = (), stand_in: float | None = None
) -> Network:
    """Return the network of packs and conductors, every contactor closed, loads left out.

    ``left_out`` names elements that are open. Where an element's resistance is not known,
    ``stand_in`` ohm stands for it; without one Missing is raised.
    """
    open_ones = set(left_out)
    parts = [
        _known(book, element, state, stand_in)
        for element in book.circuit.elements
        if element.name not in open_ones
        and (element.kind == model.PACK or element.kind in CONDUCTING)
    ]
    if not parts:
        raise Missing("hv")
    return Network(tuple(parts))


def bounds(book: FigureBook, state: str) -> tuple[Network, ...]:
    """Return the network as `conductors` does; with each stand-in where a resistance is unknown."""
    try:
        return (conductors(book, state),)
    except Missing:
        return tuple(conductors(book, state, stand_in=each) for each in STAND_INS)


def _known(book: FigureBook, element: Element, state: str, stand_in: float | None) -> Part:
    try:
        return _part(book, element, state)
    except Missing:
        if stand_in is None:
            raise
    return Part(
        element.name,
        "source" if element.kind == model.PACK else "resistor",
        element.plus,
        element.minus,
        stand_in,
        resistance=stand_in if element.kind == model.PACK else 0.0,
        inductance=_PER_OHM * stand_in,
    )


def _part(book: FigureBook, element: Element, state: str) -> Part:
    if element.kind == model.PACK:
        return _pack(book, element, state)
    resistance = _resistance(book, element, state)
    if element.kind == model.CABLE:
        inductance = CONDUCTOR_INDUCTANCE.si * book.number(element.entry("length"))
    else:
        inductance = ELEMENT_INDUCTANCE.si
    return Part(
        element.name,
        "resistor",
        element.plus,
        element.minus,
        resistance,
        inductance=inductance,
    )


def _pack(book: FigureBook, element: Element, state: str) -> Part:
    """Return a pack element: its share of a string's voltage, resistance and modules."""
    strings = book.number("pack.strings") if book.has("pack.strings") else 1.0
    whole = book.number(f"circuit.pack.resistance_{state}") * strings
    modules = book.get("pack.modules_per_string") or 1.0
    return Part(
        element.name,
        "source",
        element.plus,
        element.minus,
        book.number(SOURCE_VOLTAGE[state]) * element.share,
        resistance=whole * element.share / element.parallel,
        inductance=MODULE_INDUCTANCE.si * modules * element.share / element.parallel,
    )


def _resistance(book: FigureBook, element: Element, state: str) -> float:
    name = f"circuit.{model.slug(element.device)}.resistance"
    return book.number(f"{name}_hot" if element.kind == model.CABLE and state == LOW else name)
