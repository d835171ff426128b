"""The people of the shop: entered, given roles and competences, told what they may do today."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from swapwright.base.errors import InputError, Problem
from swapwright.jobs.shop import Actor, Refused, Shop
from swapwright.jobs.shop_history import HistoryLine, lines_about, who
from swapwright.jobs.shop_typed import Typed
from swapwright.procedures.competence import Standing, standing
from swapwright.procedures.permission import may
from swapwright.records.people import Competence, Person, folded
from swapwright.records.reader import Reader
from swapwright.records.record import Draft, Json
from swapwright.records.secrets import set_secret
from swapwright.standards.competence import LEVELS, STAGES, stage
from swapwright.standards.permissions import ACTIONS, ROLES

LEVEL_WORDS = {
    "aware": "made aware: no work at high voltage",
    "isolation": "may isolate, and work on what is isolated",
    "live": "may work live",
}
SOON = timedelta(days=30)
"""How long before its end a competence is told as ending."""


@dataclass(frozen=True)
class PersonRow:
    """One person as the list shows them; ``level`` and ``until`` are today's, in words."""

    person: Person
    standing: Standing
    level: str
    until: str


@dataclass(frozen=True)
class CompetenceRow:
    """One competence, and what it is today: in date, ending, over, withdrawn, with who gave it."""

    competence: Competence
    state: str
    counts: bool
    by: str


@dataclass(frozen=True)
class MayLine:
    """One action: whether this person may do it today, and why not."""

    action: str
    ok: bool
    reason: str


@dataclass(frozen=True)
class PersonView:
    """Everything of one person."""

    row: PersonRow
    competences: tuple[CompetenceRow, ...]
    may: tuple[MayLine, ...]
    history: tuple[HistoryLine, ...]


def people_rows(shop: Shop, actor: Actor) -> tuple[PersonRow, ...]:
    """Return everybody, those who left last."""
    shop.allow(actor, "read people")
    rows = [_row(each, shop.today()) for each in shop.people().values()]
    return tuple(sorted(rows, key=lambda row: (row.person.has_left, row.person.name.casefold())))


def person_view(shop: Shop, actor: Actor, person: str) -> PersonView | None:
    """Return one person, None where there is none of that id."""
    shop.allow(actor, "read people")
    found = shop.people().get(person)
    if found is None:
        return None
    row = _row(found, shop.today())
    return PersonView(
        row,
        tuple(_competence(shop, each) for each in reversed(found.competences)),
        tuple(_may(found, row.standing, action) for action in ACTIONS),
        lines_about(shop, lambda reader: reader.records(person=person)),
    )


def schemes() -> Mapping[str, tuple[str, ...]]:
    """Return the public schemes of competence, each with its stages, from the least."""
    found: dict[str, tuple[str, ...]] = {}
    for each in STAGES:
        found[each.scheme] = (*found.get(each.scheme, ()), each.name)
    return found


def add_person(shop: Shop, actor: Actor, given: Mapping[str, str]) -> str:
    """Enter a person and return the id; two of one name cannot be told apart on a lock."""
    shop.allow(actor, "add a person")
    typed = Typed(given)
    name, key = typed.line("name", most=80), typed.key()
    typed.done()
    person = f"p-{key}"

    def guard(reader: Reader) -> None:
        for each in shop.people().values():
            if folded(each.name) == folded(name) and not each.has_left:
                raise InputError(
                    Problem("", "name", "there is somebody of this name", name, "add what differs")
                )

    draft = Draft("person.added", actor.person, {"person": person}, {"name": name}, key)
    shop.write(draft, guard=guard)
    return person


def give_role(shop: Shop, actor: Actor, person: str, given: Mapping[str, str]) -> None:
    """Give a role; it says what somebody may do in the shop, and nothing of what they can."""
    shop.allow(actor, "give a role")
    found = _here(shop, person)
    typed = Typed(given)
    role = typed.choice("role", ROLES)
    if role in found.roles:
        typed.refuse("role", "this role is theirs already")
    typed.done()
    shop.write(Draft("role.given", actor.person, {"person": person}, {"role": role}, typed.key()))


def take_role(shop: Shop, actor: Actor, person: str, given: Mapping[str, str]) -> None:
    """Take a role back; the last admin stays while people log in."""
    shop.allow(actor, "give a role")
    found = _here(shop, person)
    typed = Typed(given)
    role, reason = typed.choice("role", ROLES), typed.line("reason")
    if role and role not in found.roles:
        typed.refuse("role", "this role is not theirs", ", ".join(found.roles))
    elif role == "admin" and _is_last_admin(shop, person):
        typed.refuse("role", "this is the last admin: give the role to somebody else first")
    typed.done()
    body: dict[str, Json] = {"role": role, "reason": reason}
    shop.write(Draft("role.taken", actor.person, {"person": person}, body, typed.key()))


def grant_competence(shop: Shop, actor: Actor, person: str, given: Mapping[str, str]) -> None:
    """Enter a competence: our level, the scheme it was shown by, the evidence, from when to when.

    No stage grants a level by itself: it is granted here, up to what the stage reaches.
    """
    shop.allow(actor, "grant a competence")
    if actor.person == person:
        shop.refuse(actor, "grant a competence", "nobody grants a competence to themselves")
    _here(shop, person)
    typed = Typed(given)
    body = _granted(typed, shop.today())
    typed.done()
    shop.write(Draft("competence.granted", actor.person, {"person": person}, body, typed.key()))


def withdraw_competence(shop: Shop, actor: Actor, person: str, given: Mapping[str, str]) -> None:
    """Withdraw a level: every competence of it, with why."""
    shop.allow(actor, "withdraw a competence")
    found = _here(shop, person)
    typed = Typed(given)
    held = tuple(dict.fromkeys(c.level for c in found.competences if not c.withdrawn))
    level, reason = typed.choice("level", held), typed.line("reason")
    typed.done()
    body: dict[str, Json] = {"level": level, "reason": reason}
    shop.write(Draft("competence.withdrawn", actor.person, {"person": person}, body, typed.key()))


def person_left(shop: Shop, actor: Actor, person: str, given: Mapping[str, str]) -> None:
    """Say that somebody left: they may do nothing more, and what they did stays on record."""
    shop.allow(actor, "add a person")
    if "admin" in _here(shop, person).roles:
        shop.allow(actor, "give a role")
    typed = Typed(given)
    reason = typed.line("reason")
    if _is_last_admin(shop, person):
        typed.refuse("reason", "this is the last admin: give the role to somebody else first")
    typed.done()
    shop.write(
        Draft("person.left", actor.person, {"person": person}, {"reason": reason}, typed.key())
    )


def set_pin_here(shop: Shop, actor: Actor, person: str, given: Mapping[str, str]) -> None:
    """Set somebody's PIN at the machine itself, while nobody logs in.

    Once anybody has a password each sets their own.
    """
    if not actor.is_local:
        shop.refuse(actor, "set a PIN", "each sets their own PIN, under account")
    _here(shop, person)
    pin = given.get("pin", "")
    if pin != given.get("again", ""):
        raise InputError(Problem("", "again", "this is not what was typed above"))
    proof = set_secret(shop.store, person, "pin", pin)
    body: dict[str, Json] = {"which": "pin", "proof": proof}
    shop.write(Draft("secret.set", actor.person, {"person": person}, body))


def _here(shop: Shop, person: str) -> Person:
    """Return somebody who is in the shop; raise `Refused` for anybody else."""
    found = shop.people().get(person)
    if found is None:
        raise Refused(Problem("", "", "there is nobody of this id"))
    if found.has_left:
        raise Refused(Problem("", "", f"{found.name} has left the shop: nothing is changed"))
    return found


def _is_last_admin(shop: Shop, person: str) -> bool:
    admins = {
        each.id
        for each in shop.people().values()
        if "admin" in each.roles and each.has_password and not each.has_left
    }
    return shop.has_accounts() and admins == {person}


def _granted(typed: Typed, today: date) -> dict[str, Json]:
    """Return the body of a grant."""
    level = typed.choice("level", LEVELS)
    scheme, _, name = typed.choice("stage", stage_names()).partition(": ")
    found = stage(scheme, name)
    if found is not None and level in LEVELS and LEVELS.index(level) > LEVELS.index(found.level):
        typed.refuse("level", f"this stage reaches no further than {found.level}", found.may)
    since, until = typed.day("since", latest=today), typed.day("until", is_needed=False)
    if since and until and until < since:
        typed.refuse("until", "it would end before it begins", f"from {since}")
    return {
        "level": level,
        "scheme": scheme,
        "scheme_level": name,
        "evidence": typed.line("evidence"),
        "since": since,
        "until": until,
    }


def stage_names() -> tuple[str, ...]:
    """Return every stage as one choice of a form: its scheme, then its name."""
    return tuple(f"{each.scheme}: {each.name}" for each in STAGES)


def _row(person: Person, today: date) -> PersonRow:
    found = standing(person, today)
    return PersonRow(
        person,
        found,
        "none on record" if found.level is None else f"{found.level}: {LEVEL_WORDS[found.level]}",
        _until(found, today),
    )


def _until(found: Standing, today: date) -> str:
    if not found.until:
        return "" if found.level is None else "no end was said"
    is_soon = date.fromisoformat(found.until) - today <= SOON
    return f"ends soon: {found.until}" if is_soon else f"until {found.until}"


def _competence(shop: Shop, each: Competence) -> CompetenceRow:
    today = shop.today()
    alone = standing(Person("", "", competences=(each,)), today)
    if alone.level is None:
        words = alone.lapsed[0].partition(": ")[2] if alone.lapsed else "does not count"
        return CompetenceRow(each, words, False, who(shop, each.by))
    return CompetenceRow(each, _until(alone, today), True, who(shop, each.by))


def _may(person: Person, found: Standing, action: str) -> MayLine:
    permission = may(person.roles, found, action)
    return MayLine(action, permission.ok, permission.reason.partition(": ")[2])
