"""The side view of a car: its masses where they sit, what stands on each axle, where it balances.

The body is a few straight lines of no car in particular. A script may move the masses: each is a
group with the number of its row, and the drawing says how many millimetres a metre is
(``data-scale``) and where the front axle stands (``data-origin``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swapwright.drawing import style
from swapwright.drawing.lettering import in_signs, text_width
from swapwright.drawing.mark import MARKS, SIZE, mark
from swapwright.drawing.side_layout import (
    ADD,
    LOAD,
    REMOVE,
    Disc,
    Reach,
    SideMass,
    Tag,
    discs_of,
    fitted,
    tags_of,
)
from swapwright.drawing.side_sign import balance_sign, disc_sign
from swapwright.drawing.svg import circle, document, escaped, group, line, tag, words

TYPICAL_RADIUS = 0.125
"""Wheel radius over wheelbase, where it is not known."""
FRONT_END, REAR_END = -0.29, 1.31
"""Ends of the body in wheelbases."""
ROW = 3.9
"""mm from line to line of text."""
JOG = 3.0
TOP = 12.0
FOOT = 30.0
ROAD_SIDE = 3.0
WORD_GAP = 0.8
GRIP = 4.0
"""mm: how far around its middle a mass can be taken hold of."""
_BODY = (
    (FRONT_END, 0.7), (FRONT_END, 2.2), (0.2, 2.7), (0.42, 4.3), (0.94, 4.3), (1.16, 2.8),
    (REAR_END, 2.6), (REAR_END, 0.7),
)  # fmt: skip
_KEYS = ((ADD, "goes in"), (LOAD, "carried"), (REMOVE, "comes out"))


@dataclass(frozen=True)
class SideText:
    """A number with the word before it; ``key`` is what a script knows it by."""

    key: str
    word: str
    text: str


@dataclass(frozen=True)
class SideAxle:
    """What is written under a wheel: its lines and the verdict, empty where nothing is judged."""

    key: str
    title: str
    lines: tuple[SideText, ...]
    verdict: str


@dataclass(frozen=True)
class SideCentre:
    """A centre of gravity: its place [m], its height [m] where it is known, what is written."""

    x: float
    height: float | None
    says: SideText
    is_loaded: bool


@dataclass(frozen=True)
class SideView:
    """All of a side view; lengths in metres. The first axle is the front one."""

    title: str
    wheelbase: float
    wheelbase_text: str
    radius: float | None
    masses: tuple[SideMass, ...]
    axles: tuple[SideAxle, SideAxle]
    centres: tuple[SideCentre, ...]


def side_view(view: SideView, *, width_mm: float = 240.0, is_movable: bool = False) -> str:
    """Return a side view as an SVG file; one that is movable can be gone through by keyboard."""
    return _Sheet(view, width_mm).drawn(is_movable)


class _Sheet:
    """A side view being drawn."""

    def __init__(self, view: SideView, width: float) -> None:
        base = view.wheelbase
        self.view = view
        self.radius = view.radius or TYPICAL_RADIUS * base
        front, rear = (_axle_width(axle) for axle in view.axles)
        reaches = [
            Reach(FRONT_END * base, 1.0, 0.0),
            Reach(REAR_END * base, 0.0, 1.0),
            Reach(0.0, front + 3.0, 0.0),
            Reach(base, 0.0, rear + 3.0),
        ]
        fit = fitted(width, reaches, view.masses, base / 2.0)
        self.width, self.scale, self.origin = fit
        # Discs are first laid out over a ground at zero: how high they reach is not known before.
        discs = self._discs(0.0)
        tags = tags_of(discs, self.x(base / 2.0))
        highest = max([4.3 * self.radius * self.scale, *(disc.radius - disc.y for disc in discs)])
        rows = max((tag.row for tag in tags), default=-1) + 1
        self.labels_foot = TOP + rows * ROW + 1.0
        self.ground = self.labels_foot + JOG + 1.5 + highest
        self.discs = self._discs(self.ground)
        self.tags = {tag.disc.mass.row: tag for tag in tags_of(self.discs, self.x(base / 2.0))}

    def _discs(self, ground: float) -> tuple[Disc, ...]:
        return discs_of(
            self.view.masses,
            scale=self.scale,
            origin=self.origin,
            ground=ground,
            radius=self.radius,
        )

    def x(self, metres: float) -> float:
        return self.origin + metres * self.scale

    def y(self, metres: float) -> float:
        return self.ground - metres * self.scale

    def drawn(self, is_movable: bool) -> str:
        return document(
            self.width,
            self.ground + FOOT,
            self.view.title,
            self._keys(),
            self._body(),
            *(self._leader(self.tags[disc.mass.row]) for disc in self.discs),
            *(self._mass(disc, is_movable) for disc in self.discs),
            *(self._axle(axle, at) for axle, at in zip(self.view.axles, (0, 1), strict=True)),
            self._wheelbase(),
            *self._centres(),
            role="group" if is_movable else "img",
            data_scale=self.scale,
            data_origin=self.origin,
        )

    def _keys(self) -> str:
        """Say what the patterns mean."""
        parts: list[str] = []
        x = style.HEADING + 1.0
        for kind, word in _KEYS:
            mass = SideMass(-1, kind, 0.0, 0.0, "", "")
            parts += [
                disc_sign(Disc(mass, x, 5.0, 1.7)),
                words(word, x + 3.0, 6.1, size=style.TEXT),
            ]
            x += 9.0 + text_width(word, style.TEXT)
        return group(*parts, aria_hidden="true")

    def _body(self) -> str:
        base, radius = self.view.wheelbase, self.radius
        outline = [(self.x(along * base), self.y(up * radius)) for along, up in _BODY]
        wheels = [
            circle((self.x(at), self.y(radius)), size * self.scale, width=width, stroke=style.RULE)
            for at in (0.0, base)
            for size, width in ((radius, style.OUTLINE), (0.1 * radius, style.THIN))
        ]
        road = [(ROAD_SIDE, self.ground), (self.width - ROAD_SIDE, self.ground)]
        return group(
            line(outline, width=style.THIN, stroke=style.RULE, fill="none", is_closed=True),
            *wheels,
            line(road, width=style.CONDUCTOR),
            aria_hidden="true",
        )

    def _leader(self, tag_: Tag) -> str:
        disc = tag_.disc
        points = [
            (disc.x, disc.y - disc.radius),
            (disc.x, self.labels_foot + JOG),
            (tag_.x, self.labels_foot),
            (tag_.x, self._label_y(tag_)),
        ]
        return group(
            line(points, width=style.HAIR, stroke=style.RULE),
            data_leader_of=str(disc.mass.row),
            aria_hidden="true",
        )

    def _label_y(self, tag_: Tag) -> float:
        return self.labels_foot - 1.0 - tag_.row * ROW

    def _mass(self, disc: Disc, is_movable: bool) -> str:
        mass, tag_ = disc.mass, self.tags[disc.mass.row]
        away = -WORD_GAP if tag_.runs_left else WORD_GAP
        grip = tag(
            "circle",
            cx=disc.x,
            cy=disc.y,
            r=max(disc.radius, GRIP),
            fill="none",
            stroke="none",
            pointer_events="all",
        )
        return group(
            grip if is_movable else "",
            disc_sign(disc),
            words(
                mass.label,
                tag_.x + away,
                self._label_y(tag_) + 1.0,
                size=style.TEXT,
                anchor="end" if tag_.runs_left else "start",
            ),
            id=f"mass-{mass.row}" if is_movable else None,
            class_=f"mass mass-{mass.kind}",
            data_row=str(mass.row),
            data_x=f"{mass.x:.4f}",
            role="img" if is_movable else None,
            aria_label=mass.words if is_movable else None,
            tabindex="0" if is_movable else None,
        )

    def _axle(self, axle: SideAxle, at: int) -> str:
        x, is_front = self.x(at * self.view.wheelbase), at == 0
        side, anchor = (x - 2.5, "end") if is_front else (x + 2.5, "start")
        top = self.ground + 5.0
        arrow = [(x, top + 6.0), (x, self.ground + 1.0)]
        head = [(x - 1.0, self.ground + 3.4), arrow[1], (x + 1.0, self.ground + 3.4)]
        parts = [line(arrow, width=style.CONDUCTOR), line(head, width=style.CONDUCTOR)]
        parts.append(words(axle.title, side, top, size=style.TEXT, anchor=anchor, is_bold=True))
        for place, each in enumerate(axle.lines, start=1):
            parts.append(_said(each, side, top + place * ROW, anchor))
        if axle.verdict:
            below = top + (len(axle.lines) + 1) * ROW
            parts.append(_verdicts(axle, side, below, is_front))
        return group(*parts)

    def _wheelbase(self) -> str:
        y = self.ground + FOOT - 6.0
        left, right = self.x(0.0), self.x(self.view.wheelbase)
        text = f"wheelbase {in_signs(self.view.wheelbase_text)}"
        ends = [line([(x, y - 1.5), (x, y + 1.5)], width=style.THIN) for x in (left, right)]
        slashes = [line([(x - 1.0, y + 1.0), (x + 1.0, y - 1.0)], width=0.5) for x in (left, right)]
        return group(
            line([(left, y), (right, y)], width=style.THIN),
            *ends,
            *slashes,
            words(text, (left + right) / 2.0, y + 4.0, size=style.TEXT, anchor="middle"),
        )

    def _centres(self) -> list[str]:
        """Return the marks of the centres of gravity, their words clear of each other."""
        found = sorted(self.view.centres, key=lambda each: each.x)
        ways = self._ways(found)
        parts = []
        for each, (runs_left, row) in zip(found, ways, strict=True):
            x = self.x(each.x)
            y = self.y(each.height if each.height is not None else 1.0 * self.radius)
            foot = self.ground + 5.0 + row * ROW
            side, anchor = (x - 1.0, "end") if runs_left else (x + 1.0, "start")
            drop = [(x, y), (x, foot)]
            parts.append(
                group(
                    line(drop, width=style.HAIR, dashes="3 1 0.6 1"),
                    balance_sign(x, y, 2.3 if each.is_loaded else 1.7),
                    _said(each.says, side, foot, anchor),
                    data_place=each.says.key,
                    data_x=f"{each.x:.4f}",
                    pointer_events="none",
                )
            )
        return parts

    def _ways(self, found: Sequence[SideCentre]) -> list[tuple[bool, int]]:
        """Return which way the words of each centre run, and in which row they stand."""
        if len(found) < 2:
            return [(each.x > self.view.wheelbase / 2.0, 0) for each in found]
        first, last = found[0], found[-1]
        left = self.x(first.x) - _said_width(first.says)
        right = self.x(last.x) + _said_width(last.says)
        if left >= self.x(0.0) + 2.0 and right <= self.x(self.view.wheelbase) - 2.0:
            return [(True, 0), (False, 0)]
        if first.x + last.x > self.view.wheelbase:
            return [(True, 0), (True, 1)]
        return [(False, 1), (False, 0)]


def _said(each: SideText, x: float, y: float, anchor: str) -> str:
    """Return a word and a number, the number by its key."""
    return tag(
        "text",
        escaped(f"{each.word} ") if each.word else "",
        tag("tspan", escaped(in_signs(each.text)), data_live=each.key or None, font_weight="bold"),
        x=x,
        y=y,
        font_size=style.TEXT,
        text_anchor=None if anchor == "start" else anchor,
        fill=style.INK,
        stroke="none",
    )


def _said_width(each: SideText) -> float:
    return text_width(f"{each.word} {each.text}", style.TEXT, is_bold=True)


def _axle_width(axle: SideAxle) -> float:
    wide = [text_width(axle.title, style.TEXT, is_bold=True)]
    return max(wide + [_said_width(each) for each in axle.lines])


def _verdicts(axle: SideAxle, side: float, y: float, is_front: bool) -> str:
    """Return every verdict's shape and word, all but one hidden, for a script to change."""
    parts = []
    for verdict in MARKS:
        wide = text_width(verdict, style.TEXT, is_bold=True)
        left = side - wide if is_front else side + SIZE + 1.0
        parts.append(
            group(
                mark(verdict, left - 1.0 - SIZE / 2.0, y - 1.1),
                words(verdict, left, y, size=style.TEXT, is_bold=True),
                data_verdict=verdict,
                display=None if verdict == axle.verdict else "none",
            )
        )
    return group(*parts, data_verdict_of=axle.key)
