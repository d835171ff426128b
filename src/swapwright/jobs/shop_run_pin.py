"""What takes a PIN in a run: signatures, clearing a stop, handing over, lifting a lock.

A PIN is checked here and nowhere else, and is kept nowhere.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType

from swapwright.base.errors import InputError, Problem
from swapwright.jobs.shop import Actor, Refused, Shop
from swapwright.jobs.shop_pin import check_pin
from swapwright.jobs.shop_run_act import Act, act_named, line_of, step_of, told_of
from swapwright.jobs.shop_run_fit import why_unfit
from swapwright.jobs.shop_run_keep import keep_asked, who_did
from swapwright.jobs.shop_run_kept import Kept
from swapwright.jobs.shop_typed import LONGEST_WORDS
from swapwright.records.record import Json, Record

SAY_WHO = "say who signs: somebody who is in the shop"
UNSEEN = "this page is older than the run: load it again, look at it, then sign"
_HASH = re.compile(r"[0-9a-f]{64}")


def _pinned(shop: Shop, actor: Actor, act: Act, action: str, name: str = "person") -> str:
    """Return who put their PIN under an act; raise `Refused` for a wrong one, or who may not."""
    person = act.given.get(name, "")
    signer = shop.actor(person, actor.address)
    if signer.is_local or person not in shop.people():
        raise Refused(Problem("", name, SAY_WHO))
    shop.allow(signer, action)
    pin = act.given.get("pin" if name == "person" else f"{name}_pin", "")
    check_pin(shop, actor, person, pin, act_named(act).words)
    return person


def _refuse_unfit(
    shop: Shop, actor: Actor, kept: Kept, act: Act, person: str, body: Mapping[str, Json]
) -> None:
    """Put a refusal on record and raise it where somebody may not do this by their competence."""
    kind, registers = act_named(act).kind, shop.registers()
    signed = [name for name, under in kept.run.signatures.items() if under]
    why = why_unfit(registers, shop.today(), kept.procedure, kind, person, body, signed)
    if why:
        shop.refuse(actor, act_named(act).words, *why)


def _sign(shop: Shop, actor: Actor, kept: Kept, act: Act) -> Record:
    """Sign what the signer saw: a page older than the run signs nothing."""
    step = step_of(kept.procedure, act)
    seen = act.given.get("seen", "")
    if not _HASH.fullmatch(seen):
        raise InputError(Problem("", "seen", UNSEEN))
    is_second = step.people > 1 and (step.act != "sign" or bool(kept.run.signatures.get(step.id)))
    action = "sign as second person" if is_second else "sign"
    person = _pinned(shop, actor, act, action)
    body: dict[str, Json] = {
        "meaning": step.title,
        "signed": seen,
        "step": step.id,
        **told_of(act),
    }
    _refuse_unfit(shop, actor, kept, act, person, body)
    return keep_asked(shop, actor, kept, act, person, body)


def _clear(shop: Shop, actor: Actor, kept: Kept, act: Act) -> Record:
    if kept.run.stop is None:
        raise Refused(Problem("", "", "nothing is stopped here"))
    found = line_of(act, "found", most=LONGEST_WORDS)
    is_pressed = kept.run.stop.record.kind == "run.stopped"
    person = _pinned(shop, actor, act, "clear a pressed stop" if is_pressed else "clear a stop")
    body: dict[str, Json] = {
        "stop": kept.run.stop.record.number,
        "found": found,
        **told_of(act),
    }
    return keep_asked(shop, actor, kept, act, person, body)


def _hand_over(shop: Shop, actor: Actor, kept: Kept, act: Act) -> Record:
    """Hand a run over to whoever puts their PIN under it."""
    shop.allow(actor, "hand a run over")
    to = _pinned(shop, actor, act, "hand a run over")
    body: dict[str, Json] = {"to": to, **told_of(act)}
    _refuse_unfit(shop, actor, kept, act, to, body)
    return keep_asked(shop, actor, kept, act, who_did(shop, actor, act), body)


def _lift(shop: Shop, actor: Actor, kept: Kept, act: Act) -> Record:
    """Lift a lock: its owner with their PIN, or two people with theirs where it was left behind."""
    number = act.given.get("hung", "")
    hung = next((each for each in kept.hanging if str(each.number) == number), None)
    if hung is None:
        raise Refused(Problem("", "hung", "no such lock hangs here"))
    body: dict[str, Json] = {
        "place": hung.body["place"],
        "lock": hung.body["lock"],
        "owner": hung.by,
        **told_of(act),
    }
    if act.given.get("person") == hung.by:
        person = _pinned(shop, actor, act, "lift own lock")
        return keep_asked(shop, actor, kept, act, person, body)
    reason = line_of(act, "reason", most=LONGEST_WORDS)
    person = _pinned(shop, actor, act, "lift an abandoned lock")
    second = _pinned(shop, actor, act, "sign as second person", "second")
    if second == person:
        shop.refuse(actor, "lock lifted", "two different people lift a lock that was left behind")
    whole = {**body, "abandoned": True, "second": second, "reason": reason}
    return keep_asked(shop, actor, kept, act, person, whole)


PINNED: Mapping[str, Callable[[Shop, Actor, Kept, Act], Record]] = MappingProxyType(
    {
        "signature.given": _sign,
        "stop.cleared": _clear,
        "run.handed_over": _hand_over,
        "lock.lifted": _lift,
    }
)
"""Acts that take a PIN, by the name they are sent by."""
