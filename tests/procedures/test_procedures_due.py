"""Equipment falls due by the calendar, and fits a car or stops the work."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.procedures.due import due, is_inspected, months_after
from swapwright.procedures.equipment_fit import fit, stops
from swapwright.records.equipment import Inspection, Item, ItemTest
from swapwright.standards.equipment import (
    EQUIPMENT,
    GLOVES_BY_LAW,
    GLOVES_FROM_TEST,
    TEST_RULES,
)

LAW = {"gloves": GLOVES_BY_LAW}
TODAY = date(2026, 11, 27)
DAYS = st.dates(date(2020, 1, 1), date(2040, 12, 31))


def item(kind: str, data=None, tests=(), issued="", looked=(), **more) -> Item:
    """An item with tests on some days, and looks over on some days."""
    rule = TEST_RULES.get(kind)
    made = tuple(
        ItemTest(rule.test if rule else "", str(on), is_met, "laboratory", "", number)
        for number, (on, is_met) in enumerate(tests, start=10)
    )
    looks = tuple(
        Inspection(str(on), {"whole": is_met}, is_met, "p-1", number)
        for number, (on, is_met) in enumerate(looked, start=50)
    )
    issued = str(issued) if issued else ""
    return Item(f"i-{kind}", kind, kind, "7", data or {}, 1, made, issued, "", looks, **more)


def gloves(tested, issued="", **more) -> Item:
    return item("gloves", {"class": "0"}, [(tested, True)], issued, **more)


# 29 CFR 1910.137, table of test intervals: stamped 15 May 2022, first used 19 June 2023.
@pytest.mark.published
def test_gloves_first_used_thirteen_months_after_their_stamp_must_not_have_been():
    pair = gloves(date(2022, 5, 15), date(2023, 6, 19))
    for rules in (LAW, TEST_RULES):
        found = due(pair, date(2023, 6, 19), rules)
        assert (found.state, found.may_be_used) == ("out of date", False)


# The same table: in stock for up to 12 months, in service for 6 from the day of issue.
@pytest.mark.published
def test_by_the_law_gloves_run_six_months_from_issue_and_may_lie_in_stock_for_twelve():
    pair = gloves(date(2022, 5, 15), date(2023, 5, 15))
    assert due(pair, date(2023, 11, 15), LAW).may_be_used
    assert not due(pair, date(2023, 11, 16), LAW).may_be_used
    late = gloves(date(2022, 5, 15), date(2023, 5, 16))
    assert not due(late, date(2023, 5, 16), LAW).may_be_used


@pytest.mark.arithmetic
def test_the_stricter_rule_is_the_one_that_counts_from_the_test():
    assert TEST_RULES["gloves"] is GLOVES_FROM_TEST
    pair = gloves(date(2026, 5, 27), date(2026, 6, 30))
    assert due(pair, date(2026, 11, 27)).until == date(2026, 11, 27)
    assert due(pair, date(2026, 11, 28)).state == "out of date"
    assert due(pair, date(2026, 11, 28), LAW).may_be_used


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("day", "months", "then"),
    [
        (date(2027, 8, 31), 6, date(2028, 2, 29)),
        (date(2026, 8, 31), 6, date(2027, 2, 28)),
        (date(2028, 2, 29), 12, date(2029, 2, 28)),
        (date(2026, 12, 31), 2, date(2027, 2, 28)),
        (date(2026, 6, 15), 6, date(2026, 12, 15)),
        (date(2026, 12, 1), 0, date(2026, 12, 1)),
    ],
)
def test_a_month_that_is_too_short_ends_on_its_last_day(day: date, months: int, then: date):
    assert months_after(day, months) == then


@pytest.mark.property
@given(day=DAYS, months=st.integers(0, 60))
def test_months_later_is_never_beyond_the_same_day_of_that_month(day: date, months: int):
    then = months_after(day, months)
    assert then.day <= day.day
    assert (then.year - day.year) * 12 + then.month - day.month == months
    if then.day < day.day:
        assert (then + timedelta(days=1)).day == 1


@pytest.mark.property
@given(tested=DAYS, issued=DAYS, on=DAYS)
def test_the_stricter_rule_never_allows_what_the_law_does_not(tested, issued, on):
    pair = gloves(tested, issued)
    if due(pair, on).may_be_used:
        assert due(pair, on, LAW).may_be_used


@pytest.mark.property
@given(tested=DAYS, issued=DAYS, on=DAYS, later=st.integers(1, 4000))
def test_what_is_out_of_date_does_not_come_back_by_waiting(tested, issued, on, later):
    pair = gloves(tested, issued)
    if due(pair, on).state == "out of date":
        assert not due(pair, on + timedelta(days=later)).may_be_used or issued > on


@pytest.mark.arithmetic
def test_equipment_is_told_by_what_it_is():
    tested, long_ago = date(2026, 11, 1), date(2025, 9, 27)
    assert due(gloves(tested, tested), TODAY).state == "in date"
    assert due(gloves(date(2026, 6, 1), date(2026, 6, 1)), TODAY).state == "due soon"
    assert due(gloves(long_ago, long_ago), TODAY).state == "out of date"
    assert due(gloves(tested), TODAY).state == "not issued"
    assert due(gloves(long_ago), TODAY).state == "out of date"
    assert due(item("gloves"), TODAY).state == "never tested"
    assert due(item("gloves", tests=[(tested, False)]), TODAY).state == "failed its test"
    assert due(gloves(tested, tested, withdrawn="cut"), TODAY).state == "withdrawn"
    assert due(item("lock"), TODAY).state == "no test asked"
    assert due(item("meter", tests=[(date(2025, 11, 27), True)]), TODAY).state == "due soon"
    assert due(item("meter", tests=[(date(2025, 11, 26), True)]), TODAY).state == "out of date"


@pytest.mark.arithmetic
def test_nothing_is_in_date_by_a_test_that_has_not_happened_yet():
    tomorrow = TODAY + timedelta(days=1)
    assert due(gloves(tomorrow, tomorrow), TODAY).state == "never tested"
    assert due(gloves(TODAY, tomorrow), TODAY).state == "not issued"


@pytest.mark.arithmetic
def test_a_test_after_gloves_were_issued_too_late_puts_them_right():
    pair = item("gloves", {"class": "0"}, [(date(2024, 1, 1), True), (TODAY, True)], "2026-01-01")
    assert due(pair, TODAY).may_be_used


@pytest.mark.arithmetic
def test_a_look_before_use_counts_for_its_own_day_and_the_last_one_decides():
    yesterday = TODAY - timedelta(days=1)
    assert not is_inspected(item("gloves", looked=[(yesterday, True)]), TODAY)
    assert is_inspected(item("gloves", looked=[(TODAY, False), (TODAY, True)]), TODAY)
    assert not is_inspected(item("gloves", looked=[(TODAY, True), (TODAY, False)]), TODAY)


@pytest.mark.arithmetic
def test_every_kind_a_procedure_asks_for_is_a_kind_of_equipment():
    from swapwright.procedures import protection as named

    asked = {
        each
        for name, each in vars(named).items()
        if name.isupper() and isinstance(each, str) and name in NAMES
    }
    assert len(asked) == len(NAMES)
    assert asked == set(EQUIPMENT)


NAMES = (
    *("GLOVES", "LEATHER", "METER", "LEADS", "PROVING", "TOOLS", "HOOK", "BARRIER"),
    *("EXTINGUISHER", "INSULATION_TESTER", "LOCK", "FACE_SHIELD"),
)


def kit(glove_class="0", category="CAT III", volts=1000.0, tested=date(2026, 9, 14), dc=1000.0):
    """What one person takes to a car."""
    return [
        item("gloves", {"class": glove_class}, [(tested, True)], tested, [(TODAY, True)]),
        item("leather protectors"),
        item(
            "meter",
            {"category": category, "voltage": volts, "dc_voltage": dc},
            [(date(2026, 3, 1), True)],
        ),
        item("leads", {"category": category, "voltage": volts}, [(date(2026, 3, 1), True)]),
        item("proving unit", {"dc_voltage": 240.0}, [(date(2026, 3, 1), True)]),
    ]


def stopped(items, highest: float | None) -> set[str]:
    return {each.kind for each in stops(fit(items, highest, TODAY))}


@pytest.mark.arithmetic
def test_a_sound_kit_fits_a_car_of_403_and_of_806_volts():
    for highest in (403.2, 806.4):
        assert stopped(kit(), highest) == set()


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("items", "kinds", "words"),
    [
        (kit(glove_class="00"), {"gloves"}, "class 00 covers 500 V by its ac figure"),
        (kit(tested=date(2025, 9, 27)), {"gloves"}, "out of date"),
        (kit(category="CAT II", volts=600.0), {"meter", "leads"}, "CAT II 600 V is too weak"),
        (kit(dc=600.0), {"meter"}, "dc range ends at 600 V"),
        (kit(glove_class="5"), {"gloves"}, "no class is known"),
        ([each for each in kit() if each.kind != "leather protectors"], {"leather protectors"}, ""),
    ],
    ids=["class 00", "fourteen months old", "CAT II", "low dc range", "no class", "no leather"],
)
def test_what_does_not_fit_a_car_of_806_volts_stops_the_work_by_name(items, kinds, words):
    assert stopped(items, 806.4) == kinds
    assert any(words in each.text for each in stops(fit(items, 806.4, TODAY)))


@pytest.mark.arithmetic
def test_gloves_are_judged_by_the_highest_voltage_and_never_the_nominal():
    assert stopped(kit(glove_class="00"), 499.0) == set()
    assert stopped(kit(glove_class="00"), 500.1) == {"gloves"}, "750 V dc would let them through"


@pytest.mark.arithmetic
def test_gloves_not_looked_over_today_stop_the_work():
    pair = item("gloves", {"class": "0"}, [(date(2026, 9, 14), True)], date(2026, 9, 14))
    assert stopped([pair, item("leather protectors")], 403.2) == {"gloves"}


@pytest.mark.arithmetic
def test_leads_below_the_meter_stop_the_work():
    weaker = item("leads", {"category": "CAT III", "voltage": 1000.0}, [(date(2026, 3, 1), True)])
    items = [each for each in kit(category="CAT IV") if each.kind != "leads"]
    assert stopped([*items, weaker], 403.2) == {"leads"}


@pytest.mark.arithmetic
def test_a_proving_unit_that_gives_no_dc_in_the_range_stops_the_work():
    items = [each for each in kit() if each.kind != "proving unit"]
    for data in ({}, {"dc_voltage": 0.0}, {"dc_voltage": 1500.0}):
        unit = item("proving unit", data, [(date(2026, 3, 1), True)])
        assert stopped([*items, unit], 403.2) == {"proving unit"}


@pytest.mark.arithmetic
def test_at_a_car_of_unknown_voltage_nothing_fits():
    assert stopped(kit(), None) == {"gloves", "meter", "leads", "proving unit"}
