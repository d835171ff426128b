"""The board of the shop: every vehicle with its two marks, its open run, its permits."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from swapwright.jobs.shop import Actor, Shop
from swapwright.jobs.shop_history import moment_words, who
from swapwright.jobs.shop_permit import PermitRow, permit_rows
from swapwright.jobs.shop_run_kept import Kept, absence_of, hanging_on, vehicle_mark
from swapwright.procedures.marks import VoltageMark
from swapwright.records.record import Record
from swapwright.records.vehicles import Vehicle


@dataclass(frozen=True)
class Mark:
    """One of the two marks of a vehicle: its word, what is to know of it, its shape's name."""

    word: str
    words: str
    shape: str


@dataclass(frozen=True)
class BoardRow:
    """One vehicle on the board; ``run`` is the open run's id, empty where there is none."""

    vehicle: Vehicle
    lock: Mark
    voltage: Mark
    is_treated_as_energised: bool
    run: str
    run_words: str
    permits: tuple[PermitRow, ...]


SHAPES: Mapping[str, str] = MappingProxyType(
    {
        "energised": "energised",
        "opened, not waited": "opened",
        "waiting": "waiting",
        "waited, not measured": "waited",
        "absence verified": "verified",
    }
)
"""Word of the voltage mark -> its shape; what is missing here has the shape of what is unknown."""


def board_rows(shop: Shop, actor: Actor) -> tuple[BoardRow, ...]:
    """Return every vehicle as it stands now."""
    shop.allow(actor, "read records")
    with shop.still():
        permits = permit_rows(shop, actor)
        return tuple(_row(shop, each, permits) for each in shop.vehicles().values())


def board_row(shop: Shop, actor: Actor, vehicle: str) -> BoardRow | None:
    """Return one vehicle as it stands now, None where there is none of that id."""
    shop.allow(actor, "read records")
    with shop.still() as registers:
        found = registers.vehicles.get(vehicle)
        return None if found is None else _row(shop, found, permit_rows(shop, actor, vehicle))


def _row(shop: Shop, vehicle: Vehicle, permits: Iterable[PermitRow]) -> BoardRow:
    hung = hanging_on(shop.registers(), vehicle.id)
    mark, last = vehicle_mark(shop, vehicle.id)
    is_open = last is not None and last.run.ended is None
    return BoardRow(
        vehicle,
        _lock(shop, hung),
        _voltage(shop, mark, last),
        mark.is_treated_as_energised,
        last.id if last is not None and is_open else "",
        _run_words(shop, last) if last is not None and is_open else "",
        tuple(each for each in permits if each.vehicle == vehicle.id and each.is_open),
    )


def _run_words(shop: Shop, kept: Kept) -> str:
    begun = kept.run.begun
    kind, when = kept.procedure.kind, moment_words(begun.at)
    return f"{kind}, begun {when}, done by {who(shop, kept.run.worker)}"


def _lock(shop: Shop, hung: Iterable[Record]) -> Mark:
    """Return who has a lock on a vehicle: each that was hung and not lifted by its owner since."""
    locks = tuple(hung)
    if not locks:
        return Mark("none", "", "lock-open")
    owners = dict.fromkeys(who(shop, each.by) for each in locks)
    places = ", ".join(dict.fromkeys(str(each.body["place"]) for each in locks))
    return Mark(f"locked by {', '.join(owners)}", places, "lock-closed")


def _voltage(shop: Shop, mark: VoltageMark, last: Kept | None) -> Mark:
    """Return the mark of the voltage; a statement that stands says when, by whom, where, until."""
    shape = SHAPES.get(mark.word, "unknown")
    if mark.is_treated_as_energised or last is None:
        return Mark(mark.word, mark.words, shape)
    stated = absence_of(shop, last)
    at = "" if stated.at is None else f"{stated.at.astimezone():%H:%M}"
    until = "" if stated.until is None else f"{stated.until.astimezone():%H:%M}"
    word = f"{mark.word} at {at} by {who(shop, stated.by)}"
    words = f"at {len(stated.points)} listed points; no longer than {until}; a pack is never off"
    return Mark(word, words, shape)
