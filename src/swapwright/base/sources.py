"""Where every number comes from: the rows of ``base/sources/*.toml``, by id."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, Literal, get_args

from swapwright.base.errors import SwapwrightError

SourceKind = Literal[
    "published", "textbook", "definition", "common-practice", "typical-data", "assumed"
]


class SourceError(SwapwrightError):
    """A source row is wrong, stands twice, or is asked for and not there: a fault of ours."""


@dataclass(frozen=True)
class Source:
    """One source: a clause of a standard, a page of a book, or a plain statement of practice.

    ``seen`` tells whether the text itself was read while the number was entered; else the number
    is from memory. ``as_of`` is the day the row was last looked at. ``note`` says anything a
    reader should know of it.
    """

    id: str
    title: str
    kind: SourceKind
    seen: bool
    as_of: date
    clause: str = ""
    edition: str = ""
    note: str = ""


def source(source_id: str) -> Source:
    """Return the source with this id; raise SourceError where there is none."""
    try:
        return all_sources()[source_id]
    except KeyError:
        raise SourceError(f"there is no source {source_id!r}") from None


@lru_cache(maxsize=1)
def all_sources() -> Mapping[str, Source]:
    """Return every source by id, in the order of the files; raise SourceError on a faulty row."""
    folder = files(__package__) / "sources"
    texts = [
        (entry.name, entry.read_text(encoding="utf-8"))
        for entry in sorted(folder.iterdir(), key=lambda entry: entry.name)
        if entry.name.endswith(".toml")
    ]
    return read_sources(texts)


def read_sources(texts: Iterable[tuple[str, str]]) -> Mapping[str, Source]:
    """Read (file name, TOML text) pairs into sources by id.

    Raises SourceError naming the file when a row lacks a key, has an unknown key or kind, or
    repeats an id.
    """
    found: dict[str, Source] = {}
    stands_in: dict[str, str] = {}
    for file, text in texts:
        for row in tomllib.loads(text)["source"]:
            read = _source(file, row)
            if read.id in found:
                raise SourceError(f"{file}: {read.id!r} stands in {stands_in[read.id]} already")
            found[read.id] = read
            stands_in[read.id] = file
    return MappingProxyType(found)


def _source(file: str, row: Mapping[str, Any]) -> Source:
    try:
        read = Source(**row)
    except TypeError as error:
        raise SourceError(f"{file}: {row.get('id', 'a row without id')}: {error}") from None
    if read.kind not in get_args(SourceKind):
        raise SourceError(f"{file}: {read.id}: {read.kind!r} is not a kind of source")
    return read
