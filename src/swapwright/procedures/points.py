"""Where a circuit is measured once it has been opened: points of absence, gap sides, phases.

A point of absence lies in a section that nothing reaches any more by the file, whatever contactor
has welded. In a section where the pack stands there is no absence to be measured.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from swapwright.assess.circuit.section import (
    LIVE,
    MAY_BE_LIVE,
    SEPARATED,
    STORED,
    SectionState,
    SwitchState,
    live_or_not,
)
from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Device, Element, slug
from swapwright.physics.circuit.graph import groups

ABSENT = (STORED, SEPARATED)
_AT_A_CONNECTOR = model.CONVERTERS | {model.LINK}


@dataclass(frozen=True)
class MeasuringPoint:
    """A pair of conductors a meter reaches, by their nodes; ``minus`` is empty where there is one.

    ``about`` names the elements that stand between them, or the devices of the bare conductors.
    """

    name: str
    plus: str
    minus: str
    section: str
    about: tuple[str, ...]

    @property
    def slug(self) -> str:
        """Return its name as it stands in a step's id."""
        return slug(self.name)


@dataclass(frozen=True)
class Opened:
    """A circuit with every gap open and every outside source taken away: its sections' states."""

    circuit: Circuit
    states: tuple[SectionState, ...]

    @property
    def absent(self) -> tuple[SectionState, ...]:
        """Return the sections absence can be measured in."""
        return tuple(state for state in self.states if state.word in ABSENT)

    @property
    def reached(self) -> tuple[SectionState, ...]:
        """Return the sections a source stands in, or may."""
        return tuple(state for state in self.states if state.word in (LIVE, MAY_BE_LIVE))

    def state_at(self, node: str) -> SectionState | None:
        """Return the state of the section a node lies in."""
        return next((state for state in self.states if node in state.section.nodes), None)


def opened(circuit: Circuit) -> Opened:
    """Return a circuit after the last isolating step; contactors count as welded."""
    return Opened(circuit, live_or_not(circuit, SwitchState(joined=frozenset())))


def measuring_points(found: Opened) -> tuple[MeasuringPoint, ...]:
    """Return the points of absence: at every converter and capacitor, else at the bare ends."""
    points: list[MeasuringPoint] = []
    for state in found.absent:
        points += _of_section(found.circuit, state)
    return _named_apart(points)


def phase_units(found: Opened) -> tuple[Element, ...]:
    """Return the inverters whose phases are measured: those in sections of absence."""
    inside = {name for state in found.absent for name in state.section.elements}
    return tuple(e for e in found.circuit.of_kind(model.INVERTER) if e.name in inside)


def gaps(circuit: Circuit) -> tuple[Device, ...]:
    """Return the gaps a person opens and locks; a contactor is never one."""
    return circuit.devices_of(model.DISCONNECT)


def elements_of(device: Device) -> tuple[str, ...]:
    """Return the names of a device's elements."""
    return tuple(each.name for each in device.elements)


def gap_sides(circuit: Circuit) -> tuple[Element, ...]:
    """Return the elements with two sides each: one of a gap in one pole, two of one in both."""
    return circuit.of_kind(model.DISCONNECT)


def _of_section(circuit: Circuit, state: SectionState) -> list[MeasuringPoint]:
    inside = [circuit.by_name[name] for name in state.section.elements]
    at = [e for e in inside if e.kind in _AT_A_CONNECTOR and _is_pair(e)]
    if not at:
        at = [e for e in inside if e.kind in model.ACROSS and _is_pair(e)]
    if not at:
        return _bare(circuit, state, inside)
    pairs: dict[frozenset[str], list[Element]] = {}
    for element in at:
        pairs.setdefault(frozenset((element.plus, element.minus)), []).append(element)
    return [_point(state, together) for together in pairs.values()]


def _is_pair(element: Element) -> bool:
    return element.plus != element.minus and CHASSIS not in (element.plus, element.minus)


def _point(state: SectionState, together: Sequence[Element]) -> MeasuringPoint:
    first = next((e for e in together if e.kind in model.CONVERTERS), together[0])
    names = tuple(e.name for e in together)
    return MeasuringPoint(first.name, first.plus, first.minus, state.section.name, names)


def _bare(circuit: Circuit, state: SectionState, inside: Iterable[Element]) -> list[MeasuringPoint]:
    """Return the points of a section of nothing but conductors: between its poles, or the one."""
    nodes = [node for node in circuit.nodes if node in state.section.nodes]
    along = [(e.plus, e.minus) for e in inside if CHASSIS not in (e.plus, e.minus)]
    apart = groups(nodes, along)
    about = tuple(dict.fromkeys(e.device for e in circuit.at(state.section.nodes)))
    name = state.section.name
    if len(apart) == 1:
        return [MeasuringPoint(name, apart[0][0], "", name, about)]
    return [MeasuringPoint(name, apart[0][0], other[0], name, about) for other in apart[1:]]


def _named_apart(points: Iterable[MeasuringPoint]) -> tuple[MeasuringPoint, ...]:
    """Return the points with names whose slugs differ: the later ones are numbered."""
    taken: set[str] = set()
    found = []
    for point in points:
        name, number = point.name, 1
        while slug(name) in taken:
            number += 1
            name = f"{point.name} {number}"
        taken.add(slug(name))
        found.append(MeasuringPoint(name, point.plus, point.minus, point.section, point.about))
    return tuple(found)
