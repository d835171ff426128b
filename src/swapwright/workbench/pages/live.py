"""What changes in the shop, told to open pages as it happens."""

from __future__ import annotations

import asyncio
import json
import time
from collections.abc import AsyncIterator, Callable

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import BaseRoute, Route

from swapwright.jobs.shop import LOCAL_ACTOR, Shop
from swapwright.jobs.shop_board import board_rows
from swapwright.workbench.shop_form import shop_and_actor

EVERY = 1.0
"""Seconds between two looks at the ledger; other processes write to it too."""
BEAT = 5
"""Looks without news after which the line is shown to be up."""
MARKS = 30
"""Looks after which the marks are worked out anew: time alone changes some."""
LOOKS = 300
"""Looks one connection lasts; the browser comes again by itself, and is asked anew who it is."""
RETRY = "retry: 2000\n\n"


class Watched:
    """The shop's ledger as every open page of this process sees it: looked at once for all."""

    def __init__(self, shop: Shop, clock: Callable[[], float] = time.monotonic) -> None:
        """Take the shop and a clock nobody sets; who may listen is asked at each connection."""
        self._shop = shop
        self._clock = clock
        self._looking = asyncio.Lock()
        self._looked = -MARKS * EVERY
        self._worked = -MARKS * EVERY
        self._number = -1
        self._told = ""

    async def told(self) -> str:
        """Return the number of the ledger's last record and every vehicle's two marks, as JSON."""
        async with self._looking:
            now = self._clock()
            if now - self._looked >= EVERY:
                self._looked = now
                await run_in_threadpool(self._look, now)
            return self._told

    def _look(self, now: float) -> None:
        number, _ = self._shop.store.head()
        if number == self._number and now - self._worked < MARKS * EVERY:
            return
        self._worked, self._number = now, number
        rows = board_rows(self._shop, LOCAL_ACTOR)
        marks = {each.vehicle.id: [each.lock.word, each.voltage.word] for each in rows}
        self._told = json.dumps({"number": number, "marks": marks})


async def events(watched: Watched, looks: int = LOOKS) -> AsyncIterator[str]:
    """Yield what is told whenever it has changed, and a beat between."""
    yield RETRY
    last, quiet = "", 0
    for _ in range(looks):
        found = await watched.told()
        if found != last:
            last, quiet = found, 0
            yield f"data: {found}\n\n"
        elif (quiet := quiet + 1) >= BEAT:
            quiet = 0
            yield "event: beat\ndata: {}\n\n"
        await asyncio.sleep(EVERY)


async def live(request: Request) -> Response:
    """Send what changes, as it changes."""
    shop, actor = shop_and_actor(request)
    await run_in_threadpool(shop.allow, actor, "read records")
    found = getattr(request.app.state, "watched", None)
    if not isinstance(found, Watched):
        found = request.app.state.watched = Watched(shop)
    headers = {"x-accel-buffering": "no"}
    return StreamingResponse(events(found), media_type="text/event-stream", headers=headers)


ROUTES: tuple[BaseRoute, ...] = (Route("/shop/live", live),)
