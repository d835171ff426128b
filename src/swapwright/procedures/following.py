"""Following a run: what each record does to it, in the order they were kept.

A step counts only when its turn has come and nothing holds the run up; every reading is judged
whenever it comes. What did not count is kept with the reason why.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType

from swapwright.procedures.document import procedure_of
from swapwright.procedures.in_turn import (
    OVER,
    done,
    held_up,
    not_counted,
    not_due,
    proof_too_old,
    step_of,
    wait_short,
)
from swapwright.procedures.run import (
    ABSENCE,
    ISOLATES,
    NONE,
    Run,
    Stop,
)
from swapwright.procedures.run_reading import reading
from swapwright.procedures.signature import signed_content
from swapwright.procedures.step import Step
from swapwright.procedures.taking_back import (
    first_prove,
    from_proving,
    from_sources,
    lapsed,
    moved,
    stopped,
)
from swapwright.records.record import Json, Record

Effect = Callable[[Run, Record, str], Run]
"""What a record does to a run; the text says why it does not count by who did it with what."""


def run_of(records: Iterable[Record], run: str) -> Run | None:
    """Return a run as it stands after every record of its vehicle, None where it was not begun."""
    found: Run | None = None
    for record in records:
        is_own = record.about.get("run") == run
        if found is None:
            found = begun_run(record) if is_own and record.kind == "run.begun" else None
        else:
            found = after(found, record)
    return found


def begun_run(record: Record) -> Run:
    """Return a run as it was begun; raise InputError where its procedure cannot be read."""
    document, people = record.body["procedure"], _texts(record.body["people"])
    return Run(
        id=record.about["run"],
        vehicle=record.about["vehicle"],
        begun=record,
        procedure=procedure_of(document if isinstance(document, Mapping) else {}),
        people=people,
        worker=str(record.body.get("worker") or next(iter(people), record.by)),
        latest=record,
    )


def after(run: Run, record: Record, discounted: str = "") -> Run:
    """Return a run after one more record of its vehicle.

    ``discounted`` says why it does not count by who did it or with what, empty where it does: that
    is known from the registers of people and equipment as they were then.
    """
    if record.about.get("run") == run.id:
        effect = _OWN.get(record.kind) or _ANY.get(record.kind)
        known = replace(run, latest=record)
    else:
        effect, known = _ANY.get(record.kind), run
    return known if effect is None else effect(known, record, discounted)


def _step_done(run: Run, record: Record, discounted: str) -> Run:
    step = step_of(run, record)
    why = held_up(run, record) or not_due(run, step) or discounted
    if step is None or why:
        return not_counted(run, record, why)
    is_wait = step.act == "wait" and step.wait is not None
    if is_wait or step.act in ("lock", "prove", "measure", "sign") or step.id in run.done:
        return not_counted(run, record, f"{step.title} is not done in this way")
    if step.photo and step.id not in run.photos:
        return not_counted(run, record, f"{step.title}: its photo is missing")
    return done(run, step, record)


def _wait_begun(run: Run, record: Record, discounted: str) -> Run:
    step = step_of(run, record)
    why = held_up(run, record) or not_due(run, step) or discounted
    if step is None or why:
        return not_counted(run, record, why)
    if step.wait is None or step.id in run.waits:
        return not_counted(run, record, f"{step.title}: nothing begins to run here")
    return replace(run, waits=MappingProxyType({**run.waits, step.id: record}))


def _wait_over(run: Run, record: Record, discounted: str) -> Run:
    step = step_of(run, record)
    why = held_up(run, record) or not_due(run, step) or discounted
    if step is None or why:
        return not_counted(run, record, why)
    short = wait_short(run, step, record.body.get("clock"))
    if short is None:
        return not_counted(run, record, f"{step.title}: it was not begun")
    if short > 0.0:
        return not_counted(run, record, f"{step.title}: {short:.0f} s were left")
    return done(run, step, record)


def _lock_hung(run: Run, record: Record, discounted: str) -> Run:
    """A lock hangs whoever hung it; its step is done once it is the worker's, in its turn."""
    step, due = step_of(run, record), run.due
    if any(each.body["lock"] == record.body["lock"] for each in run.locks):
        return not_counted(run, record, "this lock hangs already")
    hung = replace(run, locks=(*run.locks, record))
    if step is None or step.act != "lock":
        return not_counted(hung, record, "this run has no such lock")
    if record.by not in run.people:
        return not_counted(hung, record, "who hangs a lock is named in the run")
    if record.by == run.worker:
        why = held_up(run, record) or not_due(run, step) or discounted
        return not_counted(hung, record, why) if why else done(hung, step, record)
    if run.is_done(step) or (due is not None and due.act == "lock"):
        return hung
    return not_counted(hung, record, f"{step.title}: its turn has not come")


def _lock_lifted(run: Run, record: Record, _: str) -> Run:
    key = (record.body["place"], record.body["lock"], record.body["owner"])
    off = [e for e in run.locks if (e.body["place"], e.body["lock"], e.by) == key]
    if not off:
        return run
    found = replace(run, locks=tuple(e for e in run.locks if e not in off))
    place = record.body["place"]
    is_locked = any(each.body["place"] == place for each in found.locks)
    if is_locked and all(e.by != run.worker for e in off):
        return found
    return lapsed(found, record, f"a lock was lifted: {place}", from_sources(found))


def _photo(run: Run, record: Record, _: str) -> Run:
    step = step_of(run, record)
    if step is None or not step.photo or step.id in run.photos:
        return run
    return replace(run, photos=MappingProxyType({**run.photos, step.id: record}))


def _signed(run: Run, record: Record, discounted: str) -> Run:
    step = step_of(run, record)
    why = (
        held_up(run, record) or not_due(run, step) or discounted or _why_unsigned(run, step, record)
    )
    if step is None or why:
        return not_counted(run, record, why)
    under = MappingProxyType({**run.signatures.get(step.id, NONE), record.by: record})
    return replace(run, signatures=MappingProxyType({**run.signatures, step.id: under}))


def _why_unsigned(run: Run, step: Step | None, record: Record) -> str:
    if step is None:
        return "this run has no such step"
    if step.act != "sign" and (step.people < 2 or step.id not in run.done):
        return f"{step.title}: there is nothing to sign yet"
    if record.by in run.signatures.get(step.id, NONE):
        return "the same person signs once: another one has to sign this"
    if step.id == ABSENCE and record.by != run.worker:
        return "who measured signs it, and nobody else"
    if step.id == ABSENCE and proof_too_old(run, record.body.get("clock"), record.at):
        return "the meter's last proof is too long ago: prove it and read every point again"
    if record.body["signed"] != signed_content(run, step):
        return "something else stands now than what was signed: look again, then sign"
    return ""


def _cleared(run: Run, record: Record, discounted: str) -> Run:
    """A stop that an ended run left behind is cleared before the next run is begun."""
    stop = record.body["stop"]
    if run.ended is not None and run.stop is not None and run.stop.record.number == stop:
        return replace(run, stop=None)
    why = discounted or why_not_cleared(run, stop)
    if why:
        return not_counted(run, record, why)
    return replace(run, stop=None, is_proved_since=False)


def why_not_cleared(run: Run, stop: Json) -> str:
    """Return why a stop cannot be cleared yet, empty where it can."""
    if run.stop is None or run.stop.record.number != stop:
        return "this is not what it is stopped by"
    if run.stop.is_final:
        return "the car is not what the file says: end this run, put the file right, begin anew"
    if first_prove(run.procedure) and not run.is_proved_since:
        return "prove the meter again first: a reading at the proving source"
    return ""


def _differs(run: Run, record: Record, _: str) -> Run:
    words = f"the car differs from its file: {record.body['what']}"
    return stopped(run, Stop(record, words, is_final=True), from_proving(run))


def _pressed(run: Run, record: Record, _: str) -> Run:
    return stopped(run, Stop(record, str(record.body["reason"])), from_proving(run))


def _held(run: Run, record: Record, _: str) -> Run:
    if run.ended is not None:
        return not_counted(run, record, OVER)
    return replace(run, held=record)


def _resumed(run: Run, record: Record, _: str) -> Run:
    if run.ended is not None or run.held is None:
        return not_counted(run, record, OVER if run.ended else "it is not held")
    return replace(run, held=None)


def _handed_over(run: Run, record: Record, discounted: str) -> Run:
    """Whoever takes over hangs a lock of their own, proves and measures anew."""
    if discounted or run.ended is not None:
        return not_counted(run, record, discounted or OVER)
    to = str(record.body["to"])
    if to == run.worker:
        return not_counted(run, record, "they do the work already")
    people = run.people if to in run.people else (*run.people, to)
    theirs = {
        step.id: hung
        for step in run.procedure.steps
        if step.act == "lock" and (hung := run.lock_at(step, to)) is not None
    }
    others = {step.id for step in run.procedure.steps if step.act == "lock"} - set(theirs)
    back = frozenset(others) | from_proving(run)
    found = lapsed(run, record, "the work was handed over to somebody else", back)
    with_theirs = MappingProxyType({**found.done, **theirs})
    return replace(found, worker=to, people=people, done=with_theirs, is_proved_since=False)


def _ended(run: Run, record: Record, _: str) -> Run:
    if run.ended is not None:
        return not_counted(run, record, OVER)
    return replace(run, ended=record)


def _source_back(run: Run, record: Record, _: str) -> Run:
    if run.procedure.kind not in ISOLATES:
        return run
    words = str(record.body.get("what") or record.body.get("cause") or "a source came back")
    return lapsed(run, record, words, from_sources(run))


def _moved(run: Run, record: Record, _: str) -> Run:
    if run.procedure.kind not in ISOLATES:
        return run
    return lapsed(run, record, str(record.body["what"]), moved(run))


def _revision(run: Run, record: Record, _: str) -> Run:
    if record.body["revision"] == run.procedure.revision:
        return run
    words = "another revision was entered: this run is of a car that was changed"
    return stopped(run, Stop(record, words, is_final=True), from_proving(run))


def _another(run: Run, record: Record, _: str) -> Run:
    if record.about.get("run") == run.id:
        return run
    return lapsed(run, record, "another procedure was begun on the car", from_sources(run))


def _incident(run: Run, record: Record, _: str) -> Run:
    """Somebody was hurt, or nearly: what was taken for absent may not be."""
    words = f"an incident was reported: {record.body['what']}"
    if run.ended is not None or record.body.get("is_near_miss") is True:
        return lapsed(run, record, words, from_sources(run))
    return stopped(run, Stop(record, words), from_sources(run))


def _texts(value: Json) -> tuple[str, ...]:
    return tuple(str(each) for each in value) if isinstance(value, list) else ()


_OWN: Mapping[str, Effect] = MappingProxyType(
    {
        "step.done": _step_done,
        "step.differs": _differs,
        "wait.begun": _wait_begun,
        "wait.over": _wait_over,
        "reading.entered": reading,
        "lock.hung": _lock_hung,
        "photo.added": _photo,
        "signature.given": _signed,
        "stop.cleared": _cleared,
        "run.held": _held,
        "run.resumed": _resumed,
        "run.handed_over": _handed_over,
        "run.stopped": _pressed,
        "run.ended": _ended,
    }
)
"""What a run's own records do to it."""

_ANY: Mapping[str, Effect] = MappingProxyType(
    {
        "lock.lifted": _lock_lifted,
        "vehicle.moved": _moved,
        "vehicle.supplied": _source_back,
        "vehicle.energised": _source_back,
        "absence.lapsed": _source_back,
        "revision.entered": _revision,
        "run.begun": _another,
        "incident.reported": _incident,
    }
)
"""What records of the vehicle do to a run, whichever run they belong to."""
