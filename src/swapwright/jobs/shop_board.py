"""The board of the shop: every vehicle with its two marks, its open run, its permits."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from swapwright.jobs.shop import Actor, Shop
from swapwright.jobs.shop_history import moment_words, who
from swapwright.jobs.shop_permit import PermitRow, permit_rows
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


def board_rows(shop: Shop, actor: Actor) -> tuple[BoardRow, ...]:
    """Return every vehicle as it stands now."""
    shop.allow(actor, "read records")
    permits = permit_rows(shop, actor)
    return tuple(_row(shop, each, permits) for each in shop.vehicles().values())


def board_row(shop: Shop, actor: Actor, vehicle: str) -> BoardRow | None:
    """Return one vehicle as it stands now, None where there is none of that id."""
    found = shop.vehicles().get(vehicle)
    shop.allow(actor, "read records")
    return None if found is None else _row(shop, found, permit_rows(shop, actor, vehicle))


def _row(shop: Shop, vehicle: Vehicle, permits: Iterable[PermitRow]) -> BoardRow:
    records = shop.store.records(vehicle=vehicle.id)
    open_runs = _open_runs(records)
    voltage = _voltage(records, open_runs)
    run = tuple(open_runs)[-1] if open_runs else ""
    return BoardRow(
        vehicle,
        _lock(shop, records),
        voltage,
        True,
        run,
        _run_words(shop, open_runs[run]) if run else "",
        tuple(each for each in permits if each.vehicle == vehicle.id and each.is_open),
    )


def _open_runs(records: Iterable[Record]) -> Mapping[str, Record]:
    """Return the runs that have not ended by the record that began each, in order."""
    found: dict[str, Record] = {}
    for each in records:
        if each.kind == "run.begun":
            found[each.about["run"]] = each
        elif each.kind == "run.ended":
            found.pop(each.about["run"], None)
    return found


def _run_words(shop: Shop, begun: Record) -> str:
    procedure = begun.body["procedure"]
    kind = procedure.get("kind") if isinstance(procedure, Mapping) else ""
    return f"{kind or 'a procedure'}, begun {moment_words(begun.at)} by {who(shop, begun.by)}"


def _lock(shop: Shop, records: Iterable[Record]) -> Mark:
    """Return who has a lock on a vehicle: each that was hung and not lifted by its owner since."""
    hung: dict[tuple[str, str], Record] = {}
    for each in records:
        if each.kind == "lock.hung":
            hung[_lock_of(each)] = each
        elif each.kind == "lock.lifted":
            hung.pop(_lock_of(each), None)
    if not hung:
        return Mark("none", "", "lock-open")
    owners = dict.fromkeys(who(shop, each.by) for each in hung.values())
    places = ", ".join(str(each.body["place"]) for each in hung.values())
    return Mark(f"locked by {', '.join(owners)}", places, "lock-closed")


def _lock_of(record: Record) -> tuple[str, str]:
    return str(record.body["place"]), str(record.body["lock"])


def _voltage(records: Iterable[Record], open_runs: Mapping[str, Record]) -> Mark:
    """Return the mark of the voltage as far as the records alone tell it.

    Whatever is not known, or contradicts itself, is told as such: never as less than energised.
    """
    if len(open_runs) > 1:
        return Mark("unknown", f"{len(open_runs)} runs are open at once", "unknown")
    if not any(each.kind == "run.begun" for each in records):
        return Mark("energised", "nobody has begun to isolate it", "energised")
    return Mark("unknown", "a run was begun, and nothing tells how far it came", "unknown")
