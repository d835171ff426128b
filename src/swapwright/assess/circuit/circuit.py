"""The whole circuit of a car, stage by stage."""

from __future__ import annotations

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.cable import cables, max_temperatures
from swapwright.assess.circuit.cable_choice import cable_choices
from swapwright.assess.circuit.contactor import contactors
from swapwright.assess.circuit.coordination import CURVE_ID, coordination
from swapwright.assess.circuit.discharge import discharges
from swapwright.assess.circuit.fault import clearings, faults, guards
from swapwright.assess.circuit.fuse import fuse_energies, fuses
from swapwright.assess.circuit.insulation import insulation
from swapwright.assess.circuit.isolation import isolation
from swapwright.assess.circuit.load import loads
from swapwright.assess.circuit.people import people
from swapwright.assess.circuit.precharge import link, precharge
from swapwright.assess.circuit.protection import protections
from swapwright.assess.circuit.resistance import resistances
from swapwright.assess.circuit.stranded import stranded_charges
from swapwright.assess.circuit.string import strings
from swapwright.assess.circuit.surge import surges


def circuit(book: FigureBook) -> None:
    """Write every figure of the high-voltage circuit."""
    max_temperatures(book)
    resistances(book)
    histories = loads(book)
    cables(book, histories)
    fuse_energies(book)
    solved = faults(book)
    guarded = guards(book.circuit)
    link(book)
    fuses(book, histories, solved, guarded)
    surges(book, guarded, solved)
    clearings(book, solved)
    protections(book, guarded, solved)
    with book.attempt():
        book.curves[CURVE_ID] = coordination(book, histories)
    cable_choices(book)
    contactors(book)
    strings(book)
    precharge(book)
    discharges(book)
    stranded_charges(book)
    isolation(book)
    insulation(book)
    people(book, solved)
