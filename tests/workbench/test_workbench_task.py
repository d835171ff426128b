from __future__ import annotations

import threading

import pytest

from swapwright.base.errors import InputError, Problem
from swapwright.jobs.progress import Cancelled
from swapwright.workbench.task import Tasks

LONG = 20.0

pytestmark = pytest.mark.arithmetic


class Gated:
    """A job of three steps that waits at a gate before its second."""

    def __init__(self) -> None:
        self.gate, self.began = threading.Event(), threading.Event()
        self.starts = 0

    def __call__(self, progress, is_cancelled) -> str:
        self.starts += 1
        for done in range(3):
            progress(done, 3)
            if is_cancelled():
                raise Cancelled
            if done == 1:
                self.began.set()
                self.gate.wait(LONG)
        progress(3, 3)
        return "done"


def test_a_task_tells_how_far_it_is_and_then_what_came_of_it():
    job = Gated()
    task = Tasks().start("car", 1, job)
    assert job.began.wait(LONG)
    assert (task.state.done, task.state.total, task.state.is_running) == (1, 3, True)
    assert task.state.result is None
    job.gate.set()
    ended = task.wait(LONG)
    assert (ended.done, ended.is_running, ended.result) == (3, False, "done")


def test_a_task_that_raises_tells_it():
    def refused(progress, is_cancelled):
        raise InputError(Problem("car.toml", "drive.motor", "no such motor"))

    def broken(progress, is_cancelled):
        raise ZeroDivisionError("nothing to divide by")

    tasks = Tasks()
    assert tasks.start("a", 1, refused).wait(LONG).problems[0].path == "drive.motor"
    ended = tasks.start("b", 1, broken).wait(LONG)
    assert not ended.is_running
    assert "nothing to divide by" in ended.problems[0].message


def test_a_cancelled_task_runs_no_more_and_is_not_begun_again_by_being_looked_at():
    tasks, job = Tasks(), Gated()
    task = tasks.start("car", 1, job)
    assert job.began.wait(LONG)
    tasks.cancel("car")
    assert task.state.is_cancelled
    assert not task.state.is_running
    job.gate.set()
    assert task.wait(LONG).result is None
    assert tasks.start("car", 1, job) is task
    tasks.forget("car")
    assert tasks.start("car", 1, job) is not task


def test_a_second_request_for_the_same_joins_the_first():
    tasks, job = Tasks(), Gated()
    first = tasks.start("car", 1, job)
    assert tasks.start("car", 1, job) is first
    job.gate.set()
    first.wait(LONG)
    assert tasks.start("car", 1, job) is first
    assert job.starts == 1


def test_a_task_of_a_version_that_is_no_more_is_stopped():
    tasks, old, new = Tasks(), Gated(), Gated()
    first = tasks.start("car", 1, old)
    assert old.began.wait(LONG)
    second = tasks.start("car", 2, new)
    assert first.state.is_cancelled
    assert second is not first
    for job in (old, new):
        job.gate.set()
    assert second.wait(LONG).result == "done"


def test_no_more_tasks_are_kept_than_the_most():
    tasks, jobs = Tasks(most=2), [Gated() for _ in range(3)]
    started = [tasks.start(number, 1, job) for number, job in enumerate(jobs)]
    assert [each.state.is_cancelled for each in started] == [True, False, False]
    for job in jobs:
        job.gate.set()
    for task in started:
        task.wait(LONG)
