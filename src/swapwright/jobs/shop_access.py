"""Getting into a shop: logging in and out, who a session belongs to, passwords and PINs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from swapwright.base.errors import InputError, Problem
from swapwright.jobs.shop import LOCAL_ACTOR, Actor, Refused, Shop
from swapwright.records.engine import url_of
from swapwright.records.people import Person, folded
from swapwright.records.reader import Reader
from swapwright.records.record import LOCAL, Draft, new_key
from swapwright.records.secrets import (
    Checked,
    Which,
    check_secret,
    fit_secret,
    has_to_change,
    set_secret,
    stranger_of,
)
from swapwright.records.sessions import (
    STOLEN,
    Ended,
    Session,
    begin_session,
    end_session,
    end_sessions_of,
    session_of,
)
from swapwright.standards.permissions import ADMIN

LONGEST_NAME = 120
WRONG = "this name and this password do not belong together"
WRONG_CURRENT = "this is not your present password"
ACCOUNTS_HERE = "there are accounts here already: log in"
SET_ANEW = "the password was set anew"
MOST_NEWS = 20


@dataclass(frozen=True)
class Visit:
    """Who asks, and the token their forms carry; empty where it is the process's own.

    ``must_change`` where another person chose the password: nothing else is open until then.
    """

    actor: Actor
    form_token: str = ""
    must_change: bool = False
    name: str = ""


@dataclass(frozen=True)
class News:
    """Something that happened to a person's account: when, what, from where."""

    at: datetime
    what: str
    why: str
    address: str

    @property
    def is_theft(self) -> bool:
        """Tell whether somebody else had the person's session."""
        return self.why == STOLEN


LOCAL_VISIT = Visit(LOCAL_ACTOR)
"""The one user of a workbench on this machine, where nobody has an account."""


def needs_login(shop: Shop) -> bool:
    """Tell whether anybody has a password; no store is made by asking."""
    return _is_there(shop) and shop.has_accounts()


def has_admin(shop: Shop) -> bool:
    """Tell whether somebody can let others in: an admin who has a password."""
    return _is_there(shop) and any(_is_admin(each) for each in shop.people().values())


def log_in(shop: Shop, name: str, password: str, address: str, agent: str, old: str = "") -> str:
    """Return the token of a new session; ``old`` is the one the browser came with, which ends.

    Raises `Refused` in the same words, after the same work and with the same wait, whether or not
    there is anybody of that name. A try that is looked at is on record, without the password.
    """
    person = _called(shop, name)
    who = stranger_of(shop.store, folded(name))
    checked = check_secret(
        shop.store, who if person is None else person.id, "password", password, shop.now()
    )
    if person is None or not checked.ok:
        _note_refused(shop, "log in", address, person, checked)
        raise _wrong("password", WRONG, checked)
    if old:
        end_session(shop.store, old)
    about = {"person": person.id}
    shop.write(Draft("access.opened", person.id, about, {"address": address}))
    return begin_session(shop.store, person.id, address, agent, shop.now())


def visit_of(
    shop: Shop, token: str, address: str, agent: str, *, is_use: bool = True
) -> Visit | None:
    """Return who a session belongs to, None where it holds no more.

    ``is_use`` is false for what an open page asks by itself: nobody need be there.

    One that is used from another browser or address ends for whoever has it, and that is on record.
    """
    if not token:
        return None
    found = session_of(shop.store, token, address, agent, shop.now(), is_use=is_use)
    if isinstance(found, Ended) and found.is_news and found.why == STOLEN:
        about = {"person": found.person}
        body = {"what": "use a session", "reason": STOLEN, "address": address}
        shop.write(Draft("access.refused", LOCAL, about, body))
    if not isinstance(found, Session):
        return None
    person = shop.people().get(found.person)
    if person is None or person.has_left:
        end_session(shop.store, token)
        return None
    must_change = has_to_change(shop.store, person.id, "password")
    return Visit(shop.actor(person.id, address), found.form_token, must_change, person.name)


def actor_of(shop: Shop, token: str, address: str, agent: str) -> Actor | None:
    """Return who acts in a session, None where it holds no more."""
    visit = visit_of(shop, token, address, agent)
    return None if visit is None else visit.actor


def log_out(shop: Shop, token: str) -> None:
    """End one session."""
    end_session(shop.store, token)


def log_out_everywhere(shop: Shop, actor: Actor) -> None:
    """End every session of a person."""
    end_sessions_of(shop.store, actor.person)


def news_of(shop: Shop, person: str) -> tuple[News, ...]:
    """Return what was refused in a person's name between their last log-in and the one before.

    The latest comes first.
    """
    kinds = ("access.refused", "access.opened")
    kept = shop.store.records(kinds=kinds, person=person)
    opened = [at for at, each in enumerate(kept) if each.kind == "access.opened"]
    begin = opened[-2] + 1 if len(opened) > 1 else 0
    end = opened[-1] if opened else len(kept)
    refused = [each for each in kept[begin:end] if each.by == LOCAL]
    return tuple(
        News(
            each.at,
            str(each.body["what"]),
            str(each.body["reason"]),
            str(each.body.get("address") or ""),
        )
        for each in refused[: -MOST_NEWS - 1 : -1]
    )


def set_own_secret(shop: Shop, actor: Actor, which: Which, current: str, new: str) -> None:
    """Set one's own password or PIN, the present password given again.

    A new password ends every session of the person. Raises `Refused` where the present one is
    wrong, InputError where the new one is too easy to guess.
    """
    shop.allow(actor, "set own secret")
    fit_secret(which, new)
    checked = check_secret(shop.store, actor.person, "password", current, shop.now())
    person = shop.people().get(actor.person)
    if person is None or not checked.ok:
        _note_refused(shop, f"set {_named(which)}", actor.address, person, checked)
        raise _wrong("current", WRONG_CURRENT, checked)
    if which == "password" and new == current:
        raise InputError(Problem("", which, "this is the present one", allowed="another"))
    proof = set_secret(shop.store, actor.person, which, new)
    _note_set(shop, actor, actor.person, which, proof)
    if which == "password":
        end_sessions_of(shop.store, actor.person, SET_ANEW)


def set_for_another(shop: Shop, actor: Actor, person: str, password: str) -> None:
    """Set a password for somebody else, who has to set their own when they log in with it.

    Ends that person's sessions. The first password of all is an admin's, as nobody could let
    others in without one. Raises `Refused` or InputError.
    """
    shop.allow(actor, "reset a secret")
    found = shop.people().get(person)
    if found is None or found.has_left:
        raise InputError(Problem("", "person", "there is nobody of that name in the shop"))
    if found.id == actor.person:
        raise InputError(Problem("", "person", "this is you: set your own password above"))
    if not has_admin(shop) and ADMIN not in found.roles:
        words = f"{found.name} is no admin, and the first password has to be an admin's"
        raise InputError(Problem("", "person", words, allowed="somebody with the role admin"))
    proof = set_secret(shop.store, person, "password", password, must_change=True)
    end_sessions_of(shop.store, person, SET_ANEW)
    _note_set(shop, actor, person, "password", proof)


def first_account(shop: Shop, actor: Actor, name: str, password: str) -> str:
    """Enter the first admin with a password, and return the person's id; from then on all log in.

    Only the local user may, and only while nobody has a password.
    """
    if not actor.is_local or shop.has_accounts():
        shop.refuse(actor, "first account", ACCOUNTS_HERE)
    if not folded(name) or len(name) > LONGEST_NAME:
        allowed = f"a name of up to {LONGEST_NAME} letters"
        raise InputError(Problem("", "name", "nobody is called so", allowed=allowed))
    if any(folded(each.name) == folded(name) for each in shop.people().values()):
        words = "there is somebody of that name already"
        raise InputError(Problem("", "name", words, allowed="a name nobody else has"))
    fit_secret("password", password)
    person = new_key()
    about = {"person": person}
    proof = set_secret(shop.store, person, "password", password)
    shop.write(
        Draft("person.added", actor.person, about, {"name": " ".join(name.split())}),
        Draft("role.given", actor.person, about, {"role": ADMIN}),
        Draft("secret.set", actor.person, about, {"which": "password", "proof": proof}),
        guard=_without_accounts,
    )
    return person


def _without_accounts(reader: Reader) -> None:
    """Refuse a first account where another one was made meanwhile."""
    kept = reader.records(kinds=("secret.set",))
    if any(each.body["which"] == "password" for each in kept):
        raise Refused(Problem("", "", ACCOUNTS_HERE))


def shop_place(given: str) -> str | Path:
    """Return where a shop's records lie: a file, the file in a folder, or a database's address."""
    if "://" in given or given.endswith(".db"):
        return given
    return Path(given) / "shop.db"


def _is_there(shop: Shop) -> bool:
    url = url_of(shop.place)
    return url.get_backend_name() != "sqlite" or Path(url.database or "").is_file()


def _is_admin(person: Person) -> bool:
    return person.has_password and not person.has_left and ADMIN in person.roles


def _called(shop: Shop, name: str) -> Person | None:
    """Return the one who goes by a name or an id; None where nobody does, or more than one."""
    here: Mapping[str, Person] = {
        each.id: each for each in shop.people().values() if not each.has_left
    }
    if name.strip() in here:
        return here[name.strip()]
    found = [each for each in here.values() if folded(each.name) == folded(name)]
    return found[0] if len(found) == 1 and folded(name) else None


def _named(which: Which) -> str:
    return "PIN" if which == "pin" else "password"


def _note_refused(
    shop: Shop, what: str, address: str, person: Person | None, checked: Checked
) -> None:
    """Put a try on record; one that came too early was not looked at.

    Of names nobody has, one from each address within an hour.
    """
    if checked.is_early:
        return
    if person is None and not shop.refusals.is_first("stranger", what, address):
        return
    about = {} if person is None else {"person": person.id}
    body = {"what": what, "reason": "wrong password", "address": address}
    shop.write(Draft("access.refused", LOCAL, about, body))


def _note_set(shop: Shop, actor: Actor, person: str, which: Which, proof: str) -> None:
    body = {"which": which, "proof": proof}
    shop.write(Draft("secret.set", actor.person, {"person": person}, body))


def _wrong(field: str, words: str, checked: Checked) -> Refused:
    """Return the refusal of a wrong secret, with the wait it costs."""
    if checked.is_early:
        words = "too early: this try was not looked at"
    wait = f"; the next try in {_wait(checked.wait)}" if checked.wait > 0.0 else ""
    return Refused(Problem("", field, words + wait))


def _wait(seconds: float) -> str:
    whole = max(int(-(-seconds // 1)), 1)
    return f"{whole} s" if whole < 120 else f"{-(-whole // 60)} min"
