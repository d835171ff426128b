"""The equipment of the shop: what may be used today, and what takes it out of use."""

from __future__ import annotations

import pytest
from a_shop import a_shop, as_person, person, sent

from swapwright.base.errors import InputError
from swapwright.jobs import shop_equipment as jobs
from swapwright.jobs.equipment_fields import CHECKS, FIELDS
from swapwright.jobs.shop import LOCAL_ACTOR, Refused
from swapwright.standards.equipment import EQUIPMENT, GLOVE_CHECKS

pytestmark = pytest.mark.arithmetic


@pytest.fixture
def opened(tmp_path, monkeypatch):
    with a_shop(tmp_path, monkeypatch) as found:
        yield found


@pytest.fixture
def shop(opened):
    return opened[0]


def gloves(shop, serial: str = "G-1", **data: str) -> str:
    given = {"data-class": "0", "data-made": "2026-01-10", **data}
    return jobs.add_item(
        shop, LOCAL_ACTOR, sent(kind="gloves", name="gloves of bay 1", serial=serial, **given)
    )


def put_to_test(shop, item: str, on: str, result: str = "met") -> None:
    jobs.enter_test(shop, LOCAL_ACTOR, item, sent(on=on, result=result, by_whom="test house"))


def looked(shop, item: str, **answers: str) -> bool:
    kind = shop.items()[item].kind
    yes = {f"check-{at}": "yes" for at in range(len(CHECKS[kind]))}
    return jobs.inspect_item(shop, LOCAL_ACTOR, item, sent(**{**yes, **answers}))


def state(shop, item: str) -> str:
    return jobs.item_view(shop, LOCAL_ACTOR, item).row.due.state


def paths(error) -> set[str]:
    return {each.path for each in error.value.problems}


def test_every_kind_there_is_has_its_fields_and_something_to_look_at_before_use():
    assert set(FIELDS) == set(CHECKS) == set(EQUIPMENT)
    assert all(CHECKS.values())
    assert CHECKS["gloves"] == GLOVE_CHECKS


def test_gloves_made_in_the_future_are_refused_in_words_and_nothing_is_kept(shop):
    with pytest.raises(InputError) as error:
        gloves(shop, **{"data-made": "2026-11-28"})
    assert [(p.path, p.message, p.given) for p in error.value.problems] == [
        ("data-made", "this day is yet to come", "2026-11-28")
    ]
    assert not shop.items()


@pytest.mark.parametrize(
    ("fields", "wrong"),
    [
        ({"kind": "mains tester"}, {"kind"}),
        ({"kind": "gloves", "data-class": "5"}, {"data-class"}),
        ({"kind": "gloves"}, {"data-class"}),
        ({"kind": "gloves", "data-class": "0", "data-made": "2026-02-30"}, {"data-made"}),
        (
            {"kind": "meter", "data-category": "CAT III", "data-voltage": "1 kohm"},
            {"data-voltage", "data-dc_voltage"},
        ),
        ({"kind": "proving unit", "data-dc_voltage": "-500 V"}, {"data-dc_voltage"}),
    ],
)
def test_data_that_cannot_be_is_refused_at_its_field(shop, fields, wrong):
    with pytest.raises(InputError) as error:
        jobs.add_item(shop, LOCAL_ACTOR, sent(name="a", serial="1", **fields))
    assert paths(error) == wrong
    assert not shop.items()


def test_a_number_without_a_unit_is_taken_in_the_unit_the_field_says_and_with_one_as_it_says(shop):
    item = jobs.add_item(
        shop,
        LOCAL_ACTOR,
        sent(
            kind="meter",
            name="m",
            serial="1",
            **{
                "data-category": "CAT III",
                "data-voltage": "1000",
                "data-dc_voltage": "1.5 kV",
                "data-input_resistance": "10 Mohm",
            },
        ),
    )
    data = shop.items()[item].data
    assert (data["voltage"], data["dc_voltage"], data["input_resistance"]) == (1000, 1500, 1e7)


def test_two_of_one_kind_have_not_the_same_number(shop):
    gloves(shop, "G-1")
    with pytest.raises(InputError) as error:
        gloves(shop, "g-1")
    assert paths(error) == {"serial"}


def test_gloves_go_from_never_tested_to_stock_to_in_date_to_out_of_date(opened):
    shop, clock = opened
    item = gloves(shop)
    assert state(shop, item) == "never tested"
    put_to_test(shop, item, "2026-11-20")
    assert state(shop, item) == "not issued"
    jobs.issue_item(shop, LOCAL_ACTOR, item, sent(on="2026-11-27"))
    view = jobs.item_view(shop, LOCAL_ACTOR, item)
    assert (view.row.due.state, view.row.until) == ("in date", "2027-05-20")
    assert "counted from the test itself" in view.row.rules
    clock.on(days=174)
    assert state(shop, item) == "due soon"
    clock.on(days=1)
    assert state(shop, item) == "out of date"


def test_gloves_that_were_never_tested_are_not_issued(shop):
    item = gloves(shop)
    with pytest.raises(InputError, match="never tested") as error:
        jobs.issue_item(shop, LOCAL_ACTOR, item, sent(on="2026-11-27"))
    assert paths(error) == {"on"}
    assert not shop.items()[item].issued


@pytest.mark.parametrize("on", ["2026-11-28", "2026-01-09", "1980-01-01", "soon", ""])
def test_a_test_is_dated_between_the_making_and_today(shop, on):
    item = gloves(shop)
    with pytest.raises(InputError) as error:
        put_to_test(shop, item, on)
    assert paths(error) == {"on"}
    assert shop.items()[item].tests == ()


def test_a_test_that_failed_counts_at_once(shop):
    item = gloves(shop)
    put_to_test(shop, item, "2026-06-01")
    jobs.issue_item(shop, LOCAL_ACTOR, item, sent(on="2026-06-02"))
    put_to_test(shop, item, "2026-11-26", "not met")
    assert state(shop, item) == "failed its test"


@pytest.mark.parametrize("check", range(len(GLOVE_CHECKS)))
def test_any_no_in_the_look_before_use_takes_the_gloves_out_of_use(shop, check):
    item = gloves(shop)
    put_to_test(shop, item, "2026-11-20")
    jobs.issue_item(shop, LOCAL_ACTOR, item, sent(on="2026-11-21"))
    assert not looked(shop, item, **{f"check-{check}": "no"})
    assert state(shop, item) == "withdrawn"
    assert GLOVE_CHECKS[check] in shop.items()[item].withdrawn
    assert not jobs.item_view(shop, LOCAL_ACTOR, item).row.is_inspected


def test_a_look_with_a_check_left_out_is_no_look(shop):
    item = gloves(shop)
    with pytest.raises(InputError) as error:
        looked(shop, item, **{"check-2": ""})
    assert paths(error) == {"check-2"}
    assert shop.items()[item].inspections == ()


def test_a_look_counts_for_its_own_day_only(opened):
    shop, clock = opened
    item = gloves(shop)
    assert looked(shop, item)
    assert jobs.item_view(shop, LOCAL_ACTOR, item).row.is_inspected
    clock.on(days=1)
    assert not jobs.item_view(shop, LOCAL_ACTOR, item).row.is_inspected


def test_what_was_taken_out_comes_back_only_by_the_responsible_person_with_what_was_done(shop):
    bo = person(shop, "Bo", "technician", level="live")
    ada = person(shop, "Ada", "high-voltage responsible", level="live")
    item = gloves(shop)
    jobs.withdraw_item(shop, as_person(shop, bo), item, sent(reason="smells burnt"))
    with pytest.raises(Refused):
        jobs.return_item(shop, as_person(shop, bo), item, sent(reason="fine"))
    with pytest.raises(InputError):
        jobs.return_item(shop, as_person(shop, ada), item, sent(reason=""))
    assert shop.items()[item].withdrawn
    jobs.return_item(shop, as_person(shop, ada), item, sent(reason="tested anew"))
    assert not shop.items()[item].withdrawn
    labels = [line.label for line in jobs.item_view(shop, LOCAL_ACTOR, item).history]
    assert labels == ["brought back into use", "taken out of use", "equipment entered"]


def test_the_wall_tells_first_what_may_not_be_used_then_what_is_due_first(shop):
    good, old, out = gloves(shop, "G-1"), gloves(shop, "G-2"), gloves(shop, "G-3")
    for item, on in ((good, "2026-11-01"), (old, "2026-05-29"), (out, "2026-04-01")):
        put_to_test(shop, item, on)
        jobs.issue_item(shop, LOCAL_ACTOR, item, sent(on=on))
    rows = jobs.due_rows(shop, LOCAL_ACTOR)
    assert [(row.item.id, row.due.state) for row in rows] == [
        (out, "out of date"),
        (old, "due soon"),
        (good, "in date"),
    ]
