"""What comes late, out of order or after something happened never looks better than it is.

Common practice, no source.
"""

from __future__ import annotations

import pytest
from procedure_cars import procedure
from run_records import ANNE, BEN, METER, Notes

from swapwright.procedures.absence import absence
from swapwright.procedures.following import after
from swapwright.procedures.marks import voltage_mark
from swapwright.procedures.run import ABSENCE, place_of
from swapwright.procedures.run_guard import refusal
from swapwright.procedures.waiting import aged, gone, is_older
from swapwright.records.record import Draft, Json, Record

pytestmark = pytest.mark.arithmetic

CAR = procedure("ridgeway")
STEPS = CAR.steps
POINT = next(s for s in STEPS if s.reading is not None and s.reading.limit is not None)
AGAIN = next(s for s in STEPS if s.reading and s.reading.first)
PROOFS = [s for s in STEPS if s.act == "prove"]
LOCKS = [s for s in STEPS if s.act == "lock"]
SIGN = next(s for s in STEPS if s.id == ABSENCE)


def before(step) -> str:
    return STEPS[STEPS.index(step) - 1].id


def come_to(step: str) -> Notes:
    notes = Notes(CAR)
    notes.begin()
    notes.follow(step)
    return notes


def stands(notes: Notes) -> bool:
    return absence(notes.run(), notes.at, (), (), notes.clock()).is_verified


def late(notes: Notes, old: float, young: float = 0.0) -> dict[str, Json]:
    """Return the clock of something that was done some time before it is sent."""
    return {**notes.clock(), "young": young, "old": old}


def test_what_was_done_before_a_charger_was_plugged_in_does_not_count_after_it():
    notes = come_to(before(STEPS[STEPS.index(LOCKS[0])]))
    notes.put("vehicle.supplied", run="", what="charger plugged in", clock=notes.clock())
    step = notes.run().due
    assert step is not None
    kept = notes.put("step.done", step=step.id, clock=late(notes, 120.0))
    assert "before this happened: charger plugged in" in notes.run().not_counted[kept.number]
    notes.put("step.done", step=step.id, clock=late(notes, 0.5))
    assert notes.run().is_done(step)


def test_a_second_reading_sent_late_counts_by_the_clock_of_the_device_it_was_taken_with():
    notes = come_to(before(AGAIN))
    first = notes.run().taken[AGAIN.reading.first].record
    notes.on(300.0)
    device = {"wall": "2026-11-27T08:00:00+00:00", "boot": "tablet"}
    one = {**notes.clock(), "device": {**device, "ticks": 10.0}}
    two = {**notes.clock(), "device": {**device, "ticks": 22.0}, "old": 288.0, "young": 288.0}
    assert gone(one, two, first.body["clock"]) == 12.0
    kept = notes.read(AGAIN, "0.1 V", clock=late(notes, 290.0))
    assert "too early" in notes.run().not_counted[kept.number]


def test_a_devices_clock_is_never_believed_for_more_than_the_server_counted_since_the_beginning():
    begun = {"server": {"wall": "2026-11-27T08:00:00+00:00", "boot": "s", "ticks": 0.0}}
    one = {"server": {**begun["server"], "ticks": 5.0}, "device": _tablet(1.0)}
    two = {"server": {**begun["server"], "ticks": 7.0}, "device": _tablet(1000.0)}
    assert gone(one, two, begun) == 7.0
    assert gone(one, two) == 0.0, "without a beginning a device alone proves nothing"


def _tablet(ticks: float) -> Json:
    return {"wall": "2026-11-27T08:00:00+00:00", "boot": "tablet", "ticks": ticks}


def test_a_tablet_that_slept_makes_no_wait_shorter():
    server = {"wall": "2026-11-27T08:00:00+00:00", "boot": "s", "ticks": 0.0}
    begun = {"server": server, "device": _tablet(10.0)}
    over = {"server": {**server, "ticks": 310.0}, "device": _tablet(20.0), "old": 290.0}
    assert gone(begun, over, begun) == 10.0


def test_between_two_machines_no_time_is_certain_and_after_a_restart_no_more_than_since():
    one = {"server": {"wall": "2026-11-27T08:00:00+00:00", "boot": "a/1", "ticks": 50.0}}
    other = {"server": {"wall": "2026-11-27T08:10:00+00:00", "boot": "b/1", "ticks": 9000.0}}
    again = {"server": {"wall": "2026-11-27T08:10:00+00:00", "boot": "a/2", "ticks": 20.0}}
    assert gone(one, other) == 0.0
    assert gone(one, again) == 20.0


def test_what_is_old_is_counted_as_old_as_it_may_be():
    notes = Notes(CAR)
    one, at = notes.clock(), notes.at
    notes.on(600.0)
    assert aged(one, at, notes.clock(), notes.at) == 600.0
    assert aged({**one, "old": 60.0}, at, notes.clock(), notes.at) == 660.0
    notes.at = at
    assert aged(one, at, notes.clock(), notes.at) == 600.0, "a clock set back makes nothing younger"
    assert is_older({**notes.clock(), "old": 30.0}, notes.at, notes.clock(), notes.at)


def test_the_statement_is_signed_within_half_an_hour_of_the_last_proof():
    notes = come_to(PROOFS[-1].id)
    notes.on(31 * 60.0)
    body: dict[str, Json] = {"step": SIGN.id, "meaning": "", "signed": "", "clock": notes.clock()}
    assert "too long ago" in refusal(notes.run(), Draft("signature.given", ANNE, {}, body))
    notes.follow(ABSENCE)
    assert not stands(notes)
    notes.read(PROOFS[0], "400 V")
    notes.follow(ABSENCE)
    assert stands(notes)


def test_a_statement_stands_for_half_a_day_from_its_oldest_reading():
    notes = come_to(ABSENCE)
    found = absence(notes.run(), notes.at)
    oldest = min(each.record.at for each in notes.run().taken.values())
    assert found.until is not None and (found.until - oldest).total_seconds() == 12 * 3600.0


def test_a_clock_set_back_does_not_make_a_statement_younger():
    notes = come_to(ABSENCE)
    notes.on(11 * 3600.0)
    assert stands(notes)
    notes.at = notes.at.replace(hour=notes.at.hour - 9)
    notes.on(2 * 3600.0)
    assert not stands(notes)


@pytest.mark.parametrize(("first", "text"), [("400 V", "12.4 V"), ("400 V", "350 V")])
def test_a_meter_that_shows_less_on_its_source_than_that_gives_is_not_proved(first, text):
    notes = come_to(before(PROOFS[-1]))
    notes.read(PROOFS[-1], text, given=None)
    run = notes.run()
    assert run.stop is not None and "lower than expected" in run.stop.words
    begun = come_to(before(PROOFS[0]))
    begun.read(PROOFS[0], text, given=400.0)
    assert begun.run().stop is not None
    fresh = come_to(before(PROOFS[0]))
    kept = fresh.read(PROOFS[0], first, given=None)
    assert "which proving source" in fresh.run().not_counted[kept.number]


def test_a_number_without_its_unit_ends_absence_until_it_is_typed_again():
    notes = come_to(ABSENCE)
    notes.read(POINT, "380")
    assert not stands(notes)
    step = notes.run().due
    assert step is not None
    kept = notes.read(PROOFS[0], "400 V")
    assert "type the reading again" in notes.run().not_counted[kept.number]
    notes.read(POINT, "380 V")
    assert notes.run().stop is not None


@pytest.mark.parametrize(
    ("first", "then", "is_stop"), [("0.2", "0.2 V", False), ("380 ohm", "0.1 V", True)]
)
def test_what_is_typed_again_is_the_number_that_was_typed_first_or_the_job_stops(
    first, then, is_stop
):
    notes = come_to(before(POINT))
    notes.read(POINT, first)
    notes.read(POINT, then)
    run = notes.run()
    assert (run.stop is not None) == is_stop and run.is_done(POINT) != is_stop


def test_a_gap_that_had_no_lock_at_all_for_a_while_is_opened_and_waited_for_anew():
    notes = come_to(ABSENCE)
    notes.put("run.handed_over", to=BEN)
    notes.worker = BEN
    for hung in notes.run().locks:
        body = {key: hung.body[key] for key in ("place", "lock")}
        notes.put("lock.lifted", by=ANNE, owner=ANNE, **body)
    run = notes.run()
    assert not any(run.is_done(step) for step in STEPS if step.act in ("open", "wait"))


@pytest.mark.parametrize("is_near_miss", [True, False])
def test_an_incident_on_the_vehicle_ends_absence(is_near_miss):
    notes = come_to(ABSENCE)
    notes.put("incident.reported", run="", what="a shock", is_near_miss=is_near_miss)
    assert not stands(notes)
    assert (notes.run().stop is None) == is_near_miss


def test_a_proof_of_before_a_hand_over_clears_no_stop_after_it():
    notes = come_to(before(POINT))
    stop = notes.read(POINT, "48 V").number
    notes.read(PROOFS[0], "400 V")
    notes.put("run.handed_over", to=BEN)
    asked = Draft("stop.cleared", BEN, {}, {"stop": stop, "found": "the plug"})
    assert "prove the meter again" in refusal(notes.run(), asked)


def test_a_proof_taken_before_a_stop_and_sent_after_it_clears_nothing():
    notes = come_to(before(POINT))
    stop = notes.read(POINT, "48 V").number
    asked = Draft("stop.cleared", BEN, {}, {"stop": stop, "found": "the plug"})
    notes.read(PROOFS[0], "400 V", clock=late(notes, 120.0))
    assert "prove the meter again" in refusal(notes.run(), asked)
    notes.read(PROOFS[0], "400 V", clock=late(notes, 0.5))
    assert refusal(notes.run(), asked) == ""


def test_ending_a_run_takes_no_stop_away():
    notes = come_to(before(POINT))
    stop = notes.read(POINT, "380 V").number
    notes.put("run.ended", outcome="tired")
    found = voltage_mark(notes.run(), absence(notes.run(), notes.at), notes.at)
    assert (found.word, notes.run().stop is not None) == ("energised", True)
    notes.put("stop.cleared", by=BEN, stop=stop, found="a second pack")
    assert notes.run().stop is None


@pytest.mark.parametrize(("kind", "stays"), [("permit.withdrawn", False), ("permit.closed", True)])
def test_a_permit_that_is_over_and_not_handed_back_bears_no_statement(kind, stays):
    notes = come_to(PROOFS[-1].id)
    at = notes.run().begun.at
    span = {"since": at.isoformat(), "until": at.replace(hour=23).isoformat()}
    about = {"vehicle": "v-1", "permit": "w-1"}
    issued = Record(1, at, "permit.issued", BEN, about, span, "k1", "", "")
    ended = Record(2, notes.at, kind, BEN, about, {"reason": "no"}, "k2", "", "")
    notes.on(60.0)
    notes.follow(ABSENCE)
    assert absence(notes.run(), notes.at, (issued, ended)).is_verified == stays


def test_a_reading_somebody_else_tells_of_is_judged_and_does_not_count():
    notes = come_to(before(POINT))
    kept = notes.read(POINT, "0.1 V", told_by=BEN)
    assert kept.number in notes.run().not_counted
    assert notes.run().due == POINT
    notes.read(POINT, "48 V", told_by=BEN)
    assert notes.run().stop is not None


def test_a_lock_hangs_once():
    notes = come_to(before(LOCKS[0]))
    notes.put("lock.hung", step=LOCKS[0].id, place=place_of(LOCKS[0]), lock="i-one")
    body: dict[str, Json] = {"step": LOCKS[1].id, "place": place_of(LOCKS[1]), "lock": "i-one"}
    assert "hangs already" in refusal(notes.run(), Draft("lock.hung", ANNE, {}, body))


def test_a_record_taken_after_a_stop_is_told_why_it_does_not_count():
    notes = come_to(before(POINT))
    notes.read(POINT, "48 V")
    kept = notes.read(POINT, "0.1 V", **METER)
    run = after(notes.run(), kept)
    assert "first the stop" in run.not_counted[kept.number]
