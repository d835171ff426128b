"""Contactors: what they carry for a time."""

from __future__ import annotations

from swapwright.assess.book import FigureBook
from swapwright.base.figure import LookedUp
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Device
from swapwright.physics.circuit.contactor import overload_current
from swapwright.standards.ratings import TEN_SECONDS

SHEET = "part-data-sheet"


def contactors(book: FigureBook) -> None:
    """Write what each contactor carries for ten seconds."""
    for device in book.circuit.devices_of(model.CONTACTOR):
        with book.attempt(f"circuit.{device.slug}.carry_10s"):
            _overload(book, device)


def _overload(book: FigureBook, device: Device) -> None:
    """Write the current a contactor carries for ten seconds; without a curve as for good."""
    time = TEN_SECONDS
    carry = book.value(device.entry("carry"))
    si, row = carry.si, "no overload curve: as for good"
    if book.car.tables.get(device.entry("overload")) is not None:
        curve = book.car.line(device.entry("overload"))
        si = overload_current(time=time.si, times=curve.x, currents=curve.y)
        row = f"{time.si:.0f} s"
    book.look_up(
        f"circuit.{device.slug}.carry_10s",
        f"current the {device.name} carry for {time.si:.0f} s",
        max(si, carry.si),
        "A",
        LookedUp("overload curve", row, "current", SHEET),
        "current",
        carry=carry,
        time=time,
    )
