from __future__ import annotations

import pytest

from swapwright.base.figure import Value
from swapwright.base.finding import Finding
from swapwright.jobs.telling import against_limit, both_texts, in_one_unit

pytestmark = pytest.mark.arithmetic


def told(value: float, limit: float, unit: str, sense="at_most", **more) -> str:
    margin = (limit - value if sense == "at_most" else value - limit) / abs(limit)
    finding = Finding(
        "a.rule",
        "car",
        "fix",
        "text",
        value=Value(value, unit, "entered", "car.thing"),
        limit=Value(limit, unit, "entered", "car.limit"),
        sense=sense,
        margin=margin,
        **more,
    )
    return against_limit(finding, {}, "metric")


def test_a_limit_hit_exactly_is_said_so():
    assert told(200.0, 200.0 * (1 + 1e-15), "A").endswith("exactly at the limit")


@pytest.mark.parametrize(
    ("value", "words"),
    [(1620.4, "1620.4 kg, at most 1620.0 kg"), (1700.0, "1700 kg, at most 1620 kg")],
)
def test_a_value_and_its_limit_are_never_written_alike(value, words):
    assert told(value, 1620.0, "kg").startswith(words)


@pytest.mark.parametrize(
    ("value", "sense", "words"),
    [
        (268.15, "at_least", "5.0 degC too cold"),
        (278.15, "at_least", "5.0 degC to spare"),
        (278.15, "at_most", "5.0 degC too hot"),
    ],
)
def test_degrees_are_told_as_degrees(value, sense, words):
    assert told(value, 273.15, "K", sense).endswith(words)


@pytest.mark.parametrize(
    ("value", "sense", "words"),
    [
        (110.0, "at_most", "10 % over"),
        (90.0, "at_most", "10 % to spare"),
        (90.0, "at_least", "10 % short"),
        (110.0, "at_least", "10 % to spare"),
    ],
)
def test_the_side_of_a_limit_is_told_in_a_word(value, sense, words):
    assert told(value, 100.0, "A", sense).endswith(words)


def test_a_value_on_a_default_says_so():
    assert "110 A (assumed), at most" in told(110.0, 100.0, "A", assumed=("pack.strings",))


@pytest.mark.parametrize(
    ("profile", "text"),
    [("metric", "75.0 kW (102 PS)"), ("us", "101 hp (75.0 kW)"), ("uk", "101 hp (75.0 kW)")],
)
def test_power_comes_first_in_the_unit_people_think_in(profile, text):
    assert both_texts(75e3, "power", profile) == text


def test_energies_of_one_ledger_share_a_unit():
    assert in_one_unit({"given": 3.6e7, "lost": -3.6e3}) == {
        "given": "10.000 kWh",
        "lost": "-0.001 kWh",
    }
    assert in_one_unit({"given": 3.6e5, "lost": -3.6e3}) == {"given": "100.0 Wh", "lost": "-1.0 Wh"}
    assert in_one_unit({}) == {}


def test_a_bare_number_is_told_by_what_its_entry_is():
    # brakes.parking: 22 % held, 20 % asked of it; it was told as 0.220, at least 0.200.
    finding = Finding(
        "brakes.parking",
        "brakes.parking_grade",
        "watch",
        "text",
        value=Value(0.22, "1", "entered", "brakes.parking_grade"),
        limit=Value(0.2, "1", "standard", "un-r13h-annex-3-parking"),
        sense="at_least",
        margin=0.1,
    )
    assert against_limit(finding, {}, "us").startswith("22.0 %, at least 20.0 %")


def test_what_a_file_does_not_say_is_still_told_by_what_it_would_be():
    one = Value(1.0, "1", "default", "one-isolation-monitor")
    path = "hv.isolation_monitor.count"
    finding = Finding("circuit.monitors", path, "met", "text", value=one, limit=one, margin=0.0)
    assert against_limit(finding, {}, "metric").startswith("1, at most 1 ")
