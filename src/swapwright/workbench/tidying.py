"""Collecting what requests leave lying while nobody waits for an answer."""

from __future__ import annotations

import gc
import threading
import time

from starlette.types import ASGIApp, Receive, Scope, Send

QUIET = 0.8
"""Seconds without a request after which nobody is taken to be waiting."""
SELDOM = (2000, 25, 1000)
"""When the interpreter collects by itself: the young often, the old only if there is never rest."""
WORTH_IT = 8
"""Collections of the young since the last of all: a page that only asks for news makes none."""


class Tidying:
    """An application with its rubbish collected between requests, never during one.

    A whole assessment is a hundred thousand small objects. Going through all that are kept takes
    longer than an assessment does, and would come in the middle of every tenth change.
    """

    def __init__(self, app: ASGIApp) -> None:
        """Take an application; what there is by now stays for good and is not looked at again."""
        self._app = app
        self._asked = threading.Event()
        self._last = time.monotonic()
        self._under_way = 0

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request."""
        self._under_way += 1
        try:
            await self._app(scope, receive, send)
        finally:
            self._under_way -= 1
            self._last = time.monotonic()
            self._asked.set()

    def begin(self) -> None:
        """Collect from now on only while nothing is asked."""
        gc.collect()
        gc.freeze()
        gc.set_threshold(*SELDOM)
        gc.enable()
        threading.Thread(target=self._tidy, daemon=True).start()

    def _tidy(self) -> None:
        while True:
            self._asked.wait()
            rest = self._last + QUIET - time.monotonic()
            if self._under_way or rest > 0.0:
                time.sleep(max(rest, 0.05))
                continue
            self._asked.clear()
            if gc.get_count()[2] >= WORTH_IT:
                gc.collect()
