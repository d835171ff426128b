"""The record of a run on paper: who measured what with which meter, when, and what it was."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from swapwright.build.revision import short
from swapwright.jobs.shop import Actor, Shop
from swapwright.jobs.shop_history import moment_words, who
from swapwright.jobs.shop_ledger import checkpoint_given
from swapwright.jobs.shop_run_act import READING
from swapwright.jobs.shop_run_fit import taken_of_run
from swapwright.jobs.shop_run_kept import Kept, kept_run
from swapwright.jobs.shop_run_told import item_name
from swapwright.procedures.protection import LEADS, METER
from swapwright.procedures.run import Taken
from swapwright.procedures.step import Procedure
from swapwright.records.checkpoint import Checkpoint
from swapwright.records.kinds import KINDS
from swapwright.records.record import Record


@dataclass(frozen=True)
class ItemLine:
    """One piece of equipment as it stood: what it is, its number, when it was last tested."""

    kind: str
    name: str
    serial: str
    tested: str


@dataclass(frozen=True)
class ReadingLine:
    """One reading: where, what was typed, with what, by whom, when, and what it was held to be.

    ``counts`` tells whether it did for its step.
    """

    number: int
    step: str
    point: str
    text: str
    word: str
    words: str
    stops: bool
    counts: bool
    meter: str
    leads: str
    mode: str
    by: str
    at: str
    read_at: str


@dataclass(frozen=True)
class Line:
    """One other thing on record: what, in words, by whom, when."""

    number: int
    what: str
    words: str
    by: str
    at: str


@dataclass(frozen=True)
class PhotoLine:
    """One photo: its hash, what it shows, by whom, when."""

    number: int
    hash: str
    what: str
    by: str
    at: str


@dataclass(frozen=True)
class RunRecord:
    """Everything of one run that is printed."""

    id: str
    vehicle: str
    vehicle_name: str
    procedure: Procedure
    revision: str
    people: tuple[str, ...]
    begun: Line
    items: tuple[ItemLine, ...]
    readings: tuple[ReadingLine, ...]
    signatures: tuple[Line, ...]
    locks: tuple[Line, ...]
    steps: tuple[Line, ...]
    events: tuple[Line, ...]
    photos: tuple[PhotoLine, ...]


SAME_TIME = 60.0
"""Seconds within which a device and the server tell one time."""
_LOCKS = ("lock.hung", "lock.lifted")
_STEPS = ("step.done", "wait.begun", "wait.over")


def run_record(shop: Shop, actor: Actor, run: str) -> RunRecord | None:
    """Return the record of a run, None where there is none of that id."""
    shop.allow(actor, "read records")
    kept = kept_run(shop, run)
    if kept is None:
        return None
    own = kept.own
    taken = taken_of_run(shop.registers(), kept.items, own)
    other = (READING, "signature.given", "photo.added", "run.begun", *_LOCKS, *_STEPS)
    return RunRecord(
        run,
        kept.vehicle,
        _vehicle_name(shop, kept.vehicle),
        kept.procedure,
        short(kept.procedure.revision) if kept.procedure.revision else "none",
        tuple(who(shop, each) for each in kept.run.people),
        _line(shop, kept, kept.run.begun),
        tuple(_item(shop, each) for each in dict.fromkeys([*_all_items(own), *taken.values()])),
        tuple(_reading(shop, kept.procedure, each) for each in kept.run.readings),
        tuple(_line(shop, kept, each) for each in own if each.kind == "signature.given"),
        tuple(_line(shop, kept, each) for each in own if each.kind in _LOCKS),
        tuple(_line(shop, kept, each) for each in own if each.kind in _STEPS),
        tuple(_line(shop, kept, each) for each in own if each.kind not in other),
        tuple(_photo(shop, each) for each in own if each.kind == "photo.added"),
    )


def print_run(shop: Shop, actor: Actor, run: str) -> Checkpoint:
    """Sign the ledger as it is, to be printed on the record of a run."""
    return checkpoint_given(shop, actor, f"printed on the record of run {run}")


def _vehicle_name(shop: Shop, vehicle: str) -> str:
    found = shop.vehicles().get(vehicle)
    return vehicle if found is None else found.name


def _all_items(records: Iterable[Record]) -> Iterable[str]:
    """Yield the ids of everything the records of a run name as used."""
    for each in records:
        told = each.body.get("items")
        yield from (str(name) for name in told) if isinstance(told, list) else ()
        yield from (str(each.body[key]) for key in (METER, LEADS) if each.body.get(key))


def _item(shop: Shop, name: str) -> ItemLine:
    found = shop.items().get(name)
    if found is None:
        return ItemLine("not in the register", name, "", "")
    met = [f"{each.test} {each.on}" for each in found.tests if each.is_met]
    return ItemLine(found.kind, found.name, found.serial, met[-1] if met else "no test on record")


def _with(shop: Shop, name: object) -> str:
    return item_name(shop, str(name)) if name else "not said"


def _reading(shop: Shop, procedure: Procedure, taken: Taken) -> ReadingLine:
    """Return a reading with what it was held to be, and why it did not count where it did not."""
    record, judged = taken.record, taken.judgement
    body = record.body
    step = procedure.step(str(body["step"]))
    word = "not judged" if judged is None else judged.word
    words = [] if judged is None or not judged.stops else [judged.words]
    words += [f"does not count: {taken.why_not}"] if taken.why_not else []
    words += [f"typed again for record {body['corrected']}"] if body.get("corrected") else []
    return ReadingLine(
        record.number,
        str(body["step"]) if step is None else step.title,
        str(body["point"]),
        str(body["text"]),
        word,
        "; ".join(words),
        judged is not None and judged.stops,
        not taken.why_not and judged is not None and not judged.stops,
        _with(shop, body.get(METER)),
        _with(shop, body.get(LEADS)),
        str(body.get("mode") or ""),
        who(shop, record.by),
        moment_words(record.at),
        _read_at(record),
    )


def _read_at(record: Record) -> str:
    """Return when a device says it was read, where that is not when it was kept."""
    try:
        told = datetime.fromisoformat(str(record.body.get("read_at") or ""))
    except ValueError:
        return ""
    told = told.replace(tzinfo=told.tzinfo or UTC)
    is_apart = abs((record.at - told).total_seconds()) > SAME_TIME
    return moment_words(told) if is_apart else ""


def _photo(shop: Shop, record: Record) -> PhotoLine:
    body = record.body
    at, by = moment_words(record.at), who(shop, record.by)
    return PhotoLine(record.number, str(body["photo"]), str(body["what"]), by, at)


def _line(shop: Shop, kept: Kept, record: Record) -> Line:
    label, words = _told(shop, kept.procedure, record)
    return Line(record.number, label, words, who(shop, record.by), moment_words(record.at))


def _told(shop: Shop, procedure: Procedure, record: Record) -> tuple[str, str]:
    """Return what a record is called, and what it says."""
    body = record.body
    step = procedure.step(str(body.get("step") or ""))
    title = "" if step is None else step.title
    if record.kind in _LOCKS:
        what = "hung" if record.kind == "lock.hung" else "lifted"
        reason = f"; left behind: {body['reason']}" if body.get("reason") else ""
        return what, f"{_with(shop, body.get('lock'))} at {title or body['place']}{reason}"
    return _label(record), _said(shop, body, title)


def _said(shop: Shop, body: Mapping[str, object], title: str) -> str:
    keys: Sequence[str] = ("meaning", "what", "found", "reason", "to", "outcome", "cause")
    told = [
        who(shop, str(body[key])) if key == "to" else str(body[key]) for key in keys if key in body
    ]
    return "; ".join([title, *told] if title else told)


def _label(record: Record) -> str:
    kind = KINDS.get(record.kind)
    return record.kind if kind is None else kind.label
