"""The two marks of a vehicle. What is missing, stale or conflicting is unknown, never less.

Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from procedure_cars import procedure
from run_records import ANNE, BEN, RUN, Notes

from swapwright.procedures.absence import absence
from swapwright.procedures.following import run_of
from swapwright.procedures.marks import VoltageMark, hanging, voltage_mark
from swapwright.procedures.run import ABSENCE

CAR = procedure("ridgeway")
ACTS = [step.act for step in CAR.steps]
LAST_LOCK = [step.id for step in CAR.steps if step.act == "lock"][-1]
FIRST_LOCK = next(step.id for step in CAR.steps if step.act == "lock")
WAIT = next(step for step in CAR.steps if step.act == "wait")
LAST_READING = [step.id for step in CAR.steps if step.act == "prove"][-1]


def mark(notes: Notes) -> VoltageMark:
    begun = [each.about["run"] for each in notes.records if each.kind == "run.begun"]
    ended = {each.about["run"] for each in notes.records if each.kind == "run.ended"}
    last = run_of(notes.records, begun[-1]) if begun else None
    others = sum(each not in ended for each in begun[:-1])
    stated = None if last is None else absence(last, notes.at)
    return voltage_mark(last, stated, notes.at, others)


def come_to(step: str) -> Notes:
    notes = Notes(CAR)
    notes.begin()
    notes.follow(step)
    return notes


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("step", "word"),
    [
        ("before.people", "energised"),
        ("walk.sign", "energised"),
        (FIRST_LOCK, "energised"),
        (LAST_LOCK, "opened, not waited"),
        (WAIT.id, "waited, not measured"),
        (LAST_READING, "waited, not measured"),
        (ABSENCE, "absence verified"),
    ],
)
def test_the_voltage_mark_follows_the_isolation_and_is_never_ahead_of_it(step: str, word: str):
    found = mark(come_to(step))
    assert found.word == word
    assert found.is_treated_as_energised == (word != "absence verified")


@pytest.mark.arithmetic
def test_a_vehicle_nobody_began_to_isolate_is_energised():
    assert mark(Notes(CAR)).word == "energised"


@pytest.mark.arithmetic
def test_while_the_wait_runs_the_board_says_so():
    notes = come_to(LAST_LOCK)
    notes.put("wait.begun", step=WAIT.id, clock=notes.clock())
    assert mark(notes).word == "waiting"


UNKNOWN: dict[str, Callable[[Notes], object]] = {
    "two runs open at once": lambda notes: notes.begin(run="r-2"),
    "too old": lambda notes: notes.on(13 * 3600.0),
    "a clock set back": lambda notes: notes.on(-7200.0),
    "a connector remade": lambda notes: notes.put("absence.lapsed", run="", cause="remade"),
    "wheels turned": lambda notes: notes.put("vehicle.moved", run="", what="moved"),
    "a run that ended and lapsed": lambda notes: (
        notes.put("run.ended", outcome="isolated"),
        notes.put("absence.lapsed", run="", cause="remade"),
    ),
}


@pytest.mark.arithmetic
@pytest.mark.parametrize("cause", UNKNOWN)
def test_what_is_stale_or_conflicting_is_unknown_and_treated_as_energised(cause: str):
    notes = come_to(ABSENCE)
    UNKNOWN[cause](notes)
    found = mark(notes)
    assert found.word == "unknown" and found.words and found.is_treated_as_energised


@pytest.mark.arithmetic
def test_a_run_in_which_nothing_was_recorded_for_half_a_day_is_unknown():
    notes = come_to(LAST_LOCK)
    notes.on(12 * 3600.0)
    assert mark(notes).word == "unknown"


@pytest.mark.arithmetic
def test_a_stop_marks_the_car_energised_and_says_treat_as_live():
    notes = come_to(ABSENCE)
    notes.put("run.stopped", reason="smoke", by=BEN)
    found = mark(notes)
    assert found.word == "energised" and "treat as live" in found.words


@pytest.mark.arithmetic
def test_a_run_that_ended_without_a_statement_leaves_it_unknown():
    notes = come_to(LAST_LOCK)
    notes.put("run.ended", outcome="another day")
    assert mark(notes).word == "unknown"


@pytest.mark.arithmetic
def test_a_lock_hangs_until_its_owner_lifts_it_whatever_becomes_of_the_run():
    notes = come_to(LAST_LOCK)
    notes.put("run.ended", outcome="another day")
    hung = hanging(notes.records)
    assert len(hung) == ACTS.count("lock") and all(each.by == ANNE for each in hung)
    body = {key: hung[0].body[key] for key in ("place", "lock")}
    notes.put("lock.lifted", run="r-2", owner=BEN, **body)
    assert len(hanging(notes.records)) == len(hung), "it is not his"
    notes.put("lock.lifted", run="r-2", owner=ANNE, **body)
    assert len(hanging(notes.records)) == len(hung) - 1
    assert notes.records[0].about["run"] == RUN
