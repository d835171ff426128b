"""Which steps have to be done again after something happened, and taking them back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import TypeVar

from swapwright.procedures.run import ISOLATES, Lapse, Run, Stop
from swapwright.procedures.step import Procedure, Step
from swapwright.records.record import Record

Kept = TypeVar("Kept")


def first_prove(procedure: Procedure) -> str:
    """Return the id of the step that proves the meter before measuring, empty where none does."""
    return next((step.id for step in procedure.steps if step.act == "prove"), "")


def from_proving(run: Run) -> frozenset[str]:
    """Return the steps from the first proving of the meter on: all that rests on it."""
    return _from(run.procedure.steps, first_prove(run.procedure))


def from_sources(run: Run) -> frozenset[str]:
    """Return the steps from the first source taken away on, but for locks that still hang.

    A source was found, or may be back: every gap is opened and looked at anew, and the wait runs.
    """
    steps = run.procedure.steps
    opens = next((step for step in steps if step.act == "open"), None)
    if opens is None or run.procedure.kind not in ISOLATES:
        return from_proving(run)
    first = next(step.id for step in steps if step.phase == opens.phase)
    hanging = {
        step.id
        for step in steps
        if step.act == "lock" and run.lock_at(step, run.worker) is not None
    }
    return _from(steps, first) - hanging


def moved(run: Run) -> frozenset[str]:
    """Return the steps to do again once wheels turned: a motor charges what it is joined to."""
    waits = {
        step.id
        for step in run.procedure.steps
        if step.act == "wait" or step.id == "block.motion" or step.id.startswith("open.wheels.")
    }
    return frozenset(waits) | from_proving(run)


def taken_back(run: Run, steps: frozenset[str]) -> Run:
    """Return a run with steps taken back: what was done, read, waited and signed there is void."""
    return replace(
        run,
        done=_without(run.done, steps),
        signatures=_without(run.signatures, steps),
        waits=_without(run.waits, steps),
        taken=_without(run.taken, steps),
        meter=None if first_prove(run.procedure) in steps else run.meter,
    )


def stopped(run: Run, stop: Stop, back: frozenset[str]) -> Run:
    """Return a run that is stopped, with steps taken back; a final stop stays what it is."""
    found = lapsed(run, stop.record, stop.words, back)
    is_final = run.stop is not None and run.stop.is_final
    return replace(found, stop=run.stop if is_final else stop, is_proved_since=False)


def lapsed(run: Run, record: Record, words: str, back: frozenset[str]) -> Run:
    """Return a run with steps taken back, and why; nothing done before that counts any more."""
    had_stood = run.statement is not None or (run.lapse is not None and run.lapse.had_stood)
    return replace(taken_back(run, back), lapse=Lapse(record, words, had_stood))


def _from(steps: Iterable[Step], first: str) -> frozenset[str]:
    ids = [step.id for step in steps]
    return frozenset(ids[ids.index(first) :]) if first in ids else frozenset()


def _without(kept: Mapping[str, Kept], steps: frozenset[str]) -> Mapping[str, Kept]:
    return MappingProxyType({name: each for name, each in kept.items() if name not in steps})
