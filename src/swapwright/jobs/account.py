"""What happens in a fault, as facts, moments and notes: what a face prints and JSON carries."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from swapwright.assess.assessment import SCHEMA_VERSION
from swapwright.base.quantity import si_unit
from swapwright.build.car import Car
from swapwright.jobs.telling import tell

CAUTIONS = (
    "Voltages are present until a person has measured that they are not, at the point itself, with "
    "a meter proved before and after.",
    "Local law, the maker's instructions and licensed practice come first.",
    "This is the design, not confirmed on the car: before anybody works by it, a qualified person "
    "walks the car against it.",
)
"""What is said wherever somebody might go to work by it."""


@dataclass(frozen=True)
class Fact:
    """One number with what it is; ``words`` stand behind it, or in its place where it is None."""

    key: str
    label: str
    si: float | None
    kind: str
    words: str = ""

    def text(self, profile: str) -> str:
        """Return it as a person reads it."""
        if self.si is None:
            return self.words
        told = tell(self.si, self.kind, profile)
        return (
            f"{told}{self.words}"
            if self.words.startswith((",", ":"))
            else (f"{told} {self.words}".rstrip())
        )


@dataclass(frozen=True)
class Moment:
    """Something that comes about at a time s."""

    time: float
    text: str


@dataclass(frozen=True)
class Account:
    """What happens: a title, its facts, its moments in order, further facts by heading, notes."""

    title: str
    facts: tuple[Fact, ...]
    moments: tuple[Moment, ...] = ()
    groups: tuple[tuple[str, tuple[Fact, ...]], ...] = ()
    notes: tuple[str, ...] = ()


def accounts_document(accounts: tuple[Account, ...], car: Car) -> dict[str, Any]:
    """Return the document of `fault --json`: numbers in SI, each with its unit."""
    return {
        "schema_version": SCHEMA_VERSION,
        "name": car.texts.get("car.name", ""),
        "revision": car.revision,
        "accounts": [_account(each) for each in accounts],
        "cautions": list(CAUTIONS),
    }


def _account(account: Account) -> dict[str, Any]:
    return {
        "title": account.title,
        "facts": [_fact(each) for each in account.facts],
        "moments": [{"time_s": each.time, "text": each.text} for each in account.moments],
        "groups": [
            {"title": title, "facts": [_fact(each) for each in facts]}
            for title, facts in account.groups
        ],
        "notes": list(account.notes),
    }


def _fact(fact: Fact) -> dict[str, Any]:
    return {
        "key": fact.key,
        "label": fact.label,
        "value": fact.si,
        "unit": si_unit(fact.kind) if fact.kind else "",
        "words": fact.words.lstrip(",: "),
    }
