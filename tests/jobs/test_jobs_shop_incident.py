"""Incidents: short to report, never taken away, and what to do first stands above the form."""

from __future__ import annotations

import pytest
from a_shop import NOW, a_shop, a_vehicle, as_person, person, sent

from swapwright.base.errors import InputError
from swapwright.base.sources import all_sources
from swapwright.jobs import shop_incident as jobs
from swapwright.jobs.first_aid import FIRST_AID, OUTRANKED
from swapwright.jobs.shop import LOCAL_ACTOR, Refused
from swapwright.standards.permissions import ROLES

pytestmark = pytest.mark.arithmetic


@pytest.fixture
def shop(tmp_path, monkeypatch):
    with a_shop(tmp_path, monkeypatch) as (found, _):
        yield found


def form(**fields: str) -> dict[str, str]:
    base = {
        "is_near_miss": "yes",
        "what": "the lead slipped off",
        "happened_at": NOW.isoformat(),
        "where": "bay 1",
        "harm": "none",
    }
    return sent(**{**base, **fields})


@pytest.mark.parametrize("role", ROLES)
def test_everybody_may_report_one(shop, role):
    actor = as_person(shop, person(shop, "Somebody", role))
    incident = jobs.report_incident(shop, actor, form())
    assert jobs.incident_view(shop, actor, incident).by == "Somebody"


def test_what_was_reported_stays_and_what_is_added_stands_beside_it(shop):
    vehicle = a_vehicle(shop, name="car one")
    incident = jobs.report_incident(shop, LOCAL_ACTOR, form(vehicle=vehicle, step="measure.1"))
    jobs.add_to_incident(shop, LOCAL_ACTOR, incident, sent(what="the probe was worn"))
    (row,) = jobs.incident_rows(shop, LOCAL_ACTOR, vehicle)
    assert (row.what, row.vehicle_name, row.step) == (
        "the lead slipped off",
        "car one",
        "measure.1",
    )
    assert [line.says for line in row.added] == ["what: the probe was worn"]
    kept = shop.store.records(vehicle=vehicle, kinds=(jobs.REPORTED, jobs.ADDED))
    assert len(kept) == 2, "both are in the vehicle's own history"


@pytest.mark.parametrize(
    ("fields", "wrong"),
    [
        ({"happened_at": "2026-11-27T23:59"}, {"happened_at"}),
        ({"happened_at": "yesterday"}, {"happened_at"}),
        ({"what": ""}, {"what"}),
        ({"is_near_miss": ""}, {"is_near_miss"}),
        ({"vehicle": "v-none"}, {"vehicle"}),
        ({"harm": "", "where": ""}, {"harm", "where"}),
    ],
)
def test_what_is_left_out_or_cannot_be_is_told_at_its_field(shop, fields, wrong):
    with pytest.raises(InputError) as error:
        jobs.report_incident(shop, LOCAL_ACTOR, form(**fields))
    assert {each.path for each in error.value.problems} == wrong
    assert jobs.incident_rows(shop, LOCAL_ACTOR) == ()


def test_nothing_is_added_to_an_incident_there_is_not(shop):
    with pytest.raises(Refused):
        jobs.add_to_incident(shop, LOCAL_ACTOR, "n-none", sent(what="x"))


def test_first_aid_begins_with_not_touching_and_defers_to_the_emergency_services():
    assert "Emergency services" in OUTRANKED
    assert FIRST_AID[0].words.startswith("Do not touch")
    assert "cut the source" in FIRST_AID[0].words
    assert "Call" in FIRST_AID[1].words
    assert any("hospital" in each.words for each in FIRST_AID)
    rows = all_sources()
    for each in FIRST_AID:
        assert rows[each.source].kind == "common-practice"
        assert not rows[each.source].seen
