"""Insulation coordination: the clearance and the creepage this car's voltage asks for."""

from __future__ import annotations

from typing import cast

from swapwright.assess.book import FigureBook
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.circuit.insulation import required_clearance, required_creepage
from swapwright.standards import insulation as table

VOLTAGE = "pack.max_working_voltage"
TITLE = "insulation coordination"


def insulation(book: FigureBook) -> None:
    """Write the clearance and the creepage of basic insulation; a box counts as not sealed."""
    with book.attempt("insulation.clearance_table", "insulation.impulse"):
        _clearance_table(book)
    with book.attempt("insulation.altitude_factor"):
        _altitude(book)
    book.make(
        required_clearance,
        "insulation.clearance",
        label="clearance required between live parts and to the chassis",
        at_sea_level="insulation.clearance_table",
        altitude_factor="insulation.altitude_factor",
    )
    with book.attempt("insulation.creepage_table"):
        _creepage_table(book)
    book.make(
        required_creepage,
        "insulation.creepage",
        label="creepage required between live parts and to the chassis",
        basic="insulation.creepage_table",
        times=table.BASIC,
        clearance="insulation.clearance",
    )


def _found(value: Value | None, reason: str) -> Value:
    if value is None:
        raise Missing(reason=reason)
    return value


def _clearance_table(book: FigureBook) -> None:
    voltage = book.value(VOLTAGE)
    impulse = _found(
        table.impulse_voltage(voltage.si), "no impulse voltage is set for a pack of this voltage"
    )
    book.look_up(
        "insulation.impulse",
        "impulse voltage the circuit is laid out for",
        impulse.si,
        "V",
        LookedUp(TITLE, f"up to {voltage.si:.4g} V", "impulse voltage, our choice", impulse.ref),
        "voltage",
        voltage=voltage,
    )
    degree = book.value("hv.pollution_degree")
    distance = _found(
        table.clearance(impulse.si, pollution_degree=round(degree.si)),
        "the table gives no clearance for this pollution degree",
    )
    book.look_up(
        "insulation.clearance_table",
        "clearance up to the table's altitude",
        distance.si,
        "m",
        LookedUp(TITLE, f"{impulse.si:.0f} V", "clearance, uneven field", distance.ref),
        "length",
        impulse=book.value("insulation.impulse"),
        pollution_degree=degree,
    )


def _altitude(book: FigureBook) -> None:
    altitude = book.value("hv.altitude")
    factor = _found(
        table.altitude_factor(altitude.si), "the altitude is beyond the table of air clearances"
    )
    book.look_up(
        "insulation.altitude_factor",
        "factor on the clearance in thin air",
        factor.si,
        "1",
        LookedUp(TITLE, f"{altitude.si:.0f} m", "altitude factor", factor.ref),
        "factor",
        altitude=altitude,
    )


def _creepage_table(book: FigureBook) -> None:
    voltage, degree = book.value(VOLTAGE), book.value("hv.pollution_degree")
    group = book.car.text("hv.material_group")
    distance = _found(
        table.creepage(
            voltage.si,
            pollution_degree=round(degree.si),
            group=cast(table.MaterialGroup, group),
        ),
        "the table allows no creepage for this voltage, pollution degree and material group",
    )
    book.look_up(
        "insulation.creepage_table",
        "creepage of basic insulation by the table",
        distance.si,
        "m",
        LookedUp(TITLE, f"{voltage.si:.4g} V", f"material group {group}", distance.ref),
        "length",
        voltage=voltage,
        pollution_degree=degree,
    )
