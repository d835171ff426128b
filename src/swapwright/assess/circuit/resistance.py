"""Resistance and inductance of every element: of its data sheet, of its size, or typical."""

from __future__ import annotations

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.stages.pack import joints, stack
from swapwright.base.figure import LookedUp
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Device
from swapwright.physics.circuit.conductor import conductor_resistance
from swapwright.physics.circuit.fuse import cold_resistance
from swapwright.standards.circuit import NO_JOINTS
from swapwright.standards.conductors import (
    CLASS_5_SOURCE,
    COPPER_TEMPERATURE_COEFFICIENT,
    RESISTANCE_TEMPERATURE,
    class_5_resistance,
)
from swapwright.standards.contactors import CONTACT_RESISTANCE
from swapwright.standards.fuses import COLD_DROP

FULL, LOW = "full", "low"
STATES = (FULL, LOW)
"""The pack full and warm, where a fault is strongest; nearly empty and cold, where it is least."""

CLASS_5_TABLE = "IEC 60228 class 5"


def resistances(book: FigureBook) -> None:
    """Write what each device, and the pack in both states, resists."""
    _string(book)
    for device in book.circuit.devices:
        figure_id = f"circuit.{device.slug}.resistance"
        if device.kind == model.FUSE:
            _fuse(book, device, figure_id)
        elif device.kind in (model.CONTACTOR, model.DISCONNECT, model.CONNECTOR):
            _contact(book, device, figure_id)
        elif device.kind == model.CABLE:
            _cable(book, device)


def _string(book: FigureBook) -> None:
    """Write the pack's resistance where a fault is strongest, and where it is weakest."""
    shared = joints(book)
    for state, cell, changed in (
        (FULL, "pack.cell_r0_hot", {"string_joints": NO_JOINTS}),
        (LOW, "cold.cell_resistance", {}),
    ):
        stack(
            book,
            f"circuit.pack.resistance_{state}",
            f"pack resistance for a fault, {words_of(state)}",
            cell,
            {**shared, **changed},
        )


def words_of(state: str) -> str:
    """Return a state of the pack in words."""
    return "full and warm" if state == FULL else "nearly empty and cold"


def _is_stated(book: FigureBook, device: Device, figure_id: str) -> bool:
    """Write a resistance from its data sheet; tell whether there is one."""
    stated = device.entry("resistance")
    if not book.has(stated):
        return False
    rows: list[tuple[str, Source, float]] = [("data sheet", stated, 1.0)]
    book.total(figure_id, f"resistance of {device.name}", "ohm", rows, "resistance")
    return True


def _fuse(book: FigureBook, device: Device, figure_id: str) -> None:
    if not _is_stated(book, device, figure_id):
        book.make(
            cold_resistance,
            figure_id,
            label=f"resistance of {device.name}, typical of its rating",
            rating=device.entry("rating"),
            drop=COLD_DROP,
        )


def _contact(book: FigureBook, device: Device, figure_id: str) -> None:
    if not _is_stated(book, device, figure_id):
        rows: list[tuple[str, Source, float]] = [("typical contact", CONTACT_RESISTANCE, 1.0)]
        label = f"resistance of {device.name}, typical"
        book.total(figure_id, label, "ohm", rows, "resistance")


def _cable(book: FigureBook, device: Device) -> None:
    """Write a conductor's resistance per length, cold and at the hottest it may be."""
    slug = device.slug
    with book.attempt(f"circuit.{slug}.resistance_per_length"):
        size = book.value(device.entry("size"))
        book.look_up(
            f"circuit.{slug}.resistance_per_length",
            f"resistance per length of {device.name} at 20 degC",
            class_5_resistance(size.si),
            "ohm/m",
            LookedUp(
                CLASS_5_TABLE, f"{size.si * 1e6:.4g} mm2", "greatest at 20 degC", CLASS_5_SOURCE
            ),
            "resistance_per_length",
            size=size,
        )
    for figure, label, temperature in (
        ("resistance", "at 20 degC", RESISTANCE_TEMPERATURE),
        ("resistance_hot", "at the hottest it may be", f"circuit.{slug}.max_temperature"),
    ):
        book.make(
            conductor_resistance,
            f"circuit.{slug}.{figure}",
            label=f"resistance of one conductor of {device.name}, {label}",
            resistance_per_length=f"circuit.{slug}.resistance_per_length",
            length=device.entry("length"),
            temperature=temperature,
            reference_temperature=RESISTANCE_TEMPERATURE,
            temperature_coefficient=COPPER_TEMPERATURE_COEFFICIENT,
        )
