"""Whether it is a step's turn in a run, and how long there is still to wait."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from types import MappingProxyType

from swapwright.procedures.run import Run
from swapwright.procedures.step import Step
from swapwright.procedures.waiting import aged, gone, is_older
from swapwright.records.record import Json, Record
from swapwright.standards.permits import SIGN_WITHIN

OVER, HELD = "the run is over", "the run is held: go on with it first"
STOPPED = "first the stop: prove the meter again, find the source and say what it was"


def not_now(run: Run) -> str:
    """Return what holds every step of a run up, empty where nothing does."""
    if run.ended is not None:
        return OVER
    if run.stop is not None:
        return run.stop.words if run.stop.is_final else STOPPED
    if run.held is not None:
        return HELD
    asked = next(iter(run.asked.values()), None)
    if asked is None:
        return ""
    return f"type the reading again with its unit first: {asked.body['text']}"


def held_up(run: Run, record: Record) -> str:
    """Return what keeps an act from counting whatever its step, empty where nothing does.

    An act that arrives late and was done before steps were taken back does not count.
    """
    return not_now(run) or too_old(run, record)


def too_old(run: Run, record: Record) -> str:
    """Return why an act is older than what took steps back, empty where it is not."""
    if run.lapse is None:
        return ""
    event, clock = run.lapse.record, record.body.get("clock")
    if is_older(clock, record.at, event.body.get("clock"), event.at):
        return f"it was done before this happened: {run.lapse.words}. Do it again"
    return ""


def proof_too_old(run: Run, clock: Json, at: datetime) -> bool:
    """Tell whether the meter's last proof is too long ago for the statement to be signed."""
    last = next((s for s in reversed(run.procedure.steps) if s.act == "prove"), None)
    proof = None if last is None else run.taken.get(last.id)
    if proof is None:
        return False
    return aged(proof.record.body.get("clock"), proof.record.at, clock, at) > SIGN_WITHIN.si


def not_due(run: Run, step: Step | None) -> str:
    """Return why it is not a step's turn, empty where it is."""
    due = run.due
    if step is None:
        return "this run has no such step"
    if due is not None and step.id == due.id:
        return ""
    if due is None or run.is_done(step):
        return f"{step.title} is done already"
    return f"first comes: {due.title}"


def wait_short(run: Run, step: Step, clock: Json) -> float | None:
    """Return how many s are left of a step's wait at a clock; None while it was not begun."""
    begun = run.waits.get(step.id)
    if begun is None or step.wait is None:
        return None
    return max(step.wait - gone(begun.body.get("clock"), clock, run.begun.body.get("clock")), 0.0)


def apart_short(run: Run, step: Step, clock: Json) -> float:
    """Return how many s have to go by before a second reading may be taken; 0 where none."""
    spec = step.reading
    first = None if spec is None else run.taken.get(spec.first)
    if spec is None or first is None:
        return 0.0
    return max(
        spec.after - gone(first.record.body.get("clock"), clock, run.begun.body.get("clock")), 0.0
    )


def step_of(run: Run, record: Record) -> Step | None:
    """Return the step a record is about, None where the procedure has none such."""
    return run.procedure.step(str(record.body.get("step") or ""))


def not_counted(run: Run, record: Record, why: str) -> Run:
    """Return a run that knows why a record did not count."""
    return replace(run, not_counted=MappingProxyType({**run.not_counted, record.number: why}))


def done(run: Run, step: Step, record: Record) -> Run:
    """Return a run with a step done by a record."""
    return replace(run, done=MappingProxyType({**run.done, step.id: record}))
