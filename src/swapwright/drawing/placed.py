"""What a layout is made of: where each symbol, wire, label and word stands, and how much it takes.

Lengths are millimetres of the drawing before it is fitted to its sheet, x to the right, y down.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Element
from swapwright.drawing import style
from swapwright.drawing.lettering import in_signs, text_width, wrapped
from swapwright.drawing.mark import SIZE
from swapwright.drawing.svg import Point
from swapwright.drawing.symbol import extent

WIDE_LABEL = 27.0
NARROW_LABEL = 22.5
LABEL_GAP = 1.2
MOST_NAME_LINES = 3
STATE_LINES = 2
STATE_WIDTH = 21.4
STATE_ROOM = 9.8
GROUND_ROOM = 8.0
GROUND_WIDTH = 20.0
LINE = style.LABEL * style.LEADING
VERDICT_LINE = LINE + 0.4


@dataclass(frozen=True)
class Box:
    """A rectangle of the drawing."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Box, slack: float = 0.01) -> bool:
        """Tell whether two rectangles have more than an edge in common."""
        return (
            self.left < other.right - slack
            and other.left < self.right - slack
            and self.top < other.bottom - slack
            and other.top < self.bottom - slack
        )


@dataclass(frozen=True)
class Sign:
    """The symbol of one element; an upright one has its first end above."""

    element: Element
    x: float
    y: float
    is_upright: bool
    is_flipped: bool

    @property
    def box(self) -> Box:
        """Return the room it takes."""
        room = extent(self.element.kind)
        if self.is_upright:
            return Box(
                self.x - room.above,
                self.y - room.reach,
                self.x + room.below,
                self.y + room.reach,
            )
        return Box(
            self.x - room.reach, self.y - room.above, self.x + room.reach, self.y + room.below
        )


@dataclass(frozen=True)
class Wire:
    """A line of one node."""

    node: str
    points: tuple[Point, ...]
    is_busbar: bool = False


@dataclass(frozen=True)
class Label:
    """What is written at a device: its mark and verdict, its name, its data."""

    element: Element
    verdict: str
    name: tuple[str, ...]
    lines: tuple[str, ...]
    x: float
    top: float
    is_centred: bool
    box: Box


@dataclass(frozen=True)
class Word:
    """The state of a section, written at one of its lines."""

    node: str
    text: tuple[str, ...]
    ends_there: bool
    box: Box


@dataclass(frozen=True)
class Layout:
    """Everything of a drawing, placed."""

    signs: tuple[Sign, ...]
    wires: tuple[Wire, ...]
    labels: tuple[Label, ...]
    words: tuple[Word, ...]
    joints: tuple[tuple[str, Point], ...]
    hops: tuple[Point, ...]
    crossings: tuple[tuple[str, Point], ...]
    """Where an upright line of a node goes past the level line of another."""
    ground: Point | None
    """Where the sign of the chassis hangs, if anything goes there."""
    bounds: Box


@dataclass(frozen=True)
class Texts:
    """What is written at the devices and the nodes, and how high that makes a row."""

    circuit: Circuit
    labels: dict[str, tuple[str, ...]]
    marks: dict[str, str]
    states: dict[str, str] | None
    owners: dict[str, str] = field(default_factory=dict)

    def of(self, element: Element, room: float) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
        """Return verdict, name and data at an element; nothing at the twin of a labelled one."""
        if self.owners.get(element.device) != element.name:
            return "", (), ()
        name = wrapped(element.device, style.LABEL, room, is_bold=True, most=MOST_NAME_LINES)
        data: list[str] = []
        for text in self.labels.get(element.device, ()):
            data += wrapped(in_signs(text), style.LABEL, room)
        return self.marks.get(element.device, ""), name or ("-",), tuple(data)

    def height(self, element: Element, room: float) -> float:
        """Return how high the label of an element is."""
        verdict, name, data = self.of(element, room)
        return (len(name) + len(data)) * LINE + (VERDICT_LINE if verdict else 0.0)

    @property
    def tallest(self) -> float:
        """Return the height of the tallest label, whichever column it would stand in."""
        return max(
            (self.height(each, label_room(each.kind)) for each in self.circuit.elements),
            default=0.0,
        )

    @property
    def state_room(self) -> float:
        """Return how much of a row the word of a section takes."""
        return 0.0 if self.states is None else STATE_ROOM


def texts_of(
    circuit: Circuit,
    labels: dict[str, tuple[str, ...]],
    marks: dict[str, str],
    states: dict[str, str] | None,
) -> Texts:
    """Return the texts of a drawing; of a device in both poles the first element has the label."""
    owners: dict[str, str] = {}
    for element in circuit.elements:
        owners.setdefault(element.device, element.name)
    return Texts(circuit, labels, marks, states, owners)


def label_room(kind: str) -> float:
    """Return how wide the label of a kind of element may be."""
    is_small = kind in model.TO_CHASSIS or kind in (
        model.LINK,
        model.BLEED,
        model.ACTIVE_DISCHARGE,
    )
    return NARROW_LABEL if is_small else WIDE_LABEL


class Canvas:
    """A layout in the making."""

    def __init__(self, texts: Texts) -> None:
        """Start with nothing placed."""
        self.texts = texts
        self.signs: list[Sign] = []
        self.wires: list[Wire] = []
        self.labels: list[Label] = []
        self.words: list[Word] = []
        self.joints: list[tuple[str, Point]] = []
        self.hops: list[Point] = []
        self.crossings: list[tuple[str, Point]] = []
        self.ground: Point | None = None
        self._said: set[str] = set()

    def sign(self, element: Element, x: float, y: float, *, first: str, is_upright: bool) -> None:
        """Place a symbol; ``first`` is the node at its left or upper end."""
        self.signs.append(Sign(element, x, y, is_upright, element.plus != first))

    def wire(self, node: str, *points: Point, is_busbar: bool = False) -> None:
        """Place a line of a node."""
        self.wires.append(Wire(node, points, is_busbar))

    def joint(self, node: str, point: Point) -> None:
        """Place a dot where lines of one node meet."""
        self.joints.append((node, point))

    def chassis_line(self, y: float) -> None:
        """Draw the line of the chassis under everything that goes to it."""
        ends = [x for node, (x, at) in self.joints if node == CHASSIS and at == y]
        if not ends:
            return
        self.ground = (min(ends) - GROUND_ROOM, y)
        self.wires.append(Wire(CHASSIS, (self.ground, (max(ends) + 3.0, y)), is_busbar=True))

    def label_beside(self, element: Element, x: float, middle: float, room: float) -> None:
        """Write a label to the right of a place."""
        height = self.texts.height(element, room)
        self._label(element, x, middle - height / 2.0, room, is_centred=False)

    def label_above(self, element: Element, x: float, bottom: float, room: float) -> None:
        """Write a label centred over a place."""
        self._label(element, x, bottom - self.texts.height(element, room), room, is_centred=True)

    def label_below(self, element: Element, x: float, top: float, room: float) -> None:
        """Write a label centred under a place."""
        self._label(element, x, top, room, is_centred=True)

    def _label(
        self, element: Element, x: float, top: float, room: float, *, is_centred: bool
    ) -> None:
        verdict, name, data = self.texts.of(element, room)
        if not name:
            return
        wide = max(text_width(text, style.LABEL, is_bold=True) for text in name)
        wide = max([wide, *(text_width(text, style.LABEL) for text in data)])
        if verdict:
            wide = max(wide, SIZE + 1.0 + text_width(verdict, style.LABEL, is_bold=True))
        left = x - wide / 2.0 if is_centred else x
        height = self.texts.height(element, room)
        box = Box(left, top, left + wide, top + height)
        self.labels.append(Label(element, verdict, name, data, x, top, is_centred, box))

    def word(
        self, node: str, x: float, y: float, *, is_above: bool = False, ends_there: bool = False
    ) -> None:
        """Write the state of a node, once, above or below a place, from it or up to it."""
        states = self.texts.states
        if states is None or node in self._said or node == CHASSIS or node not in states:
            return
        self._said.add(node)
        text = wrapped(states[node], style.STATE, STATE_WIDTH, is_bold=True, most=STATE_LINES)
        if not text:
            return
        wide = max(text_width(each, style.STATE, is_bold=True) for each in text)
        height = len(text) * style.STATE * style.LEADING
        left = x - wide if ends_there else x
        top = y - height if is_above else y
        box = Box(left, top, left + wide, top + height)
        self.words.append(Word(node, text, ends_there, box))

    def layout(self) -> Layout:
        """Return what was placed."""
        return Layout(
            tuple(self.signs),
            tuple(self.wires),
            tuple(self.labels),
            tuple(self.words),
            tuple(self.joints),
            tuple(self.hops),
            tuple(self.crossings),
            self.ground,
            self._bounds(),
        )

    def _bounds(self) -> Box:
        boxes = [sign.box for sign in self.signs]
        boxes += [label.box for label in self.labels]
        boxes += [word.box for word in self.words]
        points = [point for wire in self.wires for point in wire.points]
        boxes += [Box(x - 1.5, y - 1.5, x + 1.5, y + 1.5) for x, y in points]
        if self.ground is not None:
            x, y = self.ground
            boxes.append(Box(x - GROUND_WIDTH, y - 2.0, x + 3.0, y + 5.0))
        return around(boxes)


def around(boxes: Iterable[Box]) -> Box:
    """Return the rectangle around some others."""
    every = list(boxes) or [Box(0.0, 0.0, 1.0, 1.0)]
    return Box(
        min(box.left for box in every),
        min(box.top for box in every),
        max(box.right for box in every),
        max(box.bottom for box in every),
    )
