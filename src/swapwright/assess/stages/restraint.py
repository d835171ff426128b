"""Pack boxes: what a crash asks of each box's mounting, and what its bolts hold."""

from __future__ import annotations

from swapwright.assess.book import FigureBook, Source
from swapwright.build.circuit.model import slug
from swapwright.physics.vehicle.restraint import bolts_in_shear, restraint_load
from swapwright.standards.brakes import (
    BOLT_AREA,
    BOLT_MARGIN,
    BOLT_SHEAR,
    BOLT_STRENGTH,
    CRASH_ACCELERATION,
)

BOXES = "pack.boxes"


def box_name(book: FigureBook, row: int) -> str:
    """Return what a pack box is called, by its place in the list where it has no name."""
    return book.car.texts.get(f"{BOXES}[{row}].name", f"box {row + 1}")


def restraint(book: FigureBook) -> None:
    """Write the load on the mounting of each pack box, and the shear force its bolts hold."""
    for row in range(book.car.counts.get(BOXES, 0)):
        name = box_name(book, row)
        figure = f"weight.box.{slug(name)}"
        rows: list[tuple[str, Source, float]] = [("all in", f"{BOXES}[{row}].mass", 1.0)]
        book.total(f"{figure}.mass", f"mass of the {name} box", "kg", rows, "mass")
        book.make(
            restraint_load,
            f"{figure}.load",
            label=f"load on the mounting of the {name} box, 20 g",
            mass=f"{figure}.mass",
            acceleration=CRASH_ACCELERATION,
        )
        with book.attempt(f"{figure}.strength"):
            size = book.car.text(f"{BOXES}[{row}].bolt")
            grade = book.car.text(f"{BOXES}[{row}].bolt_class")
            book.make(
                bolts_in_shear,
                f"{figure}.strength",
                label=f"shear force the bolts of the {name} box hold",
                bolts=f"{BOXES}[{row}].bolts",
                strength=BOLT_STRENGTH[grade],
                area=BOLT_AREA[size],
                factor=BOLT_SHEAR[grade],
                margin=BOLT_MARGIN,
            )
