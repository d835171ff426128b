"""Height of the centre of gravity, unladen and loaded, and what pulls the car over."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from swapwright.assess.book import FigureBook, Source
from swapwright.physics.vehicle.height import cg_height, height_moment, rollover_threshold

LedgerRow = tuple[str, str, int]
"""What a row of the mass ledger says: its kind, its label, its number."""

DONOR = "car.cg_height"


def height(book: FigureBook, rows: Sequence[LedgerRow]) -> None:
    """Write the height of the centre of gravity; a row without its own is taken at the donor's."""
    if not any(book.has(f"mass[{row}].z") for _, _, row in rows):
        for state, label in (("_unladen", "unladen"), ("", "as loaded")):
            given: list[tuple[str, Source, float]] = [("as the file gives it", DONOR, 1.0)]
            name = f"height of the centre of gravity, {label}"
            book.total(f"weight.cg_height{state}", name, "m", given, "length")
    else:
        _moments(book, rows)
        _height(book, "_unladen", "unladen", "mass.kerb", _kept(rows, "remove", "add"))
        loads = _kept(rows, "load")
        mass = "mass.loaded" if loads else "mass.kerb"
        _height(book, "", "as loaded", mass, (*_kept(rows, "remove", "add"), *loads))
    book.make(
        rollover_threshold,
        "weight.rollover",
        label="sideways pull that begins to roll the car, as loaded",
        track="car.track",
        cg_height="weight.cg_height",
    )


def _kept(rows: Iterable[LedgerRow], *kinds: str) -> tuple[LedgerRow, ...]:
    return tuple(row for row in rows if row[0] in kinds)


def _moments(book: FigureBook, rows: Iterable[LedgerRow]) -> None:
    book.make(
        height_moment,
        "weight.donor_moment",
        label="moment of the donor about the road",
        mass="car.kerb_mass",
        height=DONOR,
    )
    for _, label, row in rows:
        place = f"mass[{row}].z"
        if not book.has(place) and book.has(DONOR):
            book.assume(place, book.number(DONOR), "m", "row-height-as-donor")
        book.make(
            height_moment,
            f"weight.height_moment.{row}",
            label=f"moment of {label} about the road",
            mass=f"mass[{row}].mass",
            height=place,
        )


def _height(book: FigureBook, state: str, label: str, mass: str, rows: Iterable[LedgerRow]) -> None:
    summed: list[tuple[str, Source, float]] = [("donor", "weight.donor_moment", 1.0)]
    summed += [
        (name, f"weight.height_moment.{row}", -1.0 if kind == "remove" else 1.0)
        for kind, name, row in rows
    ]
    moment = f"weight.moment{state}"
    book.total(
        moment,
        f"moment of all about the road, {label}",
        unit="kg.m",
        rows=summed,
        kind="mass_moment",
    )
    book.make(
        cg_height,
        f"weight.cg_height{state}",
        label=f"height of the centre of gravity, {label}",
        moment=moment,
        mass=mass,
    )
