"""Where things stand in a side view: discs that touch no other, labels that cross no leader.

Lengths of the car are in metres behind the front axle and above the road, those of the sheet in
millimetres, y down.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from swapwright.drawing import style
from swapwright.drawing.lettering import text_width

ADD, LOAD, REMOVE = "add", "load", "remove"
KINDS = (ADD, LOAD, REMOVE)

SIDE = 4.0
GAP = 1.6
"""mm: free paper at the edges; between a leader and the next, and around a label."""
LARGEST, SMALLEST = 60.0, 2.0
"""mm per metre a side view is drawn at."""
AREA = 0.017
LARGEST_RADIUS = 0.34
"""m: radius of the disc of one kilogram, and of the heaviest of all."""
SMALLEST_DISC = 1.1
"""mm"""
RISE = 0.02
"""m: how finely a free height is looked for."""


@dataclass(frozen=True)
class SideMass:
    """One row of the ledger: its number from 0, what it is, its mass [kg], its place [m].

    ``label`` stands at it, ``words`` say all of it to who cannot see it.
    """

    row: int
    kind: str
    mass: float
    x: float
    label: str
    words: str


@dataclass(frozen=True)
class Disc:
    """A mass as a disc: its centre and radius on the sheet."""

    mass: SideMass
    x: float
    y: float
    radius: float


@dataclass(frozen=True)
class Tag:
    """The label of a disc: its leader's place, its row from below, which way its text runs."""

    disc: Disc
    x: float
    row: int
    runs_left: bool


@dataclass(frozen=True)
class Reach:
    """Something that needs room on the sheet: its place [m], and how far it goes from it [mm]."""

    x: float
    left: float
    right: float


def label_width(text: str) -> float:
    """Return how wide a label is with the paper around it."""
    return text_width(text, style.TEXT) + GAP


def fitted(
    width: float, reaches: Sequence[Reach], masses: Sequence[SideMass], middle: float
) -> tuple[float, float, float]:
    """Return width [mm], scale [mm/m] and place of the front axle [mm] at which all has room.

    The largest scale is looked for; a sheet too narrow for the words at the smallest grows.
    """
    low, high = SMALLEST, LARGEST
    for _ in range(24):
        trial = (low + high) / 2.0
        least, most = _origins(width, trial, reaches, masses, middle)
        low, high = (trial, high) if least <= most else (low, trial)
    least, most = _origins(width, low, reaches, masses, middle)
    lacking = max(least - most, 0.0)
    return width + lacking, low, (least + most + lacking) / 2.0


def _origins(
    width: float,
    scale: float,
    reaches: Sequence[Reach],
    masses: Sequence[SideMass],
    middle: float,
) -> tuple[float, float]:
    """Return between which places the front axle can stand at a scale."""
    leaders = leader_places({each.row: each.x * scale for each in masses}, middle * scale)
    needs = [(each.x * scale, each.left, each.right) for each in reaches]
    unit = _unit(masses)
    for each in masses:
        size = _size(each, unit, scale)
        needs.append((each.x * scale, size, size))
        wide, x = label_width(each.label) + GAP, leaders[each.row]
        runs_left = x < middle * scale
        needs.append((x, wide if runs_left else GAP, GAP if runs_left else wide))
    least = max(SIDE + left - x for x, left, _ in needs)
    most = min(width - SIDE - right - x for x, _, right in needs)
    return least, most


def leader_places(wanted: Mapping[int, float], middle: float) -> dict[int, float]:
    """Return where each leader rises, as near to its disc as those nearer the middle let it."""
    places: dict[int, float] = {}
    # To the micrometre: the order must not hang on where the car stands on the sheet.
    ordered = sorted(wanted, key=lambda row: (round(wanted[row] - middle, 3), row))
    last = middle
    for row in [each for each in reversed(ordered) if wanted[each] < middle]:
        last = places[row] = min(wanted[row], last - GAP)
    last = middle - GAP
    for row in [each for each in ordered if wanted[each] >= middle]:
        last = places[row] = max(wanted[row], last + GAP)
    return places


def discs_of(
    masses: Iterable[SideMass], *, scale: float, origin: float, ground: float, radius: float
) -> tuple[Disc, ...]:
    """Return the masses as discs at their places, none upon another, in order of their rows.

    Their areas are as their masses, but for the smallest. ``radius`` is a wheel's [m]. The heights
    are those at which there is room: what is carried stands above the rest.
    """
    waiting = sorted(masses, key=lambda each: (-each.mass, each.row))
    unit = _unit(waiting)
    placed: list[Disc] = []
    for each in waiting:
        size = _size(each, unit, scale)
        x = origin + each.x * scale
        start = (3.1 if each.kind == LOAD else 1.7) * radius
        lowest = 0.4 * radius + size / scale
        for height in _heights(start, lowest):
            disc = Disc(each, x, ground - height * scale, size)
            if all(_is_apart(disc, other) for other in placed):
                placed.append(disc)
                break
    return tuple(sorted(placed, key=lambda disc: disc.mass.row))


def _unit(masses: Sequence[SideMass]) -> float:
    """Return the radius [m] of one kilogram, such that the heaviest is not too large."""
    heaviest = max((each.mass for each in masses), default=0.0)
    return min(AREA, LARGEST_RADIUS / math.sqrt(heaviest)) if heaviest > 0.0 else AREA


def _size(mass: SideMass, unit: float, scale: float) -> float:
    return max(unit * math.sqrt(max(mass.mass, 0.0)) * scale, SMALLEST_DISC)


def _heights(start: float, lowest: float) -> Iterable[float]:
    """Yield heights ever further from a first one, above it and below."""
    yield max(start, lowest)
    step = 0
    while True:
        step += 1
        yield max(start, lowest) + step * RISE
        if start - step * RISE >= lowest:
            yield start - step * RISE


def _is_apart(one: Disc, other: Disc) -> bool:
    return math.hypot(one.x - other.x, one.y - other.y) >= one.radius + other.radius + 0.4


def tags_of(discs: Sequence[Disc], middle: float) -> tuple[Tag, ...]:
    """Return the labels of discs: a text runs outwards, above the leaders it passes over.

    So no label lies on another, and no leader crosses one; ``middle`` is a place on the sheet.
    """
    leaders = leader_places({disc.mass.row: disc.x for disc in discs}, middle)
    by_row = {disc.mass.row: disc for disc in discs}
    tags: list[Tag] = []
    for runs_left in (True, False):
        mine = [row for row, x in leaders.items() if (x < middle) == runs_left]
        mine.sort(key=lambda row: leaders[row], reverse=not runs_left)
        placed: list[Tag] = []
        for row in mine:
            far = label_width(by_row[row].mass.label) + GAP
            under = [tag.row for tag in placed if abs(tag.x - leaders[row]) < far]
            placed.append(Tag(by_row[row], leaders[row], max(under, default=-1) + 1, runs_left))
        tags += placed
    return tuple(tags)
