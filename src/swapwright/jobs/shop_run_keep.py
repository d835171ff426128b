"""Writing a record of a run: as it is, or only where the run as it is then allows it."""

from __future__ import annotations

from collections.abc import Mapping

from swapwright.base.errors import Problem
from swapwright.jobs.shop import Actor, Refused, Shop
from swapwright.jobs.shop_run_act import Act, act_named
from swapwright.jobs.shop_run_kept import Kept, run_in
from swapwright.procedures.run_guard import refusal
from swapwright.records.reader import Reader
from swapwright.records.record import LOCAL, Draft, Json, Record

NO_RUN = "there is no run of this id"


def who_did(shop: Shop, actor: Actor, act: Act) -> str:
    """Return who did it: whoever is logged in, or whom the one local user says."""
    if not actor.is_local:
        return actor.person
    found = shop.people().get(act.by)
    return LOCAL if found is None or found.has_left else found.id


def keep(shop: Shop, kept: Kept, act: Act, person: str, body: Mapping[str, Json]) -> Record:
    """Keep an act whatever the run's state."""
    return shop.write(_draft(kept, act, person, body))[0]


def keep_asked(
    shop: Shop, actor: Actor, kept: Kept, act: Act, person: str, body: Mapping[str, Json]
) -> Record:
    """Keep an act where the run as it is then allows it; otherwise the refusal goes on record.

    Raises `Refused` with the reason.
    """
    draft = _draft(kept, act, person, body)

    def guard(reader: Reader) -> None:
        now = run_in(shop, reader, kept.id)
        why = NO_RUN if now is None else refusal(now, draft)
        if why:
            raise _NotNow(Problem("", "", why))

    try:
        return shop.write(draft, guard=guard)[0]
    except _NotNow as error:
        shop.refuse(actor, act_named(act).words, *(each.message for each in error.problems))
        raise


class _NotNow(Refused):
    """What the guard refuses inside the write; it is put on record after it."""


def _draft(kept: Kept, act: Act, person: str, body: Mapping[str, Json]) -> Draft:
    about = {"vehicle": kept.vehicle, "run": kept.id}
    return Draft(act_named(act).kind, person, about, body, act.key)
