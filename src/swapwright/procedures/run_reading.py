"""What a reading does to a run: it is judged whenever it comes, and counts only in its turn."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

from swapwright.procedures.in_turn import apart_short, done, not_counted, not_due, not_now, step_of
from swapwright.procedures.protection import LEADS, METER
from swapwright.procedures.reading import AskAgain, judge, read
from swapwright.procedures.run import MeterUse, Run, Stop, Taken, use_of
from swapwright.procedures.step import Step
from swapwright.procedures.taking_back import (
    first_prove,
    from_proving,
    from_sources,
    stopped,
    taken_back,
)
from swapwright.records.record import Record

OTHER_METER = (
    "with another meter, leads or range than were proved: put them on the proving source first"
)
NOT_ITS_WORKER = "it was taken by somebody else than the one who works"


def reading(run: Run, record: Record, discounted: str) -> Run:
    """Return a run after a reading; ``discounted`` says why it cannot count by who took it."""
    step, use = step_of(run, record), use_of(record)
    if step is None or step.reading is None:
        return _noted(run, Taken(record, None, None, use, "this run asks for no such reading"))
    found = read(str(record.body["text"]), step.reading.quantity, step.reading.unit)
    if isinstance(found, AskAgain):
        return _noted(run, Taken(record, None, None, use, found.words))
    first = run.taken.get(step.reading.first)
    judged = judge(step.reading, found, None if first is None else first.entered)
    taken = Taken(record, found, judged, use)
    if judged.stops:
        words = f"{record.body['text']} at {record.body['point']}: {judged.word}"
        back = from_proving(run) if step.act == "prove" else from_sources(run)
        return _noted(stopped(run, Stop(record, words), back), taken)
    why = discounted or _why_not(run, step, record, use)
    is_proof = step.act == "prove" and not discounted and not _meter_unknown(step, use)
    noted = _noted(
        replace(run, is_proved_since=run.is_proved_since or is_proof), replace(taken, why_not=why)
    )
    return noted if why else _taken(noted, step, taken)


def _noted(run: Run, taken: Taken) -> Run:
    """Every reading is kept, and why it does not count, where it does not."""
    known = replace(run, readings=(*run.readings, taken))
    return not_counted(known, taken.record, taken.why_not) if taken.why_not else known


def _taken(run: Run, step: Step, taken: Taken) -> Run:
    """A reading that counts; one that proves the meter anew takes back what the other one read."""
    known = run
    if step.id == first_prove(run.procedure):
        known = replace(taken_back(run, from_proving(run)), meter=taken.use)
    counted = MappingProxyType({**known.taken, step.id: taken})
    return done(replace(known, taken=counted), step, taken.record)


def _why_not(run: Run, step: Step, record: Record, use: MeterUse) -> str:
    """Return why a reading that fits does not count for its step, empty where it does."""
    why = not_now(run)
    if why:
        return why
    if record.by != run.worker or record.body.get("told_by"):
        return NOT_ITS_WORKER
    why = _meter_unknown(step, use)
    if why:
        return why
    if step.id == first_prove(run.procedure) and run.is_done(step):
        return ""
    why = not_due(run, step)
    if why:
        return why
    if METER in step.needs and run.meter is not None and use != run.meter:
        return OTHER_METER
    short = apart_short(run, step, record.body.get("clock"))
    return f"too early after the first reading: {short:.0f} s were left" if short > 0.0 else ""


def _meter_unknown(step: Step, use: MeterUse) -> str:
    """Return what is not told of the meter a step needs, empty where all is."""
    if METER not in step.needs:
        return ""
    if not use.meter or (LEADS in step.needs and not use.leads):
        return "it does not say with which meter and leads it was taken"
    return "" if use.mode else "it does not say which range the meter was set to"
