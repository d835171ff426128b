"""Donor and weight: what came out and went in, axle loads, centre of gravity, grip."""

from __future__ import annotations

from collections.abc import Sequence

from swapwright.assess.book import FigureBook, Source
from swapwright.assess.drive_parts import units
from swapwright.assess.stages.corner import corner, sides
from swapwright.assess.stages.height import height
from swapwright.base.errors import Missing
from swapwright.physics.vehicle.traction import (
    start_grade_all,
    start_grade_front,
    start_grade_rear,
    traction_limit_all,
    traction_limit_front,
    traction_limit_rear,
)
from swapwright.physics.vehicle.weight import (
    axle_share,
    cg_x,
    front_axle_part,
    load_transfer,
    rear_axle_part,
)
from swapwright.standards.marks import LAUNCH_ACCELERATION
from swapwright.standards.ratings import OCCUPANT_MASS

Row = tuple[str, Source, float]

KINDS = ("remove", "add", "load")
DRIVE_PARTS = ("motor", "inverter")
AXLES = ("front", "rear")


def weight(book: FigureBook) -> None:
    """Write the mass ledger, and the axle loads as converted and as loaded."""
    rows = _ledger(book)
    _masses(book, rows)
    for axle in AXLES:
        _axle(book, rows, axle)
    _centre(book)
    height(book, rows)
    sides(book)
    for suffix in ("", "_loaded"):
        book.make(
            axle_share,
            f"weight.front_share{suffix}",
            label="share of the weight on the front axle" + (", loaded" if suffix else ""),
            axle_load=f"weight.front{suffix}",
            mass="mass.loaded" if suffix else "mass.kerb",
        )


def _centre(book: FigureBook) -> None:
    """Write the centre of gravity; there is none where the mass rows lift an axle off the road."""
    lifted = [book.reasons[f"weight.{axle}"] for axle in AXLES if f"weight.{axle}" in book.reasons]
    if lifted:
        book.note_missing("weight.cg_x", Missing(reason=lifted[0]))
        return
    loaded = "_loaded" if book.has("weight.rear_loaded") else ""
    book.make(
        cg_x,
        "weight.cg_x",
        label="centre of gravity behind the front axle" + (", loaded" if loaded else ""),
        rear_axle_load=f"weight.rear{loaded}",
        mass="mass.loaded" if loaded else "mass.kerb",
        wheelbase="car.wheelbase",
    )


def _ledger(book: FigureBook) -> tuple[tuple[str, str, int], ...]:
    """Return (what, label, row) of the mass ledger's rows."""
    rows = []
    for row in range(book.car.counts.get("mass", 0)):
        for what in KINDS:
            label = book.car.texts.get(f"mass[{row}].{what}")
            if label is not None:
                rows.append((what, label, row))
    return tuple(rows)


def _masses(book: FigureBook, rows: tuple[tuple[str, str, int], ...]) -> None:
    def of(what: str, sign: float) -> list[Row]:
        return [(label, f"mass[{row}].mass", sign) for kind, label, row in rows if kind == what]

    if not any(kind == "add" for kind, _, _ in rows):
        book.assumed.append("mass[].add")
    book.total("mass.removed", "mass taken out", "kg", of("remove", 1.0), "mass")
    if any(kind == "add" for kind, _, _ in rows):
        book.total("mass.added", "mass put in", "kg", of("add", 1.0), "mass")
    else:
        book.note_missing("mass.added", Missing("mass[].add"))
    book.total(
        "mass.net_removed",
        "mass taken out less mass put in",
        "kg",
        [*of("remove", 1.0), *of("add", -1.0)],
        "mass",
    )
    kerb: list[Row] = [("donor, kerb", "car.kerb_mass", 1.0)]
    _standing(
        book,
        "mass.kerb",
        "converted kerb mass",
        [*kerb, *of("remove", -1.0), *of("add", 1.0)],
    )
    aboard: list[Row] = [("converted kerb mass", "mass.kerb", 1.0)]
    people: list[Row] = []
    with book.attempt("mass.people"):
        count = book.value("goals.occupants")
        book.total(
            "mass.people",
            "people aboard",
            "kg",
            [(f"person {n + 1}", OCCUPANT_MASS, 1.0) for n in range(int(count.si))],
            "mass",
        )
        people = [("people", "mass.people", 1.0), ("luggage", "goals.luggage", 1.0)]
    loads = of("load", 1.0) or people
    book.total("mass.loaded", "mass as loaded", "kg", [*aboard, *loads], "mass")
    if book.has("car.test_mass"):
        test: list[Row] = [("mass as driven, given", "car.test_mass", 1.0)]
    else:
        test = [*aboard, *people]
    book.total("mass.test", "mass as driven", "kg", test, "mass")


def _standing(book: FigureBook, figure_id: str, label: str, rows: Sequence[Row]) -> None:
    """Write a sum of masses that must stand on wheels: at or below zero it is missing, and why."""
    names = [source for _, source, _ in rows if isinstance(source, str)]
    if book.has(*names) and sum(sign * book.number(str(name)) for _, name, sign in rows) <= 0.0:
        reason = f"the mass rows leave no {label}: one is mistyped or has the wrong sign"
        book.note_missing(figure_id, Missing(reason=reason))
        return
    book.total(figure_id, label, "kg", rows, "mass")


def parts(book: FigureBook) -> None:
    """Write the mass of the parts whose data sheets give one: what must at least have gone in.

    A part that is not named is missing; one whose sheet says nothing of mass is left out.
    """
    named = [f"{unit}.{part}" for unit in units(book) or ("drive",) for part in DRIVE_PARTS]
    named += ["charging.charger"] if "charging.charger" in book.car.part_names else []
    rows: list[Row] = [
        (path, f"{path}.mass", 1.0)
        for path in named
        if book.has(f"{path}.mass") or path not in book.car.part_names
    ]
    rows.append(("pack", "pack.mass", 1.0))
    book.total("mass.parts", "mass of the parts that went in, by their sheets", "kg", rows, "mass")


def _axle(book: FigureBook, rows: tuple[tuple[str, str, int], ...], axle: str) -> None:
    part = front_axle_part if axle == "front" else rear_axle_part
    for _, label, row in rows:
        book.make(
            part,
            f"weight.{axle}_part.{row}",
            label=f"{label} on the {axle} axle",
            mass=f"mass[{row}].mass",
            x=f"mass[{row}].x",
            wheelbase="car.wheelbase",
        )
    start: list[Row] = [("donor", f"car.axle_mass.{axle}", 1.0)]
    changed: list[Row] = [
        (label, f"weight.{axle}_part.{row}", -1.0 if what == "remove" else 1.0)
        for what, label, row in rows
        if what != "load"
    ]
    book.total(
        f"weight.{axle}_net_removed",
        f"load taken off the {axle} axle less load put on",
        "kg",
        [(label, source, -sign) for label, source, sign in changed],
        "mass",
    )
    _standing(book, f"weight.{axle}", f"{axle} axle load, converted", [*start, *changed])
    carried: list[Row] = [
        (label, f"weight.{axle}_part.{row}", 1.0) for what, label, row in rows if what == "load"
    ]
    if not carried:
        for figure in ("loaded", "tyre_load"):
            book.missing[f"weight.{axle}_{figure}"] = ("mass[].load",)
        return
    _standing(
        book,
        f"weight.{axle}_loaded",
        f"{axle} axle load, loaded",
        [("converted", f"weight.{axle}", 1.0), *carried],
    )
    corner(book, rows, axle)


def grip(book: FigureBook) -> None:
    """Write the traction limit of the driven axle, or of all four wheels where it is not known."""
    driven = book.car.texts.get("car.driven_axle")
    if driven is None:
        for name in ("traction.limit", "traction.start_grade"):
            book.missing[name] = ("car.driven_axle",)
        return
    if book.has("drive.second.motor.peak_power"):
        second = book.car.texts.get("drive.second.axle", driven)
        driven = driven if second == driven else "all"
    rolling: Source = "road.c_rr"
    if driven == "all":
        book.make(traction_limit_all, "traction.limit", grip="car.grip", mass="mass.test")
        book.make(start_grade_all, "traction.start_grade", grip="car.grip", c_rr=rolling)
        return
    limit = traction_limit_front if driven == "front" else traction_limit_rear
    start = start_grade_front if driven == "front" else start_grade_rear
    place = {"cg_x": "weight.cg_x", "cg_height": "weight.cg_height", "wheelbase": "car.wheelbase"}
    book.make(limit, "traction.limit", grip="car.grip", mass="mass.test", **place)
    book.make(start, "traction.start_grade", grip="car.grip", c_rr=rolling, **place)
    book.make(
        load_transfer,
        "weight.transfer_at_04g",
        label="load that moves to the rear axle at 0.4 g",
        mass="mass.test",
        acceleration=LAUNCH_ACCELERATION,
        cg_height="weight.cg_height",
        wheelbase="car.wheelbase",
    )
