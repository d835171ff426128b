"""Which refusals go on record: nobody fills a ledger from which nothing is ever taken away."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

HOUR, MINUTE = 3600.0, 60.0
MOST_A_MINUTE = 60
"""Refusals of one person, or from one address, that are put on record within a minute."""
MOST_KNOWN = 10_000


class Refusals:
    """What was refused lately in this process, by whom or from where."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        """Take a clock nobody sets."""
        self._clock = clock
        self._lock = threading.Lock()
        self._last: dict[tuple[str, ...], float] = {}
        self._counts: dict[str, tuple[float, int]] = {}

    def is_first(self, *what: str, within: float = HOUR) -> bool:
        """Tell whether this is the first of its kind within some s, and remember it."""
        now = self._clock()
        with self._lock:
            last = self._last.get(what)
            if last is not None and now - last < within:
                return False
            if len(self._last) >= MOST_KNOWN:
                self._last.clear()
            self._last[what] = now
        return True

    def is_within_bounds(self, who: str) -> bool:
        """Tell whether one more of somebody may be put on record this minute, and count it."""
        now = self._clock()
        with self._lock:
            begun, count = self._counts.get(who, (now, 0))
            if now - begun >= MINUTE:
                begun, count = now, 0
            if len(self._counts) >= MOST_KNOWN:
                self._counts.clear()
            self._counts[who] = (begun, count + 1)
        return count < MOST_A_MINUTE
