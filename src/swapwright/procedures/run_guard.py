"""Whether a record may be kept in a run now: refused before it is written, in words.

What makes a danger known is never refused: a reading, a difference, a stop, a lock that came off.
The rest is refused exactly where, once kept, it would not count.
"""

from __future__ import annotations

from swapwright.procedures.following import after
from swapwright.procedures.run import Run
from swapwright.records.record import Draft, Record

REFUSABLE = (
    "step.done",
    "wait.begun",
    "wait.over",
    "lock.hung",
    "signature.given",
    "stop.cleared",
    "run.held",
    "run.resumed",
    "run.handed_over",
    "run.ended",
)
"""Kinds of record that may be refused; every other one is kept however a run stands."""
AS_ASKED = 0
"""The number of a record that is not kept yet."""


def refusal(run: Run, draft: Draft) -> str:
    """Return why a record may not be kept in a run, empty where it may."""
    if draft.kind not in REFUSABLE:
        return ""
    asked = Record(
        number=AS_ASKED,
        at=run.begun.at,
        kind=draft.kind,
        by=draft.by,
        about={**draft.about, "run": run.id},
        body=draft.body,
        key=draft.key,
        content="",
        chained="",
    )
    return after(run, asked).not_counted.get(AS_ASKED, "")
