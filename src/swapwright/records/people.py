"""People as the records tell of them: facts, and no judgement of what follows."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from swapwright.records.record import Record


@dataclass(frozen=True)
class Competence:
    """A competence somebody was given: our level, the scheme's own stage, evidence, dates (ISO).

    ``until`` is empty where none was said; ``withdrawn`` says why it holds no more, empty where it
    was not withdrawn. ``number`` is the record that gave it, ``by`` who entered it.
    """

    level: str
    scheme: str
    scheme_level: str
    evidence: str
    since: str
    until: str
    by: str
    number: int
    withdrawn: str = ""


@dataclass(frozen=True)
class Person:
    """One person of the shop."""

    id: str
    name: str
    roles: tuple[str, ...] = ()
    competences: tuple[Competence, ...] = ()
    has_left: bool = False
    has_password: bool = False
    has_pin: bool = False


LONGEST_FOLDED = 800


def folded(name: str) -> str:
    """Return a name as it is compared: spaces, upper case and the way it is encoded set aside."""
    return " ".join(unicodedata.normalize("NFKC", name[:LONGEST_FOLDED]).casefold().split())


def people(records: Iterable[Record]) -> Mapping[str, Person]:
    """Return everybody by id, in the order they were entered."""
    found: dict[str, Person] = {}
    for each in records:
        person = found.get(each.about.get("person", ""))
        if each.kind == "person.added":
            new = each.about["person"]
            found.setdefault(new, Person(new, str(each.body["name"])))
        elif person is not None:
            found[person.id] = _after(person, each)
    return MappingProxyType(found)


def _after(person: Person, record: Record) -> Person:
    """Return a person after a record about them."""
    body = record.body
    if record.kind == "person.renamed":
        return replace(person, name=str(body["name"]))
    if record.kind == "person.left":
        return replace(person, has_left=True, roles=())
    if record.kind == "role.given":
        return replace(person, roles=tuple(dict.fromkeys((*person.roles, str(body["role"])))))
    if record.kind == "role.taken":
        return replace(person, roles=tuple(r for r in person.roles if r != body["role"]))
    if record.kind == "competence.granted":
        return replace(person, competences=(*person.competences, _competence(record)))
    if record.kind == "competence.withdrawn":
        return replace(person, competences=tuple(_withdrawn(person, record)))
    if record.kind == "secret.set":
        if body["which"] == "pin":
            return replace(person, has_pin=True)
        return replace(person, has_password=True)
    return person


def _competence(record: Record) -> Competence:
    body = record.body
    return Competence(
        str(body["level"]),
        str(body["scheme"]),
        str(body["scheme_level"]),
        str(body["evidence"]),
        str(body["since"]),
        str(body.get("until") or ""),
        record.by,
        record.number,
    )


def _withdrawn(person: Person, record: Record) -> Iterable[Competence]:
    """Yield the competences, those of the level a record withdraws marked with its reason."""
    for each in person.competences:
        is_meant = each.level == record.body["level"] and not each.withdrawn
        yield replace(each, withdrawn=str(record.body["reason"])) if is_meant else each
