"""What `pilot --json` prints, and its schema."""

from __future__ import annotations

from typing import Any

from swapwright.assess.assessment import SCHEMA_VERSION
from swapwright.build.schema import DRAFT
from swapwright.jobs.output_schema import NUMBER, TEXT, TEXTS, VERSION, Schema, or_null, record
from swapwright.jobs.pilot import CAUTIONS, PilotAnswer


def pilot_document(answer: PilotAnswer) -> dict[str, Any]:
    """Return what readings at an inlet say as a document for other programs."""
    lines = [
        {"read": e.read, "words": e.words, "next": e.next, "sources": list(e.sources)}
        for e in answer.lines
    ]
    return {
        "schema_version": SCHEMA_VERSION,
        "lines": lines,
        "current_a": answer.current,
        "current_words": answer.current_words,
        "cautions": list(CAUTIONS),
        "exit_status": answer.status,
    }


def pilot_schema() -> Schema:
    """Return the schema of `pilot --json`."""
    line = record(read=TEXT, words=TEXT, next=TEXT, sources=TEXTS)
    return {
        "$schema": DRAFT,
        "title": "pilot",
        "description": "what swapwright pilot --json prints",
        **record(
            schema_version=VERSION,
            lines={"type": "array", "items": line},
            current_a=or_null(NUMBER),
            current_words=TEXT,
            cautions=TEXTS,
            exit_status={"type": "integer"},
        ),
    }
