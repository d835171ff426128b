"""What a reading does to a run: it is judged whenever it comes, and counts only in its turn."""

from __future__ import annotations

import re
from dataclasses import replace
from types import MappingProxyType

from swapwright.procedures.in_turn import (
    apart_short,
    done,
    held_up,
    not_counted,
    not_due,
    step_of,
    too_old,
)
from swapwright.procedures.protection import LEADS, METER
from swapwright.procedures.reading import AskAgain, judge, read
from swapwright.procedures.run import MeterUse, Run, Stop, Taken, use_of
from swapwright.procedures.step import ReadingSpec, Step
from swapwright.procedures.taking_back import (
    first_prove,
    from_proving,
    from_sources,
    lapsed,
    stopped,
    taken_back,
)
from swapwright.records.record import Record
from swapwright.standards.procedures import PROOF_AGREES

_NUMBER = re.compile(r"\d+(?:[.,]\d+)?|[.,]\d+")
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
        return _asked_again(run, step, Taken(record, None, None, use, found.words))
    first = run.taken.get(step.reading.first)
    spec = _by_source(run, step, record)
    judged = judge(spec, found, None if first is None else first.entered)
    taken = Taken(record, found, judged, use)
    known = _typed_again(run, step)
    words = f"{record.body['text']} at {record.body['point']}: {judged.word}"
    if _is_another_number(run.asked.get(step.id), record):
        words = f"{record.body['text']}, typed first as {run.asked[step.id].body['text']}"
    elif not judged.stops:
        return _fits(known, step, taken, discounted)
    back = from_proving(run) if step.act == "prove" else from_sources(run)
    return _noted(stopped(known, Stop(record, words), back), taken)


def _fits(run: Run, step: Step, taken: Taken, discounted: str) -> Run:
    record = taken.record
    why = discounted or _why_not(run, step, record, taken.use)
    void = discounted or too_old(run, record) or _unknown(step, record, taken.use)
    is_proof = step.act == "prove" and not void
    noted = _noted(
        replace(run, is_proved_since=run.is_proved_since or is_proof), replace(taken, why_not=why)
    )
    return noted if why else _taken(noted, step, taken)


def _by_source(run: Run, step: Step, record: Record) -> ReadingSpec:
    """Return what a proof is judged by: what its source gives, and what the meter showed before."""
    assert step.reading is not None
    wanted = [record.body.get("given")]
    before = run.taken.get(first_prove(run.procedure))
    if step.id != first_prove(run.procedure) and before is not None and before.entered is not None:
        wanted.append(abs(before.entered.si))
    if step.act != "prove":
        return step.reading
    low, high = step.reading.expected.low, step.reading.expected.high
    for each in wanted:
        if isinstance(each, int | float):
            spread = PROOF_AGREES.si * float(each)
            low, high = max(low, float(each) - spread), min(high, float(each) + spread)
    expected = replace(step.reading.expected, low=low, high=high)
    return replace(step.reading, expected=expected)


def _asked_again(run: Run, step: Step, taken: Taken) -> Run:
    """A number without its unit may be anything: until it is typed again nothing rests on it."""
    asked = run.asked.get(step.id, taken.record)
    noted = _noted(run, taken)
    if run.statement is not None:
        words = f"a reading without its unit: {taken.record.body['text']}"
        noted = lapsed(noted, taken.record, words, from_proving(run))
    return replace(noted, asked=MappingProxyType({**run.asked, step.id: asked}))


def _typed_again(run: Run, step: Step) -> Run:
    rest = {name: each for name, each in run.asked.items() if name != step.id}
    return replace(run, asked=MappingProxyType(rest))


def _is_another_number(first: Record | None, record: Record) -> bool:
    """Tell whether a reading typed again is not the number that was typed first."""
    if first is None:
        return False
    one, other = (_NUMBER.search(str(each.body["text"])) for each in (first, record))
    if one is None or other is None:
        return True
    return float(one[0].replace(",", ".")) != float(other[0].replace(",", "."))


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
    why = held_up(run, record)
    if why:
        return why
    if record.by != run.worker or record.body.get("told_by"):
        return NOT_ITS_WORKER
    why = _unknown(step, record, use)
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


def _unknown(step: Step, record: Record, use: MeterUse) -> str:
    """Return what is not told of the meter and the source a step needs, empty where all is."""
    if step.act == "prove" and not isinstance(record.body.get("given"), int | float):
        return "it does not say on which proving source, and what that gives"
    if METER not in step.needs:
        return ""
    if not use.meter or (LEADS in step.needs and not use.leads):
        return "it does not say with which meter and leads it was taken"
    return "" if use.mode else "it does not say which range the meter was set to"
