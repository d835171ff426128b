"""The tables of the store. Only `record` is the ledger; the others can be lost without a lie."""

from __future__ import annotations

from sqlalchemy import (
    Column,
    Float,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
)

from swapwright.records.record import SUBJECTS

METADATA = MetaData()

RECORD = Table(
    "record",
    METADATA,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("at", String(40), nullable=False),
    Column("kind", String(60), nullable=False),
    Column("by", String(80), nullable=False),
    *(Column(subject, String(80)) for subject in SUBJECTS),
    Column("body", Text, nullable=False),
    Column("key", String(80), nullable=False, unique=True),
    Column("content", String(64), nullable=False),
    Column("chained", String(64), nullable=False),
    *(Index(f"record_by_{subject}", subject, "number") for subject in SUBJECTS),
    Index("record_by_kind", "kind", "number"),
)

HEAD = Table(
    "head",
    METADATA,
    Column("id", Integer, primary_key=True, autoincrement=False),
    Column("number", Integer, nullable=False),
    Column("chained", String(64), nullable=False),
)
"""One row: the last record. Whoever writes locks it."""

ATTACHMENT = Table(
    "attachment",
    METADATA,
    Column("hash", String(64), primary_key=True),
    Column("media_type", String(60), nullable=False),
    Column("content", LargeBinary, nullable=False),
)

CHECKPOINT = Table(
    "checkpoint",
    METADATA,
    Column("id", String(64), primary_key=True),
    Column("number", Integer, nullable=False),
    Column("document", Text, nullable=False),
)

SECRET = Table(
    "secret",
    METADATA,
    Column("person", String(80), primary_key=True),
    Column("which", String(20), primary_key=True),
    Column("hash", Text, nullable=False),
    Column("failures", Integer, nullable=False),
    Column("until", Float, nullable=False),
    Column("seen", Float, nullable=False),
    Column("must_change", Integer, nullable=False),
)
"""Argon2 hashes; ``until`` and ``seen`` are s since 1970: no try before, and the latest clock."""

SESSION = Table(
    "session",
    METADATA,
    Column("hash", String(64), primary_key=True),
    Column("person", String(80), nullable=False),
    Column("made", Float, nullable=False),
    Column("seen", Float, nullable=False),
    Column("address", String(80), nullable=False),
    Column("agent", String(64), nullable=False),
    Column("form_token", String(64), nullable=False),
    Column("ended", String(200), nullable=False),
)
