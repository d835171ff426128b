"""Work permits: issued for a vehicle as it is, accepted one by one, over by themselves."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from swapwright.base.errors import Problem
from swapwright.build.revision import short
from swapwright.jobs.shop import Actor, Refused, Shop
from swapwright.jobs.shop_history import (
    HistoryLine,
    history_lines,
    moment_words,
    who,
)
from swapwright.jobs.shop_ledger import checkpoint_given
from swapwright.jobs.shop_pin import check_pin
from swapwright.jobs.shop_typed import NEEDED, Typed
from swapwright.jobs.shop_vehicle import known_vehicle
from swapwright.procedures.competence import standing
from swapwright.procedures.step import Level
from swapwright.records.checkpoint import Checkpoint
from swapwright.records.record import Draft, Json, Record
from swapwright.standards.permits import LONGEST, SHIFT_END

KINDS = ("permit.issued", "permit.accepted", "permit.withdrawn", "permit.closed")
LEVELS: Mapping[str, Level] = {"isolation": "isolation", "live": "live"}
LEVEL_WORDS = {
    "isolation": "on what is isolated, absence verified first",
    "live": "live work",
}
OPEN = ("in force", "to be accepted", "not begun")
"""States of a permit that is not over."""
LONGEST_PERMIT = timedelta(seconds=LONGEST.si)
LONGEST_HOURS = round(LONGEST.si / 3600.0)


@dataclass(frozen=True)
class Named:
    """Somebody a permit is for, and when they accepted it; empty while they have not."""

    id: str
    name: str
    accepted: str


@dataclass(frozen=True)
class PermitRow:
    """One permit as it stands now; ``why`` says in words what made it so."""

    id: str
    vehicle: str
    vehicle_name: str
    work: str
    level: str
    people: tuple[Named, ...]
    since: str
    until: str
    precautions: str
    reason_live: str
    revision: str
    state: str
    why: str
    by: str
    issued: str
    number: int
    history: tuple[HistoryLine, ...] = ()

    @property
    def is_open(self) -> bool:
        """Tell whether it is not over."""
        return self.state in OPEN


def permit_rows(shop: Shop, actor: Actor, vehicle: str = "") -> tuple[PermitRow, ...]:
    """Return every permit, or those of one vehicle, the latest first."""
    shop.allow(actor, "read records")
    registers, now = shop.registers(), shop.latest()
    about = (vehicle,) if vehicle else tuple(registers.log)
    records = [each for name in about for each in registers.logged(name, *KINDS)]
    by_permit: dict[str, list[Record]] = {}
    for each in sorted(records, key=lambda record: record.number):
        by_permit.setdefault(each.about["permit"], []).append(each)
    rows = [_row(shop, told, now) for told in by_permit.values() if told[0].kind == KINDS[0]]
    return tuple(row for row in reversed(rows) if vehicle in ("", row.vehicle))


def permit_view(shop: Shop, actor: Actor, permit: str) -> PermitRow | None:
    """Return one permit, None where there is none of that id."""
    return next((each for each in permit_rows(shop, actor) if each.id == permit), None)


def default_times(shop: Shop) -> tuple[str, str]:
    """Return from when to when a permit runs unless it says otherwise, as a form has them."""
    now = shop.now().astimezone().replace(second=0, microsecond=0)
    midnight = now.replace(hour=0, minute=0)
    end = midnight + timedelta(seconds=SHIFT_END.si)
    until = end if end > now else now + timedelta(hours=1)
    return _as_field(now), _as_field(until)


def issue_permit(shop: Shop, actor: Actor, given: Mapping[str, str], people: Sequence[str]) -> str:
    """Issue a permit for a vehicle at the revision that is entered, and return its id."""
    typed = Typed(given)
    level = typed.choice("level", tuple(LEVELS))
    action = "issue a permit for live work" if level == "live" else "issue a permit"
    shop.allow(actor, action)
    vehicle = typed.choice("vehicle", tuple(shop.vehicles()))
    found = shop.vehicles().get(vehicle)
    if found is not None and found.revision is None:
        typed.refuse("vehicle", "no revision is entered for it: enter it first")
    since, until = _times(shop, typed)
    body: dict[str, Json] = {
        "work": typed.words("work"),
        "revision": "" if found is None or found.revision is None else found.revision.revision,
        "level": level,
        "people": list(people),
        "since": since,
        "until": until,
        "precautions": typed.words("precautions"),
        "reason_live": typed.words("reason_live", is_needed=level == "live"),
    }
    _fit_people(shop, typed, people, level)
    typed.done()
    key = typed.key()
    permit = f"w-{key}"
    about = {"vehicle": vehicle, "permit": permit}
    shop.write(Draft("permit.issued", actor.person, about, body, key))
    return permit


def accept_permit(shop: Shop, actor: Actor, permit: str, given: Mapping[str, str]) -> None:
    """Accept a permit as one of those it is for, with their PIN."""
    found = _open(shop, actor, permit)
    typed = Typed(given)
    waiting = tuple(each.id for each in found.people if not each.accepted)
    person = typed.choice("person", waiting)
    typed.done()
    shop.allow(shop.actor(person, actor.address), "accept a permit")
    check_pin(shop, actor, person, given.get("pin", ""), "accept a permit")
    _write(shop, actor, found, "permit.accepted", {"person": person}, typed)


def withdraw_permit(shop: Shop, actor: Actor, permit: str, given: Mapping[str, str]) -> None:
    """Withdraw a permit: work by it ends at once."""
    shop.allow(actor, "withdraw a permit")
    found = _open(shop, actor, permit)
    typed = Typed(given)
    reason = typed.line("reason")
    typed.done()
    _write(shop, actor, found, "permit.withdrawn", {"reason": reason}, typed)


def close_permit(shop: Shop, actor: Actor, permit: str, given: Mapping[str, str]) -> None:
    """Hand a permit back, saying how the vehicle is left; one that has expired can be, too."""
    shop.allow(actor, "close a permit")
    found = _known(shop, actor, permit)
    if found.state in ("handed back", "withdrawn"):
        raise Refused(Problem("", "", f"this permit is over: {found.state}; {found.why}"))
    typed = Typed(given)
    state = typed.words("state")
    typed.done()
    _write(shop, actor, found, "permit.closed", {"state": state}, typed)


def print_permit(shop: Shop, actor: Actor, permit: str) -> Checkpoint:
    """Sign the ledger as it is, to be printed on a permit and its tag."""
    found = _known(shop, actor, permit)
    return checkpoint_given(shop, actor, f"printed on permit {found.id}")


def _known(shop: Shop, actor: Actor, permit: str) -> PermitRow:
    found = permit_view(shop, actor, permit)
    if found is None:
        raise Refused(Problem("", "", "there is no permit of this id"))
    return found


def _open(shop: Shop, actor: Actor, permit: str) -> PermitRow:
    found = _known(shop, actor, permit)
    if not found.is_open:
        raise Refused(Problem("", "", f"this permit is over: {found.state}; {found.why}"))
    return found


def _write(
    shop: Shop, actor: Actor, row: PermitRow, kind: str, body: Mapping[str, Json], typed: Typed
) -> None:
    about = {"vehicle": row.vehicle, "permit": row.id}
    shop.write(Draft(kind, actor.person, about, body, typed.key()))


def _times(shop: Shop, typed: Typed) -> tuple[str, str]:
    """Return from when to when (UTC, ISO 8601), as typed where the shop is."""
    zone, now = shop.now().astimezone().tzinfo, shop.latest()
    since, until = typed.moment("since", zone), typed.moment("until", zone)
    if since is None or until is None:
        return "", ""
    if until <= since:
        typed.refuse("until", "it would end before it begins")
    elif until - since > LONGEST_PERMIT:
        typed.refuse("until", "it would run too long", f"up to {LONGEST_HOURS} h")
    elif until <= now:
        typed.refuse("until", "it would be over already", f"after {moment_words(now)}")
    return _utc(since), _utc(until)


def _utc(at: datetime) -> str:
    return datetime.fromtimestamp(at.timestamp(), tz=UTC).isoformat(timespec="seconds")


def _fit_people(shop: Shop, typed: Typed, people: Sequence[str], level: str) -> None:
    """Refuse a permit for nobody, and for anybody whose competence does not reach it today."""
    if not people:
        typed.refuse("people", NEEDED)
    for each in people:
        found = shop.people().get(each)
        if found is None or found.has_left:
            typed.refuse("people", "somebody on it is not in the shop")
        elif level in LEVELS:
            now = standing(found, shop.today())
            if not now.covers(LEVELS[level]):
                had = now.level or "none"
                lapsed = f" ({'; '.join(now.lapsed)})" if now.lapsed else ""
                typed.refuse("people", f"{found.name}: competence {had}, it takes {level}{lapsed}")


def _row(shop: Shop, told: Sequence[Record], now: datetime) -> PermitRow:
    issued = told[0]
    body, about = issued.body, issued.about
    vehicle = shop.vehicles().get(about["vehicle"])
    people = body["people"]
    accepted = {str(e.body["person"]): e for e in told if e.kind == "permit.accepted"}
    named = tuple(
        Named(
            str(each),
            who(shop, str(each)),
            moment_words(accepted[str(each)].at) if str(each) in accepted else "",
        )
        for each in (people if isinstance(people, list) else ())
    )
    state, why = _state(shop, told, named, now)
    return PermitRow(
        about["permit"],
        about["vehicle"],
        about["vehicle"] if vehicle is None else vehicle.name,
        str(body["work"]),
        str(body["level"]),
        named,
        _told(body["since"]),
        _told(body["until"]),
        str(body["precautions"]),
        str(body.get("reason_live") or ""),
        short(str(body["revision"])),
        state,
        why,
        who(shop, issued.by),
        moment_words(issued.at),
        issued.number,
        history_lines(shop, told),
    )


def _state(
    shop: Shop, told: Iterable[Record], named: Iterable[Named], now: datetime
) -> tuple[str, str]:
    """Return what a permit is now, and why."""
    issued, *others = told
    for each in others:
        if each.kind == "permit.withdrawn":
            return "withdrawn", f"{each.body['reason']}, {moment_words(each.at)}"
        if each.kind == "permit.closed":
            return "handed back", f"{each.body['state']}, {moment_words(each.at)}"
    entered = known_vehicle(shop, issued.about["vehicle"]).revision
    if entered is None or entered.revision != issued.body["revision"]:
        return "void", "the revision of the vehicle was changed since"
    since, until = (datetime.fromisoformat(str(issued.body[key])) for key in ("since", "until"))
    if now >= until:
        return "expired", f"on {moment_words(until)}"
    lacking = [each.name for each in named if not each.accepted]
    if lacking:
        return "to be accepted", f"by {', '.join(lacking)}"
    if now < since:
        return "not begun", f"it begins on {moment_words(since)}"
    return "in force", f"until {moment_words(until)}"


def _as_field(at: datetime) -> str:
    return at.strftime("%Y-%m-%dT%H:%M")


def _told(value: Json) -> str:
    return moment_words(datetime.fromisoformat(str(value)))
