"""The places of a circuit's symbols on two rails: plus above, minus below, packs at the left.

A column's place depends on what stands before it in the order of the file, and on no text: columns
have fixed widths, labels are wrapped to them, and the rails keep a fixed distance unless a column
needs more. So a changed value moves nothing, and a branch taken out only closes its gap.
"""

from __future__ import annotations

from collections.abc import Mapping

from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Element
from swapwright.drawing.ladder import ladder
from swapwright.drawing.placed import LABEL_GAP, Canvas, Layout, label_room, texts_of
from swapwright.drawing.rows import DRIVE_LIFT, Heights, Rows
from swapwright.drawing.skeleton import (
    Bridge,
    Column,
    Side,
    Skeleton,
    node_regions,
    skeleton_of,
)
from swapwright.drawing.svg import Point
from swapwright.drawing.symbol import extent

SLOT = 28.5
COVERED_ROOM = 24.0
"""Width of a label under a bypassed slot: words of sections stand beside it."""
MARGIN = 2.2
MIN_DEPTH = 185.0
LEAD = 17.0
BRIDGE_RISE = 11.0
CHASSIS_GAP = 17.0
TWIN_SHIFT = 7.0
WORD_GAP = 2.4


def layout_of(
    circuit: Circuit,
    labels: Mapping[str, tuple[str, ...]],
    marks: Mapping[str, str],
    states: Mapping[str, str] | None = None,
) -> Layout:
    """Return where everything of a circuit stands.

    ``labels`` are lines of text and ``marks`` verdicts, both by device; ``states`` words by node.
    A circuit that has no two rails is laid out as a ladder: each node a line, each element a rung.
    """
    texts = texts_of(circuit, dict(labels), dict(marks), None if states is None else dict(states))
    canvas = Canvas(texts)
    skeleton = skeleton_of(circuit)
    if skeleton is None:
        ladder(circuit, canvas)
    else:
        _Rails(skeleton, canvas).place()
    return canvas.layout()


class _Rails:
    """A circuit on two rails, being placed from left to right."""

    def __init__(self, skeleton: Skeleton, canvas: Canvas) -> None:
        self.bones = skeleton
        self.canvas = canvas
        self.heights = Heights((column.chain for column in skeleton.columns), canvas.texts)
        between, below = [MIN_DEPTH], [CHASSIS_GAP]
        for column in skeleton.columns:
            total = Rows(column.chain, self.heights).total
            if not column.is_to_chassis:
                between.append(total)
            elif column.is_plus:
                between.append(total + LEAD)
            else:
                below.append(total)
        self.top = 0.0
        self.bottom = max(between)
        self.chassis = self.bottom + max(below)
        self.x = 0.0
        self.slot_at: list[tuple[float, float]] = []
        self.busbars: list[tuple[int, float, float]] = []

    def place(self) -> None:
        """Place everything."""
        widths = self._slot_widths()
        starts = []
        for region in range(len(self.bones.slots) + 1):
            start = self.x
            count = self._region(region)
            starts.append(start)
            if count > 1:
                self.busbars.append((region, start, self.x))
            if region < len(self.bones.slots):
                self.slot_at.append((self.x, self.x + widths[region]))
                self.x += widths[region]
        self._slots()
        for bridge in self.bones.bridges:
            self._bridge(bridge)
        self._rail_lines(starts)
        self.canvas.chassis_line(self.chassis)

    def _slot_widths(self) -> list[float]:
        """Return how wide each slot is: wider where a bridge over it has more elements."""
        widths = [SLOT] * len(self.bones.slots)
        for bridge in self.bones.bridges:
            covered = range(bridge.first, bridge.last + 1)
            lacking = SLOT * len(bridge.chain.elements) + 4.0 - sum(widths[n] for n in covered)
            for number in covered:
                widths[number] += max(lacking, 0.0) / len(covered)
        return widths

    def _region(self, region: int) -> int:
        """Place the columns of a region; return how many hang between the rails."""
        here = [column for column in self.bones.columns if column.region == region]
        across = [column for column in here if not column.is_to_chassis]
        for column in across:
            self._across(column)
        groups: dict[str, list[Column]] = {}
        for column in here:
            if column.is_to_chassis:
                groups.setdefault(column.first.device, []).append(column)
        for group in groups.values():
            self._to_chassis(group)
        return len(across)

    def _across(self, column: Column) -> None:
        """Place a chain between the rails, with what stands beside it."""
        chain = column.chain
        ys = Rows(chain, self.heights).places(self.bottom)
        left = max(extent(each.kind).above for each in chain.elements)
        x = self.x + left + MARGIN
        right = max(_label_end(x, each) for each in chain.elements)
        for place, element in enumerate(chain.elements):
            self._upright(element, x, ys[place], ys[place + 1], chain.nodes[place])
        for place in range(1, len(chain.nodes) - 1):
            self.canvas.word(chain.nodes[place], x + WORD_GAP, ys[place] - 1.0, is_above=True)
        self._hang(chain.nodes[0], x, is_plus=True)
        self._hang(chain.nodes[-1], x, is_plus=False)
        for side in chain.sides:
            right = self._beside(side, x, right, ys, chain.nodes)
        self.x = right + MARGIN

    def _hang(self, node: str, x: float, *, is_plus: bool) -> None:
        self.canvas.joint(node, (x, self.top if is_plus else self.bottom))

    def _upright(
        self,
        element: Element,
        x: float,
        start: float,
        end: float,
        first: str,
        corners: tuple[tuple[Point, ...], tuple[Point, ...]] = ((), ()),
    ) -> None:
        """Place an element upright between two heights, with its leads and its label.

        ``corners`` are points its upper lead comes from and its lower lead goes on to.
        """
        middle = (start + end) / 2.0
        reach = extent(element.kind).reach
        second = element.minus if element.plus == first else element.plus
        self.canvas.wire(first, *corners[0], (x, start), (x, middle - reach))
        self.canvas.wire(second, (x, middle + reach), (x, end), *corners[1])
        self.canvas.sign(element, x, middle, first=first, is_upright=True)
        room = label_room(element.kind)
        text_x = x + _label_offset(element)
        if element.kind == model.INVERTER:
            # The motor stands where the label would: the label stands over it.
            height = self.canvas.texts.height(element, room)
            self.canvas.label_beside(element, text_x, middle - DRIVE_LIFT - height / 2.0, room)
            return
        self.canvas.label_beside(element, text_x, middle - self._lift(start, end), room)

    def _lift(self, start: float, end: float) -> float:
        """Return how far a label is raised to leave room for the word at the node below it."""
        room = self.canvas.texts.state_room
        return room / 2.0 if end - start < 2.0 * self.heights.row else 0.0

    def _beside(
        self, side: Side, x: float, right: float, ys: list[float], nodes: tuple[str, ...]
    ) -> float:
        """Place what stands beside a chain; return how far it reaches to the right."""
        at = right + MARGIN + max(extent(each.kind).above for each in side.elements)
        start = ys[side.start]
        end = self.chassis if side.end is None else ys[side.end]
        needed = [self.heights.of(element) for element in side.elements]
        stretch = 1.0 if side.end is None else (end - start) / sum(needed)
        self.canvas.joint(side.nodes[0], (x, start))
        for place, element in enumerate(side.elements):
            top = start + stretch * sum(needed[:place])
            foot = start + stretch * sum(needed[: place + 1])
            is_last = place == len(side.elements) - 1 and side.end is not None
            corners = ((x, start),) * (not place), ((x, end),) * is_last
            self._upright(element, at, top, foot, side.nodes[place], corners)
            if place:
                self.canvas.word(side.nodes[place], at + WORD_GAP, top - 1.0, is_above=True)
        if side.end is None:
            self._to_line(at, start + sum(needed), is_crossing=True)
        else:
            self.canvas.joint(side.nodes[-1], (x, end))
        return max(_label_end(at, each) for each in side.elements)

    def _to_line(self, x: float, start: float, *, is_crossing: bool) -> None:
        """Draw down to the line of the chassis, over the minus rail with a hop."""
        self.canvas.wire(CHASSIS, (x, start), (x, self.chassis))
        if is_crossing and start < self.bottom:
            self.canvas.hops.append((x, self.bottom))
        self.canvas.joint(CHASSIS, (x, self.chassis))

    def _to_chassis(self, group: list[Column]) -> None:
        """Place what hangs between the rails and the chassis, the poles of a device together."""
        first = group[0].first
        x = self.x + extent(first.kind).above + MARGIN
        right = x
        is_taken = {True: False, False: False}
        for column in group:
            if is_taken[column.is_plus]:
                x = right + MARGIN + extent(first.kind).above
                is_taken = {True: False, False: False}
            is_taken[column.is_plus] = True
            at = x if column.is_plus else x + TWIN_SHIFT
            right = max(right, self._down(column, at))
        self.x = right + MARGIN

    def _down(self, column: Column, x: float) -> float:
        """Place a chain down from a rail to the chassis; return how far it reaches."""
        chain = column.chain
        start = self.top if column.is_plus else self.bottom
        needed = [self.heights.of(element) for element in chain.elements]
        stretch = 1.0 if column.is_plus else (self.chassis - self.bottom) / sum(needed)
        if column.is_plus:
            start += LEAD
            self.canvas.wire(chain.nodes[0], (x, self.top), (x, start))
        for place, element in enumerate(chain.elements):
            top = start + stretch * sum(needed[:place])
            foot = start + stretch * sum(needed[: place + 1])
            self._upright(element, x, top, foot, chain.nodes[place])
            if place:
                self.canvas.word(chain.nodes[place], x + WORD_GAP, top - 1.0, is_above=True)
        self._hang(chain.nodes[0], x, is_plus=column.is_plus)
        self._to_line(x, start + stretch * sum(needed), is_crossing=column.is_plus)
        return max(_label_end(x, each) for each in chain.elements)

    def _slots(self) -> None:
        """Place what stands in the rails."""
        for number, slot in enumerate(self.bones.slots):
            start, end = self.slot_at[number]
            middle = (start + end) / 2.0
            for element, y in ((slot.plus, self.top), (slot.minus, self.bottom)):
                if element is None:
                    continue
                is_plus = element is slot.plus
                nodes = self.bones.plus_nodes if is_plus else self.bones.minus_nodes
                first = element.plus if _is_before(nodes, element) else element.minus
                self.canvas.sign(element, middle, y, first=first, is_upright=False)
                room = min(label_room(element.kind), SLOT - 2.0)
                if self._is_covered(number, is_plus):
                    self.canvas.label_below(element, middle, y + 5.0, min(room, COVERED_ROOM))
                else:
                    above = extent(element.kind).above + 1.0
                    self.canvas.label_above(element, middle, y - above, room)

    def _is_covered(self, slot: int, is_plus: bool) -> bool:
        return any(
            bridge.first <= slot <= bridge.last and bridge.is_plus == is_plus
            for bridge in self.bones.bridges
        )

    def _bridge(self, bridge: Bridge) -> None:
        """Place a bypass of a rail above it; one over another stands higher."""
        same = [each for each in self.bones.bridges if each.is_plus == bridge.is_plus]
        before = same[: same.index(bridge)]
        level = 1 + sum(each.first <= bridge.last and bridge.first <= each.last for each in before)
        rail = self.top if bridge.is_plus else self.bottom
        texts = self.canvas.texts
        lift = BRIDGE_RISE + texts.state_room / 2.0
        y = rail - lift - (level - 1) * (lift + texts.tallest + 6.0)
        start = self.slot_at[bridge.first][0] + 2.0
        end = self.slot_at[bridge.last][1] - 2.0
        chain = bridge.chain
        step = (end - start) / len(chain.elements)
        self.canvas.joint(chain.nodes[0], (start, rail))
        self.canvas.joint(chain.nodes[-1], (end, rail))
        for place, element in enumerate(chain.elements):
            left = start + place * step
            middle = left + step / 2.0
            reach = extent(element.kind).reach
            first = chain.nodes[place]
            rise = ((start, rail),) * (not place)
            fall = ((end, rail),) * (place == len(chain.elements) - 1)
            self.canvas.wire(first, *rise, (left, y), (middle - reach, y))
            self.canvas.wire(chain.nodes[place + 1], (middle + reach, y), (left + step, y), *fall)
            self.canvas.sign(element, middle, y, first=first, is_upright=False)
            above = extent(element.kind).above + 1.0
            self.canvas.label_above(element, middle, y - above, min(step - 2.0, SLOT - 2.0))
            if place:
                self.canvas.word(first, left + 8.0, y + 1.4, ends_there=True)

    def _rail_lines(self, starts: list[float]) -> None:
        """Draw both rails between what stands in them, heavier where branches leave."""
        last = len(self.bones.slots)
        for nodes, y, is_plus in (
            (self.bones.plus_nodes, self.top, True),
            (self.bones.minus_nodes, self.bottom, False),
        ):
            spans = node_regions(self.bones.slots, nodes, is_plus)
            hanging = [x for node, (x, at) in self.canvas.joints if at == y and node != CHASSIS]
            first = min(hanging)
            for node in nodes:
                span = spans[node]
                left, right = first, max(hanging)
                if span[0] > 0:
                    left = self._metal(span[0] - 1, is_plus)[1]
                if span[-1] < last:
                    right = self._metal(span[-1], is_plus)[0]
                for start, end in self._busbars(node, span, y):
                    self.canvas.wire(node, (left, y), (start, y))
                    self.canvas.wire(node, (start, y), (end, y), is_busbar=True)
                    left = end
                self.canvas.wire(node, (left, y), (right, y))
                if span[0] > 0:
                    self.canvas.word(node, starts[span[0]] + 3.0, y + 2.6, ends_there=True)
                elif is_plus:
                    self.canvas.word(node, first, y - 1.6, is_above=True)
                else:
                    self.canvas.word(node, first, y + 2.6)
        ends = [point[0] for node, point in self.canvas.joints if point[1] == self.bottom]
        self.canvas.hops = [hop for hop in self.canvas.hops if min(ends) < hop[0] < max(ends)]

    def _metal(self, slot: int, is_plus: bool) -> tuple[float, float]:
        """Return the two ends of the symbol that stands in a slot of a rail."""
        here = self.bones.slots[slot]
        element = here.plus if is_plus else here.minus
        middle = sum(self.slot_at[slot]) / 2.0
        reach = 0.0 if element is None else extent(element.kind).reach
        return middle - reach, middle + reach

    def _busbars(self, node: str, span: range, y: float) -> list[tuple[float, float]]:
        """Return the stretches of a rail that branches leave, from left to right."""
        stretches = []
        for region, start, end in self.busbars:
            at = [
                point[0]
                for other, point in self.canvas.joints
                if other == node and point[1] == y and start <= point[0] <= end
            ]
            if region in span and len(at) > 1:
                stretches.append((min(at), max(at)))
        return stretches


def _is_before(nodes: tuple[str, ...], element: Element) -> bool:
    """Tell whether an element's plus end comes before its minus end along a rail."""
    return nodes.index(element.plus) < nodes.index(element.minus)


def _label_offset(element: Element) -> float:
    room = extent(element.kind)
    return (room.above if element.kind == model.INVERTER else room.below) + LABEL_GAP


def _label_end(x: float, element: Element) -> float:
    """Return how far an upright symbol and its label may reach to the right."""
    end = x + _label_offset(element) + label_room(element.kind)
    return max(end, x + extent(element.kind).below)
