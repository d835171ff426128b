"""Incidents and near misses: reported in a short form, added to, never taken away."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from swapwright.base.errors import Problem
from swapwright.jobs.shop import Actor, Refused, Shop
from swapwright.jobs.shop_history import HistoryLine, history_lines, moment_words, who
from swapwright.jobs.shop_typed import Typed
from swapwright.records.record import Draft, Json, Record

REPORTED, ADDED = "incident.reported", "incident.added_to"
SLACK = timedelta(minutes=5)
"""How far ahead of the shop's clock a time may be typed: a watch may be fast."""


@dataclass(frozen=True)
class IncidentRow:
    """One incident: what was said when it was reported, and how much was added since."""

    id: str
    what: str
    happened: str
    where: str
    harm: str
    voltage: str
    first_aid: str
    step: str
    is_near_miss: bool
    vehicle: str
    vehicle_name: str
    by: str
    reported: str
    number: int
    added: tuple[HistoryLine, ...] = ()


def incident_rows(shop: Shop, actor: Actor, vehicle: str = "") -> tuple[IncidentRow, ...]:
    """Return every incident, or those of one vehicle, the latest first."""
    shop.allow(actor, "read records")
    records = shop.store.records(kinds=(REPORTED, ADDED))
    added: dict[str, list[Record]] = {}
    for each in records:
        if each.kind == ADDED:
            added.setdefault(each.about["incident"], []).append(each)
    rows = [_row(shop, each, added) for each in records if each.kind == REPORTED]
    return tuple(row for row in reversed(rows) if vehicle in ("", row.vehicle))


def incident_view(shop: Shop, actor: Actor, incident: str) -> IncidentRow | None:
    """Return one incident, None where there is none of that id."""
    return next((each for each in incident_rows(shop, actor) if each.id == incident), None)


def report_incident(shop: Shop, actor: Actor, given: Mapping[str, str]) -> str:
    """Put an incident or a near miss on record for good, and return its id."""
    shop.allow(actor, "report an incident")
    typed = Typed(given)
    now = shop.now()
    happened = typed.moment("happened_at", now.astimezone().tzinfo)
    if happened is not None and happened > now + SLACK:
        typed.refuse("happened_at", "this time is yet to come", f"up to {moment_words(now)}")
    vehicle = typed.choice("vehicle", tuple(shop.vehicles()), is_needed=False)
    body: dict[str, Json] = {
        "what": typed.words("what"),
        "happened_at": "" if happened is None else happened.isoformat(),
        "where": typed.line("where"),
        "harm": typed.words("harm"),
        "is_near_miss": typed.is_yes("is_near_miss"),
        "voltage": typed.line("voltage", is_needed=False),
        "first_aid": typed.words("first_aid", is_needed=False),
        "step": typed.line("step", is_needed=False),
    }
    typed.done()
    key = typed.key()
    incident = f"n-{key}"
    about = {"incident": incident, **({"vehicle": vehicle} if vehicle else {})}
    shop.write(Draft(REPORTED, actor.person, about, body, key))
    return incident


def add_to_incident(shop: Shop, actor: Actor, incident: str, given: Mapping[str, str]) -> None:
    """Add to an incident; what stands there stays as it is."""
    shop.allow(actor, "add to an incident")
    found = incident_view(shop, actor, incident)
    if found is None:
        raise Refused(Problem("", "", "there is no incident of this id"))
    typed = Typed(given)
    body: dict[str, Json] = {"what": typed.words("what")}
    typed.done()
    about = {"incident": incident, **({"vehicle": found.vehicle} if found.vehicle else {})}
    shop.write(Draft(ADDED, actor.person, about, body, typed.key()))


def _row(shop: Shop, record: Record, added: Mapping[str, list[Record]]) -> IncidentRow:
    body, about = record.body, record.about
    vehicle = shop.vehicles().get(about.get("vehicle", ""))
    return IncidentRow(
        about["incident"],
        str(body["what"]),
        _when(str(body["happened_at"])),
        str(body["where"]),
        str(body["harm"]),
        str(body.get("voltage") or ""),
        str(body.get("first_aid") or ""),
        str(body.get("step") or ""),
        bool(body["is_near_miss"]),
        "" if vehicle is None else vehicle.id,
        "" if vehicle is None else vehicle.name,
        who(shop, record.by),
        moment_words(record.at),
        record.number,
        history_lines(shop, added.get(about["incident"], ())),
    )


def _when(text: str) -> str:
    try:
        return moment_words(datetime.fromisoformat(text))
    except ValueError:
        return text
