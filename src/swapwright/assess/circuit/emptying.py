"""Discharge as it goes: each section once its contactors are open, with some paths failed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.course import (
    VOLTAGE,
    active_discharges,
    bleeds,
    by_device,
    capacitors,
    conducting,
    joined_to,
    unhurried,
)
from swapwright.assess.circuit.discharge import NO_EMPTYING, never_emptied, stored
from swapwright.assess.circuit.section import Section
from swapwright.base.errors import Missing
from swapwright.build.circuit import model
from swapwright.physics.circuit.discharge import stored_energy
from swapwright.physics.circuit.network import Part
from swapwright.physics.circuit.transient import Transient, When, run_transient
from swapwright.standards.discharge import DISCHARGED_ENERGY, DISCHARGED_VOLTAGE

TIME_CONSTANTS = 30.0
TO_60V, TO_ENERGY = "60 V", "0.2 J"


@dataclass(frozen=True)
class Emptied:
    """A section after its contactors opened: V, F and J it starts with, and the paths left.

    ``to_60v`` and ``to_energy`` are times s with every value as marked, None where no path is left;
    ``took`` J is what each path took. ``wait`` s is the waiting time of the assessment, which
    takes everything at its worst and one path as failed; None where there is none, and ``no_wait``
    then says why.
    """

    section: Section
    voltage: float
    capacitance: float
    energy: float
    paths: tuple[str, ...]
    to_60v: float | None
    to_energy: float | None
    took: Mapping[str, float]
    wait: float | None
    no_wait: str


def emptied(book: FigureBook, opened: tuple[str, ...]) -> tuple[Emptied, ...]:
    """Return how each section that holds charge empties; raise Missing where data lack."""
    gone = by_device(book.circuit, opened)
    found = stored(book.circuit)
    for section in never_emptied(book.circuit):
        if not found:
            raise Missing(reason=NO_EMPTYING.format(section.name))
    return tuple(_section(book, section, gone) for section in found)


def _section(book: FigureBook, section: Section, gone: tuple[str, ...]) -> Emptied:
    voltage = book.number(VOLTAGE)
    inside = set(section.elements)
    links = [part for part in capacitors(book, gone, voltage) if part.name in inside]
    whole = sum(part.value for part in links)
    paths = [
        part
        for part in (*bleeds(book, gone), *active_discharges(book, gone, whole or 1.0))
        if part.name in inside
    ]
    wires = [
        part
        for part in conducting(book, gone)
        if part.name in inside and book.circuit.by_name[part.name].kind != model.PACK
    ]
    energy = stored_energy(capacitance=whole, voltage=voltage)
    reason = book.reasons.get(f"wait.{section.slug}.time", "")
    result = Emptied(
        section,
        voltage,
        whole,
        energy,
        tuple(part.name for part in paths),
        None,
        None,
        {},
        book.get(f"wait.{section.slug}.time"),
        reason or _lacks(book, section),
    )
    if not links or not paths:
        return result
    return _run(result, (links, paths, wires))


def _lacks(book: FigureBook, section: Section) -> str:
    paths = book.missing.get(f"wait.{section.slug}.time", ())
    return f"the build does not give {', '.join(paths)}" if paths else ""


def _run(start: Emptied, parts: tuple[list[Part], list[Part], list[Part]]) -> Emptied:
    links, paths, wires = parts
    link = max(links, key=lambda part: part.value)
    pair = (link.a, link.b)
    siemens = sum(1.0 / part.value for part in paths)
    network = joined_to(unhurried([*links, *paths, *wires]), link.a)
    done = run_transient(
        network,
        duration=TIME_CONSTANTS * start.capacitance / siemens,
        events=[
            When("voltage", pair, level, {}, rising=False, name=name)
            for name, level in (
                (TO_60V, DISCHARGED_VOLTAGE.si),
                (TO_ENERGY, sqrt(2.0 * DISCHARGED_ENERGY.si / start.capacitance)),
            )
            if level < start.voltage
        ],
        outputs=2,
    )
    times = _times(done)
    return Emptied(
        start.section,
        start.voltage,
        start.capacitance,
        start.energy,
        start.paths,
        times.get(TO_60V, 0.0),
        times.get(TO_ENERGY, 0.0),
        {name: done.taken.get(name, 0.0) for name in start.paths},
        start.wait,
        start.no_wait,
    )


def _times(done: Transient) -> Mapping[str, float]:
    return {each.event.name: each.time for each in done.log}
