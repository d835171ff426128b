"""The bones of a circuit as it is drawn: two rails from the pack outwards, and columns off them.

The rails run from where the strings join to where the last drive hangs. What stands in a rail is a
slot; what bypasses a stretch of one rail is a bridge; everything else is a column: between the two
rails, or from one of them to the chassis. A circuit that has no such bones gives None.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Element


@dataclass(frozen=True)
class Side:
    """Elements beside a chain, from one of its nodes to another, or to the chassis."""

    elements: tuple[Element, ...]
    nodes: tuple[str, ...]
    start: int
    end: int | None


@dataclass(frozen=True)
class Chain:
    """Elements one behind the other, with the nodes between them, and what stands beside them."""

    elements: tuple[Element, ...]
    nodes: tuple[str, ...]
    sides: tuple[Side, ...] = ()


@dataclass(frozen=True)
class Slot:
    """One place along the rails: what stands there in the plus rail and in the minus rail."""

    plus: Element | None
    minus: Element | None


@dataclass(frozen=True)
class Bridge:
    """Elements that bypass a rail from one slot's start to another's end."""

    is_plus: bool
    first: int
    last: int
    chain: Chain


@dataclass(frozen=True)
class Column:
    """A chain off the rails; ``region`` r lies before slot r."""

    region: int
    chain: Chain
    is_plus: bool
    is_to_chassis: bool

    @property
    def first(self) -> Element:
        """Return its first element."""
        return self.chain.elements[0]


@dataclass(frozen=True)
class Skeleton:
    """Rails, bridges and columns of a circuit."""

    slots: tuple[Slot, ...]
    plus_nodes: tuple[str, ...]
    minus_nodes: tuple[str, ...]
    bridges: tuple[Bridge, ...]
    columns: tuple[Column, ...]


def skeleton_of(circuit: Circuit) -> Skeleton | None:
    """Return the bones of a circuit, or None where it cannot be drawn on two rails."""
    packs = circuit.of_kind(model.PACK)
    users = _users(circuit)
    if not packs or not users:
        return None
    series = [e for e in circuit.of_kind(*model.SERIES) if CHASSIS not in (e.plus, e.minus)]
    plus = _rail(series, [e.plus for e in users], [e.plus for e in packs])
    minus = _rail(series, [e.minus for e in users], [e.minus for e in packs])
    if plus is None or minus is None or set(_nodes(plus)) & set(_nodes(minus)):
        return None
    return _with_parts(circuit, plus, minus)


Path = tuple[str, tuple[Element, ...]]


def _users(circuit: Circuit) -> tuple[Element, ...]:
    """Return what the rails run to: the drives, or whatever else takes current."""
    for kinds in ((model.INVERTER,), tuple(model.CONVERTERS), tuple(model.ACROSS)):
        found = circuit.of_kind(*sorted(kinds))
        if found:
            return found
    return ()


def _rail(series: Sequence[Element], ends: list[str], starts: list[str]) -> Path | None:
    """Return the stretch of one pole that everything between packs and drives runs over."""
    back = [path for start in dict.fromkeys(starts) if (path := _path(series, ends[0], start))]
    if not back:
        return None
    begin = _nodes(_shared(back))[-1]
    out = [path for end in dict.fromkeys(ends) if (path := _path(series, begin, end))]
    return _shared(out) if len(out) == len(dict.fromkeys(ends)) else None


def _shared(paths: list[Path]) -> Path:
    """Return what some paths from one node have in common."""
    together: list[Element] = []
    for steps in zip(*(path[1] for path in paths), strict=False):
        if any(step is not steps[0] for step in steps):
            break
        together.append(steps[0])
    return paths[0][0], tuple(together)


def _nodes(path: Path) -> tuple[str, ...]:
    """Return the nodes along a path."""
    nodes = [path[0]]
    for element in path[1]:
        nodes.append(_other(element, nodes[-1]))
    return tuple(nodes)


def _other(element: Element, node: str) -> str:
    return element.minus if element.plus == node else element.plus


_LAST_CHOICE = frozenset({model.PRECHARGE_RESISTOR, model.PRECHARGE_RELAY})


def _path(elements: Iterable[Element], start: str, end: str) -> Path | None:
    """Return the shortest way between two nodes; over a precharge branch only if there is no other.

    Among ways of one length, what carries or uses current comes before what only lies across.
    """
    usable = list(elements)
    plain = [e for e in usable if e.kind not in _LAST_CHOICE]
    for choice in (plain, usable):
        found = _breadth_first(choice, start, end)
        if found is not None:
            return found
    return None


def _breadth_first(elements: list[Element], start: str, end: str) -> Path | None:
    at: dict[str, list[Element]] = {}
    for element in sorted(elements, key=_standing):
        at.setdefault(element.plus, []).append(element)
        at.setdefault(element.minus, []).append(element)
    came: dict[str, tuple[str, Element] | None] = {start: None}
    queue = deque([start])
    while queue and end not in came:
        node = queue.popleft()
        for element in at.get(node, ()):
            further = _other(element, node)
            if further not in came and further != node:
                came[further] = (node, element)
                queue.append(further)
    if end not in came:
        return None
    steps: list[Element] = []
    step = came[end]
    while step is not None:
        steps.append(step[1])
        step = came[step[0]]
    return start, tuple(reversed(steps))


def _standing(element: Element) -> int:
    return 0 if element.kind in model.SERIES | model.CONVERTERS or element.kind == model.PACK else 1


def _slots(plus: Path, minus: Path) -> tuple[Slot, ...]:
    """Put what stands in the rails side by side: the two poles of one device share a slot."""
    slots: list[Slot] = []
    below = list(minus[1])
    for element in plus[1]:
        twin = next((n for n, e in enumerate(below) if e.device == element.device), None)
        if twin is None:
            slots.append(Slot(element, None))
            continue
        slots += [Slot(None, each) for each in below[:twin]]
        slots.append(Slot(element, below[twin]))
        del below[: twin + 1]
    slots += [Slot(None, each) for each in below]
    return tuple(slots)


def node_regions(slots: Sequence[Slot], nodes: Sequence[str], is_plus: bool) -> dict[str, range]:
    """Return in which regions each node of a rail lies."""
    starts = [0]
    for number, slot in enumerate(slots):
        if (slot.plus if is_plus else slot.minus) is not None:
            starts.append(number + 1)
    ends = [*starts[1:], len(slots) + 1]
    return {node: range(start, end) for node, start, end in zip(nodes, starts, ends, strict=True)}


def _with_parts(circuit: Circuit, plus: Path, minus: Path) -> Skeleton | None:
    slots = _slots(plus, minus)
    plus_nodes, minus_nodes = _nodes(plus), _nodes(minus)
    regions = (
        node_regions(slots, plus_nodes, True),
        node_regions(slots, minus_nodes, False),
    )
    in_rails = {id(element) for element in (*plus[1], *minus[1])}
    rest = [element for element in circuit.elements if id(element) not in in_rails]
    bridges: list[Bridge] = []
    columns: list[Column] = []
    for part in _parts(rest, {*plus_nodes, *minus_nodes, CHASSIS}):
        found = _bridge(part, regions) or _column(part, regions)
        if found is None:
            return None
        if isinstance(found, Bridge):
            bridges.append(found)
        else:
            columns.append(found)
    return Skeleton(slots, plus_nodes, minus_nodes, tuple(bridges), tuple(columns))


Regions = tuple[dict[str, range], dict[str, range]]


def _parts(elements: Sequence[Element], fixed: set[str]) -> list[list[Element]]:
    """Return elements that hang together by nodes other than some fixed ones, in their order."""
    group: dict[str, str] = {}

    def top(node: str) -> str:
        while group.setdefault(node, node) != node:
            node = group[node]
        return node

    for element in elements:
        if element.plus not in fixed and element.minus not in fixed:
            group[top(element.minus)] = top(element.plus)
    parts: dict[str, list[Element]] = {}
    for element in elements:
        loose = [node for node in (element.plus, element.minus) if node not in fixed]
        key = f"node {top(loose[0])}" if loose else f"element {element.name}"
        parts.setdefault(key, []).append(element)
    return list(parts.values())


def _touched(part: Iterable[Element], nodes: Iterable[str]) -> list[str]:
    ends = {node for element in part for node in (element.plus, element.minus)}
    return [node for node in nodes if node in ends]


def _bridge(part: list[Element], regions: Regions) -> Bridge | None:
    for number, rail in enumerate(regions):
        ends = _touched(part, rail)
        others = _touched(part, [*regions[1 - number], CHASSIS])
        if len(ends) != 1 + 1 or others:
            continue
        chain = chain_of(part, ends[0], ends[1])
        if chain is None or chain.sides:
            return None
        first = rail[ends[0]].stop - 1
        return Bridge(number == 0, first, rail[ends[1]].start - 1, chain)
    return None


def _column(part: list[Element], regions: Regions) -> Column | None:
    plus, minus = _touched(part, regions[0]), _touched(part, regions[1])
    is_to_chassis = bool(_touched(part, [CHASSIS]))
    if len(plus) == 1 and len(minus) == 1:
        spans = regions[0][plus[0]], regions[1][minus[0]]
        common = [region for region in spans[0] if region in spans[1]]
        chain = chain_of(part, plus[0], minus[0])
        if not common or chain is None:
            return None
        return Column(common[0], chain, True, False)
    if len(plus) + len(minus) == 1 and is_to_chassis:
        node = (plus or minus)[0]
        chain = chain_of(part, node, CHASSIS)
        if chain is None or chain.sides:
            return None
        span = regions[0 if plus else 1][node]
        return Column(span[-1], chain, bool(plus), True)
    return None


def chain_of(part: Sequence[Element], start: str, end: str) -> Chain | None:
    """Return elements as a chain between two nodes with others beside it; None if they are none."""
    through = [e for e in part if end == CHASSIS or CHASSIS not in (e.plus, e.minus)]
    path = _path(through, start, end)
    if path is None or not path[1]:
        return None
    nodes = _nodes(path)
    used = {id(element) for element in path[1]}
    rest = [element for element in part if id(element) not in used]
    sides = [_side(each, nodes) for each in _parts(rest, {*nodes, CHASSIS})]
    whole = [side for side in sides if side is not None]
    if len(whole) != len(sides):
        return None
    whole.sort(key=lambda side: len(nodes) if side.end is None else side.end - side.start)
    return Chain(path[1], nodes, tuple(whole))


def _side(part: list[Element], nodes: tuple[str, ...]) -> Side | None:
    ends = _touched(part, nodes)
    if CHASSIS not in nodes:
        ends += _touched(part, [CHASSIS])
    if len(ends) != 1 + 1:
        return None
    path = _path(part, ends[0], ends[1])
    if path is None or len(path[1]) != len(part):
        return None
    start = nodes.index(ends[0])
    return Side(path[1], _nodes(path), start, nodes.index(ends[1]) if ends[1] in nodes else None)
