"""A record: something that happened, as it is asked to be written and as it is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from types import MappingProxyType
from typing import TypeAlias
from uuid import uuid4

Json: TypeAlias = "bool | int | float | str | list[Json] | Mapping[str, Json] | None"

SUBJECTS = ("vehicle", "run", "permit", "item", "person", "incident")
"""What a record can be about; each is an id, and a record is found by it."""

LOCAL = "local"
"""Who writes where nobody has logged in: the one user of a workbench on this machine."""


def new_key() -> str:
    """Return a key nobody else has made; a device makes its own while it has no network."""
    return uuid4().hex


@dataclass(frozen=True)
class Draft:
    """A record before it is kept.

    ``kind`` is a row of `kinds.KINDS`; ``by`` the id of the person who did it, or `LOCAL`;
    ``about`` the ids of what it is about (`SUBJECTS`); ``key`` is made by whoever writes it: the
    same key again is the same record, and is kept once.
    """

    kind: str
    by: str
    about: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    body: Mapping[str, Json] = field(default_factory=lambda: MappingProxyType({}))
    key: str = field(default_factory=new_key)


@dataclass(frozen=True)
class Record:
    """A record as kept: its number in the chain from 1, and when (UTC) the store wrote it.

    ``content`` is the SHA-256 of everything above it, ``chained`` that of the record before this
    one's ``chained`` and this one's ``content``; both in hexadecimal.
    """

    number: int
    at: datetime
    kind: str
    by: str
    about: Mapping[str, str]
    body: Mapping[str, Json]
    key: str
    content: str
    chained: str
