"""Corner loads: what each wheel carries, where the four pads were read before the conversion."""

from __future__ import annotations

from collections.abc import Sequence

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.stages.height import LedgerRow
from swapwright.base.errors import Missing
from swapwright.base.figure import Value
from swapwright.physics.vehicle.corner import (
    corner_load,
    heavier,
    pads_difference,
    side_moment,
    side_share,
)
from swapwright.physics.vehicle.tyre import tyre_load

PADS = "car.corner_mass"
CORNERS = ("front_left", "front_right", "rear_left", "rear_right")
_PADS = tuple(f"{PADS}.{corner}" for corner in CORNERS)
RIGHT = Value(1.0, "1", "standard", "row-on-middle-line")
LEFT = Value(-1.0, "1", "standard", "row-on-middle-line")
TWO_TYRES = Value(2.0, "1", "standard", "axle-two-tyres")


def has_pads(book: FigureBook) -> bool:
    """Tell whether all four corners were weighed before the conversion."""
    return book.has(*_PADS)


def corner(book: FigureBook, rows: Sequence[LedgerRow], axle: str) -> None:
    """Write what the wheels of one axle carry: by the four pads, or half of the axle each."""
    if not has_pads(book):
        book.make(
            tyre_load,
            f"weight.{axle}_tyre_load",
            label=f"load on each {axle} tyre, loaded",
            axle_load=f"weight.{axle}_loaded",
            tyres=TWO_TYRES,
        )
        return
    _moment(book, rows, axle)
    for state, label, load in (
        ("_unladen", "converted", f"weight.{axle}"),
        ("", "loaded", f"weight.{axle}_loaded"),
    ):
        for side, sign in (("left", LEFT), ("right", RIGHT)):
            book.make(
                corner_load,
                f"weight.{axle}_{side}{state}",
                label=f"load on the {side} {axle} wheel, {label}",
                corner=f"{PADS}.{axle}_{side}",
                axle_load=load,
                axle_before=f"car.axle_mass.{axle}",
                moment=f"weight.{axle}_side_moment{state}",
                track="car.track",
                side=sign,
            )
    book.make(
        heavier,
        f"weight.{axle}_tyre_load",
        label=f"load on the heavier {axle} tyre, loaded",
        left=f"weight.{axle}_left",
        right=f"weight.{axle}_right",
    )


def _moment(book: FigureBook, rows: Sequence[LedgerRow], axle: str) -> None:
    """Write what stands beside the middle line; a row that says nothing stands on it."""
    aside = [each for each in rows if book.has(f"mass[{each[2]}].y")]
    for _, label, row in aside:
        book.make(
            side_moment,
            f"weight.{axle}_side_moment.{row}",
            label=f"moment of {label} about the middle line, {axle} axle",
            axle_part=f"weight.{axle}_part.{row}",
            y=f"mass[{row}].y",
        )
    for state, kinds in (("_unladen", ("remove", "add")), ("", ("remove", "add", "load"))):
        summed: list[tuple[str, Source, float]] = [
            (label, f"weight.{axle}_side_moment.{row}", -1.0 if kind == "remove" else 1.0)
            for kind, label, row in aside
            if kind in kinds
        ]
        name = f"moment about the middle line, {axle} axle" + ("" if state else ", loaded")
        book.total(
            f"weight.{axle}_side_moment{state}",
            name,
            unit="kg.m",
            rows=summed,
            kind="mass_moment",
        )


def sides(book: FigureBook) -> None:
    """Write how even the two sides are, and whether the pads agree with the kerb mass."""
    if not has_pads(book):
        lacking = [Missing(path) for path in _PADS if not book.has(path)]
        for figure in ("weight.heavier_side", "weight.pads", "weight.pads_difference"):
            book.note_missing(figure, *lacking)
        return
    book.make(
        side_share,
        "weight.heavier_side",
        label="share of the weight on the heavier side, loaded",
        front="weight.front_right",
        rear="weight.rear_right",
        mass="mass.loaded",
    )
    rows: list[tuple[str, Source, float]] = [
        (corner.replace("_", " "), f"{PADS}.{corner}", 1.0) for corner in CORNERS
    ]
    book.total("weight.pads", "sum of the four pads, before", "kg", rows, "mass")
    book.make(
        pads_difference,
        "weight.pads_difference",
        label="difference of the four pads from the kerb mass",
        pads="weight.pads",
        mass="car.kerb_mass",
    )
