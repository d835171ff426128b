"""What time it is: the one place the jobs and the commands ask."""

from __future__ import annotations

from datetime import UTC, datetime


def utc_now() -> datetime:
    """Return the time of day in UTC."""
    return datetime.now(UTC)
