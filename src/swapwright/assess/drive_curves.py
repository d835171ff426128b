"""Curves of the drive: force at the wheels in each gear, torque and power of each motor.

Both are read from the drive map, which also gives launch, top speed and wheel power: for a gear
the car has that one only, for a motor its shaft is the road.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook
from swapwright.assess.kernel_inputs import NO_LIMIT, setup
from swapwright.assess.stages.performance import MAP_END, drive_map
from swapwright.base.curve import Axis, Curve, Series
from swapwright.base.display import show
from swapwright.simulate.deliverable import DELIVERED
from swapwright.simulate.inputs import LIMITS, Setup, Unit
from swapwright.standards.marks import HALF_SOC

FloatArray = NDArray[np.float64]

SOURCES = ("swapwright-drive-map",)
GEAR_POINTS, MOTOR_POINTS = 40, 32
ENGINE = "car.engine_before"
OLD_ENGINE = "old engine's power, were it all at the wheels (upper bound)"
_FORCE, _LIMIT, _ROAD = (DELIVERED.index(name) for name in ("force", "limit", "road_load"))
_TOO_FAST = float(LIMITS.index("motor speed"))


def drive_gears(book: FigureBook) -> Curve:
    """Return the force at the wheels in each gear, the road load, and what the old engine had."""
    kit = setup(book, is_every_gear=True)
    is_second = kit.drive.units > 1 and kit.drive.second.gears > kit.drive.first.gears
    geared = kit.drive.second if is_second else kit.drive.first
    prefix = drive_parts.units(book)[1 if is_second else 0]
    numbers = [number for number, _ in drive_parts.gears(book, prefix)]
    top = book.number("drive.top_speed") * MAP_END
    ends = MAP_END * geared.max_speed / geared.speed_ratio
    speeds = np.unique([*np.linspace(0.0, top, GEAR_POINTS), *ends[ends < top]])
    series, road = [], np.zeros(len(speeds))
    for place, number in enumerate(numbers):
        table = drive_map(_in_gear(kit, place, is_second=is_second), speeds, soc=HALF_SOC.si)
        road = table[:, _ROAD]
        name = f"gear {number}" + (", the other motor in its best" if kit.drive.units > 1 else "")
        series.append(_reached(name, "force", "N", table[:, _FORCE], table[:, _LIMIT]))
    series.append(Series("road load, level", "force", "N", tuple(road.tolist())))
    grade, pull = book.get("goals.climb.grade"), book.get("climb.grade_force")
    if grade and pull is not None:
        climb = tuple((road + pull).tolist())
        series.append(
            Series(
                f"road load, goal's grade of {show(grade, 'grade', digits=2)}", "force", "N", climb
            )
        )
    power = book.get(f"{ENGINE}.power")
    if power is not None:
        series.append(_old_engine(power, speeds, kit.body.drive_force_limit))
    return Curve(
        "drive.gears",
        "force at the wheels in each gear, pack half full, against the road load",
        Axis("road speed", "speed", "m/s", tuple(speeds.tolist())),
        tuple(series),
        sources=SOURCES,
    )


def _in_gear(kit: Setup, place: int, *, is_second: bool) -> Setup:
    """Return a car that has one of its gears only."""
    drive = kit.drive
    unit = drive.second if is_second else drive.first
    one = unit._replace(
        gears=1,
        speed_ratio=unit.speed_ratio[place : place + 1],
        efficiency=unit.efficiency[place : place + 1],
        gear_share=unit.gear_share[place : place + 1],
    )
    if drive.units == 1:
        return kit._replace(drive=drive._replace(first=one, second=one))
    changed = drive._replace(second=one) if is_second else drive._replace(first=one)
    return kit._replace(drive=changed)


def _reached(label: str, kind: str, unit: str, points: FloatArray, limits: FloatArray) -> Series:
    """Return a series with a gap where the motor would turn too fast."""
    rows = zip(points.tolist(), limits.tolist(), strict=True)
    return Series(
        label,
        kind,
        unit,
        tuple(None if limit == _TOO_FAST else point for point, limit in rows),
        tuple(LIMITS[int(limit)] for limit in limits),
    )


def _old_engine(power: float, speeds: FloatArray, grip: float) -> Series:
    """Return the force of a power W at road speeds, as far as the tyres would bear it."""
    points = (power / speed if power <= grip * speed else None for speed in speeds.tolist())
    return Series(OLD_ENGINE, "force", "N", tuple(points))


def drive_motor(book: FigureBook) -> Curve:
    """Return each motor's torque and power over its speed, peak and continuous, in this car.

    The pack is half full; of two motors each is taken by itself. The old engine's torque and power
    are points, where the build gives the speeds they were at.
    """
    kit = setup(book)
    units = (kit.drive.first, kit.drive.second)[: kit.drive.units]
    at_torque, torque = book.get(f"{ENGINE}.torque_at"), book.get(f"{ENGINE}.torque")
    at_power, power = book.get(f"{ENGINE}.power_at"), book.get(f"{ENGINE}.power")
    most = max(unit.max_speed for unit in units) * MAP_END
    old = [
        (label, kind, unit, at, value)
        for label, kind, unit, at, value in (
            ("old engine's torque", "torque", "N.m", at_torque, torque),
            ("old engine's power", "power", "W", at_power, power),
        )
        if at is not None and value is not None
    ]
    ends = [speed for unit in units for speed in _turns(unit)]
    speeds = np.unique([*np.linspace(0.0, most, MOTOR_POINTS), *ends, *(row[3] for row in old)])
    series = []
    for place, unit in enumerate(units):
        prefix = drive_parts.units(book)[place]
        whose = "" if len(units) == 1 else (", first motor", ", second motor")[place]
        series += _of_motor(book, kit, unit, prefix, whose, speeds)
    for label, kind, si_unit, at, value in old:
        points = tuple(value if speed == at else None for speed in speeds.tolist())
        series.append(Series(label, kind, si_unit, points))
    series.sort(key=lambda each: each.kind != "torque")
    return Curve(
        "drive.motor",
        "torque and power against motor speed, pack half full",
        Axis("motor speed", "angular_speed", "rad/s", tuple(speeds.tolist())),
        tuple(series),
        sources=SOURCES,
    )


def _turns(unit: Unit) -> tuple[float, ...]:
    """Return the motor speeds rad/s at which its lines turn or end."""
    end = unit.max_speed * MAP_END
    corners = (
        power / torque
        for power, torque in (
            (unit.peak_power, unit.torque_cap),
            (unit.continuous_power, unit.continuous_torque),
        )
        if torque > 0.0
    )
    return (*(min(corner, end) for corner in corners), end)


def _of_motor(
    book: FigureBook, kit: Setup, unit: Unit, prefix: str, whose: str, speeds: FloatArray
) -> list[Series]:
    """Return a motor's four series, from a car whose road it turns directly and never slips on."""
    one = np.ones(1)
    bare = unit._replace(gears=1, speed_ratio=one, efficiency=one, gear_share=one, drag=0.0)
    limit = book.get(f"{prefix}.inverter.dc_current_limit")
    alone = kit._replace(
        body=kit.body._replace(drive_force_limit=NO_LIMIT),
        drive=kit.drive._replace(units=1, first=bare, second=bare),
        pack=kit.pack._replace(
            current_limit=NO_LIMIT if limit is None else limit / kit.pack.parallel
        ),
    )
    series = []
    for state, is_hot in (("peak", False), ("continuous", True)):
        table = drive_map(alone, speeds, soc=HALF_SOC.si, hot=is_hot)
        torque, limits = table[:, _FORCE], table[:, _LIMIT]
        series.append(_reached(f"{state} torque{whose}", "torque", "N.m", torque, limits))
        series.append(_reached(f"{state} power{whose}", "power", "W", torque * speeds, limits))
    return series
