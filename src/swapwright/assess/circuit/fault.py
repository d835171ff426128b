"""Short circuits: what each place could draw, and which fuse ends it after how long."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import compress
from math import inf, isclose

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.place import Place, places
from swapwright.assess.circuit.resistance import STATES, words_of
from swapwright.assess.circuit.wiring import CONDUCTING, bounds, conductors
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Device, Element
from swapwright.physics.circuit.fault_current import prospective_current, time_constant
from swapwright.physics.circuit.fuse import arcing_time
from swapwright.physics.circuit.fuse_melting import clearing_time, melting_model
from swapwright.physics.circuit.graph import joined
from swapwright.physics.circuit.network import (
    Fault,
    Network,
    NetworkError,
    all_faults,
)
from swapwright.standards.fuses import CURVE_TOLERANCE, GENERIC_MELTING

SOLVED = "kirchhoff-current-law"
Points = tuple[float, ...]
_NO_SHARE = 1e-6
RISE = 1.5
"""Time constants by which a rising fault lags behind one that is there at once, at most."""
_ROUNDING = 1e-6


@dataclass(frozen=True)
class Solved:
    """The faults of one state of the pack, at each place."""

    network: Network
    faults: Mapping[Place, Fault]


def faults(book: FigureBook) -> Mapping[str, Solved]:
    """Write the prospective current and the time constant of every place, full and low."""
    found: dict[str, Solved] = {}
    there = places(book.circuit)
    for state in STATES:
        try:
            solved = solve(book, state, there)
        except Missing as missing:
            for place in there:
                _note(book, place, state, missing)
            continue
        found[state] = solved
        for place in there:
            fault = solved.faults.get(place)
            if fault is None and (lacking := _lacking(book, state)) is not None:
                _note(book, place, state, lacking)
            elif fault is None or fault.resistance == inf or fault.voltage <= 0.0:
                reason = f"no pack drives a current between the poles at {place.name}"
                _note(book, place, state, Missing(reason=reason))
            else:
                _place(book, place, state, fault)
    return found


def _lacking(book: FigureBook, state: str) -> Missing | None:
    """Return what is missing for every resistance to be known, None where nothing is."""
    try:
        conductors(book, state)
    except Missing as missing:
        return missing
    return None


def _note(book: FigureBook, place: Place, state: str, missing: Missing) -> None:
    for name in ("voltage", "resistance", "inductance", "current", "time_constant"):
        book.note_missing(f"fault.{place.slug}.{name}_{state}", missing)


def solve(book: FigureBook, state: str, there: tuple[Place, ...]) -> Solved:
    """Return the faults at some places in one state of the pack; raise Missing."""
    networks = bounds(book, state)
    known = set(networks[0].nodes)
    met = [place for place in there if {place.plus, place.minus} <= known]
    pairs = [(place.plus, place.minus) for place in met]
    try:
        each = [all_faults(network, pairs) for network in networks]
    except NetworkError as error:
        raise Missing(reason=str(error)) from None
    alike = [*map(_is_alike, each[0], each[-1])]
    if met and not any(alike):
        conductors(book, state)
    return Solved(networks[0], dict(compress(zip(met, each[0], strict=True), alike)))


def _is_alike(one: Fault, other: Fault) -> bool:
    """Tell whether a fault is the same whatever the resistances that nobody knows."""
    return all(
        mine == its or isclose(mine, its, rel_tol=_ROUNDING)
        for mine, its in (
            (one.voltage, other.voltage),
            (one.resistance, other.resistance),
            (one.inductance, other.inductance),
        )
    )


def _place(book: FigureBook, place: Place, state: str, fault: Fault) -> None:
    at = f"between the poles, {place.name}"
    pack = book.value(f"circuit.pack.resistance_{state}")
    for name, label, si, unit, kind in (
        ("voltage", "open voltage", fault.voltage, "V", "voltage"),
        ("resistance", "resistance of source and loop", fault.resistance, "ohm", "resistance"),
        ("inductance", "inductance of source and loop", fault.inductance, "H", "inductance"),
    ):
        book.look_up(
            f"fault.{place.slug}.{name}_{state}",
            f"{label} {at}, {words_of(state)}",
            si,
            unit,
            LookedUp("solved network", place.name, label, SOLVED),
            kind,
            pack=pack,
        )
    book.make(
        prospective_current,
        f"fault.{place.slug}.current_{state}",
        label=f"prospective short-circuit current {at}, {words_of(state)}",
        voltage=f"fault.{place.slug}.voltage_{state}",
        resistance=f"fault.{place.slug}.resistance_{state}",
    )
    book.make(
        time_constant,
        f"fault.{place.slug}.time_constant_{state}",
        label=f"time constant L/R {at}, {words_of(state)}",
        inductance=f"fault.{place.slug}.inductance_{state}",
        resistance=f"fault.{place.slug}.resistance_{state}",
    )


@model.kept
def guards(circuit: Circuit) -> Mapping[Place, tuple[Device, ...]]:
    """Return for each place the fuses each of which alone would end a fault there.

    They stand in the order of the circuit, from the pack outwards.
    """
    there = places(circuit)
    found: dict[Place, list[Device]] = {place: [] for place in there}
    for fuse in circuit.devices_of(model.FUSE):
        left = _islands(circuit, frozenset(element.name for element in fuse.elements))
        for place in there:
            if not _is_fed(place, left):
                found[place].append(fuse)
    return {place: tuple(fuses) for place, fuses in found.items()}


@lru_cache(maxsize=64)
def _islands(circuit: Circuit, opened: frozenset[str]) -> Mapping[str, str]:
    return joined(
        (element.plus, element.minus)
        for element in circuit.elements
        if element.name not in opened and (element.kind == model.PACK or element.kind in CONDUCTING)
    )


def _is_fed(place: Place, island: Mapping[str, str]) -> bool:
    """Tell whether a pack can still drive current through a fault between two nodes."""
    one, other = island.get(place.plus), island.get(place.minus)
    return one is not None and one == other


@lru_cache(maxsize=256)
def heat_model(currents: Points, times: Points) -> tuple[Points, Points]:
    """Return the network of heat of a melting curve, once for each curve."""
    return melting_model(currents=currents, times=times)


def clearings(book: FigureBook, solved: Mapping[str, Solved]) -> None:
    """Write after how long a fault at each place is ended; missing where nothing ends it."""
    for state, each in solved.items():
        for place in each.faults:
            figure_id = f"fault.{place.slug}.clearing_{state}"
            if f"fault.{place.slug}.current_{state}" not in book.values:
                continue
            with book.attempt(figure_id):
                time, fuse = cleared(book, each, place, state)
                current = book.value(f"fault.{place.slug}.current_{state}")
                book.look_up(
                    figure_id,
                    f"time until a fault between the poles ends, {place.name}, {words_of(state)}",
                    time,
                    "s",
                    LookedUp("fuse curve", fuse, "slowest of its make, arc and all", SOLVED),
                    "time",
                    current=current,
                    rating=book.value(_fuse_rating(book.circuit, fuse)),
                )


def _fuse_rating(circuit: Circuit, name: str) -> str:
    return circuit.by_name[name].entry("rating")


NOTHING_CLEARS = "nothing clears this fault: no fuse lies between the source and this place"


def cleared(
    book: FigureBook, solved: Solved, place: Place, state: str, part: float = 1.0
) -> tuple[float, str]:
    """Return how long a fault lasts, and the fuse that ends it; one after the other where several.

    ``part`` is what the fault draws of the dead short's current: an arc draws less. Raises Missing
    where no fuse lies in its path, or the current is too low for any.
    """
    circuit = book.circuit
    opened: list[str] = []
    fault = solved.faults[place]
    time, last = 0.0, ""
    while True:
        fuses = [
            element
            for element in circuit.of_kind(model.FUSE)
            if element.name not in opened and fault.shares.get(element.name, 0.0) > _NO_SHARE
        ]
        if not fuses:
            raise Missing(reason=NOTHING_CLEARS)
        takes = {
            fuse.name: time_to_clear(
                book, fuse, part * fault.prospective * fault.shares[fuse.name], fault
            )
            for fuse in fuses
        }
        last = min(takes, key=takes.__getitem__)
        if takes[last] == inf:
            raise Missing(reason=f"nothing clears this fault: {_why(book, fuses)}")
        time += takes[last]
        # Fuses of strings alike share the current alike, and open together.
        alike = takes[last] * (1.0 + _ROUNDING)
        opened.extend(name for name in takes if name == last or takes[name] <= alike)
        if not _is_fed(place, _islands(circuit, frozenset(opened))):
            return time, last
        (fault,) = all_faults(conductors(book, state, opened), [(place.plus, place.minus)])


def _why(book: FigureBook, fuses: list[Element]) -> str:
    """Say why none of the fuses in a fault's path ends it."""
    highest = book.number("pack.max_working_voltage")
    if all(book.number(fuse.entry("voltage")) < highest for fuse in fuses):
        return f"the {fuses[0].device} is not rated for this voltage"
    return f"the current is too low, or too high, for the {fuses[0].device}"


def time_to_clear(book: FigureBook, fuse: Element, current: float, fault: Fault) -> float:
    """Return the longest a fuse may take to end a current, s; infinite where it never does."""
    slug = model.slug(fuse.device)
    if current <= 0.0 or not _can_break(book, fuse, current):
        return inf
    currents, times = melting_points(book, fuse)
    arcing = arcing_time(
        clearing_i2t=book.number(f"circuit.{slug}.clearing_i2t"),
        pre_arcing_i2t=book.number(f"circuit.{slug}.pre_arcing_i2t"),
        current=current,
    )
    rising = RISE * fault.time_constant
    melting = clearing_time(
        current=current, currents=currents, times=times, tolerance=CURVE_TOLERANCE.si
    )
    return melting + max(arcing, 0.0) + rising


def _can_break(book: FigureBook, fuse: Element, current: float) -> bool:
    """Tell whether a fuse is rated to break a current at the pack's highest voltage.

    A fuse that melts beyond its ratings goes on burning. Raises Missing where they are not known.
    """
    least = least_breaking(book, fuse)
    is_rated = book.number(fuse.entry("voltage")) >= book.number("pack.max_working_voltage")
    is_rated = is_rated and book.number(fuse.entry("breaking")) >= current
    return is_rated and (least is None or current >= least)


def least_breaking(book: FigureBook, fuse: Element) -> float | None:
    """Return the least current a fuse breaks, None for one that breaks any that melts it.

    Raises Missing where it breaks high faults only and its file does not say from where on.
    """
    entry = fuse.entry("min_breaking")
    if book.car.texts.get(fuse.entry("characteristic")) == PARTIAL_RANGE:
        return book.number(entry)
    return book.get(entry)


PARTIAL_RANGE = "partial-range"


def melting_points(book: FigureBook, fuse: Element) -> tuple[Points, Points]:
    """Return a fuse's melting curve: currents A rising, times s; its own, or one of its kind."""
    table = book.car.tables.get(fuse.entry("melting"))
    if table is not None:
        line = book.car.line(fuse.entry("melting"))
        return line.x, line.y
    rating = book.number(fuse.entry("rating"))
    return tuple(rating * times for times in GENERIC_MELTING.multiples), GENERIC_MELTING.times
