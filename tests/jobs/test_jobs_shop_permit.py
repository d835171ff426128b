"""Work permits: for whom, until when, and what ends them without anybody doing anything."""

from __future__ import annotations

from datetime import timedelta

import pytest
from a_shop import NOW, a_shop, a_vehicle, as_person, person, sent
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.errors import InputError
from swapwright.jobs import shop_permit as jobs
from swapwright.jobs.shop import LOCAL_ACTOR, Refused
from swapwright.jobs.shop_typed import Typed
from swapwright.records.record import Draft

PINS = {"Ada": "482913", "Bo": "739105"}


@pytest.fixture
def opened(tmp_path, monkeypatch):
    with a_shop(tmp_path, monkeypatch) as found:
        yield found


@pytest.fixture
def shop(opened):
    return opened[0]


@pytest.fixture
def ada(shop) -> str:
    return person(shop, "Ada", "high-voltage responsible", level="live", pin=PINS["Ada"])


@pytest.fixture
def bo(shop) -> str:
    return person(shop, "Bo", "technician", level="isolation", pin=PINS["Bo"])


def form(vehicle: str, hours: float = 8.0, **fields: str) -> dict[str, str]:
    base = {
        "vehicle": vehicle,
        "level": "isolation",
        "work": "change the pump",
        "precautions": "second person, barrier",
        "since": NOW.isoformat(),
        "until": (NOW + timedelta(hours=hours)).isoformat(),
    }
    return sent(**{**base, **fields})


def issued(shop, *people: str, hours: float = 8.0) -> str:
    return jobs.issue_permit(shop, LOCAL_ACTOR, form(a_vehicle(shop), hours), people)


def state(shop, permit: str) -> str:
    return jobs.permit_view(shop, LOCAL_ACTOR, permit).state


def paths(error) -> set[str]:
    return {each.path for each in error.value.problems}


@pytest.mark.arithmetic
def test_a_permit_holds_once_everybody_on_it_has_accepted_it(shop, ada, bo):
    permit = issued(shop, ada, bo)
    assert state(shop, permit) == "to be accepted"
    jobs.accept_permit(shop, LOCAL_ACTOR, permit, sent(person=ada, pin=PINS["Ada"]))
    assert jobs.permit_view(shop, LOCAL_ACTOR, permit).why == "by Bo"
    jobs.accept_permit(shop, LOCAL_ACTOR, permit, sent(person=bo, pin=PINS["Bo"]))
    assert state(shop, permit) == "in force"
    with pytest.raises(InputError):
        jobs.accept_permit(shop, LOCAL_ACTOR, permit, sent(person=bo, pin=PINS["Bo"]))


@pytest.mark.arithmetic
def test_a_wrong_pin_accepts_nothing_is_on_record_and_makes_the_next_try_wait(shop, ada):
    permit = issued(shop, ada)
    for _ in range(6):
        with pytest.raises(Refused) as error:
            jobs.accept_permit(shop, LOCAL_ACTOR, permit, sent(person=ada, pin="000001"))
        assert paths(error) == {"pin"}
    with pytest.raises(Refused, match="too early"):
        jobs.accept_permit(shop, LOCAL_ACTOR, permit, sent(person=ada, pin=PINS["Ada"]))
    kept = shop.store.records(kinds=("access.refused",))
    assert {each.body["reason"] for each in kept} == {"wrong PIN"}
    assert "000001" not in str(kept)
    assert state(shop, permit) == "to be accepted"


@pytest.mark.arithmetic
def test_it_ends_by_itself_at_its_time_and_a_clock_set_back_does_not_bring_it_back(opened, ada):
    shop, clock = opened
    permit = issued(shop, ada, hours=2.0)
    jobs.accept_permit(shop, LOCAL_ACTOR, permit, sent(person=ada, pin=PINS["Ada"]))
    clock.on(hours=2, seconds=-1)
    assert state(shop, permit) == "in force"
    clock.on(seconds=1)
    assert state(shop, permit) == "expired"
    shop.write(Draft("incident.added_to", "local", {"incident": "n-1"}, {"what": "a record"}))
    clock.on(hours=-2)
    assert state(shop, permit) == "expired"


@pytest.mark.arithmetic
def test_another_revision_of_the_vehicle_voids_it(shop, ada):
    permit = issued(shop, ada)
    vehicle = jobs.permit_view(shop, LOCAL_ACTOR, permit).vehicle
    body = {"revision": "b" * 64, "mark": "B", "data_version": "1", "build": "text"}
    shop.write(Draft("revision.entered", "local", {"vehicle": vehicle}, body))
    assert state(shop, permit) == "void"
    with pytest.raises(Refused, match="void"):
        jobs.accept_permit(shop, LOCAL_ACTOR, permit, sent(person=ada, pin=PINS["Ada"]))


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("fields", "wrong"),
    [
        ({"until": (NOW + timedelta(hours=24, minutes=1)).isoformat()}, {"until"}),
        ({"until": NOW.isoformat()}, {"until"}),
        ({"since": "2026-11-26T06:00", "until": "2026-11-26T09:00"}, {"until"}),
        ({"until": "tomorrow"}, {"until"}),
        ({"work": "", "precautions": " "}, {"work", "precautions"}),
        ({"vehicle": "v-none"}, {"vehicle"}),
        ({"level": "live"}, {"reason_live"}),
    ],
)
def test_a_permit_that_cannot_be_is_refused_at_its_field(shop, ada, fields, wrong):
    with pytest.raises(InputError) as error:
        jobs.issue_permit(shop, LOCAL_ACTOR, {**form(a_vehicle(shop)), **fields}, [ada])
    assert paths(error) == wrong
    assert jobs.permit_rows(shop, LOCAL_ACTOR) == ()


@pytest.mark.arithmetic
def test_it_takes_a_revision_and_somebody_whose_competence_reaches_the_work(shop, ada, bo):
    ned = person(shop, "Ned", "technician", level="aware")
    for vehicle, people, level, wrong in (
        (a_vehicle(shop, ""), [ada], "isolation", {"vehicle"}),
        (a_vehicle(shop), [], "isolation", {"people"}),
        (a_vehicle(shop), [ned], "isolation", {"people"}),
        (a_vehicle(shop), [ada, bo], "live", {"people"}),
        (a_vehicle(shop), ["p-nobody"], "isolation", {"people"}),
    ):
        given = form(vehicle, level=level, reason_live="it must be")
        with pytest.raises(InputError) as error:
            jobs.issue_permit(shop, LOCAL_ACTOR, given, people)
        assert paths(error) == wrong


@pytest.mark.arithmetic
def test_only_the_responsible_person_issues_and_a_technician_hands_back(shop, ada, bo):
    vehicle = a_vehicle(shop)
    with pytest.raises(Refused):
        jobs.issue_permit(shop, as_person(shop, bo), form(vehicle), [bo])
    permit = jobs.issue_permit(shop, as_person(shop, ada), form(vehicle), [bo])
    with pytest.raises(Refused):
        jobs.withdraw_permit(shop, as_person(shop, bo), permit, sent(reason="x"))
    jobs.close_permit(shop, as_person(shop, bo), permit, sent(state="covers on, tools counted"))
    view = jobs.permit_view(shop, LOCAL_ACTOR, permit)
    assert view.state == "handed back"
    assert view.why.startswith("covers on, tools counted")
    with pytest.raises(Refused, match="over"):
        jobs.withdraw_permit(shop, as_person(shop, ada), permit, sent(reason="x"))


@pytest.mark.arithmetic
def test_a_withdrawn_permit_says_why_and_stays_withdrawn(opened, ada):
    shop, clock = opened
    permit = issued(shop, ada)
    jobs.withdraw_permit(shop, as_person(shop, ada), permit, sent(reason="rain in the bay"))
    clock.on(days=3)
    view = jobs.permit_view(shop, LOCAL_ACTOR, permit)
    assert (view.state, view.is_open) == ("withdrawn", False)
    assert view.why.startswith("rain in the bay")


@pytest.mark.arithmetic
def test_what_is_printed_carries_a_signed_checkpoint_of_the_ledger_as_it_is(shop, ada):
    permit = issued(shop, ada)
    number, chained = shop.store.head()
    made = jobs.print_permit(shop, LOCAL_ACTOR, permit)
    assert (made.number, made.chained) == (number, chained)
    assert made.signature
    (kept,) = shop.store.records(kinds=("checkpoint.exported",))
    assert kept.body["to"] == f"printed on permit {permit}"


@pytest.mark.property
@given(
    since=st.datetimes(),
    hours=st.floats(-48.0, 48.0, allow_nan=False).map(lambda h: timedelta(hours=h)),
)
def test_no_permit_runs_longer_than_a_day_or_backwards_whatever_is_typed(since, hours):
    class Still:
        def now(self):
            return NOW

        def latest(self):
            return NOW

    try:
        until = since + hours
    except OverflowError:
        return
    typed = Typed({"since": since.isoformat(), "until": until.isoformat()})
    jobs._times(Still(), typed)
    try:
        typed.done()
    except InputError:
        return
    assert timedelta() < hours <= timedelta(hours=24)
