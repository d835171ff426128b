"""The drive at one point, for the short estimates: losses, efficiency and gears."""

from __future__ import annotations

import numpy as np

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook, Source
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.drive.inverter import inverter_loss

NO_GEARS = Value(1.0, "1", "default", "final-drive-none")
WHEEL_ENERGY = "guzzella-sciarretta-2013-ch2"


def keep_top_speed(book: FigureBook) -> None:
    """Write ``drive.top_speed``: the road speed at which the first of the motors is at its end.

    Nothing uncouples a second motor, so the one that gets there first ends it for both.
    """
    with book.attempt("drive.top_speed"):
        names = [drive_parts.figure_prefix(prefix) for prefix in drive_parts.units(book)]
        first = min(names or ["unit"], key=lambda name: book.number(f"{name}.top_speed"))
        book.total(
            "drive.top_speed",
            "road speed at which a motor is at its end",
            "m/s",
            [("first to get there", f"{first}.top_speed", 1.0)],
            "speed",
        )


def loss_at(book: FigureBook, prefix: str, speed: float, force: float) -> float:
    """Return the loss W of a unit's motor and inverter at a road speed m/s and force N.

    In the gear of those in use that loses least there; a speed no gear reaches is taken at the
    motor's highest.
    """
    name = drive_parts.figure_prefix(prefix)
    complete = drive_parts.motor(book, prefix)
    radius = book.number("tyre.radius")
    gears = book.get(f"{prefix}.gearbox.efficiency") or 1.0
    terms = drive_parts.inverter_terms(book, prefix)
    cap = book.number(f"{name}.speed_cap")
    ratios = [
        book.number(f"{name}.gear{number}.overall") / radius
        for number, _ in drive_parts.gears(book, prefix)
    ]
    reaching = [ratio for ratio in ratios if speed * ratio <= cap] or [min(ratios)]
    least = np.inf
    for ratio in reaching:
        turning = min(speed * ratio, cap)
        loss, current = drive_parts.point_loss(
            book, prefix, complete, turning, force / ratio / gears
        )
        inverter = inverter_loss(
            loss_fixed=terms.fixed,
            loss_linear=terms.linear,
            loss_square=terms.square,
            phase_current=current,
        )
        least = min(least, loss + inverter)
    return least * book.number("drive.loss_factor")


def point_efficiency(book: FigureBook, prefix: str, speed: float, force: float) -> float:
    """Return wheel over electrical power of a unit at a road speed m/s and force N."""
    gears = book.get(f"{prefix}.gearbox.efficiency") or 1.0
    wheel = force * speed
    return wheel / (wheel / gears + loss_at(book, prefix, speed, force))


def gear_efficiency(book: FigureBook, prefix: str) -> Source:
    """Return where a unit's gear efficiency stands, or 1 for a motor without gears."""
    path = f"{prefix}.gearbox.efficiency"
    return path if book.has(path) else NO_GEARS


def keep_point_efficiency(book: FigureBook, figure_id: str, speed: float, force: float) -> None:
    """Write the first unit's efficiency at a road speed m/s and force N as a figure."""
    book.look_up(
        figure_id,
        "drive efficiency at this speed and force",
        point_efficiency(book, "drive", speed, force),
        "1",
        LookedUp("loss terms", f"{speed:.1f} m/s", f"{force:.0f} N", WHEEL_ENERGY),
        "fraction",
    )
