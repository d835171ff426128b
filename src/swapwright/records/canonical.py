"""Records as bytes: one spelling of a body, and the hashes that chain one record to the next."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from swapwright.records.record import Json

GENESIS = hashlib.sha256(b"swapwright ledger 1").hexdigest()
"""What the first record is chained to."""


def canonical(value: Json | Mapping[str, Any] | list[Any]) -> str:
    """Return JSON in its one spelling: keys sorted, no spaces; raise ValueError for no JSON."""
    return json.dumps(
        value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False
    )


def content_hash(
    number: int, at: str, kind: str, by: str, about: Mapping[str, str], body: str, key: str
) -> str:
    """Return the SHA-256, in hexadecimal, of everything a record says.

    ``at`` and ``body`` are texts as they are kept: another spelling of the same is another hash.
    """
    whole = canonical([number, at, kind, by, dict(about), body, key])
    return hashlib.sha256(whole.encode("utf-8")).hexdigest()


def chained_hash(before: str, content: str) -> str:
    """Return the SHA-256 of the bytes of the hash before and of a content, in hexadecimal."""
    return hashlib.sha256(bytes.fromhex(before) + bytes.fromhex(content)).hexdigest()
