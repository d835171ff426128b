"""The pedal: what its map gives released and floored, and how far down it holds a speed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swapwright.assess import controller, drive_parts, runs
from swapwright.assess.book import FigureBook, Source, standard
from swapwright.assess.days import AMBIENT, HOT, MILD
from swapwright.assess.estimate_drive import gear_efficiency
from swapwright.assess.kernel_inputs import run_gears, setup, setup_on
from swapwright.assess.stages.performance import (
    MAP_END,
    MAP_POINTS,
    Read,
    drive_map,
    held_speed,
    keep_read,
)
from swapwright.base.curve import Axis, Curve, Mark, Series
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.base.table import Line
from swapwright.physics.drive.gearing import tractive_force
from swapwright.physics.drive.pedal import allowed_force, torque_share
from swapwright.physics.vehicle.road_load import road_load
from swapwright.simulate.deliverable import DELIVERED
from swapwright.simulate.inputs import LIMITS, Setup
from swapwright.standards.marks import HALF_SOC, SIXTY_MPH, THIRTY_MPH

ENTERED = "swapwright-controller-shares"
FREE = standard(1.0, "1", ENTERED)
"""What a limit allows of which the file gives no table."""
NO_DRAG = standard(0.0, "N", "gear-loss-form")
FULL, RELEASED = "drive.pedal.full_share", "drive.pedal.released_share"
RELEASED_FORCE, CREEP = "drive.pedal.released_force", "drive.pedal.creep_speed"
_FORCE, _LIMIT, _ROAD = (DELIVERED.index(name) for name in ("force", "limit", "road_load"))


@dataclass(frozen=True)
class Steady:
    """A speed to be held: its slug, its words, where the speed stands, the day, and the grade."""

    slug: str
    words: str
    speed: Source
    day: str = MILD
    grade: str = ""


LEVEL = (
    Steady("range_speed", "the goal's range speed on the level", "goals.range.at"),
    Steady("30mph", "30 mph on the level", THIRTY_MPH),
    Steady("60mph", "60 mph on the level", SIXTY_MPH),
)
CLIMB = Steady("climb", "the goal's climb", "goals.climb.at", HOT, "goals.climb.grade")
STEADY = (*LEVEL, CLIMB)


def pedal(book: FigureBook) -> None:
    """Write what the pedal asks for, where the file gives its map."""
    table = controller.limit_line(book.car, controller.BY_PEDAL)
    if table is None:
        return
    _ends(book, table)
    held = [each for each in STEADY if isinstance(each.speed, Value) or book.has(each.speed)]
    if book.car.has("goals.climb") and CLIMB not in held:
        book.note_missing(f"drive.pedal.{CLIMB.slug}_share", Missing("goals.climb.at"))
    every = [f"drive.pedal.{each.slug}_share" for each in held]
    with book.attempt(RELEASED_FORCE, CREEP, *every):
        kit = setup(book)
        _released(book, table)
        for each in held:
            with book.attempt(f"drive.pedal.{each.slug}_share", f"drive.pedal.{each.slug}"):
                _steady(book, kit, table, each)
    _curve(book, table, held)


def _ends(book: FigureBook, table: Line) -> None:
    for figure_id, label, travel, share in (
        (RELEASED, "share of the torque with the pedal released", "0 %", table.y[0]),
        (FULL, "share of the torque with the pedal on the floor", "100 %", table.y[-1]),
    ):
        cell = LookedUp("torque by pedal", travel, "share", ENTERED)
        book.look_up(figure_id, label, share, "1", cell, "fraction")


def _released(book: FigureBook, table: Line) -> None:
    """Write how the car pulls with the pedal released, in the gear that pulls most."""
    kit = setup(book, is_every_gear=True)
    drive = kit.drive._replace(is_held_back=True, pedal_share=table.y[0])
    speeds = np.linspace(0.0, book.number("drive.top_speed") * MAP_END, MAP_POINTS)
    given = drive_map(kit._replace(drive=drive), speeds, soc=HALF_SOC.si)
    speed, limit = held_speed(speeds, given[:, _FORCE] - given[:, _ROAD], given[:, _LIMIT])
    for read in (
        Read(
            RELEASED_FORCE,
            "force at the road from rest with the pedal released",
            float(given[0, _FORCE]),
            "N",
            "force",
            "rest",
            LIMITS[int(given[0, _LIMIT])],
        ),
        Read(
            CREEP,
            "speed the car creeps to on the level with the pedal released",
            speed,
            "m/s",
            "speed",
            "force with the pedal released meets road load",
            limit,
        ),
    ):
        keep_read(book, read)


def _steady(book: FigureBook, kit: Setup, table: Line, each: Steady) -> None:
    """Write the share of the torque that holds a speed, and the pedal travel that asks for it."""
    at = f"drive.pedal.{each.slug}"
    speed = each.speed if isinstance(each.speed, Value) else book.value(each.speed)
    if each.grade:
        kit = setup_on(kit, book, day=each.day, auxiliary=book.number("auxiliaries.climb"))
        grade = book.number(each.grade)
        book.total(
            f"{at}_force",
            f"force that holds {each.words}",
            "N",
            [("road load", "climb.road_load", 1.0), ("grade", "climb.grade_force", 1.0)],
            "force",
        )
    else:
        grade = 0.0
        book.make(
            road_load,
            f"{at}_force",
            label=f"force that holds {each.words}",
            a="road.a",
            b="road.b",
            c="road.c",
            speed=speed,
            headwind="conditions.headwind",
        )
    moment = max(runs.STEP, kit.drive.shift_time)
    run = runs.hold(kit, speed=speed.si, grade=grade, time=moment, soc=HALF_SOC.si, step=moment)
    if run.ledger.shortfall and not each.grade:
        raise Missing(reason=f"the car does not hold {each.words}, whatever the pedal does")
    _allowed(book, each, (int(run.after.gear), int(run.after.gear_2)))
    book.make(
        torque_share,
        f"{at}_share",
        label=f"share of the torque that holds {each.words}",
        force=f"{at}_force",
        drag=f"{at}_drag" if book.has(f"{at}_drag") else NO_DRAG,
        allowed=f"{at}_allowed",
    )
    share = book.value(f"{at}_share")
    book.look_up(
        at,
        f"pedal travel that holds {each.words}",
        controller.pedal_for(table, share.si),
        "1",
        LookedUp("torque by pedal, read backwards", "share", "travel", ENTERED),
        "fraction",
        share=share,
    )


def _allowed(book: FigureBook, each: Steady, places: tuple[int, int]) -> None:
    """Write the force of all the torque allowed in the gears at these places, and their drag."""
    at = f"drive.pedal.{each.slug}"
    allowed: list[tuple[str, Source, float]] = []
    drags: list[tuple[str, Source, float]] = []
    for prefix, place in zip(drive_parts.units(book), places, strict=False):
        unit = drive_parts.figure_prefix(prefix)
        gear = run_gears(book, prefix, is_every_gear=False)[place][0]
        made = f"{at}_allowed.{unit}"
        book.make(
            allowed_force,
            made,
            label=f"force at the road the controller allows in gear {gear}",
            force=f"{unit}.gear{gear}.force",
            gear_share=standard(controller.gear_share(book.car, prefix, gear), "1", ENTERED),
            charge_share=_share(book, each, controller.BY_CHARGE, HALF_SOC.si, "half charge"),
            cell_share=_share(
                book, each, controller.BY_CELL, book.number(AMBIENT[each.day]), "air outside"
            ),
        )
        allowed.append((prefix, made, 1.0))
        if book.has(f"{prefix}.gearbox.drag"):
            drag = f"{at}_drag.{unit}"
            book.make(
                tractive_force,
                drag,
                label=f"the gearbox's drag as a force at the road in gear {gear}",
                torque=f"{prefix}.gearbox.drag",
                ratio=f"{unit}.gear{gear}.overall",
                efficiency=gear_efficiency(book, prefix),
                radius="tyre.radius",
            )
            drags.append((prefix, drag, 1.0))
    words = f"force the controller allows, holding {each.words}"
    book.total(f"{at}_allowed", words, "N", allowed, "force")
    if drags:
        book.total(f"{at}_drag", f"the gears' drag, holding {each.words}", "N", drags, "force")


def _share(book: FigureBook, each: Steady, path: str, place: float, words: str) -> Source:
    """Return the share a table of the controller allows at a place, kept as a figure."""
    table = controller.limit_line(book.car, path)
    if table is None:
        return FREE
    name = f"drive.pedal.{each.slug}_{path.rpartition('.')[2]}"
    if not book.has(name):
        label = f"share the controller allows at {words}, holding {each.words}"
        cell = LookedUp(path, words, "share", ENTERED)
        book.look_up(name, label, table.at(place), "1", cell, "fraction")
    return name


def _curve(book: FigureBook, table: Line, held: list[Steady]) -> None:
    """Draw the map, with the travel that holds each speed marked."""
    marks = tuple(
        Mark(each.words, x=travel)
        for each in held
        if (travel := book.get(f"drive.pedal.{each.slug}")) is not None
    )
    book.curves["drive.pedal"] = Curve(
        "drive.pedal",
        "share of the allowed torque against pedal travel",
        Axis("pedal travel", "fraction", "1", table.x),
        (Series("share of the torque", "fraction", "1", table.y),),
        marks,
        (ENTERED,),
    )
