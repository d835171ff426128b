"""A run as it is kept, and how it stands by every record that bears on it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from swapwright.base.errors import InputError
from swapwright.jobs.clock import clock_mark
from swapwright.jobs.shop import Followed, Shop
from swapwright.jobs.shop_registers import Registers
from swapwright.jobs.shop_run_fit import discount, not_able, not_fit
from swapwright.procedures.absence import PERMITS, Absence, absence
from swapwright.procedures.following import after, begun_run
from swapwright.procedures.marks import LOCKS, VoltageMark, hanging, voltage_mark
from swapwright.procedures.protection import LEADS, METER
from swapwright.procedures.run import Run
from swapwright.procedures.step import Procedure
from swapwright.records.reader import Reader
from swapwright.records.record import Json, Record

UNREADABLE = "a run was begun whose procedure this program cannot read"


@dataclass(frozen=True)
class Kept:
    """One run as it stands.

    ``items`` is the equipment it was begun with, ``own`` are its records in order, ``permits`` and
    ``hanging`` those of the vehicle's work permits and of the locks that hang on it by any run.
    ``head`` is the number of the ledger's last record when they were read.
    """

    run: Run
    items: tuple[str, ...]
    own: tuple[Record, ...]
    permits: tuple[Record, ...]
    hanging: tuple[Record, ...]
    head: int

    @property
    def id(self) -> str:
        """The run's id."""
        return self.run.id

    @property
    def vehicle(self) -> str:
        """The vehicle's id."""
        return self.run.vehicle

    @property
    def procedure(self) -> Procedure:
        """The procedure that is followed, as it was when the run was begun."""
        return self.run.procedure


def kept_run(shop: Shop, run: str) -> Kept | None:
    """Return a run as it stands, None where there is none of that id."""
    registers = shop.registers()
    found = shop.followed.of(run)
    if found is None or found.number < registers.number:
        with shop.store.reader() as reader:
            fresh = _fresh(shop, reader, run)
        # Following asks the registers, which read on a connection of their own: never two at once.
        found = None if fresh is None else _followed(shop, run, fresh)
    if found is None:
        return None
    vehicle = found.run.vehicle
    return Kept(
        found.run,
        _texts(found.run.begun.body["items"]),
        found.own,
        registers.logged(vehicle, *PERMITS),
        hanging_on(registers, vehicle),
        max(registers.number, found.number),
    )


def run_in(shop: Shop, reader: Reader, run: str) -> Run | None:
    """Return a run as one transaction sees it, None where there is none of that id."""
    fresh = _fresh(shop, reader, run)
    return None if fresh is None else _followed(shop, run, fresh).run


@dataclass(frozen=True)
class _Fresh:
    """How far a run was followed, what came since, and the ledger's last number."""

    known: Followed
    records: tuple[Record, ...]
    head: int


def _fresh(shop: Shop, reader: Reader, run: str) -> _Fresh | None:
    known = shop.followed.of(run)
    if known is None:
        begun = reader.records(kinds=("run.begun",), run=run)
        if not begun:
            return None
        known = Followed(begun_run(begun[0]), begun, begun[0].number)
    # The head is read first: what comes between is read again, never left out.
    head = reader.head()[0]
    return _Fresh(known, reader.records(after=known.number, vehicle=known.run.vehicle), head)


def _followed(shop: Shop, run: str, fresh: _Fresh) -> Followed:
    """Return a run followed to the end: from where it was followed to before, if it was."""
    found = fresh.known
    for record in fresh.records:
        known = after(found.run, record, discount(shop, found.run, record))
        own = (*found.own, record) if record.about.get("run") == run else found.own
        found = Followed(known, own, record.number)
    found = replace(found, number=max(fresh.head, found.number))
    shop.followed.keep(run, found)
    return found


def absence_of(shop: Shop, kept: Kept) -> Absence:
    """Return what a run says of absence now."""
    clock: Json = {"server": dict(clock_mark(shop.now()))}
    unfit = _unfit_today(shop, kept.run)
    return absence(kept.run, shop.latest(), kept.permits, unfit, clock)


def vehicle_mark(shop: Shop, vehicle: str) -> tuple[VoltageMark, Kept | None]:
    """Return the voltage mark of a vehicle, and the run begun last on it."""
    registers = shop.registers()
    begun = registers.logged(vehicle, "run.begun")
    try:
        last = kept_run(shop, begun[-1].about["run"]) if begun else None
    except InputError:
        return VoltageMark("unknown", UNREADABLE), None
    if last is None:
        return voltage_mark(None, None, shop.latest()), None
    if last.vehicle != vehicle:
        return VoltageMark("unknown", "the run it rests on is of another vehicle"), None
    names = _open(registers.logged(vehicle, "run.begun", "run.ended"))
    others = sum(name != last.id for name in names)
    return voltage_mark(last.run, absence_of(shop, last), shop.latest(), others), last


def open_stop(shop: Shop, vehicle: str) -> Kept | None:
    """Return the run begun last on a vehicle where it is stopped still, None where it is not.

    A car that was not its file is another one once another revision was entered.
    """
    registers = shop.registers()
    begun = registers.logged(vehicle, "run.begun")
    last = kept_run(shop, begun[-1].about["run"]) if begun else None
    if last is None or last.run.stop is None:
        return None
    found = registers.vehicles.get(vehicle)
    entered = "" if found is None or found.revision is None else found.revision.revision
    is_changed = last.run.stop.is_final and entered != last.procedure.revision
    return None if is_changed else last


def hanging_on(registers: Registers, vehicle: str) -> tuple[Record, ...]:
    """Return the locks that hang on a vehicle, by whichever run."""
    return hanging(registers.logged(vehicle, *LOCKS))


def open_runs(reader: Reader, vehicle: str) -> tuple[str, ...]:
    """Return the runs of a vehicle that were begun and have not ended, in order."""
    return _open(reader.records(kinds=("run.begun", "run.ended"), vehicle=vehicle))


def _open(records: tuple[Record, ...]) -> tuple[str, ...]:
    ended = {each.about["run"] for each in records if each.kind == "run.ended"}
    begun = (each.about["run"] for each in records if each.kind == "run.begun")
    return tuple(each for each in begun if each not in ended)


def _unfit_today(shop: Shop, run: Run) -> tuple[str, ...]:
    """Return what is wrong today with whoever signed absence, and with what was measured with."""
    if run.statement is None or run.meter is None:
        return ()
    registers, on = shop.registers(), shop.today()
    able = not_able(registers, run.worker, "isolation", on)
    taken: Mapping[str, str] = {METER: run.meter.meter, LEADS: run.meter.leads}
    unfit = not_fit(registers, run.procedure, (METER, LEADS), taken, on)
    return (*([able] if able else []), *unfit)


def _texts(value: Json) -> tuple[str, ...]:
    return tuple(str(each) for each in value) if isinstance(value, list) else ()
