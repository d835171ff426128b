"""The two independent marks of a vehicle: who has a lock on it, and what is known of its voltage.

Missing, stale and conflicting is *unknown*, and unknown is treated as energised.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from swapwright.procedures.absence import HOLDS, Absence
from swapwright.procedures.run import Run
from swapwright.procedures.step import Step
from swapwright.records.record import Record

Voltage = Literal[
    "energised",
    "opened, not waited",
    "waiting",
    "waited, not measured",
    "absence verified",
    "unknown",
]
LOCKS = ("lock.hung", "lock.lifted")
ENERGISES = ("first energisation", "re-energising")


@dataclass(frozen=True)
class VoltageMark:
    """What is known of a vehicle's voltage, and in words why.

    Everything but absence verified is treated as energised.
    """

    word: Voltage
    words: str = ""

    @property
    def is_treated_as_energised(self) -> bool:
        """Tell whether the vehicle is treated as energised."""
        return self.word != "absence verified"


def hanging(records: Iterable[Record]) -> tuple[Record, ...]:
    """Return the locks that hang on a vehicle: hung in any run, and not lifted since."""
    hung: dict[tuple[str, str, str], Record] = {}
    for each in records:
        lock = (str(each.body.get("place")), str(each.body.get("lock")))
        if each.kind == "lock.hung":
            hung[(*lock, each.by)] = each
        elif each.kind == "lock.lifted":
            hung.pop((*lock, str(each.body["owner"])), None)
    return tuple(hung.values())


def voltage_mark(
    run: Run | None, absence: Absence | None, now: datetime, others_open: int = 0
) -> VoltageMark:
    """Return the mark of a vehicle by the run begun last on it, at a time (UTC).

    ``absence`` is what that run says of absence; ``others_open`` how many runs before it were begun
    and never ended.
    """
    if run is None:
        return VoltageMark("energised", "nobody has begun to isolate it")
    if others_open:
        return VoltageMark("unknown", f"{others_open} earlier runs are still open")
    if run.stop is not None:
        return VoltageMark("energised", f"stopped, treat as live: {run.stop.words}")
    if run.procedure.kind in ENERGISES:
        return VoltageMark("energised", f"{run.procedure.kind} was begun")
    if run.procedure.kind != "isolation":
        return VoltageMark("unknown", f"{run.procedure.kind}: it tells nothing of absence")
    if absence is not None and absence.is_verified:
        return VoltageMark("absence verified")
    return _underway(run, absence, now)


def _underway(run: Run, absence: Absence | None, now: datetime) -> VoltageMark:
    """Return the mark of an isolation whose statement does not stand."""
    if run.statement is not None:
        lacking = [] if absence is None else [e for e in absence.conditions if not e.holds]
        return VoltageMark("unknown", "; ".join(each.lacks or each.words for each in lacking))
    if run.lapse is not None and _is_latest(run):
        told = "absence no longer holds" if run.lapse.had_stood else "what was done counts no more"
        return VoltageMark("unknown", f"{told}: {run.lapse.words}")
    if run.ended is not None:
        return VoltageMark("unknown", "the run ended without a statement that stands")
    latest = run.begun if run.latest is None else run.latest
    if now < latest.at:
        return VoltageMark("unknown", "the clock was set back")
    if now - latest.at >= HOLDS:
        return VoltageMark("unknown", "nothing was recorded for too long")
    return _stage(run)


def _is_latest(run: Run) -> bool:
    since = 0 if run.lapse is None else run.lapse.record.number
    return all(each.number < since for each in (*run.done.values(), *run.waits.values()))


def _stage(run: Run) -> VoltageMark:
    steps = run.procedure.steps
    if not _all(run, [step for step in steps if step.act in ("open", "lock")]):
        return VoltageMark("energised", "not every source is opened and locked")
    waits = [step for step in steps if step.act == "wait"]
    if _all(run, waits):
        return VoltageMark("waited, not measured")
    if any(step.id in run.waits for step in waits):
        return VoltageMark("waiting")
    return VoltageMark("opened, not waited")


def _all(run: Run, steps: Sequence[Step]) -> bool:
    return all(run.is_done(step) for step in steps)
