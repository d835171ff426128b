"""The machine's clocks: what time it is, and how long ago something was whatever is set since."""

from __future__ import annotations

import time
from collections.abc import Mapping
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from uuid import uuid4

BOOT_ID = Path("/proc/sys/kernel/random/boot_id")


def utc_now() -> datetime:
    """Return the time of day in UTC."""
    return datetime.now(UTC)


@lru_cache(maxsize=1)
def boot() -> str:
    """Return a name for this start of the machine; where it has none, for this process."""
    try:
        return BOOT_ID.read_text(encoding="ascii").strip()
    except OSError:
        return f"process-{uuid4().hex}"


def ticks() -> float:
    """Return seconds that nobody can set, counted on while the machine sleeps where it can."""
    clock = getattr(time, "CLOCK_BOOTTIME", None)
    if clock is not None and BOOT_ID.exists():
        return time.clock_gettime(clock)
    return time.monotonic()


def clock_mark(now: datetime | None = None) -> Mapping[str, str | float]:
    """Return a moment as a wait is counted from it: the time of day, and seconds of this start."""
    wall = utc_now() if now is None else now
    return {"wall": wall.isoformat(), "boot": boot(), "ticks": ticks()}
