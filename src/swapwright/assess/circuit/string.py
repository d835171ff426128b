"""Strings side by side: the current that flows from one into another when they are joined."""

from __future__ import annotations

from math import isfinite

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.resistance import FULL
from swapwright.assess.circuit.wiring import conductors
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Element
from swapwright.physics.circuit.carried import carried_current
from swapwright.physics.circuit.fault_current import prospective_current
from swapwright.physics.circuit.network import NetworkError, all_faults

SOLVED = "kirchhoff-current-law"
DIFFERENCE = "hv.join_difference"


def joined_strings(circuit: Circuit) -> tuple[Element, ...]:
    """Return the first pack element of each string; nothing where there is one string only."""
    first: dict[int, Element] = {}
    for element in circuit.of_kind(model.PACK):
        first.setdefault(element.string, element)
    return tuple(first.values()) if len(first) > 1 else ()


def strings(book: FigureBook) -> None:
    """Write what flows into each string when it is joined to the others, and what it may take."""
    for element in joined_strings(book.circuit):
        slug = model.slug(element.name)
        try:
            loop = _loop(book, element)
        except Missing as missing:
            book.note_missing(f"circuit.{slug}.join_current", missing)
            continue
        if loop is not None:
            _joining(book, element, loop)


def _loop(book: FigureBook, element: Element) -> float | None:
    """Return the resistance round a string and all it is joined to; None where nothing is."""
    try:
        whole = conductors(book, FULL)
        rest = conductors(book, FULL, [element.name])
        if not {element.plus, element.minus} <= set(rest.nodes):
            return None
        (others,) = all_faults(rest, [(element.plus, element.minus)])
    except NetworkError as error:
        raise Missing(reason=str(error)) from None
    own = next(part for part in whole.parts if part.name == element.name)
    loop = others.resistance + own.resistance
    return loop if isfinite(loop) else None


def _joining(book: FigureBook, element: Element, loop: float) -> None:
    slug = model.slug(element.name)
    book.look_up(
        f"circuit.{slug}.join_resistance",
        f"resistance round the loop of {element.name} and the strings it is joined to",
        loop,
        "ohm",
        LookedUp("solved network", element.name, "resistance of the loop", SOLVED),
        "resistance",
        pack=book.value(f"circuit.pack.resistance_{FULL}"),
    )
    book.make(
        prospective_current,
        f"circuit.{slug}.join_current",
        label=f"current between {element.name} and the strings it is joined to",
        voltage=DIFFERENCE,
        resistance=f"circuit.{slug}.join_resistance",
    )
    with book.attempt(f"circuit.{slug}.join_allowed"):
        of = book.value("pack.strings")
        book.look_up(
            f"circuit.{slug}.join_share",
            f"share of the pack's cells side by side that {element.name} holds",
            element.parallel / of.si,
            "1",
            LookedUp("solved network", element.name, "cells side by side", SOLVED),
            "fraction",
            strings=of,
        )
        book.make(
            carried_current,
            f"circuit.{slug}.join_allowed",
            label=f"charge current the cells of {element.name} take for a short time",
            current="pack.charge_peak",
            share=f"circuit.{slug}.join_share",
        )
