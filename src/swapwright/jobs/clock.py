"""The machine's clocks: what time it is, and how long ago something was whatever is set since."""

from __future__ import annotations

import hashlib
import platform
import time
from collections.abc import Mapping
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from uuid import uuid4

BOOT_ID = Path("/proc/sys/kernel/random/boot_id")
MACHINE_ID = Path("/etc/machine-id")
_STARTED = time.monotonic()
"""Where a machine has no name for its start a process counts from its own."""


def utc_now() -> datetime:
    """Return the time of day in UTC."""
    return datetime.now(UTC)


@lru_cache(maxsize=1)
def boot() -> str:
    """Return a name for this machine and this start of it; without one, for this process."""
    try:
        return f"{_machine()}/{BOOT_ID.read_text(encoding='ascii').strip()}"
    except OSError:
        return f"process/{uuid4().hex}"


def _machine() -> str:
    """Return a name for this machine that tells nobody which it is."""
    try:
        found = MACHINE_ID.read_text(encoding="ascii").strip()
    except OSError:
        found = platform.node()
    return hashlib.sha256(f"swapwright {found}".encode()).hexdigest()[:16]


def ticks() -> float:
    """Return seconds that nobody can set, counted on while the machine sleeps where it can."""
    clock = getattr(time, "CLOCK_BOOTTIME", None)
    if clock is not None and BOOT_ID.exists():
        return time.clock_gettime(clock)
    return time.monotonic() - _STARTED


def clock_mark(now: datetime | None = None) -> Mapping[str, str | float]:
    """Return a moment as a wait is counted from it: the time of day, and seconds of this start."""
    wall = utc_now() if now is None else now
    return {"wall": wall.isoformat(), "boot": boot(), "ticks": ticks()}
