"""A circuit of any shape as a ladder: each node a level line, each element a rung of its own.

What two rails cannot show is drawn this way: nothing is lost and nothing overlaps, whatever is
joined to whatever. Lines come in the order of their potential and of their distance from the pack.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Element
from swapwright.drawing.placed import LABEL_GAP, Canvas, label_room
from swapwright.drawing.symbol import extent

MARGIN = 2.2
LEAST_ROW = 17.0
WORD_ROOM = 27.0


@dataclass(frozen=True)
class _Rank:
    """Where a node stands: its potential in packs, its steps from the pack."""

    potential: float
    distance: int


def ladder(circuit: Circuit, canvas: Canvas) -> None:
    """Place a circuit as a ladder."""
    ranks = _ranks(circuit)
    rungs = sorted(circuit.elements, key=lambda e: _nearest(e, ranks))
    xs = _columns(rungs)
    rows = _rows(circuit, ranks, rungs, xs)
    pitch = _pitch(canvas)
    for element in rungs:
        _rung(element, xs[element.name], rows, pitch, canvas)
    for node, row in rows.items():
        _level(node, row * pitch, xs, circuit, canvas)
    _cross(canvas)


def _ranks(circuit: Circuit) -> dict[str, _Rank]:
    """Return the rank of each node, walked from the first pack outwards."""
    at: dict[str, list[Element]] = {}
    for element in circuit.elements:
        for node in (element.plus, element.minus):
            at.setdefault(node, []).append(element)
    packs = circuit.of_kind(model.PACK)
    starts = [*(pack.minus for pack in packs), *at]
    ranks: dict[str, _Rank] = {}
    for start in starts:
        if start in ranks or start == CHASSIS:
            continue
        ranks[start] = _Rank(0.0, 0)
        queue = deque([start])
        while queue:
            node = queue.popleft()
            for element in at[node]:
                other = element.minus if element.plus == node else element.plus
                if other in ranks or other == CHASSIS or element.kind in model.ACROSS:
                    continue
                queue.append(other)
                ranks[other] = _next(ranks[node], element, node)
    return ranks


def _next(rank: _Rank, element: Element, node: str) -> _Rank:
    if element.kind != model.PACK:
        return _Rank(rank.potential, rank.distance + 1)
    up = element.share if element.minus == node else -element.share
    return _Rank(rank.potential + up, 0)


def _nearest(element: Element, ranks: dict[str, _Rank]) -> tuple[bool, int]:
    ends = [ranks[node].distance for node in (element.plus, element.minus) if node in ranks]
    return CHASSIS in (element.plus, element.minus), min(ends, default=0)


def _columns(rungs: list[Element]) -> dict[str, float]:
    """Return the place of each rung, from left to right."""
    xs: dict[str, float] = {}
    at = WORD_ROOM
    for element in rungs:
        room = extent(element.kind)
        x = at + room.above + MARGIN
        xs[element.name] = x
        offset = room.above if element.kind == model.INVERTER else room.below
        at = max(x + offset + LABEL_GAP + label_room(element.kind), x + room.below) + MARGIN
    return xs


def _rows(
    circuit: Circuit, ranks: dict[str, _Rank], rungs: list[Element], xs: dict[str, float]
) -> dict[str, int]:
    """Return the level of each node; lines that do not meet may share one, the chassis is last."""
    spans: dict[str, tuple[float, float]] = {}
    for element in rungs:
        x = xs[element.name]
        for node in (element.plus, element.minus):
            low, high = spans.get(node, (x, x))
            spans[node] = min(low, x), max(high, x)
    order = {node: place for place, node in enumerate(circuit.nodes)}
    nodes = sorted(ranks, key=lambda n: (-ranks[n].potential, ranks[n].distance, order[n]))
    levels: list[list[tuple[float, float]]] = []
    rows: dict[str, int] = {}
    for node in nodes:
        low, high = spans[node]
        low -= WORD_ROOM
        free = (
            number
            for number, taken in enumerate(levels)
            if all(high + MARGIN < left or right + MARGIN < low for left, right in taken)
        )
        row = next(free, len(levels))
        if row == len(levels):
            levels.append([])
        levels[row].append((low, high))
        rows[node] = row
    if CHASSIS in spans:
        rows[CHASSIS] = len(levels)
    return rows


def _pitch(canvas: Canvas) -> float:
    texts = canvas.texts
    has_drive = bool(texts.circuit.of_kind(model.INVERTER))
    tallest = texts.tallest + texts.state_room + 3.0
    drive = (2.0 * (texts.tallest + 7.0) + texts.state_room) * has_drive
    return max(LEAST_ROW + texts.state_room, tallest, drive)


def _rung(element: Element, x: float, rows: dict[str, int], pitch: float, canvas: Canvas) -> None:
    """Place an element between its two levels, its symbol under the upper one."""
    first, second = element.plus, element.minus
    if rows[first] > rows[second]:
        first, second = second, first
    top, bottom = rows[first] * pitch, rows[second] * pitch
    if first == second:
        bottom = top + pitch
    middle = top + (pitch - canvas.texts.state_room) / 2.0
    reach = extent(element.kind).reach
    canvas.wire(first, (x, top), (x, middle - reach))
    canvas.wire(second, (x, middle + reach), (x, bottom))
    canvas.sign(element, x, middle, first=first, is_upright=True)
    canvas.joint(first, (x, top))
    if first != second:
        canvas.joint(second, (x, bottom))
    room = label_room(element.kind)
    is_drive = element.kind == model.INVERTER
    offset = extent(element.kind).above if is_drive else extent(element.kind).below
    lift = 6.0 + canvas.texts.height(element, room) / 2.0 if is_drive else 0.0
    canvas.label_beside(element, x + offset + LABEL_GAP, middle - lift, room)


def _level(node: str, y: float, xs: dict[str, float], circuit: Circuit, canvas: Canvas) -> None:
    """Draw the line of a node, with its word before it."""
    if node == CHASSIS:
        canvas.chassis_line(y)
        return
    at = [xs[element.name] for element in circuit.at([node])]
    canvas.wire(node, (min(at), y), (max(at), y), is_busbar=len(at) > 1 + 1)
    canvas.word(node, min(at) - 2.4, y - 1.2, is_above=True, ends_there=True)


def _cross(canvas: Canvas) -> None:
    """Mark where rungs go past lines they are not joined to."""
    levels = [wire for wire in canvas.wires if wire.points[0][1] == wire.points[-1][1]]
    rungs = [wire for wire in canvas.wires if wire.points[0][0] == wire.points[-1][0]]
    for rung in rungs:
        x = rung.points[0][0]
        top, bottom = sorted((rung.points[0][1], rung.points[-1][1]))
        for level in levels:
            left, right = level.points[0][0], level.points[-1][0]
            y = level.points[0][1]
            if level.node != rung.node and top < y < bottom and left < x < right:
                canvas.crossings.append((rung.node, (x, y)))
