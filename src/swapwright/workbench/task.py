"""Slow jobs in threads of their own: looked at while they run, stopped, found again."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from swapwright.base.errors import InputError, Problem
from swapwright.jobs.progress import Cancelled, IsCancelled, Progress

MOST_TASKS = 12
"""Tasks kept, running or done; the one looked at longest ago goes first."""

T = TypeVar("T")
Run = Callable[[Progress, IsCancelled], T]

_LOG = logging.getLogger(__name__)


@dataclass(frozen=True)
class State(Generic[T]):
    """How far a task is: ``done`` of ``total`` (0 until it knows), and what came of it.

    ``problems`` say why nothing did, where nothing did.
    """

    done: int
    total: int
    is_running: bool
    is_cancelled: bool
    result: T | None
    problems: tuple[Problem, ...]


class Task(Generic[T]):
    """One job in a thread of its own."""

    def __init__(self, run: Run[T]) -> None:
        """Take the job and start it."""
        self._run = run
        self._done, self._total = 0, 0
        self._result: T | None = None
        self._problems: tuple[Problem, ...] = ()
        self._cancel = threading.Event()
        self._ended = threading.Event()
        threading.Thread(target=self._work, daemon=True).start()

    @property
    def state(self) -> State[T]:
        """Return how far it is now; one that was cancelled runs no more, whatever it still does."""
        is_cancelled = self._cancel.is_set()
        is_ended = self._ended.is_set()
        return State(
            self._done,
            self._total,
            not is_ended and not is_cancelled,
            is_cancelled,
            self._result if is_ended and not is_cancelled else None,
            self._problems if is_ended else (),
        )

    def cancel(self) -> None:
        """Ask the job to stop; what is done already stays done."""
        if not self._ended.is_set():
            self._cancel.set()

    def wait(self, seconds: float) -> State[T]:
        """Return how far it is once it has ended, or after so long."""
        self._ended.wait(seconds)
        return self.state

    def _work(self) -> None:
        try:
            self._result = self._run(self._tell, self._cancel.is_set)
        except Cancelled:
            self._cancel.set()
        except InputError as error:
            self._problems = error.problems
        except Exception as error:  # noqa: BLE001 - the page that waits has to hear of any
            _LOG.exception("a task failed")
            self._problems = (Problem("", "", f"this failed here: {error}"),)
        finally:
            self._ended.set()

    def _tell(self, done: int, total: int) -> None:
        self._done, self._total = done, total


class Tasks:
    """The tasks of one workbench, one for each subject, in the version it was last asked for."""

    def __init__(self, most: int = MOST_TASKS) -> None:
        """Take how many are kept."""
        self._most = most
        self._tasks: dict[Hashable, tuple[Hashable, Task[Any]]] = {}
        self._lock = threading.Lock()

    def start(self, subject: Hashable, version: Hashable, run: Run[T]) -> Task[T]:
        """Return the task of a subject in a version, started unless there is one.

        One of another version is of what is no more: it is stopped and forgotten.
        """
        with self._lock:
            found = self._tasks.pop(subject, None)
            if found is not None and found[0] == version:
                task: Task[T] = found[1]
            else:
                if found is not None:
                    found[1].cancel()
                task = Task(run)
            self._tasks[subject] = (version, task)
            while len(self._tasks) > self._most:
                oldest = next(iter(self._tasks))
                self._tasks.pop(oldest)[1].cancel()
            return task

    def cancel(self, subject: Hashable) -> None:
        """Stop the task of a subject, if there is one running; it is still found."""
        with self._lock:
            if subject in self._tasks:
                self._tasks[subject][1].cancel()

    def forget(self, subject: Hashable) -> None:
        """Stop the task of a subject and forget it: the next start is a new one."""
        with self._lock:
            found = self._tasks.pop(subject, None)
        if found is not None:
            found[1].cancel()
