"""The glossary: what each term means to a person who knows engines, and its nearest thing there."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType

_FILE = "words.toml"
LEAST_LETTERS = 3
"""A shorter form (V, A, Ah) stands on the page but marks no label: it may mean anything there."""


@dataclass(frozen=True)
class Word:
    """One term: its other forms, a mechanic's words, and the nearest thing on an engine car.

    One that ``is_plain`` stands in the glossary but marks no label.
    """

    term: str
    also: tuple[str, ...]
    words: str
    engine: str
    is_plain: bool = False

    @property
    def slug(self) -> str:
        """Return the term as an anchor within the page."""
        return re.sub(r"[^a-z0-9]+", "-", self.term.casefold()).strip("-")


@lru_cache(maxsize=1)
def all_words() -> tuple[Word, ...]:
    """Return every term, in alphabetical order."""
    rows = tomllib.loads((files(__package__) / _FILE).read_text(encoding="utf-8"))["word"]
    words = (
        Word(
            row["term"],
            tuple(row.get("also", ())),
            row["words"],
            row["engine"],
            row.get("is_plain", False),
        )
        for row in rows
    )
    return tuple(sorted(words, key=lambda word: word.term.casefold()))


@lru_cache(maxsize=1024)
def word_in(text: str) -> Word | None:
    """Return the term a label speaks of, the longest that stands in it; None where none does."""
    folded = f" {_folded(text)} "
    known = _forms()
    found = [form for form in known if f" {form} " in folded]
    return known[max(found, key=len)] if found else None


@lru_cache(maxsize=1)
def _forms() -> Mapping[str, Word]:
    return MappingProxyType(
        {
            _folded(form): word
            for word in all_words()
            if not word.is_plain
            for form in (word.term, *word.also)
            if len(form) >= LEAST_LETTERS
        }
    )


def _folded(text: str) -> str:
    """Return a text as words with single spaces between them."""
    return " ".join(re.findall(r"[^\W_]+(?:[-·/][^\W_]+)*", text.casefold()))
