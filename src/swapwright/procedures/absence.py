"""Absence verified: a statement about named points, by a named person, with a named meter, at a
time; and every condition it rests on, looked at anew from what is on record.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from swapwright.procedures.reading import Entered
from swapwright.procedures.run import MeterUse, Run, Taken
from swapwright.procedures.step import Act, Step
from swapwright.procedures.waiting import aged, gone
from swapwright.records.record import Json, Record
from swapwright.standards.permits import STATEMENT_HOLDS

HOLDS = timedelta(seconds=STATEMENT_HOLDS.si)
PERMITS = ("permit.issued", "permit.withdrawn", "permit.closed")
CLOCK_BACK = "the clock was set back: nothing tells how old this is"


@dataclass(frozen=True)
class Condition:
    """One condition in words, whether it holds, and what it lacks where it does not."""

    words: str
    holds: bool
    lacks: str = ""


@dataclass(frozen=True)
class Absence:
    """Whether absence is verified by a run now, and what it rests on.

    ``points`` are pairs of places; ``lapsed`` says why a statement that was signed no longer
    stands. ``at`` and ``until`` are None where none stands.
    """

    is_verified: bool
    conditions: tuple[Condition, ...]
    points: tuple[tuple[str, str], ...]
    by: str
    meter: MeterUse | None
    at: datetime | None
    until: datetime | None
    lapsed: str


def absence(
    run: Run,
    now: datetime,
    permits: Iterable[Record] = (),
    unfit: Sequence[str] = (),
    clock: Json = None,
) -> Absence:
    """Return whether absence is verified by a run at a time (UTC), and by a clock nobody sets.

    It counts from the oldest reading it rests on. ``permits`` are the records of the vehicle's work
    permits; ``unfit`` says what is wrong today with whoever signed and with the meter and leads.
    """
    told, signed = tuple(permits), run.statement
    until = None if signed is None else _until(run, signed.at, told)
    over = "" if signed is None or until is None else _over(run, signed.at, until, now, clock)
    over = over or ("" if signed is None else _without_permit(signed.at, told))
    conditions = (
        _possible(run),
        Condition("the car was walked round with its file, and signed", run.is_walked),
        _all_done(run, "every source is opened, and its gap was looked at", *_before_locks(run)),
        _locked(run),
        _waited(run),
        _proved(run),
        _read_twice(run),
        Condition("who measured signed it", signed is not None),
        Condition("nothing stops the run", run.stop is None, _words_of_stop(run)),
        Condition("it is not too old, and its permit runs", not over, over),
        Condition("who signed, meter and leads are fit today", not unfit, "; ".join(unfit)),
    )
    stands = all(each.holds for each in conditions)
    lapsed = run.lapse.words if run.lapse is not None and run.lapse.had_stood else ""
    return Absence(
        is_verified=stands,
        conditions=conditions,
        points=tuple(dict.fromkeys(s.reading.points for s in _points(run) if s.reading)),
        by=run.worker,
        meter=run.meter,
        at=None if signed is None else signed.at,
        until=until,
        lapsed=over if signed is not None else lapsed,
    )


def _possible(run: Run) -> Condition:
    words = "the procedure can lead to it"
    if run.procedure.kind != "isolation":
        return Condition(words, False, f"{run.procedure.kind} is no isolation")
    why = run.procedure.no_absence
    return Condition(words, not why and not run.procedure.is_generic, "; ".join(why))


def _before_locks(run: Run) -> tuple[Step, ...]:
    """Return the steps from the first source taken away to the first lock."""
    steps = run.procedure.steps
    acts = [step.act for step in steps]
    if "open" not in acts or "lock" not in acts:
        return ()
    phase = steps[acts.index("open")].phase
    first = next(at for at, step in enumerate(steps) if step.phase == phase)
    return steps[first : acts.index("lock")]


def _all_done(run: Run, words: str, *steps: Step) -> Condition:
    lacking = [step.title for step in steps if not run.is_done(step)]
    return Condition(words, bool(steps) and not lacking, "; ".join(lacking))


def _of(run: Run, act: Act) -> tuple[Step, ...]:
    return tuple(step for step in run.procedure.steps if step.act == act)


def _locked(run: Run) -> Condition:
    steps = _of(run, "lock")
    lacking = [step.title for step in steps if run.lock_at(step, run.worker) is None]
    words = "at every gap the lock of the one who works hangs"
    return Condition(words, bool(steps) and not lacking, "; ".join(lacking))


def _waited(run: Run) -> Condition:
    lacking = [step.title for step in _of(run, "wait") if not _has_waited(run, step)]
    return Condition("the waiting time has run", not lacking, "; ".join(lacking))


def _has_waited(run: Run, step: Step) -> bool:
    begun, over = run.waits.get(step.id), run.done.get(step.id)
    if step.wait is None:
        return run.is_done(step)
    if begun is None or over is None:
        return False
    since = run.begun.body.get("clock")
    return gone(begun.body.get("clock"), over.body.get("clock"), since) >= step.wait


def _proved(run: Run) -> Condition:
    steps = _of(run, "prove")
    taken = [run.taken.get(step.id) for step in steps]
    use = {None if each is None else each.use for each in taken}
    holds = len(steps) > 1 and use == {run.meter} and run.meter is not None and run.meter.is_told
    lacking = [step.title for step, each in zip(steps, taken, strict=True) if each is None]
    return Condition(
        "one meter, with its leads and range, was proved before and after",
        holds,
        "; ".join(lacking),
    )


def _points(run: Run) -> tuple[Step, ...]:
    return tuple(
        step
        for step in run.procedure.steps
        if step.reading is not None and step.reading.limit is not None
    )


def _read_twice(run: Run) -> Condition:
    steps = _points(run)
    lacking = [step.title for step in steps if not _holds(run, step)]
    firsts = {step.reading.first for step in steps if step.reading and step.reading.first}
    once = {step.id for step in steps if step.reading and not step.reading.first}
    words = "every point was read twice with it, at or below the limit and not rising"
    return Condition(words, bool(steps) and firsts == once and not lacking, "; ".join(lacking))


def _holds(run: Run, step: Step) -> bool:
    taken, spec = run.taken.get(step.id), step.reading
    if taken is None or taken.entered is None or spec is None or spec.limit is None:
        return False
    if taken.use != run.meter or taken.record.by != run.worker:
        return False
    if taken.record.body.get("told_by"):
        return False
    if abs(taken.entered.si) > spec.limit:
        return False
    if not spec.first:
        return True
    first = run.taken.get(spec.first)
    since = run.begun.body.get("clock")
    return first is not None and _not_rising(first, taken, spec.after, since)


def _not_rising(first: Taken, taken: Taken, after: float, since: Json) -> bool:
    one, two = first.entered, taken.entered
    if one is None or two is None:
        return False
    digit = max(Entered(one.si, one.step).step, two.step) * 1.000_001
    apart = gone(first.record.body.get("clock"), taken.record.body.get("clock"), since)
    return abs(two.si) - abs(one.si) <= digit and apart >= after


def _words_of_stop(run: Run) -> str:
    return "" if run.stop is None else run.stop.words


def _rests_on(run: Run) -> tuple[Record, ...]:
    """Return the readings a statement rests on."""
    return tuple(each.record for each in run.taken.values())


def _until(run: Run, at: datetime, permits: Sequence[Record]) -> datetime:
    """Return until when a statement holds: by its readings' age, and each permit it was made under.

    A permit that is withdrawn or handed back later ends it then.
    """
    ends = [min([at, *(each.at for each in _rests_on(run))]) + HOLDS]
    ends += [end for since, end, _ in _spans(permits, at) if since <= at < end]
    return min(ends)


def _spans(permits: Sequence[Record], at: datetime) -> Iterator[tuple[datetime, datetime, bool]]:
    """Yield from when to when each permit ran that was issued by a time, and if it was closed."""
    for issued in permits:
        if issued.kind != PERMITS[0] or issued.at > at:
            continue
        since, until = (datetime.fromisoformat(str(issued.body[key])) for key in ("since", "until"))
        permit = issued.about.get("permit")
        ended = [e for e in permits if e.kind in PERMITS[1:] and e.about.get("permit") == permit]
        is_closed = any(e.kind == "permit.closed" and e.at <= at for e in ended)
        yield since, min([until, *(each.at for each in ended)]), is_closed


def _without_permit(at: datetime, permits: Sequence[Record]) -> str:
    """Return why a statement cannot be made by its permit: one that ran out is not handed back."""
    spans = list(_spans(permits, at))
    if any(since <= at < end for since, end, _ in spans):
        return ""
    is_open = any(end <= at and not is_closed for _, end, is_closed in spans)
    return "a work permit of this vehicle is over and was not handed back" if is_open else ""


def _over(run: Run, at: datetime, until: datetime, now: datetime, clock: Json) -> str:
    if now < at:
        return CLOCK_BACK
    oldest = max((aged(e.body.get("clock"), e.at, clock, now) for e in _rests_on(run)), default=0.0)
    if oldest >= HOLDS.total_seconds():
        return f"its readings are older than {STATEMENT_HOLDS.si / 3600.0:.0f} h"
    if now < until:
        return ""
    return "the work permit it was made under is over"
