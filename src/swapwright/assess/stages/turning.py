"""How fast the wheels can turn a motor, and the voltage it makes with its gating stopped."""

from __future__ import annotations

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook
from swapwright.base.errors import Missing
from swapwright.physics.drive.gearing import motor_speed
from swapwright.physics.drive.limit import greater_speed
from swapwright.physics.drive.motor_loss import PERMANENT_MAGNET
from swapwright.physics.drive.motor_voltage import back_emf_at_speed


def turning(book: FigureBook) -> None:
    """Write each motor's highest speed, in the wrong gear too, and its back-EMF there."""
    for prefix in drive_parts.units(book):
        name, motor = drive_parts.figure_prefix(prefix), f"{prefix}.motor"
        turned = _turned(book, prefix, name)
        book.make(
            greater_speed,
            f"{name}.highest_speed",
            label="highest speed of the motor, its own or as the wheels turn it",
            first=f"{motor}.max_speed",
            second=f"{name}.turned_speed" if turned else f"{motor}.max_speed",
        )
        if book.car.texts.get(f"{motor}.kind") == PERMANENT_MAGNET:
            book.make(
                back_emf_at_speed,
                f"{name}.back_emf_at_limit",
                label="back-EMF at the motor's highest speed, gating stopped",
                back_emf=f"{motor}.back_emf",
                speed=f"{name}.highest_speed",
            )


def _turned(book: FigureBook, prefix: str, name: str) -> bool:
    """Write how fast the wheels turn a motor at top speed; tell whether they can outrun it.

    They can in a lower gear that nothing locks out, and where another motor drives the car.
    """
    try:
        wrong_gear = len(drive_parts.gears(book, prefix)) > 1 and not book.car.flags.get(
            f"{prefix}.gearbox.lockout", False
        )
    except Missing as missing:
        book.note_missing(f"{name}.turned_speed", missing)
        return True
    if not wrong_gear and len(drive_parts.units(book)) < 2:
        return False
    book.make(
        motor_speed,
        f"{name}.turned_speed",
        label="motor speed at top speed in the "
        + ("lowest gear in use" if wrong_gear else "gear of top speed"),
        road_speed="top_speed.peak",
        ratio=f"{name}.lowest_overall" if wrong_gear else f"{name}.tallest_overall",
        radius="tyre.radius",
    )
    return True
