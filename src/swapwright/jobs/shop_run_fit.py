"""Who may do a step and with what: judged at the step itself, by what was so when it was done."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from swapwright.jobs.shop import Shop
from swapwright.jobs.shop_registers import Registers
from swapwright.procedures.competence import standing
from swapwright.procedures.due import due
from swapwright.procedures.equipment_fit import fit, stops
from swapwright.procedures.protection import GLOVES, LEADS, LEATHER, LOCK, METER
from swapwright.procedures.run import Run
from swapwright.procedures.step import Level, Procedure, Step
from swapwright.records.equipment import Item
from swapwright.records.record import Json, Record
from swapwright.standards import procedures as table

ASKED_OF_LOCAL = "say who is at the car: somebody of this run, whose competence is on record"
STEPS = ("step.done", "wait.begun", "wait.over", "reading.entered", "lock.hung")
"""Kinds of record that do a step: each asks for the step's own competence."""
JUDGED = (*STEPS, "signature.given", "stop.cleared", "run.handed_over")
"""Kinds of record that count only by somebody who may, and with what fits."""


def discount(shop: Shop, run: Run, record: Record) -> str:
    """Return why a record of a run does not count by who did it or with what, empty where it does.

    It is judged by the registers as they stood when it was kept, and by the day it was then.
    """
    if record.about.get("run") != run.id or record.kind not in JUDGED:
        return ""
    registers, on = shop.registers_at(record.number), record.at.astimezone().date()
    signed = [name for name, under in run.signatures.items() if under]
    found = why_unfit(registers, on, run.procedure, record.kind, record.by, record.body, signed)
    return "; ".join(found)


def why_unfit(
    registers: Registers,
    on: date,
    procedure: Procedure,
    kind: str,
    by: str,
    body: Mapping[str, Json],
    covered: Iterable[str] = (),
) -> tuple[str, ...]:
    """Return why an act does not count by who did it or with what, by name; empty where it does.

    ``covered`` are the steps somebody with the competence has signed already: the second person
    under one of them has to be made aware, and no more.
    """
    if kind == "run.handed_over":
        why = not_able(registers, str(body["to"]), "isolation", on)
        return (why,) if why else ()
    if kind == "stop.cleared":
        why = not_able(registers, by, "isolation", on)
        return (why,) if why else ()
    step = procedure.step(str(body.get("step") or ""))
    if step is None or kind not in (*STEPS, "signature.given"):
        return ()
    is_second = kind == "signature.given" and step.people > 1 and step.id in covered
    level: Level = "aware" if is_second or _is_doing_signed(kind, step) else step.who
    why = not_able(registers, by, level, on)
    found = [why] if why else []
    if kind in ("step.done", "reading.entered", "lock.hung"):
        taken = taken_of(registers, body)
        found += not_fit(registers, procedure, step.needs, taken, on)
    return tuple(dict.fromkeys(found))


def _is_doing_signed(kind: str, step: Step) -> bool:
    """Tell whether a signature is only the second one under what a person able to did."""
    return kind == "signature.given" and step.people > 1 and step.act != "sign"


def not_able(registers: Registers, person: str, level: Level, on: date) -> str:
    """Return why somebody may not do what takes a level on a day, empty where they may."""
    found = registers.people.get(person)
    if found is None or found.has_left:
        return ASKED_OF_LOCAL
    now = standing(found, on)
    if now.covers(level):
        return ""
    lapsed = f" ({'; '.join(now.lapsed)})" if now.lapsed else ""
    had = now.level or "no competence"
    return f"{found.name} has {had} on record, this step takes {level}{lapsed}"


def taken_of(registers: Registers, body: Mapping[str, Json]) -> Mapping[str, str]:
    """Return the equipment a record says was used, by kind."""
    told = body.get("items")
    names = [str(name) for name in told] if isinstance(told, list) else []
    names += [str(body[key]) for key in (METER, LEADS, LOCK) if body.get(key)]
    stock = registers.items
    return {stock[name].kind: name for name in names if name in stock}


def taken_of_run(
    registers: Registers, begun: Sequence[str], records: Iterable[Record]
) -> Mapping[str, str]:
    """Return the equipment last said to be used, by kind: at the beginning, then at the steps."""
    stock = registers.items
    found = {stock[name].kind: name for name in begun if name in stock}
    for each in records:
        told = taken_of(registers, each.body)
        found.update({kind: name for kind, name in told.items() if kind != LOCK})
    return found


def not_fit(
    registers: Registers,
    procedure: Procedure,
    needs: Sequence[str],
    taken: Mapping[str, str],
    on: date,
) -> tuple[str, ...]:
    """Return what keeps the equipment used from what a step needs at this car, by name."""
    lacking = [kind for kind in needs if taken.get(kind) not in registers.items]
    words = [f"no {kind} is taken for this step: say which" for kind in lacking]
    return (*words, *_unfit(registers, procedure, needs, taken, on))


def item_words(registers: Registers, on: date, procedure: Procedure, item: Item) -> str:
    """Return why an item may not be used at this car on a day, empty where it may."""
    taken = {item.kind: item.id, **_beside(registers, item, on)}
    found = _unfit(registers, procedure, (item.kind,), taken, on)
    return "; ".join(each.partition(": ")[2] or each for each in found)


def _unfit(
    registers: Registers,
    procedure: Procedure,
    kinds: Sequence[str],
    taken: Mapping[str, str],
    on: date,
) -> tuple[str, ...]:
    stock = registers.items
    items = [
        stock[name] for kind, name in taken.items() if name in stock and stock[name].kind == kind
    ]
    judged = [each for each in items if each.kind in kinds]
    beside = [each for each in items if each.kind in (METER, LEATHER) and each not in judged]
    highest = procedure.highest if procedure.highest is not None else table.WORST_VOLTAGE.si
    found = stops(fit((*judged, *beside), highest, on))
    names = {each.id for each in judged}
    asked = GLOVES in kinds and LEATHER in kinds
    words = [
        each.text
        for each in found
        if each.item in names or (not each.item and each.kind == LEATHER and asked)
    ]
    return tuple(dict.fromkeys(words))


def _beside(registers: Registers, item: Item, on: date) -> Mapping[str, str]:
    """Return what an item is judged together with: gloves with any leather that may be used."""
    if item.kind != GLOVES:
        return {}
    usable = [
        each.id
        for each in registers.items.values()
        if each.kind == LEATHER and due(each, on).may_be_used
    ]
    return {LEATHER: usable[0]} if usable else {}
