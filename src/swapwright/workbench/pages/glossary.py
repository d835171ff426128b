"""The words of an electric car, for people who know engines."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.jobs.words import Word, all_words
from swapwright.workbench import links
from swapwright.workbench.car_page import render


@dataclass(frozen=True)
class Letter:
    """The terms that begin with one letter."""

    letter: str
    words: tuple[Word, ...]


def glossary(request: Request) -> Response:
    """Show every term."""
    grouped = groupby(all_words(), key=lambda word: word.term[0].upper())
    letters = tuple(Letter(letter, tuple(words)) for letter, words in grouped)
    return render(request, "glossary.html", here=links.WORDS, letters=letters)


ROUTES: tuple[BaseRoute, ...] = (Route(links.WORDS, glossary),)
"""Addresses of the workbench itself, not within a car."""
