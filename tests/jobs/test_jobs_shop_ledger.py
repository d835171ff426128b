"""The page of the ledger: what verifying finds, checkpoints out and given back."""

from __future__ import annotations

import pytest
from a_shop import a_shop, as_person, person
from sqlalchemy import text

from swapwright.base.errors import InputError
from swapwright.jobs import shop_ledger as jobs
from swapwright.jobs.shop import LOCAL_ACTOR, Refused

pytestmark = pytest.mark.arithmetic


@pytest.fixture
def shop(tmp_path, monkeypatch):
    with a_shop(tmp_path, monkeypatch) as (found, _):
        person(found, "Ada", "admin")
        person(found, "Bo", "technician")
        yield found


def rewritten(shop) -> None:
    """Change one record past the triggers, as somebody with the database's file could."""
    with shop.store.engine.begin() as connection:
        for name in connection.execute(
            text("select name from sqlite_master where type = 'trigger'")
        ).scalars():
            connection.execute(text(f'drop trigger "{name}"'))
        connection.execute(text("update record set body = replace(body, 'Ada', 'Eve')"))


def test_a_checkpoint_given_out_is_on_record_with_where_it_went(shop):
    made = jobs.checkpoint_given(shop, LOCAL_ACTOR, "printed on permit w-1")
    (row,) = jobs.ledger_view(shop, LOCAL_ACTOR).checkpoints
    assert row.checkpoint == made == jobs.checkpoint_at(shop, made.number)
    assert row.given_to[0].startswith("printed on permit w-1, 2026-11-27")


@pytest.mark.parametrize("how", ["printed", "document", "file"])
def test_a_checkpoint_is_given_back_as_a_line_as_text_or_as_its_file(shop, how):
    made = jobs.checkpoint_given(shop, LOCAL_ACTOR, "paper")
    if how == "file":
        told = jobs.verify_now(shop, LOCAL_ACTOR, {}, made.document.encode(), "c.json")
    else:
        told = jobs.verify_now(shop, LOCAL_ACTOR, {"checkpoint": getattr(made, how)})
    assert told.found.faults == ()
    assert told.covered == (
        f"Up to record {made.number} every change shows. "
        f"Records {made.number + 1} to {made.number + 1} came after it."
    )


def test_verifying_against_nothing_says_that_it_proves_little(shop):
    told = jobs.verify_now(shop, LOCAL_ACTOR, {"checkpoint": "  \n "})
    assert told.found.faults == ()
    assert "held against nothing from outside" in told.covered


def test_a_changed_record_is_found_and_named(shop):
    rewritten(shop)
    told = jobs.verify_now(shop, LOCAL_ACTOR, {})
    assert told.found.faults[0].number == 1


@pytest.mark.parametrize("given", ["nonsense", "{", "record 5: abcd", "x" * 20_000])
def test_what_is_no_checkpoint_is_refused_at_its_field(shop, given):
    with pytest.raises(InputError) as error:
        jobs.verify_now(shop, LOCAL_ACTOR, {"checkpoint": given})
    assert [each.path for each in error.value.problems] == ["checkpoint"]


@pytest.mark.parametrize("data", [b"\xff\xfe", b"[]", b"{}", b"record 1"])
def test_a_file_that_is_no_checkpoint_is_refused_at_its_field(shop, data):
    with pytest.raises(InputError) as error:
        jobs.verify_now(shop, LOCAL_ACTOR, {}, data, "a.json")
    assert [each.path for each in error.value.problems] == ["file"]


def test_what_was_refused_stands_on_the_page_by_name_and_reason(shop):
    bo = next(each for each in shop.people().values() if each.name == "Bo")
    with pytest.raises(Refused):
        shop.allow(as_person(shop, bo.id), "give a role")
    (line,) = jobs.ledger_view(shop, LOCAL_ACTOR).refusals
    assert (line.by, line.subject) == ("Bo", "Bo")
    assert "what: give a role" in line.says
    assert "192.0.2.7" in line.says
