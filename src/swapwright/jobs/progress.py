"""How a slow job tells how far it is, and how it is told to stop."""

from __future__ import annotations

from collections.abc import Callable

from swapwright.base.errors import SwapwrightError

Progress = Callable[[int, int], None]
"""Called with (done, total) between two runs; it may raise `Cancelled`, and the job ends there."""

IsCancelled = Callable[[], bool]
"""Asked between two runs whether the person wants the job to stop; it then raises `Cancelled`."""


class Cancelled(SwapwrightError):  # noqa: N818 - it reads as what it says
    """The person asked a job to stop; nothing has been written."""


def unwatched(done: int, total: int) -> None:
    """Watch nothing: the progress of a job nobody looks at."""


def never() -> bool:
    """Tell that a job goes on: that of a job nobody stops."""
    return False
