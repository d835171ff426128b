"""What is done in a run: kept one by one, in order; a reading always, the rest where it may be."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from swapwright.base.errors import InputError, Problem
from swapwright.jobs.photo import photo_of
from swapwright.jobs.shop import Actor, Refused, Shop
from swapwright.jobs.shop_history import who
from swapwright.jobs.shop_run_act import (
    READING,
    Act,
    act_named,
    body_of,
    line_of,
    told_of,
)
from swapwright.jobs.shop_run_fit import STEPS, taken_of_run, why_unfit
from swapwright.jobs.shop_run_keep import NO_RUN, keep, keep_asked, who_did
from swapwright.jobs.shop_run_kept import Kept, hanging_on, kept_run
from swapwright.jobs.shop_run_pin import PINNED
from swapwright.procedures.protection import PROVING
from swapwright.procedures.reading import AskAgain, read
from swapwright.procedures.step import Procedure
from swapwright.records.record import Json, Record

NO_PHOTO = "no photo came with it"
LONGEST_ID = 80
LIFT = "lift."
"""What the ids of the steps begin with that say that the locks of a place are off."""


@dataclass(frozen=True)
class Result:
    """What became of one act: the number it is kept as, or why it was not taken.

    ``again`` says what to type again, where a reading was kept without its unit.
    """

    key: str
    number: int | None
    refused: str = ""
    again: str = ""


def run_acts(shop: Shop, actor: Actor, run: str, acts: Iterable[Act]) -> tuple[Result, ...]:
    """Keep acts one by one, in their order, each once by its key; say what became of each.

    One that is refused does not hold up those after it: a reading among them is kept.
    """
    return tuple(_result(shop, actor, run, each) for each in acts)


def _result(shop: Shop, actor: Actor, run: str, act: Act) -> Result:
    try:
        kept = kept_run(shop, run)
        if kept is None:
            raise InputError(Problem("", "run", NO_RUN))
        record = _kept_already(kept, act) or _keep(shop, actor, kept, act)
    except (Refused, InputError) as error:
        return Result(act.key, None, refused="; ".join(each.message for each in error.problems))
    return Result(act.key, record.number, again=_again(kept.procedure, record))


def _kept_already(kept: Kept, act: Act) -> Record | None:
    """Return what an act was kept as already; a device sends again what it had no answer to.

    Raises InputError where its key was another act's: it would be taken for kept.
    """
    found = next((each for each in kept.own if each.key == act.key), None)
    if found is None:
        return None
    step = str(found.body.get("step") or act.step)
    if (act_named(act).kind, act.step) != (found.kind, step):
        raise InputError(Problem("", "key", "its key was used for another act already"))
    return found


def _again(procedure: Procedure, record: Record) -> str:
    step = procedure.step(str(record.body.get("step") or ""))
    if record.kind != READING or step is None or step.reading is None:
        return ""
    found = read(str(record.body["text"]), step.reading.quantity, step.reading.unit)
    return f"{found.words}; the first entry is kept" if isinstance(found, AskAgain) else ""


def _keep(shop: Shop, actor: Actor, kept: Kept, act: Act) -> Record:
    """Keep one act; raise `Refused` or InputError, in words, where it is not taken.

    A step is sent by whoever did it. What makes a danger known is kept whoever sends it, and does
    not count for a step where it is another's word.
    """
    named = act_named(act)
    act = act.with_items(taken_of_run(shop.registers(), kept.items, kept.own))
    if act.name in PINNED:
        return PINNED[act.name](shop, actor, kept, act)
    person = who_did(shop, actor, act)
    is_own = actor.is_local or act.by in ("", actor.person)
    if not named.action:
        told = act if is_own else replace(act, told_by=act.by[:LONGEST_ID])
        body = body_of(told, kept.procedure, kept.own)
        return keep(shop, kept, told, person, {**body, **_given(shop, kept, told)})
    shop.allow(actor, named.action)
    if not is_own:
        words = f"{who(shop, act.by)} did this: they log in and send it themselves"
        shop.refuse(actor, named.words, words)
    if act.name == "photo.added":
        return keep(shop, kept, act, person, _photo_body(shop, kept, act))
    body = body_of(act, kept.procedure, kept.own)
    if act.name == "lock.hung":
        _hangs_nowhere(shop, actor, str(body["lock"]))
    if act.name in STEPS:
        registers, on = shop.registers(), shop.today()
        why = why_unfit(registers, on, kept.procedure, named.kind, person, body)
        why = (*why, *_locks_left(shop, kept, act))
        if why:
            shop.refuse(actor, named.words, *why)
    return keep_asked(shop, actor, kept, act, person, body)


def _given(shop: Shop, kept: Kept, act: Act) -> dict[str, Json]:
    """Return the voltage the proving source gives that a meter was put on, by the register."""
    step = kept.procedure.step(act.step)
    item = shop.items().get(act.items.get(PROVING, ""))
    if act.name != READING or step is None or step.act != "prove" or item is None:
        return {}
    volts = item.data.get("dc_voltage")
    is_number = isinstance(volts, int | float) and not isinstance(volts, bool)
    return {"given": volts} if is_number else {}


def _hangs_nowhere(shop: Shop, actor: Actor, lock: str) -> None:
    """Refuse a lock that hangs on any vehicle already: it cannot hang on two."""
    registers = shop.registers()
    for vehicle in registers.log:
        if any(each.body["lock"] == lock for each in hanging_on(registers, vehicle)):
            found = registers.vehicles.get(vehicle)
            name = vehicle if found is None else found.name
            shop.refuse(actor, "lock hung", f"this lock hangs already, on {name}")


def _locks_left(shop: Shop, kept: Kept, act: Act) -> tuple[str, ...]:
    """Return which locks still hang where a step says that they are off."""
    step = kept.procedure.step(act.step)
    if step is None or not step.id.startswith(LIFT):
        return ()
    place = step.title.partition(": ")[2].casefold()
    return tuple(
        f"the lock of {who(shop, each.by)} still hangs there: its owner lifts it first"
        for each in kept.hanging
        if str(each.body["place"]).casefold() == place
    )


def _photo_body(shop: Shop, kept: Kept, act: Act) -> dict[str, Json]:
    if not act.photo:
        raise InputError(Problem("", "photo", NO_PHOTO))
    what = line_of(act, "what", "photo of the step" if act.step else "")
    name = shop.store.put_attachment(photo_of(act.photo).content, "image/jpeg")
    body: dict[str, Json] = {"photo": name, "what": what, **told_of(act)}
    if kept.procedure.step(act.step) is not None:
        body["step"] = act.step
    return body
