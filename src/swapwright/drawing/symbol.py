"""The symbol of each kind of element, drawn along a line or down it.

A symbol is sketched as if it lay along a line from left to right, first end at the left, and is
laid down or stood up by swapping its axes, so that what stands above a lying symbol stands to the
left of an upright one and leaves the right to the label.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from swapwright.build.circuit import model
from swapwright.drawing import style
from swapwright.drawing.svg import Point, circle, line, words

RESISTORS = (model.PRECHARGE_RESISTOR, model.BLEED, model.ACTIVE_DISCHARGE, model.LEAK)


@dataclass(frozen=True)
class Extent:
    """Room a symbol takes: half its length along the line, and to either side of it."""

    reach: float
    above: float
    below: float


_USUAL = Extent(4.0, 2.0, 2.0)
_BOX = Extent(5.5, 5.5, 5.5)
_SWITCH = Extent(4.0, 5.2, 1.2)

EXTENTS: Mapping[str, Extent] = MappingProxyType(
    {
        model.PACK: Extent(6.0, 4.5, 4.5),
        model.DISCONNECT: Extent(5.0, 4.6, 3.4),
        model.CONTACTOR: _SWITCH,
        model.PRECHARGE_RELAY: _SWITCH,
        model.CABLE: Extent(3.0, 2.0, 2.0),
        model.CONNECTOR: Extent(2.5, 2.0, 2.0),
        model.LINK: Extent(0.8, 3.0, 3.0),
        model.Y_CAPACITOR: Extent(0.8, 2.2, 2.2),
        model.ACTIVE_DISCHARGE: Extent(6.0, 2.6, 2.0),
        model.MONITOR: Extent(3.4, 3.4, 3.4),
        model.LOAD: _BOX,
        model.INVERTER: Extent(5.5, 5.5, 19.5),
        model.CHARGER: _BOX,
        model.DCDC: _BOX,
        model.INLET: Extent(5.5, 5.5, 5.5),
    }
)


def extent(kind: str) -> Extent:
    """Return the room the symbol of a kind takes."""
    return EXTENTS.get(kind, _USUAL)


@dataclass
class Sketch:
    """A symbol being drawn at a place, lying or upright, its plus end first or last."""

    x: float
    y: float
    is_upright: bool
    is_flipped: bool
    is_class_b: bool
    is_shut: bool = False
    cases: list[str] = field(default_factory=list)
    cores: list[str] = field(default_factory=list)
    lines: list[str] = field(default_factory=list)

    def at(self, along: float, across: float) -> Point:
        """Return a point of the sheet."""
        if self.is_upright:
            return self.x + across, self.y + along
        return self.x + along, self.y + across

    def conductor(self, *points: Point) -> None:
        """Draw metal that carries the pole's current."""
        placed = [self.at(*point) for point in points]
        if self.is_class_b:
            self.cases.append(line(placed, width=style.CASED))
            core = style.CASED - 2.0 * style.CASING
            self.cores.append(line(placed, width=core, stroke=style.ORANGE))
        else:
            self.lines.append(line(placed, width=style.CONDUCTOR))

    def stroke(
        self,
        *points: Point,
        width: float = style.OUTLINE,
        is_closed: bool = False,
        dashes: str | None = None,
        fill: str = "none",
    ) -> None:
        """Draw an outline in ink."""
        placed = [self.at(*point) for point in points]
        self.lines.append(line(placed, width=width, is_closed=is_closed, dashes=dashes, fill=fill))

    def box(self, half_long: float, half_wide: float, dashes: str | None = None) -> None:
        """Draw a box around the middle."""
        corners = [
            (-half_long, -half_wide),
            (half_long, -half_wide),
            (half_long, half_wide),
            (-half_long, half_wide),
        ]
        self.stroke(*corners, is_closed=True, dashes=dashes, fill="none" if dashes else style.PAPER)

    def ring(self, along: float, across: float, radius: float, fill: str = style.PAPER) -> None:
        """Draw a circle."""
        self.lines.append(circle(self.at(along, across), radius, width=style.OUTLINE, fill=fill))

    def word(self, text: str, right: float, down: float, size: float) -> None:
        """Write a sign; it stands upright whichever way the symbol lies."""
        self.lines.append(
            words(
                text,
                self.x + right,
                self.y + down + size * 0.36,
                size=size,
                anchor="middle",
                is_bold=True,
            )
        )

    def drawn(self) -> str:
        """Return what was drawn: metal first, ink over it."""
        return "".join((*self.cases, *self.cores, *self.lines))


def symbol(
    kind: str,
    x: float,
    y: float,
    *,
    is_upright: bool,
    is_flipped: bool,
    is_class_b: bool,
    is_closed: bool = False,
) -> str:
    """Return the symbol of a kind around a point.

    ``is_flipped`` where its minus end is the first one: the left, or the upper one; ``is_closed``
    draws a switch closed.
    """
    sketch = Sketch(x, y, is_upright, is_flipped, is_class_b, is_closed)
    _DRAWN.get(kind, _load)(sketch)
    return sketch.drawn()


def _pack(sketch: Sketch) -> None:
    sketch.box(6.0, 4.5, dashes="1.6 1")
    sign = -1.0 if sketch.is_flipped else 1.0
    sketch.conductor((-6.0, 0.0), (-3.6, 0.0))
    sketch.conductor((3.6, 0.0), (6.0, 0.0))
    for place in (-2.4, 2.4):
        sketch.stroke((place - sign * 1.2, -3.2), (place - sign * 1.2, 3.2), width=0.5)
        sketch.stroke((place + sign * 1.2, -1.5), (place + sign * 1.2, 1.5), width=1.0)
    sketch.stroke((-1.2, 0.0), (1.2, 0.0), dashes="0.6 0.6")
    along = -sign * 4.7
    right, down = (2.6, along) if sketch.is_upright else (along, 2.6)
    sketch.word("+", right, down, 2.8)


def _disconnect(sketch: Sketch) -> None:
    sketch.conductor((-5.0, 0.0), (-3.0, 0.0), (3.0, 0.0) if sketch.is_shut else (2.0, -3.2))
    sketch.conductor((3.0, 0.0), (5.0, 0.0))
    sketch.stroke((-3.0, -1.4), (-3.0, 1.4), width=0.6)
    sketch.stroke((3.0, -1.4), (3.0, 1.4), width=0.6)
    # A padlock in the gap: this one a person opens and keeps open.
    right, down = (2.2, 0.4) if sketch.is_upright else (0.0, 2.2)
    left, top = sketch.x + right - 1.1, sketch.y + down - 0.5
    shackle = [(left + 0.4, top), (left + 0.4, top - 1.0), (left + 1.8, top - 1.0)]
    lock = line([*shackle, (left + 1.8, top)], width=style.THIN)
    body = [(left, top), (left + 2.2, top), (left + 2.2, top + 1.7), (left, top + 1.7)]
    lock += line(body, width=style.THIN, fill=style.INK, is_closed=True)
    sketch.lines.append(lock)


def _fuse(sketch: Sketch) -> None:
    sketch.conductor((-4.0, 0.0), (4.0, 0.0))
    for side in (-1.5, 1.5):
        sketch.stroke((-3.2, side), (3.2, side))
    for end in (-3.2, 3.2):
        sketch.stroke((end, -1.5), (end, 1.5))


def _contactor(sketch: Sketch) -> None:
    sketch.conductor((-4.0, 0.0), (-2.4, 0.0), (2.4, 0.0) if sketch.is_shut else (2.0, -2.3))
    sketch.conductor((2.4, 0.0), (4.0, 0.0))
    sketch.ring(-2.4, 0.0, 0.6)
    sketch.ring(2.4, 0.0, 0.6)
    sketch.stroke((0.0, -1.4), (0.0, -3.4), width=style.THIN, dashes="0.7 0.5")
    sketch.stroke(
        (-1.6, -3.4), (1.6, -3.4), (1.6, -5.0), (-1.6, -5.0), is_closed=True, fill=style.PAPER
    )
    sketch.stroke((-0.8, -3.4), (0.8, -5.0), width=style.THIN)


def _zigzag(sketch: Sketch, start: float, end: float, dashes: str | None = None) -> None:
    step = (end - start) / 12.0
    points: list[Point] = [(start, 0.0)]
    points += [
        (start + step * place, 1.5 if number % 2 else -1.5)
        for number, place in enumerate(range(1, 12, 2))
    ]
    sketch.stroke(*points, (end, 0.0), width=0.45, dashes=dashes)


def _resistor(sketch: Sketch) -> None:
    _zigzag(sketch, -4.0, 4.0)


def _active_discharge(sketch: Sketch) -> None:
    sketch.stroke((-6.0, 0.0), (-4.6, 0.0), (-2.2, -1.9))
    sketch.stroke((-2.0, 0.0), (-1.4, 0.0))
    sketch.ring(-4.6, 0.0, 0.5)
    sketch.ring(-2.0, 0.0, 0.5)
    _zigzag(sketch, -1.4, 6.0)


def _leak(sketch: Sketch) -> None:
    # No part: what the insulation lets through, so its outline is broken.
    _zigzag(sketch, -4.0, 4.0, dashes="0.9 0.6")


def _cable(sketch: Sketch) -> None:
    sketch.conductor((-3.0, 0.0), (3.0, 0.0))
    for place in (-0.7, 0.7):
        sketch.stroke((place - 0.8, 1.7), (place + 0.8, -1.7), width=0.45)


def _connector(sketch: Sketch) -> None:
    sketch.conductor((-2.5, 0.0), (2.5, 0.0))
    for place in (-1.2, 0.2):
        sketch.stroke((place, -1.6), (place + 1.5, 0.0), (place, 1.6), width=0.45)


def _capacitor(sketch: Sketch) -> None:
    for side in (-0.8, 0.8):
        sketch.stroke((side, -3.0), (side, 3.0), width=0.7)


def _y_capacitor(sketch: Sketch) -> None:
    for side in (-0.8, 0.8):
        sketch.stroke((side, -2.2), (side, 2.2), width=0.6)


def _monitor(sketch: Sketch) -> None:
    sketch.ring(0.0, 0.0, 3.4)
    sketch.word("Ω", 0.0, 0.0, 3.2)


def _load(sketch: Sketch) -> None:
    sketch.box(5.5, 5.5)
    _zigzag(sketch, -4.0, 4.0)


def _converter(sketch: Sketch, first: str, second: str) -> None:
    sketch.box(5.5, 5.5)
    x, y = sketch.x, sketch.y
    sketch.lines.append(line([(x + 5.5, y - 5.5), (x - 5.5, y + 5.5)], width=style.THIN))
    for sign, right, down in ((first, -2.4, -2.6), (second, 2.4, 2.6)):
        _current_sign(sketch, sign, x + right, y + down)


def _current_sign(sketch: Sketch, sign: str, x: float, y: float) -> None:
    """Draw what kind of current: two strokes for direct, a wave for alternating."""
    if sign == "dc":
        sketch.lines.append(line([(x - 1.5, y - 0.5), (x + 1.5, y - 0.5)], width=0.45))
        sketch.lines.append(
            line([(x - 1.5, y + 0.6), (x + 1.5, y + 0.6)], width=0.45, dashes="0.8 0.3")
        )
        return
    wave = [(-1.6, 0.2), (-1.2, -0.6), (-0.8, -0.8), (-0.4, -0.5), (0.0, 0.0)]
    wave += [(-right, -down) for right, down in reversed(wave[:-1])]
    sketch.lines.append(line([(x + right, y + down) for right, down in wave], width=0.45))


def _inverter(sketch: Sketch) -> None:
    x, y = sketch.x, sketch.y
    for down in (-1.8, 0.0, 1.8):
        near = 10.4 if down else 9.6
        if sketch.is_class_b:
            sketch.cases.append(line([(x + 5.0, y + down), (x + near, y + down)], width=0.9))
            sketch.cores.append(
                line([(x + 5.0, y + down), (x + near, y + down)], width=0.5, stroke=style.ORANGE)
            )
        else:
            sketch.lines.append(line([(x + 5.0, y + down), (x + near, y + down)], width=0.4))
    _converter(sketch, "dc", "ac")
    sketch.lines.append(circle((x + 14.0, y), 4.6, width=style.OUTLINE))
    sketch.word("M", 14.0, -0.7, 3.6)
    sketch.word("3~", 14.0, 2.4, 2.2)


def _charger(sketch: Sketch) -> None:
    _converter(sketch, "ac", "dc")


def _dcdc(sketch: Sketch) -> None:
    _converter(sketch, "dc", "dc")


def _inlet(sketch: Sketch) -> None:
    sketch.ring(0.0, 0.0, 5.5)
    sketch.ring(0.0, 0.0, 4.2)
    for right in (-1.8, 1.8):
        place = (sketch.x + right, sketch.y + 0.9)
        sketch.lines.append(circle(place, 0.9, width=style.OUTLINE, fill=style.INK))
    sketch.lines.append(circle((sketch.x, sketch.y - 1.9), 0.6, width=style.OUTLINE))


_DRAWN: Mapping[str, Callable[[Sketch], None]] = MappingProxyType(
    {
        model.PACK: _pack,
        model.DISCONNECT: _disconnect,
        model.FUSE: _fuse,
        model.CONTACTOR: _contactor,
        model.PRECHARGE_RELAY: _contactor,
        model.PRECHARGE_RESISTOR: _resistor,
        model.BLEED: _resistor,
        model.ACTIVE_DISCHARGE: _active_discharge,
        model.LEAK: _leak,
        model.CABLE: _cable,
        model.CONNECTOR: _connector,
        model.LINK: _capacitor,
        model.Y_CAPACITOR: _y_capacitor,
        model.MONITOR: _monitor,
        model.LOAD: _load,
        model.INVERTER: _inverter,
        model.CHARGER: _charger,
        model.DCDC: _dcdc,
        model.INLET: _inlet,
    }
)
