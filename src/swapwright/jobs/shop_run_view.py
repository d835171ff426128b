"""A run as its page shows it: how it stands, the step that is due, what absence rests on."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from swapwright.jobs.shop import Actor, Shop
from swapwright.jobs.shop_board import Mark, board_row
from swapwright.jobs.shop_history import moment_words, who
from swapwright.jobs.shop_run_begin import Choice, choices_of
from swapwright.jobs.shop_run_fit import taken_of_run
from swapwright.jobs.shop_run_kept import Kept, absence_of, kept_run
from swapwright.jobs.shop_run_told import AbsenceView, Last, absence_view, last_view
from swapwright.procedures.following import why_not_cleared
from swapwright.procedures.in_turn import apart_short, proof_too_old, wait_short
from swapwright.procedures.protection import LOCK
from swapwright.procedures.run import ABSENCE, WALK, Run
from swapwright.procedures.signature import signed_content
from swapwright.procedures.step import Procedure, Step
from swapwright.procedures.taking_back import first_prove
from swapwright.records.people import Person
from swapwright.records.record import Json, Record
from swapwright.records.vehicles import Vehicle

NOT_CONFIRMED = "design, not confirmed: nobody has walked round the car with it and signed"
NOW_PROVE = "Take your hands away. Treat the car as live."
NOW = (
    NOW_PROVE,
    "Prove the meter again at the proving source, with the same leads and range.",
    "Find the source of what was read, and write down what it was.",
    "Then every source is taken away and every point is measured anew.",
)
NOW_UNPROVED = (
    NOW_PROVE,
    "Find the source of what was read, and write down what it was.",
)
NOW_OVER = (
    NOW_PROVE,
    "End this run. Put the file right, enter its revision, and begin anew.",
)


@dataclass(frozen=True)
class StepRow:
    """One step of a run: whether it is done or due, by whom, and what is left to wait, s."""

    step: Step
    is_done: bool
    is_current: bool
    word: str
    words: str
    signed: tuple[str, ...]
    left: float | None
    begun: Mapping[str, Json] | None


@dataclass(frozen=True)
class StopView:
    """What a run is stopped by, and what to do now; ``is_final`` where it never can be cleared."""

    number: int
    words: str
    by: str
    at: str
    now: tuple[str, ...]
    is_final: bool
    can_be_cleared: bool


@dataclass(frozen=True)
class Hung:
    """A lock that hangs: the number of its record, and in words where and whose."""

    value: str
    words: str


@dataclass(frozen=True)
class RunView:
    """Everything a page or a device shows of a run.

    ``design`` says that the car was not yet walked round, empty where it was. ``entered`` are the
    readings that count, (SI, what their last digit is worth) by step. ``choices`` are the pieces
    of equipment of each kind, ``taken`` the one last said to be used. ``seen`` is what a signature
    under the step that is due would bind to.
    """

    id: str
    head: int
    vehicle: Vehicle
    procedure: Procedure
    lock: Mark
    voltage: Mark
    is_treated_as_energised: bool
    design: str
    stop: StopView | None
    held: str
    ended: str
    lapsed: str
    worker_name: str
    rows: tuple[StepRow, ...]
    last: Last | None
    absence: AbsenceView
    people: tuple[Person, ...]
    by: str
    signers: tuple[Person, ...]
    choices: Mapping[str, tuple[Choice, ...]]
    taken: Mapping[str, str]
    locks: tuple[Choice, ...]
    hung: tuple[Hung, ...]
    entered: Mapping[str, tuple[float, float]]
    mode: str
    seen: str

    @property
    def current(self) -> StepRow | None:
        """The step that is due, None after the last."""
        return next((row for row in self.rows if row.is_current), None)


def run_view(shop: Shop, actor: Actor, run: str, clock: Mapping[str, Json]) -> RunView | None:
    """Return a run as it stands at a clock's moments, None where there is none of that id."""
    shop.allow(actor, "read records")
    with shop.still():
        return _view(shop, actor, run, clock)


def _view(shop: Shop, actor: Actor, run: str, clock: Mapping[str, Json]) -> RunView | None:
    kept = kept_run(shop, run)
    vehicle = None if kept is None else shop.vehicles().get(kept.vehicle)
    board = None if kept is None else board_row(shop, actor, kept.vehicle)
    if kept is None or vehicle is None or board is None:
        return None
    state, due = kept.run, kept.run.due
    choices = choices_of(shop, kept.procedure)
    people = tuple(shop.people()[each] for each in state.people if each in shop.people())
    return RunView(
        id=run,
        head=kept.head,
        vehicle=vehicle,
        procedure=kept.procedure,
        lock=board.lock,
        voltage=board.voltage,
        is_treated_as_energised=board.is_treated_as_energised,
        design=_design(state),
        stop=_stop(shop, state),
        held="" if state.held is None else _of(shop, state.held, "reason"),
        ended="" if state.ended is None else _of(shop, state.ended, "outcome"),
        lapsed=_lapsed(state),
        worker_name=who(shop, state.worker),
        rows=tuple(_rows(shop, state, clock)),
        last=last_view(shop, state),
        absence=absence_view(shop, absence_of(shop, kept)),
        people=people,
        by=state.worker if actor.is_local else actor.person,
        signers=tuple(e for e in shop.people().values() if e.has_pin and not e.has_left),
        choices=choices,
        taken=taken_of_run(shop.registers(), kept.items, kept.own),
        locks=_free_locks(choices, kept),
        hung=tuple(_hung(shop, each) for each in kept.hanging),
        entered=_entered(state),
        mode=_mode(kept),
        seen="" if due is None else signed_content(state, due),
    )


def _entered(state: Run) -> Mapping[str, tuple[float, float]]:
    return {
        name: (each.entered.si, each.entered.step)
        for name, each in state.taken.items()
        if each.entered is not None and math.isfinite(each.entered.si)
    }


def _design(state: Run) -> str:
    has_walk = any(step.id.startswith(WALK) for step in state.procedure.steps)
    if not has_walk and not state.procedure.is_generic:
        return ""
    return "" if state.is_walked else NOT_CONFIRMED


def _stop(shop: Shop, state: Run) -> StopView | None:
    found = state.stop
    if found is None:
        return None
    has_proof = any(step.act == "prove" for step in state.procedure.steps)
    now = NOW_OVER if found.is_final else NOW if has_proof else NOW_UNPROVED
    record = found.record
    return StopView(
        record.number,
        found.words,
        who(shop, record.by),
        moment_words(record.at),
        now,
        found.is_final,
        state.ended is None and not why_not_cleared(state, record.number),
    )


def _of(shop: Shop, record: Record, key: str) -> str:
    return f"{record.body[key]} ({who(shop, record.by)}, {moment_words(record.at)})"


def _rows(shop: Shop, state: Run, clock: Mapping[str, Json]) -> Iterable[StepRow]:
    people = shop.people()
    names = {each: people[each].name if each in people else who(shop, each) for each in _by(state)}
    due = _at_hand(state, clock, shop.latest())
    for step in state.procedure.steps:
        has_gone, is_due = state.is_done(step), due is not None and step.id == due.id
        begun = state.waits.get(step.id)
        told = None if begun is None or has_gone else begun.body.get("clock")
        yield StepRow(
            step,
            has_gone,
            is_due,
            "done" if has_gone else "now" if is_due else "",
            _done_words(names, state, step) if has_gone else "",
            tuple(names[each] for each in state.signatures.get(step.id, {})),
            None if has_gone else _left(state, step, clock),
            told if isinstance(told, Mapping) else None,
        )


def _lapsed(state: Run) -> str:
    """Return what took steps back, while nothing was signed since."""
    if state.lapse is None or state.statement is not None:
        return ""
    is_latest = all(e.number < state.lapse.record.number for e in state.done.values())
    return state.lapse.words if is_latest or state.lapse.had_stood else ""


def _at_hand(state: Run, clock: Mapping[str, Json], at: datetime) -> Step | None:
    """Return the step that can be done now.

    After a stop, and where the last proof is too old to sign by, none but proving the meter again.
    """
    if state.ended is not None or (state.stop is not None and state.stop.is_final):
        return None
    if state.stop is not None:
        return state.procedure.step(first_prove(state.procedure))
    due = state.due
    if due is not None and due.id == ABSENCE and proof_too_old(state, dict(clock), at):
        return state.procedure.step(first_prove(state.procedure))
    return due


def _left(state: Run, step: Step, clock: Mapping[str, Json]) -> float | None:
    if step.act == "wait":
        return wait_short(state, step, dict(clock))
    if step.reading is None or step.reading.first not in state.taken:
        return None
    return apart_short(state, step, dict(clock))


def _by(state: Run) -> set[str]:
    """Return everybody who did or signed a step."""
    signed = {each for under in state.signatures.values() for each in under}
    return signed | {each.by for each in state.done.values()}


def _done_words(names: Mapping[str, str], state: Run, step: Step) -> str:
    under = state.signatures.get(step.id, {}).values()
    signed = ", ".join(f"{names[each.by]}, {moment_words(each.at)}" for each in under)
    if step.act == "sign":
        return signed
    record = state.done[step.id]
    text = f"{record.body['text']}, " if "text" in record.body else ""
    did = f"{text}{names[record.by]}, {moment_words(record.at)}"
    return f"{did}; signed by {signed}" if signed else did


def _free_locks(choices: Mapping[str, tuple[Choice, ...]], kept: Kept) -> tuple[Choice, ...]:
    hanging = {each.body["lock"] for each in kept.hanging}
    return tuple(each for each in choices.get(LOCK, ()) if each.id not in hanging)


def _hung(shop: Shop, record: Record) -> Hung:
    item = shop.items().get(str(record.body["lock"]))
    name = str(record.body["lock"]) if item is None else f"{item.name} ({item.serial})"
    return Hung(str(record.number), f"{name}, {record.body['place']}, of {who(shop, record.by)}")


def _mode(kept: Kept) -> str:
    told = (str(each.body["mode"]) for each in reversed(kept.own) if each.body.get("mode"))
    return next(told, "")
