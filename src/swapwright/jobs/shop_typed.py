"""What a person typed into a form of the shop: read field by field, with every fault at once."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime, tzinfo

from swapwright.base.errors import InputError, Problem, UnitError
from swapwright.base.quantity import parse
from swapwright.records.record import new_key

LONGEST = 200
LONGEST_WORDS = 4_000
"""Characters of a line, and of a field of several lines."""
EARLIEST = date(1990, 1, 1)
"""No test, evidence or making of equipment that is in use is older."""
NEEDED = "this has to be said"
_KEY = re.compile(r"[0-9a-f]{32}")


class Typed:
    """The fields of one form. Each is read once; `done` raises what was wrong with any of them."""

    def __init__(self, given: Mapping[str, str]) -> None:
        """Take the texts by the names of their fields."""
        self._given = given
        self._problems: list[Problem] = []

    def refuse(self, name: str, message: str, allowed: str = "") -> None:
        """Keep a fault of a field."""
        given = self._given.get(name, "").strip()[:LONGEST]
        self._problems.append(Problem("", name, message, given, allowed))

    def done(self) -> None:
        """Raise InputError with every fault, where there is any."""
        if self._problems:
            raise InputError(*self._problems)

    def line(self, name: str, *, is_needed: bool = True, most: int = LONGEST) -> str:
        """Return a text on one line."""
        return " ".join(self.words(name, is_needed=is_needed, most=most).split())

    def words(self, name: str, *, is_needed: bool = True, most: int = LONGEST_WORDS) -> str:
        """Return a text as it was typed, the space around it left out."""
        text = self._given.get(name, "").replace("\r\n", "\n").strip()
        if is_needed and not text:
            self.refuse(name, NEEDED)
        elif len(text) > most:
            self.refuse(name, "this is too long", f"up to {most} characters")
        elif not all(each.isprintable() or each in "\n\t" for each in text):
            self.refuse(name, "there is a character in it that cannot be printed")
        return text

    def choice(self, name: str, allowed: Sequence[str], *, is_needed: bool = True) -> str:
        """Return one of some words."""
        text = self._given.get(name, "").strip()
        if not text and not is_needed:
            return ""
        if text not in allowed:
            self.refuse(
                name, "this is none of what there is" if text else NEEDED, ", ".join(allowed)
            )
        return text

    def day(
        self,
        name: str,
        *,
        latest: date | None = None,
        earliest: date = EARLIEST,
        is_needed: bool = True,
    ) -> str:
        """Return a day as ISO text; ``latest`` is usually today: what has not been cannot count."""
        text = self._given.get(name, "").strip()
        if not text and not is_needed:
            return ""
        try:
            found = date.fromisoformat(text)
        except ValueError:
            self.refuse(name, "this is no day there is" if text else NEEDED, "2026-11-27")
            return ""
        if latest is not None and found > latest:
            self.refuse(name, "this day is yet to come", f"up to {latest.isoformat()}")
        elif found < earliest:
            self.refuse(name, "this day is too far back", f"from {earliest.isoformat()}")
        return found.isoformat()

    def moment(self, name: str, zone: tzinfo | None) -> datetime | None:
        """Return a time of day typed in the shop's own zone, None where it is none."""
        text = self._given.get(name, "").strip()
        try:
            found = datetime.fromisoformat(text)
        except ValueError:
            self.refuse(name, "this is no time there is" if text else NEEDED, "2026-11-27 14:30")
            return None
        if found.date() < EARLIEST:
            self.refuse(name, "this time is too far back", f"from {EARLIEST.isoformat()}")
            return None
        return found.replace(tzinfo=zone) if found.tzinfo is None else found

    def amount(self, name: str, kind: str, unit: str, *, is_needed: bool = True) -> float | None:
        """Return a quantity in SI; a bare number is taken in the unit the field says."""
        text = self._given.get(name, "").strip()
        if not text and not is_needed:
            return None
        is_bare = re.fullmatch(r"[0-9]+(?:[.,][0-9]+)?", text) is not None
        try:
            found = parse(f"{text} {unit}" if is_bare else text, kind).si
        except UnitError as error:
            self.refuse(name, error.message if text else NEEDED, error.allowed or f"1000 {unit}")
            return None
        if found < 0.0:
            self.refuse(name, "this cannot be less than nothing")
        return found

    def is_yes(self, name: str) -> bool:
        """Tell whether a box was ticked or a yes chosen; one of the two has to be said."""
        return self.choice(name, ("yes", "no")) == "yes"

    def key(self) -> str:
        """Return the key the form was given when it was shown: sent twice, it is kept once."""
        text = self._given.get("key", "")
        return text if _KEY.fullmatch(text) else new_key()
