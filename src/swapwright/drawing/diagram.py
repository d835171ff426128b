"""The one-line diagram: a circuit's graph as a drawing a shop pins on the wall."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from swapwright.base.finding import SEVERITY
from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Element
from swapwright.drawing import style
from swapwright.drawing.layout import layout_of
from swapwright.drawing.lettering import text_width
from swapwright.drawing.mark import SIZE, mark
from swapwright.drawing.placed import LINE, VERDICT_LINE, Box, Label, Layout, Sign, Wire, Word
from swapwright.drawing.sheet import LegendItem, Paper, SheetText, on_sheet
from swapwright.drawing.svg import (
    Point,
    circle,
    escaped,
    group,
    line,
    number,
    tag,
    words,
)
from swapwright.drawing.symbol import extent, symbol

_VERDICT_WORDS = {
    "stop": "stop: must not proceed",
    "fix": "fix: out of limits",
    "unknown": "unknown: not yet judged",
    "watch": "watch: to keep an eye on",
    "met": "met: inside its limits",
}
_REACH = 2.0
_NOTHING = "The build file gives no high-voltage circuit."
_KIND_WORDS = {
    model.PACK: "pack or box of it",
    model.DISCONNECT: "service disconnect",
    model.LEAK: "isolation resistance",
}


def one_line_diagram(
    circuit: Circuit,
    *,
    sheet: SheetText,
    labels: Mapping[str, tuple[str, ...]],
    marks: Mapping[str, str],
    is_class_b: bool,
    states: Mapping[str, str] | None = None,
    links: Mapping[str, str] | None = None,
    titles: Mapping[str, str] | None = None,
    closed: Collection[str] = (),
    paper: Paper = "A3",
) -> str:
    """Return the drawing of a circuit as an SVG file.

    ``labels`` gives lines of text and ``marks`` the worst verdict worth showing, both by the name
    of the device; ``states`` what is known of the section at each node, in the words of the state
    view. Orange is used where the circuit is of voltage class B, and for nothing else. ``links``
    are addresses and ``titles`` words told of a device, by its name; ``closed`` names the switches
    that are drawn closed.
    """
    layout = layout_of(circuit, labels, marks, states)
    ink = _Ink(layout, is_class_b, states, _Told(links or {}, titles or {}, frozenset(closed)))
    bounds = layout.bounds
    moved = group(ink.drawn(), transform=f"translate({number(-bounds.left)} {number(-bounds.top)})")
    size = bounds.right - bounds.left, bounds.bottom - bounds.top
    if not circuit.elements:
        moved, size = words(_NOTHING, 1.0, 6.0, size=style.TITLE), (100.0, 10.0)
    legend = _legend(circuit, layout, is_class_b, states)
    return on_sheet(moved, size, sheet, legend, paper=paper, role="group" if links else "img")


@dataclass(frozen=True)
class _Told:
    """What goes beyond the drawing: addresses and words by device, switches that are closed."""

    links: Mapping[str, str]
    titles: Mapping[str, str]
    closed: frozenset[str]

    def title(self, name: str, element: Element) -> str:
        """Return what is told of an element, or of the device it belongs to, under a name."""
        told = self.titles.get(element.device, "")
        return f"{name}: {told}" if told else name


class _Ink:
    """A layout being drawn."""

    def __init__(
        self,
        layout: Layout,
        is_class_b: bool,
        states: Mapping[str, str] | None,
        told: _Told,
    ) -> None:
        self.layout = layout
        self.is_class_b = is_class_b
        self.states = states or {}
        self.told = told

    def drawn(self) -> str:
        """Return the whole drawing: lines, joints, symbols, then what is written."""
        layout = self.layout
        return "\n".join(
            (
                group(*self._wires(), class_="wires"),
                group(*(self._joint(*each) for each in layout.joints), class_="joints"),
                group(*(_hop(each) for each in layout.hops), class_="hops"),
                group(*(self._crossing(*each) for each in layout.crossings), class_="hops"),
                self._ground(),
                *(self._sign(each) for each in layout.signs),
                *(self._label(each) for each in layout.labels),
                *(_word(each) for each in layout.words),
            )
        )

    def _wires(self) -> list[str]:
        """Return every line: the casings first, so that lines of one node run into each other."""
        cases, cores, plain = [], [], []
        for wire in self.layout.wires:
            if wire.points[0] == wire.points[-1]:
                continue
            dashes = self._dashes(wire)
            if wire.node == CHASSIS:
                width = 0.8 if wire.is_busbar else style.THIN
                plain.append(line(wire.points, width=width))
            elif self.is_class_b:
                wide = style.CASED_BUSBAR if wire.is_busbar else style.CASED
                core = wide - 2.0 * style.CASING
                cases.append(line(wire.points, width=wide, dashes=dashes))
                cores.append(line(wire.points, width=core, dashes=dashes, stroke=style.ORANGE))
            else:
                wide = style.BUSBAR if wire.is_busbar else style.CONDUCTOR
                plain.append(line(wire.points, width=wide, dashes=dashes))
        return [
            group(*cases, class_="class-b casing"),
            group(*cores, class_="class-b core"),
            group(*plain, class_="plain"),
        ]

    def _dashes(self, wire: Wire) -> str | None:
        return style.STATE_DASHES.get(self.states.get(wire.node, ""))

    def _joint(self, node: str, point: Point) -> str:
        radius = style.DOT * (0.6 if node == CHASSIS else 1.0)
        return circle(point, radius, width=0.0, fill=style.INK)

    def _crossing(self, node: str, point: Point) -> str:
        """Draw an upright line past a level one, with a gap to either side."""
        if node == CHASSIS:
            return _hop(point)
        x, y = point
        ends = [(x, y - 2.2), (x, y + 2.2)]
        gap = line(ends, width=style.CASED + 1.6, stroke=style.PAPER)
        if not self.is_class_b:
            return gap + line(ends, width=style.CONDUCTOR)
        core = style.CASED - 2.0 * style.CASING
        both = line(ends, width=style.CASED) + line(ends, width=core, stroke=style.ORANGE)
        return gap + group(both, class_="class-b")

    def _ground(self) -> str:
        if self.layout.ground is None:
            return ""
        x, y = self.layout.ground
        bars = [
            line([(x - half, y + 2.0 + down), (x + half, y + 2.0 + down)], width=0.5)
            for half, down in ((2.4, 0.0), (1.5, 0.9), (0.6, 1.8))
        ]
        name = words(CHASSIS, x - 3.4, y + 3.4, size=style.LABEL, anchor="end", is_bold=True)
        return group(line([(x, y), (x, y + 2.0)], width=0.5), *bars, name, class_="chassis")

    def _sign(self, sign: Sign) -> str:
        element = sign.element
        title = self.told.title(f"{element.name} ({element.kind})", element)
        href = self.told.links.get(element.device)
        drawn = symbol(
            element.kind,
            sign.x,
            sign.y,
            is_upright=sign.is_upright,
            is_flipped=sign.is_flipped,
            is_class_b=self.is_class_b,
            is_closed=element.name in self.told.closed,
        )
        return tag(
            "g" if href is None else "a",
            tag("title", escaped(title)),
            drawn if href is None else _reached(sign.box) + group(drawn, aria_hidden="true"),
            href=href,
            aria_label=None if href is None else title,
            class_="element class-b" if self.is_class_b else "element",
            data_element=element.name,
        )

    def _label(self, label: Label) -> str:
        """Write a label; it leads where its symbol does, for a keyboard the symbol alone does."""
        device = label.element.device
        drawn = _label(label, self.told.title(device, label.element))
        href = self.told.links.get(device)
        if href is None:
            return drawn
        return tag("a", drawn, href=href, tabindex="-1", aria_hidden="true")


def _reached(box: Box) -> str:
    """Return the ground of a symbol, unseen, so that a finger need not hit its thin lines."""
    wide, high = box.right - box.left + 2.0 * _REACH, box.bottom - box.top + 2.0 * _REACH
    return tag(
        "rect",
        x=box.left - _REACH,
        y=box.top - _REACH,
        width=wide,
        height=high,
        fill="none",
        stroke="none",
        pointer_events="all",
    )


def _hop(point: Point) -> str:
    """Draw a line of the chassis over the minus rail: it goes past, it is not joined."""
    x, y = point
    half = 2.2
    turns = [math.pi * part / 12.0 for part in range(13)]
    bow = [(x + half * math.sin(turn), y - half * math.cos(turn)) for turn in turns]
    gap = line([(x, y - half), (x, y + half)], width=0.9, stroke=style.PAPER)
    return gap + line(bow, width=style.THIN)


def _label(label: Label, title: str) -> str:
    """Write a label: mark and verdict first, then the name, then the data."""
    y = label.top
    left = label.box.left
    anchor = "middle" if label.is_centred else "start"
    parts = []
    if label.verdict:
        at = left + SIZE / 2.0
        if label.is_centred:
            wide = SIZE + 1.0 + text_width(label.verdict, style.LABEL, is_bold=True)
            at += (label.box.right - left - wide) / 2.0
        base = y + style.LABEL * 0.95
        parts.append(mark(label.verdict, at, base - style.LABEL * 0.36))
        parts.append(
            words(label.verdict, at + SIZE / 2.0 + 1.0, base, size=style.LABEL, is_bold=True)
        )
        y += VERDICT_LINE
    for place, text in enumerate((*label.name, *label.lines)):
        parts.append(
            words(
                text,
                label.x,
                y + place * LINE + style.LABEL * 0.95,
                size=style.LABEL,
                anchor=anchor,
                is_bold=place < len(label.name),
            )
        )
    return group(tag("title", escaped(title)), *parts, class_="label")


def _word(word: Word) -> str:
    x = word.box.right if word.ends_there else word.box.left
    step = style.STATE * style.LEADING
    return group(
        *(
            words(
                text,
                x,
                word.box.top + place * step + style.STATE * 0.9,
                size=style.STATE,
                anchor="end" if word.ends_there else "start",
                is_bold=True,
            )
            for place, text in enumerate(word.text)
        ),
        class_="state",
    )


def _legend(
    circuit: Circuit,
    layout: Layout,
    is_class_b: bool,
    states: Mapping[str, str] | None,
) -> list[tuple[LegendItem, ...]]:
    """Return what the drawing uses: lines, symbols, marks, states."""
    shown = {element.kind for element in circuit.elements}
    kinds = tuple(
        LegendItem(
            _small(kind, is_class_b),
            _KIND_WORDS.get(kind, kind if kind != model.INVERTER else "inverter and motor"),
        )
        for kind in model.KINDS
        if kind in shown
    )
    lines = [_line_item(is_class_b), _joint_item(is_class_b)]
    if layout.ground is not None:
        chassis = line([(-7.0, 0.0), (7.0, 0.0)], width=0.8)
        lines.append(LegendItem(chassis, "chassis"))
    used = {label.verdict for label in layout.labels if label.verdict}
    verdicts = tuple(
        LegendItem(group(mark(each, 0.0, 0.0), transform="scale(1.5)"), _VERDICT_WORDS[each])
        for each in SEVERITY
        if each in used
    )
    said = set((states or {}).values())
    known = tuple(
        LegendItem(_sample(is_class_b, dashes), state)
        for state, dashes in style.STATE_DASHES.items()
        if state in said
    )
    return [tuple(lines), known, verdicts, kinds]


def _small(kind: str, is_class_b: bool) -> str:
    """Return a symbol for the legend; one that reaches far to a side is drawn smaller."""
    room = extent(kind)
    drawn = symbol(kind, 0.0, 0.0, is_upright=False, is_flipped=False, is_class_b=is_class_b)
    if room.below <= room.reach + room.above:
        return drawn
    middle = (room.below - room.above) / 2.0
    return group(drawn, transform=f"scale(0.6) translate({number(-middle)} 0)")


def _line_item(is_class_b: bool) -> LegendItem:
    text = "voltage class B" if is_class_b else "voltage class A"
    return LegendItem(_sample(is_class_b, None), text)


def _joint_item(is_class_b: bool) -> LegendItem:
    dot = circle((0.0, 0.0), style.DOT * 1.4, width=0.0, fill=style.INK)
    return LegendItem(_sample(is_class_b, None) + dot, "joined; no dot, not joined")


def _sample(is_class_b: bool, dashes: str | None) -> str:
    ends = [(-7.5, 0.0), (7.5, 0.0)]
    if not is_class_b:
        return line(ends, width=style.CONDUCTOR, dashes=dashes)
    core = style.CASED - 2.0 * style.CASING
    return group(
        line(ends, width=style.CASED, dashes=dashes),
        line(ends, width=core, dashes=dashes, stroke=style.ORANGE),
        class_="class-b",
    )
