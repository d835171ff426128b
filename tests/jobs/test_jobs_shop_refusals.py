"""Refusals go on record, and nobody fills the ledger with them."""

from __future__ import annotations

import pytest
from a_shop import a_shop, as_person, person

from swapwright.jobs.shop import Refused
from swapwright.jobs.shop_access import log_in
from swapwright.jobs.shop_refusals import HOUR, MINUTE, MOST_A_MINUTE, Refusals

pytestmark = pytest.mark.arithmetic


def test_one_of_a_kind_goes_on_record_within_an_hour():
    now = [0.0]
    refusals = Refusals(lambda: now[0])
    assert refusals.is_first("stranger", "10.0.0.9") and not refusals.is_first(
        "stranger", "10.0.0.9"
    )
    assert refusals.is_first("stranger", "10.0.0.8")
    now[0] = HOUR
    assert refusals.is_first("stranger", "10.0.0.9")


def test_one_person_puts_no_more_on_record_than_a_minute_can_have():
    now = [0.0]
    refusals = Refusals(lambda: now[0])
    assert sum(refusals.is_within_bounds("p-1") for _ in range(3 * MOST_A_MINUTE)) == MOST_A_MINUTE
    assert refusals.is_within_bounds("p-2")
    now[0] = MINUTE
    assert refusals.is_within_bounds("p-1")


def test_who_may_not_read_writes_one_record_and_names_nobody_has_one_for_each_address(
    tmp_path, monkeypatch
):
    with a_shop(tmp_path, monkeypatch) as (shop, _):
        actor = as_person(shop, person(shop, "Nobody's role"))
        before = shop.store.head()[0]
        for _ in range(5):
            with pytest.raises(Refused, match="only as"):
                shop.allow(actor, "read records")
        assert shop.store.head()[0] == before + 1
        for number in range(5):
            with pytest.raises(Refused):
                log_in(shop, f"nobody {number}", "a long enough one", "10.0.0.9", "tablet")
        assert shop.store.head()[0] == before + 2
