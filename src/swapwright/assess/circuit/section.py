"""Live or not: what each section of a circuit may hold, for any state of its switches.

A section is what hangs together when every switch is open. A contactor never counts as an isolating
gap, and one that has not been measured counts as welded; a disconnect does count where a person has
opened and locked it. A capacitor is a source as a pack is: it counts as charged, and its charge
goes wherever a conductor or a contactor that may have welded leads. Nothing here ever says that a
section is dead.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from swapwright.assess.circuit.span import islands, range_over
from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Element, slug
from swapwright.physics.circuit.graph import blocks, groups

Word = Literal["live", "may be live", "stored charge", "separated, not measured"]

LIVE: Word = "live"
MAY_BE_LIVE: Word = "may be live"
STORED: Word = "stored charge"
SEPARATED: Word = "separated, not measured"

CONTACTORS = frozenset({model.CONTACTOR, model.PRECHARGE_RELAY})
CAPACITORS = frozenset({model.LINK, model.Y_CAPACITOR})
WHOLE = 1.0
"""The pack's highest voltage, as a share of itself."""

FROM_OUTSIDE: Mapping[str, str] = {
    model.CHARGER: "charging plug",
    model.INLET: "charging plug",
    model.DCDC: "12 V battery",
    model.INVERTER: "turning wheels",
}
"""What makes a source of a converter, from outside the circuit."""


@dataclass(frozen=True)
class SwitchState:
    """Which switches are closed, and which outside sources are still joined, by name.

    ``measured_open`` names contactors a person has measured to be open; no others are trusted.
    """

    closed: frozenset[str] = frozenset()
    joined: frozenset[str] = frozenset(FROM_OUTSIDE.values())
    measured_open: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Section:
    """What hangs together with every switch open; named after the first thing of note in it."""

    name: str
    nodes: frozenset[str]
    elements: tuple[str, ...]

    @property
    def slug(self) -> str:
        """Return its name as it stands in figure ids."""
        return slug(self.name)


@dataclass(frozen=True)
class Reach:
    """A source that reaches a section, and the open contactors that would have to be welded.

    ``through_one`` tells whether any single one of them welded would do; else it takes them all.
    """

    source: str
    welded: tuple[str, ...] = ()
    through_one: bool = False


@dataclass(frozen=True)
class SectionState:
    """What a section is in a state of the switches, and every source that can reach it.

    ``one_pole`` names sources that still stand on one pole of it: with an isolation fault
    elsewhere that pole is live to the chassis. ``span`` is the share of the pack's voltage that can
    stand between two points of it, charge counted; ``driven_span`` is the same without charge, what
    stays when every capacitor has been discharged; ``pole_span`` is what one isolation fault can
    put between a point of it and the chassis. ``stores`` names its capacitors, ``charges`` those
    elsewhere that can reach it.
    """

    section: Section
    word: Word
    reached_by: tuple[Reach, ...]
    one_pole: tuple[str, ...]
    span: float
    driven_span: float
    pole_span: float
    stores: tuple[str, ...]
    charges: tuple[Reach, ...]

    @property
    def rests_on_charge(self) -> bool:
        """Tell whether more can stand in it than what drives it: until it has been discharged."""
        return self.span > self.driven_span


@model.kept
def sections(circuit: Circuit) -> tuple[Section, ...]:
    """Return the sections of a circuit, in the order of its nodes."""
    apart = _apart(circuit)
    found = []
    for numbers in groups(range(len(apart)), _two_poles(circuit, apart)):
        group = tuple(node for number in numbers for node in apart[number])
        nodes = frozenset(group)
        inside = tuple(e for e in circuit.elements if not e.is_switch and {e.plus, e.minus} & nodes)
        found.append(Section(_name(circuit, inside, nodes), nodes, tuple(e.name for e in inside)))
    return tuple(found)


def _apart(circuit: Circuit) -> tuple[tuple[str, ...], ...]:
    """Return the nodes in groups that hang together with every switch open."""
    kept = [e for e in circuit.elements if not e.is_switch and e.kind not in model.TO_CHASSIS]
    return groups(circuit.nodes, [(e.plus, e.minus) for e in kept])


def _with_meters(circuit: Circuit) -> Circuit:
    """Return a circuit with a meter between the poles of each section that has nothing there.

    Between two bare ends no current flows, and the whole pack may stand there all the same.
    """
    apart = _apart(circuit)
    meters = [
        Element(f"meter at {apart[one][0]}, {apart[other][0]}", model.LOAD, *ends, "meter", "")
        for one, other in dict.fromkeys(_two_poles(circuit, apart))
        if one != other
        for ends in ((apart[one][0], apart[other][0]),)
    ]
    return Circuit((*circuit.elements, *meters))


def _two_poles(circuit: Circuit, apart: tuple[tuple[str, ...], ...]) -> list[tuple[int, int]]:
    """Return which groups are the two poles of one section, though nothing joins them.

    Between two pairs of contactors lies no more than a piece of busbar in each pole: the two are
    one section, with the whole pack between them.
    """
    of = {node: number for number, group in enumerate(apart) for node in group}
    between = model.ACROSS | {model.PACK}
    joined = {
        of[node]
        for e in circuit.elements
        if e.kind in between
        for node in (e.plus, e.minus)
        if node in of
    }
    first: dict[tuple[str, str], int] = {}
    found = []
    for element in circuit.elements:
        for end, node in (("plus", element.plus), ("minus", element.minus)):
            number = of.get(node)
            if element.kind in model.SERIES and number is not None and number not in joined:
                found.append((first.setdefault((element.device, end), number), number))
    return found


def _name(circuit: Circuit, inside: tuple[Element, ...], nodes: frozenset[str]) -> str:
    for kinds in (frozenset({model.PACK}), model.CONVERTERS, model.ACROSS):
        for element in inside:
            if element.kind in kinds:
                return element.name
    for element in inside:
        if element.kind in model.SERIES:
            return element.device
    before = next((e.device for e in circuit.elements if e.is_switch and e.minus in nodes), "")
    behind = next((e.device for e in circuit.elements if e.is_switch and e.plus in nodes), "")
    if before and behind:
        return f"between {before} and {behind}"
    return f"behind {before}" if before else f"before {behind}"


def live_or_not(circuit: Circuit, state: SwitchState) -> tuple[SectionState, ...]:
    """Return what each section is in a state of the switches."""
    reaching = _Reaching(_with_meters(circuit), state)
    worst = _graph(circuit, reaching.worst)
    levels = islands(worst)
    return tuple(_state(reaching, section, worst, levels) for section in sections(circuit))


def _graph(circuit: Circuit, closed: Iterable[str]) -> tuple[Element, ...]:
    """Return the elements that conduct: all but open switches and what goes to the chassis."""
    shut = set(closed)
    return tuple(
        e
        for e in circuit.elements
        if e.kind not in model.TO_CHASSIS and (not e.is_switch or e.name in shut)
    )


def _is_source(element: Element, state: SwitchState) -> bool:
    outside = FROM_OUTSIDE.get(element.kind)
    return element.kind == model.PACK or (outside is not None and outside in state.joined)


def source_name(element: Element) -> str:
    """Return how a source is named: a converter by what makes a source of it."""
    outside = FROM_OUTSIDE.get(element.kind)
    return element.name if outside is None else f"{element.name} ({outside})"


Fed = Mapping[str, frozenset[str]]
"""For each element the names of what can drive current through it."""


class _Reaching:
    """What reaches the elements of a circuit, for any of its contactors welded."""

    def __init__(self, circuit: Circuit, state: SwitchState) -> None:
        self.circuit = circuit
        self.state = state
        untrusted = [
            e.name
            for e in circuit.elements
            if e.kind in CONTACTORS and e.name not in state.measured_open
        ]
        self.worst = state.closed | frozenset(untrusted)
        self.opened = tuple(name for name in untrusted if name not in state.closed)
        self._known: dict[tuple[str, frozenset[str]], Fed] = {}

    def sources(self, closed: frozenset[str]) -> Fed:
        """Return the packs and outside sources that drive each element."""
        return self._once("sources", closed, lambda: _fed_by(self._parts(closed), self._source))

    def charges(self, closed: frozenset[str]) -> Fed:
        """Return the capacitors whose charge reaches each element, over the chassis too."""
        return self._once("charges", closed, lambda: _fed_by(self._stored(closed), _capacitor))

    def _once(self, what: str, closed: frozenset[str], make: Callable[[], Fed]) -> Fed:
        if (what, closed) not in self._known:
            self._known[what, closed] = make()
        return self._known[what, closed]

    def _parts(self, closed: frozenset[str]) -> tuple[Element, ...]:
        return _graph(self.circuit, closed)

    def _stored(self, closed: frozenset[str]) -> tuple[Element, ...]:
        return (*self._parts(closed), *self.circuit.of_kind(model.Y_CAPACITOR))

    def _source(self, element: Element) -> str:
        return source_name(element) if _is_source(element, self.state) else ""


def _capacitor(element: Element) -> str:
    return element.name if element.kind in CAPACITORS else ""


def _fed_by(graph: tuple[Element, ...], named: Callable[[Element], str]) -> Fed:
    """Return for each element the sources that can drive current through it."""
    found: dict[str, set[str]] = {}
    for block in blocks([(e.plus, e.minus) for e in graph]):
        inside = [graph[number] for number in block]
        sources = {e.name: named(e) for e in inside if named(e)}
        for element in inside:
            found.setdefault(element.name, set()).update(
                source
                for name, source in sources.items()
                if len(inside) > 1 or name == element.name
            )
    return {name: frozenset(sources) for name, sources in found.items()}


def _state(
    reaching: _Reaching,
    section: Section,
    worst: tuple[Element, ...],
    levels: tuple[Mapping[str, float], ...],
) -> SectionState:
    circuit = reaching.circuit
    touching = tuple(e.name for e in circuit.at(section.nodes))
    reached = _reached(reaching, reaching.sources, touching)
    stores = tuple(name for name in section.elements if circuit.by_name[name].kind in CAPACITORS)
    charges = tuple(
        each for each in _reached(reaching, reaching.charges, touching) if each.source not in stores
    )
    capacitors = {e.name for e in circuit.of_kind(*CAPACITORS)}
    on_one = _one_pole(reaching, section, worst) - {e.source for e in (*reached, *charges)}
    # Where a source reaches it anyway, charge on one pole of it adds nothing.
    on_one -= capacitors if reached else set(stores)
    if any(not each.welded for each in reached):
        word = LIVE
    elif reached:
        word = MAY_BE_LIVE
    else:
        word = STORED if stores or charges else SEPARATED
    packs = {e.name for e in circuit.of_kind(model.PACK)}
    from_outside = any(each.source not in packs for each in reached)
    near = [each for each in levels if each.keys() & section.nodes]
    driven = max((range_over(each, section.nodes) for each in near), default=0.0)
    pole = max((range_over(each, each.keys()) for each in near), default=0.0)
    # A charger or a motor that turns: up to the highest the circuit is made for.
    driven = WHOLE if from_outside else driven
    is_charged = bool(stores or charges)
    return SectionState(
        section,
        word,
        reached,
        tuple(sorted(on_one)),
        span=max(driven, WHOLE) if is_charged else driven,
        driven_span=driven,
        pole_span=max(pole, WHOLE) if is_charged or from_outside or on_one - packs else pole,
        stores=stores,
        charges=charges,
    )


def _of(touching: tuple[str, ...], fed: Fed) -> frozenset[str]:
    return frozenset().union(*(fed.get(name, frozenset()) for name in touching))


def _reached(
    reaching: _Reaching, fed: Callable[[frozenset[str]], Fed], touching: tuple[str, ...]
) -> tuple[Reach, ...]:
    """Return what reaches a section: as the switches are, then through welded contactors."""
    now = _of(touching, fed(reaching.state.closed))
    maybe = _of(touching, fed(reaching.worst)) - now
    found = [Reach(name) for name in sorted(now)]
    found += [_through(reaching, fed, touching, name) for name in sorted(maybe)]
    return tuple(found)


def _through(
    reaching: _Reaching,
    fed: Callable[[frozenset[str]], Fed],
    touching: tuple[str, ...],
    source: str,
) -> Reach:
    """Return which open contactors, welded, let a source into a section."""
    closed = reaching.state.closed
    single = tuple(
        name for name in reaching.opened if source in _of(touching, fed(closed | {name}))
    )
    if single:
        return Reach(source, single, through_one=True)
    needed = list(reaching.opened)
    for name in reaching.opened:
        rest = frozenset(needed) - {name}
        if source in _of(touching, fed(closed | rest)):
            needed.remove(name)
    return Reach(source, tuple(needed))


def _one_pole(reaching: _Reaching, section: Section, worst: tuple[Element, ...]) -> frozenset[str]:
    """Return the sources that stand on some node of a section, current or not."""
    along = [(e.plus, e.minus) for e in worst if e.kind in model.SERIES]
    nodes = {node for e in worst for node in (e.plus, e.minus)} - {CHASSIS}
    near: set[str] = set(section.nodes)
    for group in groups(sorted(nodes), along):
        if near & set(group):
            near |= set(group)
    circuit, state = reaching.circuit, reaching.state
    sources = {source_name(e) for e in worst if _is_source(e, state) and {e.plus, e.minus} & near}
    stores = {e.name for e in circuit.of_kind(*CAPACITORS) if {e.plus, e.minus} & near}
    return frozenset(sources | stores)
