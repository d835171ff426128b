"""A second opinion on absence verified: the records read through once more, from the rule alone.

It shares no code with the fold it checks: it knows the rule, the steps' ids and the records' words.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from swapwright.procedures.step import Procedure, Step
from swapwright.records.record import Record

SIGN = "sign.absence"
SOURCE_BACK = ("vehicle.supplied", "vehicle.energised", "absence.lapsed")


def is_verified(records: Sequence[Record], procedure: Procedure) -> bool:
    """Tell whether the records bear the statement that absence was verified, and still do."""
    worker = _worker(records)
    signed = [at for at, e in enumerate(records) if _is(e, "signature.given", SIGN)]
    if procedure.no_absence or procedure.is_generic:
        return False
    if any(e.kind == "step.differs" for e in records) or not _walked(records, procedure):
        return False
    return any(
        records[at].by == worker and _stands(records, procedure, at, worker) for at in signed
    )


def _stands(records: Sequence[Record], procedure: Procedure, at: int, worker: str) -> bool:
    """Tell whether one signature stands: nothing ended it since its meter was proved."""
    anchor = _proof(records[:at], worker)
    if anchor is None:
        return False
    if any(_ends(e, records, procedure, worker) for e in records[anchor + 1 :]):
        return False
    return (
        _stops_cleared(records[:at], procedure)
        and _away(records, procedure, anchor, worker)
        and _locked(records, procedure, worker)
        and _measured(records[: at + 1], procedure, anchor, worker)
    )


def _is(record: Record, kind: str, step: str) -> bool:
    return record.kind == kind and record.body.get("step") == step


def _worker(records: Sequence[Record]) -> str:
    begun = next(e for e in records if e.kind == "run.begun")
    handed = [str(e.body["to"]) for e in records if e.kind == "run.handed_over"]
    return handed[-1] if handed else str(begun.body["worker"])


def _volts(text: str) -> float | None:
    found = re.fullmatch(r"\s*(-?[\d.]+)\s*V\s*", text)
    return None if found is None else abs(float(found[1]))


def _contradicts(record: Record, procedure: Procedure) -> bool:
    """Tell whether a reading is one that stops a job, but for a rise, which needs the first."""
    if record.kind != "reading.entered":
        return False
    step, volts = _step(procedure, record), _volts(str(record.body["text"]))
    if step is None or step.reading is None or volts is None:
        return False
    spec = step.reading
    too_high = spec.limit is not None and volts > spec.limit
    return too_high or not spec.expected.low <= volts <= spec.expected.high


def _step(procedure: Procedure, record: Record) -> Step | None:
    return next((s for s in procedure.steps if s.id == record.body.get("step")), None)


def _ends(record: Record, records: Sequence[Record], procedure: Procedure, worker: str) -> bool:
    """Tell whether something after the signature ends the statement."""
    if record.kind in (*SOURCE_BACK, "vehicle.moved", "run.stopped", "run.handed_over"):
        return True
    if record.kind == "revision.entered":
        return record.body["revision"] != procedure.revision
    if record.kind == "lock.lifted":
        return record.body["owner"] == worker
    return record.kind == "run.begun" or _contradicts(record, procedure)


def _proof(records: Sequence[Record], worker: str) -> int | None:
    found = [
        at
        for at, e in enumerate(records)
        if _is(e, "reading.entered", "prove.before")
        and e.by == worker
        and (_volts(str(e.body["text"])) or 0.0) > 12.0
        and all(e.body.get(key) for key in ("meter", "leads", "mode"))
    ]
    return found[-1] if found else None


def _walked(records: Sequence[Record], procedure: Procedure) -> bool:
    for step in procedure.steps:
        if not step.id.startswith("walk."):
            continue
        kind = "signature.given" if step.act == "sign" else "step.done"
        done = [at for at, e in enumerate(records) if _is(e, kind, step.id)]
        photos = [at for at, e in enumerate(records) if _is(e, "photo.added", step.id)]
        if not done or (step.photo and (not photos or min(photos) > max(done))):
            return False
    return True


def _stops_cleared(records: Sequence[Record], procedure: Procedure) -> bool:
    for at, e in enumerate(records):
        is_stop = e.kind == "run.stopped" or _contradicts(e, procedure)
        if is_stop and not any(later.kind == "stop.cleared" for later in records[at:]):
            return False
        if e.kind == "revision.entered" and e.body["revision"] != procedure.revision:
            return False
    return True


def _away(records: Sequence[Record], procedure: Procedure, anchor: int, worker: str) -> bool:
    """Tell whether every source was taken away, and waited for, after the last came back."""
    back = [
        at
        for at, e in enumerate(records[:anchor])
        if e.kind in SOURCE_BACK
        or (e.kind == "lock.lifted" and e.body["owner"] == worker)
        or (_contradicts(e, procedure) and not str(e.body["step"]).startswith("prove."))
    ]
    turned = [at for at, e in enumerate(records[:anchor]) if e.kind == "vehicle.moved"]
    at = max(back, default=0)
    for step in procedure.steps:
        if step.act in ("open",) or step.id.startswith(("off.", "look.", "block.")):
            since = max([at, *turned]) if step.id.startswith(("block.", "open.wheels")) else at
            if not _between(records, "step.done", step.id, since, anchor):
                return False
        elif step.act == "wait" and step.wait is not None:
            since = max([at, *turned])
            begun = _between(records, "wait.begun", step.id, since, anchor)
            over = _between(records, "wait.over", step.id, since, anchor)
            if not any(
                _gone(one, two) >= step.wait for one in begun for two in over if one.at < two.at
            ):
                return False
    return True


def _between(
    records: Sequence[Record], kind: str, step: str, since: int, until: int
) -> list[Record]:
    return [e for e in records[since:until] if _is(e, kind, step)]


def _gone(one: Record, two: Record) -> float:
    first, second = one.body["clock"], two.body["clock"]
    assert isinstance(first, dict) and isinstance(second, dict)
    return float(second["server"]["ticks"]) - float(first["server"]["ticks"])


def _locked(records: Sequence[Record], procedure: Procedure, worker: str) -> bool:
    for step in procedure.steps:
        if step.act != "lock":
            continue
        mine = [
            e
            for e in records
            if e.by == worker
            and (_is(e, "lock.hung", step.id))
            and not any(
                off.kind == "lock.lifted"
                and off.body["lock"] == e.body["lock"]
                and off.number > e.number
                for off in records
            )
        ]
        if not mine:
            return False
    return True


def _measured(records: Sequence[Record], procedure: Procedure, anchor: int, worker: str) -> bool:
    """Tell whether every point was read twice with the proved meter, and it was proved again."""
    use = [records[anchor].body.get(key) for key in ("meter", "leads", "mode")]
    good: dict[str, list[Record]] = {}
    for e in records[anchor + 1 :]:
        told = [e.body.get(key) for key in ("meter", "leads", "mode")]
        is_reading = e.kind == "reading.entered" and e.by == worker and told == use
        if (
            is_reading
            and not _contradicts(e, procedure)
            and _volts(str(e.body["text"])) is not None
        ):
            good.setdefault(str(e.body["step"]), []).append(e)
    for step in procedure.steps:
        if step.reading is None or step.id == "prove.before":
            continue
        if step.id not in good:
            return False
        first = step.reading.first
        if first and not any(
            _gone(one, two) >= step.reading.after
            and (_volts(str(two.body["text"])) or 0.0)
            <= (_volts(str(one.body["text"])) or 0.0) + 0.11
            for one in good.get(first, ())
            for two in good[step.id]
        ):
            return False
    last = max(e.number for name, each in good.items() if name != "prove.after" for e in each[:1])
    return any(e.number > last for e in good["prove.after"])
