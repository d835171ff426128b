"""The coolant that comes to a part of the drive at continuous power, and what it leaves of that."""

from __future__ import annotations

from collections.abc import Sequence

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook, Source
from swapwright.assess.cooling_loop import CONTINUOUS, DRIVE_PARTS, Loop
from swapwright.assess.days import AMBIENT, HOT
from swapwright.base.errors import Missing
from swapwright.build.circuit.model import slug
from swapwright.physics.cooling.rating import power_at_coolant
from swapwright.standards.cooling import COOLANT_LIMIT

HOTTEST_PART = {"motor": "max_winding_temperature", "inverter": "max_temperature"}


def rated_coolant(part: str) -> str:
    """Return the build path of the coolant a part's rating is given at."""
    unit, kind = DRIVE_PARTS[part]
    return f"{unit}.{kind}.rated_coolant"


def coolant_into(book: FigureBook, loop: Loop, part: str) -> str:
    """Write the coolant that comes to a part at continuous power; return its figure."""
    name = f"{slug(part)}_{CONTINUOUS}"
    came = loop.figure(f"into_{name}")
    if came in book.values or came in book.missing:
        return came
    rows: list[tuple[str, Source, float]] = [
        ("behind it", loop.figure(f"after_{name}"), 1.0),
        ("rise in it", loop.figure(f"rise_{name}"), -1.0),
    ]
    label = f"coolant that comes to the {part}, {loop.name} loop, continuous power"
    book.total(came, label, "K", rows, "temperature")
    return came


def part_ratings(book: FigureBook, loop: Loop, parts: Sequence[str]) -> None:
    """Write what is left of the continuous rating of each part of the drive in a loop.

    A sheet that does not say at which coolant it rates its part is taken at the lower end of what
    makers ask for.
    """
    for part in dict.fromkeys(parts):
        if part not in DRIVE_PARTS:
            continue
        unit, kind = DRIVE_PARTS[part]
        came = coolant_into(book, loop, part)
        if unit not in drive_parts.units(book):
            continue
        if not book.has(rated_coolant(part)):
            book.assume(
                rated_coolant(part), COOLANT_LIMIT.si, COOLANT_LIMIT.unit, COOLANT_LIMIT.ref
            )
        limit = f"{unit}.{kind}.{HOTTEST_PART[kind]}"
        label = f"continuous power the {part} holds on its coolant"
        lasting = loop.figure(f"lasting_{slug(part)}")
        with book.attempt(lasting):
            _below_limit(book, part, limit)
            book.make(
                power_at_coolant,
                lasting,
                label=f"{label}, {loop.name} loop, hot day",
                power=f"{drive_parts.figure_prefix(unit)}.continuous_shaft_power",
                max_temperature=limit,
                rated_coolant=rated_coolant(part),
                coolant=came,
                ambient=AMBIENT[HOT],
            )


def _below_limit(book: FigureBook, part: str, limit: str) -> None:
    """Raise Missing where a part's limit leaves nothing above its rated coolant or the hot day."""
    for path in (rated_coolant(part), AMBIENT[HOT]):
        if book.number(path) >= book.number(limit):
            raise Missing(reason=f"{limit} is no higher than {path}")
