"""A PIN typed for a signature: right, wrong, or too early after wrong ones."""

from __future__ import annotations

import math

from swapwright.base.errors import Problem
from swapwright.jobs.shop import Actor, Refused, Shop
from swapwright.records.record import Draft
from swapwright.records.secrets import check_secret

NO_PIN = "has no PIN yet: nobody signs without one"
WRONG = "this is not their PIN"


def check_pin(shop: Shop, actor: Actor, person: str, pin: str, what: str) -> None:
    """Raise `Refused`, at the field ``pin``, unless it is the PIN of a person who is here.

    ``what`` is what was to be signed: it stands in the record of a refusal.
    """
    found = shop.people().get(person)
    if found is None or found.has_left:
        raise Refused(Problem("", "person", "there is nobody of this name here"))
    if not found.has_pin:
        raise Refused(Problem("", "pin", f"{found.name} {NO_PIN}"))
    counter = person if actor.is_local else f"{person}:{actor.person}"
    checked = check_secret(shop.store, person, "pin", pin, shop.now(), counter)
    if checked.ok:
        return
    wait = f"; the next try in {math.ceil(checked.wait)} s" if checked.wait > 0.0 else ""
    words = f"too early after wrong ones{wait}" if checked.is_early else f"{WRONG}{wait}"
    if not checked.is_early:
        body = {"what": what, "reason": "wrong PIN", "address": actor.address}
        shop.write(Draft("access.refused", actor.person, {"person": person}, body))
    raise Refused(Problem("", "pin", words))
