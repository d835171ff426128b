"""The shop: its store of records, opened at first use, and who acts on it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property
from pathlib import Path

from swapwright.base.errors import Problem, SwapwrightError
from swapwright.jobs.clock import utc_now
from swapwright.jobs.shop_refusals import Refusals
from swapwright.jobs.shop_registers import RegisterBook, Registers
from swapwright.procedures.competence import Standing, standing
from swapwright.procedures.permission import may
from swapwright.procedures.run import Run
from swapwright.records.equipment import Item
from swapwright.records.people import Person
from swapwright.records.record import LOCAL, Draft, Record
from swapwright.records.store import Guard, Store, open_store
from swapwright.records.vehicles import Vehicle

MOST_FOLLOWED = 200


class Refused(SwapwrightError):  # noqa: N818 - it reads as what it says
    """What was asked for is not done, and why; the refusal itself is on record."""

    def __init__(self, *problems: Problem) -> None:
        """Take one problem or many."""
        self.problems = problems
        super().__init__("\n".join(str(each) for each in problems))


NOBODY = Standing(None, "", ())
"""No competence on record."""


@dataclass(frozen=True)
class Actor:
    """Who acts: a person by id with the roles held, or the one user where there are no accounts.

    ``standing`` is the person's competence today; ``address`` is where from.
    """

    person: str
    roles: frozenset[str] = frozenset()
    standing: Standing = NOBODY
    address: str = ""

    @property
    def is_local(self) -> bool:
        """Tell whether nobody had to log in."""
        return self.person == LOCAL


LOCAL_ACTOR = Actor(LOCAL)


@dataclass(frozen=True)
class Followed:
    """A run as it stood after a record of the ledger, and the run's own records so far."""

    run: Run
    own: tuple[Record, ...]
    number: int


class FollowedRuns:
    """Runs followed so far, so that a new record costs no more than itself; the oldest go first."""

    def __init__(self) -> None:
        """Begin with none."""
        self._lock = threading.Lock()
        self._kept: dict[str, Followed] = {}

    def of(self, run: str) -> Followed | None:
        """Return how far a run was followed, None where it was not."""
        return self._kept.get(run)

    def keep(self, run: str, found: Followed) -> None:
        """Keep how far a run was followed; whoever came further before stays."""
        with self._lock:
            known = self._kept.pop(run, found)
            self._kept[run] = found if found.number >= known.number else known
            if len(self._kept) > MOST_FOLLOWED:
                self._kept.pop(next(iter(self._kept)))


class Shop:
    """One shop; its store is opened when it is first asked for anything."""

    def __init__(
        self,
        place: str | Path,
        *,
        key: Path | None = None,
        now: Callable[[], datetime] = utc_now,
        today: Callable[[], date] | None = None,
    ) -> None:
        """Take a file or a database's URL, where the signing key lies, and the clock."""
        self.place = place
        self.key = key
        self.now = now
        self._today = today
        self._opening = threading.Lock()
        self._book = RegisterBook(lambda: self.store)
        self.followed = FollowedRuns()
        self.refusals = Refusals()

    def today(self) -> date:
        """Return the day it is where the shop is."""
        return self._today() if self._today is not None else self.now().astimezone().date()

    @cached_property
    def _store(self) -> Store:
        return open_store(self.place, now=self.now)

    @property
    def store(self) -> Store:
        """The store; opened, and made where there is none, at the first call."""
        with self._opening:
            return self._store

    def latest(self) -> datetime:
        """Return the time, never before the last record's: nothing gets younger."""
        last, now = self.registers().at, self.now()
        return now if last is None else max(now, last)

    def write(self, *drafts: Draft, guard: Guard | None = None) -> tuple[Record, ...]:
        """Keep records, all or none; ``guard`` sees the store as it is then and may refuse."""
        return self.store.append(*drafts, guard=guard)

    def registers(self) -> Registers:
        """Return people, equipment and vehicles as they stand."""
        return self._book.now()

    def registers_at(self, number: int) -> Registers:
        """Return people, equipment and vehicles as they stood once a record was kept."""
        return self._book.at(number)

    @contextmanager
    def still(self) -> Iterator[Registers]:
        """Give the registers as they stand now for as long as one look at the shop takes."""
        with self._book.still() as found:
            yield found

    def people(self) -> Mapping[str, Person]:
        """Return everybody by id, who has left too."""
        return self.registers().people

    def items(self) -> Mapping[str, Item]:
        """Return the equipment by id."""
        return self.registers().items

    def vehicles(self) -> Mapping[str, Vehicle]:
        """Return the vehicles by id."""
        return self.registers().vehicles

    def has_accounts(self) -> bool:
        """Tell whether anybody has a password: then everybody logs in."""
        return any(each.has_password and not each.has_left for each in self.people().values())

    def actor(self, person: str, address: str = "") -> Actor:
        """Return a person as who acts; `LOCAL_ACTOR` for nobody in particular."""
        found = self.people().get(person)
        if found is None or found.has_left:
            return Actor(LOCAL, address=address) if person == LOCAL else Actor(person)
        return Actor(person, frozenset(found.roles), standing(found, self.today()), address)

    def allow(self, actor: Actor, action: str) -> None:
        """Raise `Refused`, and put it on record, where somebody may not do something."""
        if actor.is_local:
            return
        permission = may(actor.roles, actor.standing, action)
        if permission.ok:
            return
        is_reading = action.startswith("read ")
        if is_reading and not self.refusals.is_first(actor.person, action):
            raise Refused(Problem("", "", permission.reason))
        self.refuse(actor, action, permission.reason)

    def refuse(self, actor: Actor, what: str, *reasons: str) -> None:
        """Put a refusal on record and raise it; no more of one person than a minute can have."""
        about = {} if actor.is_local else {"person": actor.person}
        body = {"what": what, "reason": "; ".join(reasons), "address": actor.address}
        if self.refusals.is_within_bounds(actor.person):
            self.write(Draft("access.refused", actor.person, about, body))
        raise Refused(*(Problem("", "", reason) for reason in reasons))
