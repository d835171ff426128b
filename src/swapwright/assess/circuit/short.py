"""A dead short between the poles, second by second: what feeds it, what opens, what bears it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf

import numpy as np

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.course import capacitors, conducting
from swapwright.assess.circuit.fault import Solved, cleared, melting_points, time_to_clear
from swapwright.assess.circuit.place import Place
from swapwright.assess.circuit.wiring import SOURCE_VOLTAGE
from swapwright.base.errors import Missing
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Device, Element
from swapwright.physics.circuit.fuse_melting import melting_time
from swapwright.physics.circuit.network import Fault, Network, Part
from swapwright.physics.circuit.transient import Transient, When, run_transient
from swapwright.standards.circuit import DEAD_SHORT

FAULT = "the short circuit"
POINTS = 240
MELTS, CLEARS = "melts", "clears"
_NO_SHARE = 1e-6
_SHORTEST = 0.005
_FIRST = 1e-7


@dataclass(frozen=True)
class Opened:
    """A fuse in a fault: when it has melted and when it has cleared, s; None where it does not.

    ``i2t`` is what had gone through it when it melted, A2s.
    """

    device: str
    melts: float | None
    clears: float | None
    i2t: float


@dataclass(frozen=True)
class Borne:
    """What a device had to bear: peak A, I2t A2s, what it withstands A2s, None where unknown.

    ``lasts`` is how long it bears the settled current, s, where nothing ends it.
    """

    device: str
    kind: str
    peak: float
    i2t: float
    withstand: float | None
    lasts: float | None


@dataclass(frozen=True)
class ShortResult:
    """A short between the poles at a place, from its first instant.

    ``voltage`` V, ``prospective`` A and ``time_constant`` s are the pack's alone; ``peak`` A at
    ``peak_time`` s is what really flows, capacitors with it; ``capacitor_peak`` A and
    ``capacitor_energy`` J are theirs; ``ended`` s is when nothing feeds it any more, None where it
    goes on, and ``why`` then says why. ``times`` s and ``currents`` A are its course.
    """

    place: Place
    state: str
    voltage: float
    prospective: float
    time_constant: float
    peak: float
    peak_time: float
    capacitor_peak: float
    capacitor_energy: float
    opened: tuple[Opened, ...]
    ended: float | None
    why: str
    borne: tuple[Borne, ...]
    times: tuple[float, ...]
    currents: tuple[float, ...]


def short_circuit(book: FigureBook, solved: Solved, place: Place, state: str) -> ShortResult:
    """Return what a dead short at a place does; raise Missing where the circuit cannot say."""
    fault = solved.faults[place]
    if fault.resistance == inf or fault.voltage <= 0.0:
        raise Missing(reason=f"no pack reaches the place {place.name}")
    time, why = _ends(book, solved, place, state)
    network = _network(book, place, state)
    links = [part for part in network.parts if part.kind == "capacitor"]
    duration = 1.2 * (time or 0.0) + max(50.0 * fault.time_constant, _SHORTEST)
    done = run_transient(
        network,
        duration=duration,
        events=_events(book, fault),
        outputs=np.concatenate([[0.0], np.geomspace(_FIRST, duration, POINTS)]).tolist(),
        peaks_of=[part.name for part in network.parts],
    )
    opened = _opened(book, done)
    ended = max((each.clears for each in opened if each.clears is not None), default=None)
    peak, peak_time = done.peaks[FAULT]
    return ShortResult(
        place,
        state,
        fault.voltage,
        fault.prospective,
        fault.time_constant,
        abs(peak),
        peak_time,
        max((abs(done.peaks[part.name][0]) for part in links), default=0.0),
        done.stored_at_start,
        opened,
        None if why else ended,
        why,
        _borne(book, done, fault, is_ended=not why),
        tuple(done.times.tolist()),
        tuple(done.currents[FAULT].tolist()),
    )


def _ends(book: FigureBook, solved: Solved, place: Place, state: str) -> tuple[float | None, str]:
    """Return how long the pack feeds a fault at most, or None and why it does not stop."""
    try:
        return cleared(book, solved, place, state)[0], ""
    except Missing as missing:
        return None, missing.reason or f"the build does not give {', '.join(missing.paths)}"


def _network(book: FigureBook, place: Place, state: str) -> Network:
    # One of unknown size is left out; the others feed the fault all the same.
    unknown = [
        e.name for e in book.circuit.of_kind(model.LINK) if not book.has(e.entry("capacitance"))
    ]
    links = capacitors(book, unknown, book.number(SOURCE_VOLTAGE[state]))
    known = {node for part in conducting(book, (), state) for node in (part.a, part.b)}
    # One whose ends no conductor reaches is behind a contactor of its own and feeds nothing here.
    links = [part for part in links if {part.a, part.b} <= known]
    short = Part(FAULT, "resistor", place.plus, place.minus, DEAD_SHORT.si)
    return Network((*conducting(book, (), state), *links, short))


def _events(book: FigureBook, fault: Fault) -> list[When]:
    """Return for each fuse the melting and the clearing, by the I2t that has gone through it."""
    found: list[When] = []
    for device in book.circuit.devices_of(model.FUSE):
        # Both poles of one device carry the same; where they do not, the one that carries more.
        fuse = max(device.elements, key=lambda element: fault.shares.get(element.name, 0.0))
        slug = device.slug
        if not book.has(f"circuit.{slug}.pre_arcing_i2t", f"circuit.{slug}.clearing_i2t"):
            continue
        melts = _melting_i2t(book, fuse, fault.prospective * fault.shares.get(fuse.name, 0.0))
        if melts == inf:
            continue
        arc = book.number(f"circuit.{slug}.clearing_i2t") - book.number(
            f"circuit.{slug}.pre_arcing_i2t"
        )
        found.append(When("i2t", fuse.name, melts, {}, name=MELTS))
        if _breaks(book, fuse, fault, fault.prospective * fault.shares.get(fuse.name, 0.0)):
            found.append(When("i2t", fuse.name, melts + arc, {fuse.name: None}, name=CLEARS))
    return found


def _breaks(book: FigureBook, fuse: Element, fault: Fault, current: float) -> bool:
    """Tell whether a melted fuse ends its current; one not rated for it goes on arcing."""
    if current <= _NO_SHARE:
        return (book.get(fuse.entry("voltage")) or 0.0) >= fault.voltage
    try:
        return time_to_clear(book, fuse, current, fault) < inf
    except Missing:
        return False


def _melting_i2t(book: FigureBook, fuse: Element, current: float) -> float:
    """Return the I2t that melts a fuse on a fault of this size; infinite where it never does."""
    needed = book.number(f"circuit.{model.slug(fuse.device)}.pre_arcing_i2t")
    if current <= _NO_SHARE:
        return needed
    least = book.get(fuse.entry("min_breaking"))
    amps, times = melting_points(book, fuse)
    steady = melting_time(current=current, currents=amps, times=times)
    if steady == inf or (least is not None and current < least):
        return inf
    return needed if current >= amps[-1] else max(needed, current**2 * steady)


def _opened(book: FigureBook, done: Transient) -> tuple[Opened, ...]:
    """Return the fuses that melted, first things first; both poles' of one device as one."""
    found: dict[str, Opened] = {}
    for each in done.log:
        event = each.event
        if not isinstance(event, When) or not isinstance(event.of, str):
            continue
        device = book.circuit.by_name[event.of].device
        before = found.get(device, Opened(device, None, None, event.level))
        melts, clears = before.melts, before.clears
        if event.name == MELTS and melts is None:
            melts = each.time
        elif event.name == CLEARS and clears is None:
            clears = each.time
        found[device] = Opened(device, melts, clears, before.i2t)
    return tuple(found.values())


def _borne(book: FigureBook, done: Transient, fault: Fault, *, is_ended: bool) -> tuple[Borne, ...]:
    found = []
    kinds = (model.CABLE, model.CONTACTOR, model.CONNECTOR, model.DISCONNECT)
    for device in book.circuit.devices_of(*kinds):
        names = [element.name for element in device.elements]
        peak = _most(abs(done.peaks.get(name, (0.0, 0.0))[0]) for name in names)
        share = _most(fault.shares.get(name, 0.0) for name in names)
        if share <= _NO_SHARE:
            continue
        withstand = book.get(_withstand(device))
        lasts = None
        if withstand is not None and not is_ended:
            lasts = withstand / (share * fault.prospective) ** 2
        i2t = _most(done.squares.get(name, 0.0) for name in names)
        found.append(Borne(device.name, device.kind, peak, i2t, withstand, lasts))
    return tuple(found)


def _withstand(device: Device) -> str:
    if device.kind == model.CABLE:
        return f"circuit.{device.slug}.withstand"
    return device.entry("weld_i2t")


def _most(numbers: Iterable[float]) -> float:
    return max(numbers, default=0.0)
