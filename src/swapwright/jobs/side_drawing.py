"""The side view of a car, as an SVG text."""

from __future__ import annotations

from swapwright.drawing.side_layout import SideMass
from swapwright.drawing.side_view import (
    SideAxle,
    SideCentre,
    SideText,
    SideView,
    side_view,
)
from swapwright.jobs.check import Checked
from swapwright.jobs.telling import tell
from swapwright.jobs.weights import KIND_WORDS, LOADED, UNKNOWN, LedgerMass, Weights, weights_of

LARGE, SMALL = 240.0, 118.0
"""mm: how wide it is drawn with the names of the masses, and with their numbers alone."""
LONGEST_NAME = 34
RADIUS = "tyre.radius"


def side_view_of(
    checked: Checked,
    profile: str,
    *,
    weights: Weights | None = None,
    is_small: bool = False,
    is_movable: bool = False,
) -> str | None:
    """Return the side view of a car, None where its wheelbase is not known.

    A small one has the numbers of the ledger's rows in place of their names. ``weights`` are the
    car's, where they are at hand.
    """
    wheelbase = checked.opened.car.get("car.wheelbase")
    if wheelbase is None:
        return None
    found = weights_of(checked, profile) if weights is None else weights
    radius = checked.assessment.figures.get(RADIUS)
    name = checked.assessment.name or "the car"
    view = SideView(
        f"side view of {name}: masses, axle loads, centre of gravity",
        wheelbase.si,
        tell(wheelbase.si, "position", profile),
        None if radius is None else radius.value.si,
        tuple(
            SideMass(
                each.row,
                each.kind,
                each.mass,
                each.x,
                str(each.row + 1) if is_small else _label(each),
                mass_words(each),
            )
            for each in found.ledger
            if each.mass is not None and each.x is not None and each.kind
        ),
        (_axle(found, "front"), _axle(found, "rear")),
        tuple(
            SideCentre(
                each.x,
                each.height,
                SideText(f"{each.key}.x", each.key, each.text),
                each.key == LOADED,
            )
            for each in found.centres
        ),
    )
    return side_view(view, width_mm=SMALL if is_small else LARGE, is_movable=is_movable)


def mass_words(each: LedgerMass) -> str:
    """Return a row of the ledger in words: what, how much, which way, where."""
    kind = KIND_WORDS.get(each.kind, "")
    return f"{each.row + 1} {each.name}, {each.mass_text} {kind}, at {each.x_text}"


def _label(each: LedgerMass) -> str:
    name = each.name
    if len(name) > LONGEST_NAME:
        name = name[: LONGEST_NAME - 1].rstrip() + "…"
    return f"{each.row + 1} {name}, {each.mass_text} {KIND_WORDS[each.kind]}"


def _axle(weights: Weights, key: str) -> SideAxle:
    load = weights.load(key)
    lines = (
        SideText(f"{key}.loaded", "loaded", load.loaded or UNKNOWN),
        SideText(f"{key}.limit", "limit", load.limit or UNKNOWN),
        SideText(f"{key}.unladen", "unladen", load.unladen or UNKNOWN),
    )
    return SideAxle(key, load.label, lines, load.verdict)
