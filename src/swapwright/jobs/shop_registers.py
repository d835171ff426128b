"""What a shop's records have come to: kept in memory, brought up to date at each look."""

from __future__ import annotations

import threading
from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, replace
from datetime import datetime
from types import MappingProxyType

from swapwright.records.equipment import Item, items
from swapwright.records.people import Person, people
from swapwright.records.record import Record
from swapwright.records.store import Store
from swapwright.records.vehicles import Vehicle, vehicles

REGISTERS = ("person.", "role.", "competence.", "secret.", "item.", "vehicle.", "revision.")
"""What the kinds of record begin with that people, equipment and vehicles are made of."""
LOGGED = ("permit.", "lock.", "run.begun", "run.ended")
"""What the kinds begin with that stand in a vehicle's log."""
MOST_EARLIER = 64
"""States of the registers that are kept at hand: those a day's runs are judged by."""


@dataclass(frozen=True)
class Registers:
    """People, equipment and vehicles by id, as of one record of the ledger.

    ``log`` has for each vehicle its permits, its locks, and which runs were begun and ended: of a
    run's beginning no more than that. ``at`` is when the last record was kept, None before any.
    """

    number: int
    at: datetime | None
    people: Mapping[str, Person]
    items: Mapping[str, Item]
    vehicles: Mapping[str, Vehicle]
    log: Mapping[str, tuple[Record, ...]]

    def logged(self, vehicle: str, *kinds: str) -> tuple[Record, ...]:
        """Return the records of some kinds in a vehicle's log, in order."""
        return tuple(each for each in self.log.get(vehicle, ()) if each.kind in kinds)


class RegisterBook:
    """The registers of one store; every method may be called from several threads."""

    def __init__(self, store: Callable[[], Store]) -> None:
        """Take what gives the store; nothing is read yet."""
        self._store = store
        self._lock = threading.Lock()
        self._kept: list[Record] = []
        self._earlier: dict[int, Registers] = {}
        self._now = _registers(0, None, (), MappingProxyType({}))
        self._still: ContextVar[Registers | None] = ContextVar("registers", default=None)

    def now(self) -> Registers:
        """Return the registers as they stand, or as they stood where a look was begun."""
        seen = self._still.get()
        if seen is not None:
            return seen
        with self._lock:
            fresh = self._store().records(after=self._now.number)
            if fresh:
                self._add(fresh)
            return self._now

    @contextmanager
    def still(self) -> Iterator[Registers]:
        """Give the registers as they stand now for as long as one look at the shop takes."""
        token = self._still.set(self.now())
        try:
            yield self.now()
        finally:
            self._still.reset(token)

    def at(self, number: int) -> Registers:
        """Return people, equipment and vehicles as they stood once a record was kept."""
        if number > self._now.number:
            self.now()
        with self._lock:
            end = bisect_right(self._kept, number, key=lambda each: each.number)
            if end not in self._earlier:
                found = _registers(number, None, self._kept[:end], MappingProxyType({}))
                self._earlier[end] = found
                if len(self._earlier) > MOST_EARLIER:
                    self._earlier.pop(next(iter(self._earlier)))
            return self._earlier[end]

    def _add(self, fresh: tuple[Record, ...]) -> None:
        own = [each for each in fresh if each.kind.startswith(REGISTERS)]
        log = _with_logged(self._now.log, fresh)
        last = fresh[-1]
        if own:
            self._kept += own
            self._now = _registers(last.number, last.at, self._kept, log)
        else:
            self._now = replace(self._now, number=last.number, at=last.at, log=log)


def _registers(
    number: int,
    at: datetime | None,
    kept: Iterable[Record],
    log: Mapping[str, tuple[Record, ...]],
) -> Registers:
    records = tuple(kept)
    return Registers(number, at, people(records), items(records), vehicles(records), log)


def _with_logged(
    log: Mapping[str, tuple[Record, ...]], fresh: Iterable[Record]
) -> Mapping[str, tuple[Record, ...]]:
    found = dict(log)
    for each in fresh:
        vehicle = each.about.get("vehicle", "")
        if vehicle and each.kind.startswith(LOGGED):
            light = replace(each, body={}) if each.kind == "run.begun" else each
            found[vehicle] = (*found.get(vehicle, ()), light)
    return MappingProxyType(found)
