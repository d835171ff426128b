"""One or two points of the circuit on the chassis: voltages, touch, energy, the way round."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import inf

from swapwright.assess.book import FigureBook
from swapwright.assess.circuit.course import VOLTAGE, conducting
from swapwright.assess.circuit.fault import NOTHING_CLEARS, Solved, cleared, time_to_clear
from swapwright.assess.circuit.place import Place, potentials
from swapwright.assess.circuit.resistance import FULL
from swapwright.assess.circuit.wiring import CONDUCTING, conductors
from swapwright.base.errors import Missing
from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit
from swapwright.physics.circuit.graph import blocks, joined
from swapwright.physics.circuit.network import (
    DcSolution,
    Fault,
    Network,
    NetworkError,
    Part,
    all_faults,
    solve_dc,
)
from swapwright.standards.body import body_impedance
from swapwright.standards.circuit import DEAD_SHORT, LINK_RESISTANCE

BODY = "a body"
PLUS, MINUS = "plus pole", "minus pole"
SAME_VOLTAGE = "no fault current: both points stand at the same voltage"
NO_WAY_ROUND = "no pack drives a current round this way"
_NO_SHARE = 1e-6
_NOTHING = 1e-3
"""V or A below which there is nothing but what the arithmetic leaves."""

_LEVEL = 1e-9


@dataclass(frozen=True)
class Touched:
    """What a dry body from one point to the chassis meets: V before it touches, ohm, A."""

    node: str
    voltage: float
    body: float
    current: float


@dataclass(frozen=True)
class Bridged:
    """A short between the pack's terminals, the chassis in place of the open disconnect.

    ``current`` A; ``ended`` s and ``fuse`` what ends it, or ``why`` nothing does.
    """

    current: float
    ended: float | None
    fuse: str
    why: str


@dataclass(frozen=True)
class EarthResult:
    """The circuit with some nodes on the chassis, its disconnect closed or open.

    ``voltages`` V to the chassis of each pole and of both sides of each disconnect, None where it
    floats; ``from_link`` V of those that a charged link puts higher than the pack does; ``gaps`` V
    across each open disconnect, ``poles`` V from pole to pole by the pack; ``touched`` what a body
    meets there. ``y_energy`` J is in the capacitors to the chassis. With two nodes on it
    ``between`` A flows through the chassis; ``ended`` s, ``fuse`` and ``why`` say what ends it, or
    why nothing does. ``beside`` names what the chassis lies beside, and so takes out of action;
    ``bridged`` is there where that is an open disconnect.
    """

    nodes: tuple[str, ...]
    is_gap_open: bool
    voltages: Mapping[str, float | None]
    from_link: Mapping[str, float]
    gaps: Mapping[str, float | None]
    poles: float | None
    touched: tuple[Touched, ...]
    y_energy: float
    between: float | None = None
    ended: float | None = None
    fuse: str = ""
    why: str = ""
    beside: tuple[str, ...] = ()
    bridged: Bridged | None = None


def earth_faults(book: FigureBook, nodes: tuple[str, ...]) -> tuple[EarthResult, ...]:
    """Return the circuit with nodes on the chassis: disconnects closed, then open; raise Missing.

    Contactors are taken as closed, as they are on the road and welded.
    """
    gaps = tuple(element.name for element in book.circuit.of_kind(model.DISCONNECT))
    found = [_earthed(book, nodes, ())]
    if gaps:
        found.append(_earthed(book, nodes, gaps))
    return tuple(found)


def _earthed(book: FigureBook, nodes: tuple[str, ...], gone: tuple[str, ...]) -> EarthResult:
    parts = [*conducting(book, gone), *_leaks(book)]
    parts += [
        Part(f"earth {number}", "resistor", node, CHASSIS, DEAD_SHORT.si)
        for number, node in enumerate(dict.fromkeys(nodes), start=1)
    ]
    network = Network(tuple(parts))
    charged = Network((*parts, *_charged_links(book, parts)))
    points = _points(book)
    voltages, by_link = _voltages(network, points), _voltages(charged, points)
    from_link = {
        name: volts
        for name, volts in by_link.items()
        if volts is not None and abs(volts) > abs(voltages[name] or 0.0) + _NOTHING
    }
    touched = [
        _touch(charged if name in from_link else network, name, points[name], voltage)
        for name, voltage in {**voltages, **from_link}.items()
        if voltage is not None and abs(voltage) > _NOTHING
    ]
    result = EarthResult(
        nodes,
        bool(gone),
        voltages,
        from_link,
        _gaps(book, network, gone),
        _across(solve_dc(network), points[PLUS], points[MINUS]),
        tuple(touched),
        max(_y_energy(book, network), _y_energy(book, charged)),
    )
    return _between(book, result, gone) if len(set(nodes)) > 1 else result


def _charged_links(book: FigureBook, parts: list[Part]) -> list[Part]:
    """Return charged link capacitors as sources: those that no pack holds to a voltage."""
    voltage = book.get(VOLTAGE)
    leaks = {each.name for each in book.circuit.of_kind(model.LEAK, model.MONITOR)}
    of = joined((part.a, part.b) for part in parts if part.name not in leaks)
    return [
        Part(each.name, "source", each.plus, each.minus, voltage, resistance=LINK_RESISTANCE.si)
        for each in book.circuit.of_kind(model.LINK)
        if voltage is not None
        and each.plus in of
        and each.minus in of
        and of[each.plus] != of[each.minus]
    ]


def _across(solved: DcSolution, one: str, other: str) -> float | None:
    """Return the voltage between two nodes, None where they float apart."""
    try:
        volts = solved.across(one, other)
    except NetworkError:
        return None
    return volts if abs(volts) > _NOTHING else 0.0


def _leaks(book: FigureBook) -> list[Part]:
    """Return isolation resistances and monitors, where they are known."""
    found = []
    for each in book.circuit.of_kind(model.LEAK, model.MONITOR):
        ohms = book.get(each.entry("resistance"))
        if ohms is not None and ohms < inf:
            found.append(Part(each.name, "resistor", each.plus, each.minus, ohms))
    return found


def _points(book: FigureBook) -> Mapping[str, str]:
    """Return the nodes looked at, by what a person calls them: the poles, and each disconnect."""
    levels = potentials(book.circuit)
    if not levels:
        raise Missing("hv")
    found = {
        PLUS: max(levels, key=levels.__getitem__),
        MINUS: min(levels, key=levels.__getitem__),
    }
    for each in book.circuit.of_kind(model.DISCONNECT):
        found[f"{each.name}, one side"] = each.plus
        found[f"{each.name}, other side"] = each.minus
    return found


def _voltages(network: Network, points: Mapping[str, str]) -> Mapping[str, float | None]:
    solved = solve_dc(network)
    return {name: _across(solved, node, CHASSIS) for name, node in points.items()}


def _touch(network: Network, name: str, node: str, voltage: float) -> Touched:
    body = body_impedance(abs(voltage)).si
    part = Part(BODY, "resistor", node, CHASSIS, body)
    current = solve_dc(network.changed({BODY: part})).currents[BODY]
    return Touched(name, voltage, body, abs(current))


def _gaps(book: FigureBook, network: Network, gone: tuple[str, ...]) -> Mapping[str, float | None]:
    """Return what stands across each open disconnect."""
    solved = solve_dc(network)
    ends = {name: book.circuit.by_name[name] for name in gone}
    found = {name: _across(solved, each.plus, each.minus) for name, each in ends.items()}
    return {name: None if volts is None else abs(volts) for name, volts in found.items()}


def _y_energy(book: FigureBook, network: Network) -> float:
    """Return the energy in the capacitors to the chassis."""
    solved = solve_dc(network)
    whole = 0.0
    for each in book.circuit.of_kind(model.Y_CAPACITOR):
        try:
            volts = solved.across(each.plus, each.minus)
        except NetworkError:
            continue
        whole += 0.5 * (book.get(each.entry("capacitance")) or 0.0) * volts**2
    return whole


def _between(book: FigureBook, result: EarthResult, gone: tuple[str, ...]) -> EarthResult:
    """Add what flows through the chassis between two nodes on it, and what ends it."""
    levels = potentials(book.circuit)
    ranked = sorted(set(result.nodes), key=lambda node: -levels.get(node, 0.0))
    pair = (ranked[0], ranked[1])
    network = Network(tuple(conducting(book, gone)))
    (fault,) = all_faults(network, [pair])
    if fault.resistance == inf or abs(fault.prospective) <= _NOTHING:
        if abs(levels.get(pair[0], 0.0) - levels.get(pair[1], 0.0)) > _LEVEL:
            return replace(result, between=0.0, why=NO_WAY_ROUND)
        beside = _beside(book.circuit, pair)
        bridged = _bridged(book, pair, gone) if fault.resistance == inf else None
        return replace(result, between=0.0, why=SAME_VOLTAGE, beside=beside, bridged=bridged)
    found = replace(result, between=abs(fault.prospective))
    try:
        ended, fuse = _ended(book, pair, fault, gone)
    except Missing as missing:
        return replace(found, why=_lacks(missing))
    return replace(found, ended=ended, fuse=fuse)


def _lacks(missing: Missing) -> str:
    return missing.reason or f"the build does not give {', '.join(missing.paths)}"


def _beside(circuit: Circuit, pair: tuple[str, str]) -> tuple[str, ...]:
    """Return the devices along a pole that the chassis lies beside, from one node to the other."""
    along = [e for e in circuit.elements if e.kind in CONDUCTING]
    edges = [*((e.plus, e.minus) for e in along), pair]
    for block in blocks(edges):
        if len(along) in block:
            inside = [along[number] for number in sorted(block) if number < len(along)]
            return tuple(dict.fromkeys(e.device for e in inside))
    return ()


def _bridged(book: FigureBook, pair: tuple[str, str], gone: tuple[str, ...]) -> Bridged | None:
    """Return a short between the pack's terminals, the chassis its way over the open gap."""
    chassis = Part("the chassis", "resistor", *pair, DEAD_SHORT.si)
    points = _points(book)
    ends = (points[PLUS], points[MINUS])
    network = Network((*conducting(book, gone), chassis))
    (fault,) = all_faults(network, [ends])
    if fault.resistance == inf or abs(fault.prospective) <= _NOTHING:
        return None
    current = abs(fault.prospective)
    try:
        ended, fuse = _first_to_end(book, ends, fault, (gone, (chassis,)))
    except Missing as missing:
        return Bridged(current, None, "", _lacks(missing))
    return Bridged(current, ended, fuse, "")


def _ended(
    book: FigureBook,
    pair: tuple[str, str],
    fault: Fault,
    gone: tuple[str, ...],
) -> tuple[float, str]:
    """Return after how long a fuse ends the current through the chassis, and which."""
    place = Place("through the chassis", *pair, "", "")
    if not gone:
        return cleared(book, Solved(conductors(book, FULL), {place: fault}), place, FULL)
    return _first_to_end(book, pair, fault, (gone, ()))


def _first_to_end(
    book: FigureBook,
    pair: tuple[str, str],
    fault: Fault,
    way: tuple[tuple[str, ...], tuple[Part, ...]],
) -> tuple[float, str]:
    """Return after how long the first fuse ends a fault; what is open and what bridges it given."""
    gone, bridges = way
    takes = {
        fuse.name: time_to_clear(book, fuse, abs(fault.prospective) * share, fault)
        for fuse in book.circuit.of_kind(model.FUSE)
        if (share := fault.shares.get(fuse.name, 0.0)) > _NO_SHARE
    }
    if not takes:
        raise Missing(reason=NOTHING_CLEARS)
    first = min(takes, key=takes.__getitem__)
    if takes[first] == inf:
        raise Missing(reason=f"too low to clear: the current never melts the {first}")
    rest = all_faults(Network((*conducting(book, (*gone, first)), *bridges)), [pair])[0]
    if rest.resistance != inf and abs(rest.prospective) > 0.0:
        raise Missing(reason=f"still fed another way once the {first} has opened")
    return takes[first], first
