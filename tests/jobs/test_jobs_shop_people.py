"""The people of the shop: entered, granted, told what they may do; nothing lost, nothing faked."""

from __future__ import annotations

import pytest
from a_shop import STAGES, a_shop, as_person, person, sent

from swapwright.base.errors import InputError
from swapwright.jobs import shop_people as jobs
from swapwright.jobs.shop import LOCAL_ACTOR, Refused
from swapwright.records.record import Draft

pytestmark = pytest.mark.arithmetic


@pytest.fixture
def opened(tmp_path, monkeypatch):
    with a_shop(tmp_path, monkeypatch) as found:
        yield found


@pytest.fixture
def shop(opened):
    return opened[0]


def faults(error) -> dict[str, str]:
    return {each.path: each.message for each in error.value.problems}


def test_a_form_sent_twice_enters_one_person(shop):
    form = sent(name="Ada Wirth")
    first = jobs.add_person(shop, LOCAL_ACTOR, form)
    assert jobs.add_person(shop, LOCAL_ACTOR, form) == first
    assert list(shop.people()) == [first]


def test_two_of_one_name_cannot_be_told_apart_on_a_lock(shop):
    person(shop, "Ada Wirth")
    with pytest.raises(InputError) as error:
        jobs.add_person(shop, LOCAL_ACTOR, sent(name=" ada  WIRTH "))
    assert faults(error) == {"name": "there is somebody of this name"}
    assert len(shop.people()) == 1


@pytest.mark.parametrize("name", ["", "   ", "x" * 81, "a\x00b"])
def test_a_name_that_is_none_is_refused_at_its_field(shop, name):
    with pytest.raises(InputError) as error:
        jobs.add_person(shop, LOCAL_ACTOR, sent(name=name))
    assert list(faults(error)) == ["name"]
    assert not shop.people()


def test_every_fault_of_a_grant_is_told_at_once_and_nothing_is_granted(shop):
    bo = person(shop, "Bo")
    given = sent(stage=STAGES["isolation"], level="live", evidence="", since="2031-02-30")
    with pytest.raises(InputError) as error:
        jobs.grant_competence(shop, LOCAL_ACTOR, bo, given)
    assert set(faults(error)) == {"level", "evidence", "since"}
    assert shop.people()[bo].competences == ()


def test_no_competence_is_dated_from_a_day_to_come_nor_ends_before_it_begins(shop):
    bo = person(shop, "Bo")
    given = sent(stage=STAGES["live"], level="live", evidence="x", since="2026-11-28")
    with pytest.raises(InputError) as error:
        jobs.grant_competence(shop, LOCAL_ACTOR, bo, given)
    assert faults(error) == {"since": "this day is yet to come"}
    given = sent(
        stage=STAGES["live"], level="live", evidence="x", since="2026-11-27", until="2026-11-26"
    )
    with pytest.raises(InputError) as error:
        jobs.grant_competence(shop, LOCAL_ACTOR, bo, given)
    assert list(faults(error)) == ["until"]


def test_a_competence_that_ends_is_told_soon_then_over_and_stays_on_the_page(opened):
    shop, clock = opened
    bo = person(shop, "Bo", "technician")
    given = sent(
        stage=STAGES["isolation"],
        level="isolation",
        evidence="letter",
        since="2026-01-05",
        until="2026-12-10",
    )
    jobs.grant_competence(shop, LOCAL_ACTOR, bo, given)
    row = jobs.person_view(shop, LOCAL_ACTOR, bo).row
    assert (row.standing.level, row.until) == ("isolation", "ends soon: 2026-12-10")
    clock.on(days=13)
    assert jobs.person_view(shop, LOCAL_ACTOR, bo).row.standing.level == "isolation"
    clock.on(days=1)
    view = jobs.person_view(shop, LOCAL_ACTOR, bo)
    assert view.row.standing.level is None
    assert [(c.counts, c.state) for c in view.competences] == [(False, "ended on 2026-12-10")]
    begin = next(line for line in view.may if line.action == "begin a run")
    assert not begin.ok
    assert "it takes the competence isolation" in begin.reason


def test_nobody_grants_a_competence_to_themselves(shop):
    ada = person(shop, "Ada", "high-voltage responsible", level="live")
    given = sent(stage=STAGES["live"], level="live", evidence="x", since="2026-11-27")
    with pytest.raises(Refused, match="to themselves"):
        jobs.grant_competence(shop, as_person(shop, ada), ada, given)
    (kept,) = shop.store.records(kinds=("access.refused",))
    assert kept.body["what"] == "grant a competence"


@pytest.mark.parametrize(
    ("job", "given"),
    [
        (jobs.give_role, {"role": "admin"}),
        (jobs.grant_competence, {"level": "live"}),
        (jobs.withdraw_competence, {"level": "live"}),
        (jobs.person_left, {"reason": "x"}),
    ],
)
def test_a_technician_changes_nobody_and_it_is_on_record(shop, job, given):
    bo, ned = person(shop, "Bo", "technician", level="live"), person(shop, "Ned")
    before = shop.people()[ned]
    with pytest.raises(Refused):
        job(shop, as_person(shop, bo), ned, sent(**given))
    assert shop.people()[ned] == before
    assert len(shop.store.records(kinds=("access.refused",))) == 1


def test_who_left_is_changed_no_more_and_stays_with_everything_they_did(shop):
    bo = person(shop, "Bo", "technician", level="isolation")
    jobs.person_left(shop, LOCAL_ACTOR, bo, sent(reason="moved away"))
    with pytest.raises(Refused, match="has left the shop"):
        jobs.give_role(shop, LOCAL_ACTOR, bo, sent(role="technician"))
    view = jobs.person_view(shop, LOCAL_ACTOR, bo)
    assert view.row.person.has_left
    assert [line.label for line in view.history][-1] == "person entered"
    assert not any(line.ok for line in view.may)


def test_the_last_admin_neither_leaves_nor_loses_the_role_while_people_log_in(shop):
    ada = person(shop, "Ada", "admin")
    shop.write(Draft("secret.set", "local", {"person": ada}, {"which": "password"}))
    admin = as_person(shop, ada)
    with pytest.raises(InputError, match="last admin"):
        jobs.take_role(shop, admin, ada, sent(role="admin", reason="x"))
    with pytest.raises(InputError, match="last admin"):
        jobs.person_left(shop, admin, ada, sent(reason="x"))
    assert shop.people()[ada].roles == ("admin",)


@pytest.mark.parametrize("pin", ["12345", "111111", "123456", "abcdef", ""])
def test_a_pin_that_is_easily_guessed_is_refused_and_stands_nowhere(shop, pin):
    bo = person(shop, "Bo")
    with pytest.raises(InputError) as error:
        jobs.set_pin_here(shop, LOCAL_ACTOR, bo, sent(pin=pin, again=pin))
    assert list(faults(error)) == ["pin"]
    assert all(not each.given for each in error.value.problems)
    assert not shop.people()[bo].has_pin


def test_a_pin_is_set_at_the_machine_only_while_nobody_logs_in(shop):
    bo, ada = person(shop, "Bo"), person(shop, "Ada", "admin")
    jobs.set_pin_here(shop, LOCAL_ACTOR, bo, sent(pin="482913", again="482913"))
    assert shop.people()[bo].has_pin
    with pytest.raises(Refused):
        jobs.set_pin_here(shop, as_person(shop, ada), bo, sent(pin="739105", again="739105"))
    assert "482913" not in str(shop.store.records())
