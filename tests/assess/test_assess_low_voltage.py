"""The 12 V side of the example cars, added up by hand, and the faults planted in it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from math import fsum

import pytest
from example_cars import FLAWED, SOUND, assessment_of, by_rule, car_from, changed, text_of
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.assess.assessment import Assessment
from swapwright.assess.book import FigureBook
from swapwright.assess.solve import assess
from swapwright.assess.stages.low_voltage import low_voltage
from swapwright.base.figure import Summed
from swapwright.base.finding import Acceptance
from swapwright.build.car import Car

WORST = {
    "ridgeway": (12, 6, 10, 15, 0.25 * 15, 4, 5, 3, 3),
    "bakery": (11, 5, 8, 3, 4, 4, 3),
    "parcel-round": (14, 7, 12, 16, 0.25 * 15, 9, 6, 5, 4, 4, 1.25),
    "hill-farm": (14, 20, 3, 6, 12, 16, 0.25 * 16, 5, 6, 6, 3),
    FLAWED: (14, 6, 12, 10, 14, 0.25 * 16, 4, 6, 4, 4),
}
"""A, on a winter night."""
TOTALS = {
    "ridgeway": 61.75,
    "bakery": 38.0,
    "parcel-round": 82.0,
    "hill-farm": 95.0,
    FLAWED: 78.0,
}

few = settings(max_examples=20, deadline=None, derandomize=True)


def of(assessment: Assessment, figure: str) -> float:
    return assessment.figures[figure].value.si


def told(name: str, **changes: str | None) -> Assessment:
    """Return an example car assessed with entries changed; two underscores stand for a dot."""
    paths = {path.replace("__", "."): to for path, to in changes.items()}
    return assess(car_from(changed(text_of(name), paths)))


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", WORST)
def test_a_cars_worst_case_is_what_its_list_adds_up_to_by_hand(name: str):
    assert fsum(WORST[name]) == TOTALS[name]
    found = assessment_of(name)
    assert of(found, "lv.worst_current") == pytest.approx(TOTALS[name])
    assert of(found, "lv.worst_power") == pytest.approx(14.0 * TOTALS[name])


@pytest.mark.arithmetic
def test_the_worst_case_is_named():
    assert "winter night" in assessment_of("ridgeway").figures["lv.worst_current"].label


@pytest.mark.arithmetic
def test_the_budget_of_a_case_is_a_table_of_its_loads():
    working = assessment_of("ridgeway").figures["lv.current.day"].working
    assert isinstance(working, Summed)
    rows = {name: value.si for name, value in working.rows}
    assert rows == {
        "heater fan": 5.0,
        "vacuum pump": 3.75,
        "coolant pump": 4.0,
        "controllers and pack monitor": 5.0,
        "contactor coils, holding": 3.0,
        "audio": 3.0,
    }


@pytest.mark.golden
@pytest.mark.parametrize(
    ("planted", "rule"),
    [(14, "lv.conduit_orange"), (17, "lv.dcdc_power"), (20, "brakes.vacuum_reserve")],
    ids=["orange conduit", "small converter", "no vacuum reservoir"],
)
def test_a_fault_planted_on_the_12_v_side_is_found(planted: int, rule: str):
    finding = by_rule(assessment_of(FLAWED))[rule]
    assert finding.verdict == "fix"
    assert finding.remedy


@pytest.mark.arithmetic
def test_the_coupe_stands_46_days_and_a_drain_of_four_tenths_of_an_ampere_leaves_one():
    day = 86400.0
    assert of(assessment_of("ridgeway"), "lv.parked_time") / day == pytest.approx(46.3, abs=0.05)
    drained = told("ridgeway", lv__sleep_current="0.4 A")
    assert of(drained, "lv.parked_time") / day == pytest.approx(1.04, abs=0.005)
    assert of(drained, "lv.flat_time") / day == pytest.approx(2.08, abs=0.005)


@pytest.mark.arithmetic
def test_peukerts_law_is_kept_from_a_lithium_battery():
    lithium = told("ridgeway", lv__battery__kind="LFP")
    assert of(lithium, "lv.reserve_capacity") == pytest.approx(20.0 / 25.0 * 3600.0)
    lead = of(assessment_of("ridgeway"), "lv.reserve_capacity")
    assert lead == pytest.approx(20.0 * 3600.0 * (20.0 / (25.0 * 20.0)) ** 1.15)


@pytest.mark.arithmetic
def test_the_lowest_voltage_of_the_coupe_is_what_battery_and_main_run_leave():
    found = assessment_of("ridgeway")
    peak = 12 + 6 + 10 + 15 + 15 + 4 + 5 + 3 + 3
    assert of(found, "lv.worst_peak") == peak
    warm = 1.0 + 0.00393 * (of(found, "lv.main.temperature") - 293.15)
    run = 1.2 * 0.780e-3 * warm
    expected = 12.2 - peak * (2.0 * 0.25 / 20.0 + 2.0 * run)
    assert of(found, "lv.lowest_voltage") == pytest.approx(expected)


@pytest.mark.arithmetic
def test_coils_with_an_economiser_pull_in_with_more_than_they_hold():
    found = assessment_of("ridgeway")
    assert of(found, "lv.coils_hold") == pytest.approx(2 * 2.0 + 2.5)
    assert of(found, "lv.coils_pull_in") == pytest.approx(2 * 45.0 + 2.5)


@pytest.mark.arithmetic
def test_a_load_with_no_duty_is_on_whenever_the_car_is_driven_and_off_when_it_is_not():
    plain = told("bakery", **{"lv__load[6]__duty": None, "lv__load[3]__duty": None})
    before = assessment_of("bakery")
    for case, more in (("day", 0.0), ("night", 0.0), ("winter", 0.0), ("charging", -3.0)):
        figure = f"lv.current.{case}"
        assert of(plain, figure) - of(before, figure) == pytest.approx(more)
    assert of(plain, "lv.current.parked") == of(before, "lv.current.parked")


NO_WIRE = {"lv__load[1]__fuse": None, "lv__load[1]__wire": None, "lv__load[1]__length": None}


@pytest.mark.arithmetic
def test_a_load_that_says_nothing_of_fuse_and_wire_is_asked_for_both_once():
    findings = told("ridgeway", **NO_WIRE).findings
    asked = [f for f in findings if f.subject == "lv.load[1]" and f.rule.startswith("lv.load")]
    (found,) = asked
    assert (found.rule, found.verdict, found.could_be) == ("lv.load_protected", "unknown", "stop")
    assert found.needs == ("lv.load[1].fuse", "lv.load[1].wire")


@pytest.mark.arithmetic
def test_half_a_wire_is_asked_for_its_other_half():
    half = told("ridgeway", **{**NO_WIRE, "lv__load[1]__fuse": "10 A"})
    found = {f.rule: f for f in half.findings if f.subject == "lv.load[1]"}
    assert found["lv.load_protected"].verdict == "unknown"
    assert found["lv.load_protected"].needs == ("lv.load[1].wire",)
    assert found["lv.load_fuse"].verdict == "met"


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("wire", "fuse", "protected", "in_loom"),
    [
        ("1 mm^2", "10 A", "met", "met"),
        ("1 mm^2", "15 A", "met", "watch"),
        ("1.5 mm^2", "20 A", "met", "watch"),
        ("2.5 mm^2", "30 A", "met", "watch"),
        ("1 mm^2", "20 A", "stop", "watch"),
        ("2.5 mm^2", "40 A", "stop", "watch"),
    ],
)
def test_a_fuse_as_car_makers_choose_it_is_watched_and_only_one_beyond_the_wire_stops(
    wire: str, fuse: str, protected: str, in_loom: str
):
    # DIN VDE 0298-4 table 11: 19, 24 and 32 A, and seven tenths of them in a loom
    found = told("ridgeway", **{"lv__load[8]__wire": wire, "lv__load[8]__fuse": fuse}).findings
    of_it = {f.rule: f.verdict for f in found if f.subject == "lv.load[8]"}
    assert (of_it["lv.load_protected"], of_it["lv.load_in_loom"]) == (protected, in_loom)


@pytest.mark.arithmetic
def test_a_car_without_a_list_of_loads_is_asked_for_one():
    bare = car_from("format = 1\n")
    found = by_rule(assess(bare))
    assert found["lv.dcdc_power"].verdict == "unknown"
    assert found["lv.dcdc_power"].needs == ("lv.load[].current",)
    assert found["lv.crash_alive"].could_be == "fix"


@pytest.mark.arithmetic
def test_brakes_without_a_vacuum_pump_are_not_asked_for_a_reservoir():
    skipped = " ".join(assessment_of("bakery").skipped)
    for rule in ("reserve", "level", "duty", "lamp"):
        assert f"brakes.vacuum_{rule}: the brakes have no electric vacuum pump" in skipped


@pytest.mark.arithmetic
def test_a_converter_whose_sheet_says_nothing_of_heat_is_asked_about():
    own = '{ power = "1200 W", min_voltage = "250 V", max_voltage = "430 V" }'
    found = by_rule(told("ridgeway", lv__dcdc=own))
    assert found["lv.dcdc_power"].verdict == "met"
    assert found["lv.dcdc_hot"].verdict == "unknown"
    assert "lv.dcdc.full_power_to" in found["lv.dcdc_hot"].needs


CONVERTER = ("lv.dcdc_power", "lv.dcdc_size", "lv.dcdc_hot")


@pytest.mark.arithmetic
def test_a_converter_too_small_however_cool_is_told_once_with_what_to_fit():
    found = by_rule(told("ridgeway", lv__dcdc__power="800 W"))
    assert [rule for rule in CONVERTER if rule in found] == ["lv.dcdc_power"]
    assert "at its hottest" in found["lv.dcdc_power"].remedy
    assert "room" in found["lv.dcdc_power"].remedy


@pytest.mark.arithmetic
def test_who_accepts_a_small_converter_is_still_told_of_the_hot_one():
    signed = Acceptance("lv.dcdc_power", "never driven at night", "owner", date(2026, 11, 1))
    car = car_from(changed(text_of("ridgeway"), {"lv.dcdc.power": "800 W"}))
    found = by_rule(assess(replace(car, accepted=(signed,))))
    assert found["lv.dcdc_power"].accepted == signed
    assert {rule: found[rule].verdict for rule in CONVERTER} == {
        "lv.dcdc_power": "fix",
        "lv.dcdc_size": "watch",
        "lv.dcdc_hot": "fix",
    }


@pytest.mark.arithmetic
def test_what_is_not_known_of_a_hot_converter_is_asked_however_small_it_is():
    own = '{ power = "800 W", min_voltage = "250 V", max_voltage = "430 V" }'
    found = by_rule(told("ridgeway", lv__dcdc=own))
    assert found["lv.dcdc_power"].verdict == "fix"
    assert found["lv.dcdc_hot"].verdict == "unknown"


@pytest.mark.arithmetic
def test_the_reserve_curve_passes_through_the_times_told():
    found = assessment_of("ridgeway")
    (line,) = found.curves["lv.reserve"].ys
    assert line.points[0] == pytest.approx(of(found, "lv.hazard_time"))
    assert list(line.points) == sorted(line.points, reverse=True)


def side_of(car: Car) -> FigureBook:
    """Return a book of the 12 V side alone."""
    book = FigureBook(car)
    low_voltage(book)
    return book


@pytest.mark.property
@few
@given(
    name=st.sampled_from(SOUND),
    one=st.floats(0.05, 1.0),
    other=st.floats(0.05, 1.0),
)
def test_more_duty_never_lengthens_the_reserve(name: str, one: float, other: float):
    less, more = sorted((one, other))
    car = car_from(text_of(name))
    rarely, often = (side_of(car.with_values({"lv.load[0].duty.night": d})) for d in (less, more))
    assert often.number("lv.night_time") <= rarely.number("lv.night_time")
    assert often.number("lv.worst_current") >= rarely.number("lv.worst_current")


@pytest.mark.property
@few
@given(name=st.sampled_from(SOUND), more=st.floats(1.0, 4.0))
def test_a_bigger_battery_never_shortens_a_time_nor_lowers_a_voltage(name: str, more: float):
    car = car_from(text_of(name))
    small = side_of(car)
    capacity = car.number("lv.battery.capacity")
    large = side_of(car.with_values({"lv.battery.capacity": capacity * more}))
    times = ("night_time", "hazard_time", "parked_time", "flat_time", "reserve_capacity")
    for figure in (*times, "lowest_voltage", "key_on_voltage"):
        assert large.number(f"lv.{figure}") >= small.number(f"lv.{figure}") * (1.0 - 1e-12), figure


@pytest.mark.property
@few
@given(name=st.sampled_from(SOUND), thicker=st.floats(1.0, 1.8))
def test_a_thicker_main_run_never_drops_more_and_never_lowers_the_voltage(name, thicker: float):
    car = car_from(text_of(name))
    thin = side_of(car)
    thick = side_of(car.with_values({"lv.main.size": car.number("lv.main.size") * thicker}))
    assert thick.number("lv.main.drop") <= thin.number("lv.main.drop") * (1.0 + 1e-12)
    assert thick.number("lv.lowest_voltage") >= thin.number("lv.lowest_voltage") - 1e-12


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "changes", [{"brakes.cut_out": "-1.05 bar"}, {"conditions.altitude": "2600 m"}]
)
def test_a_vacuum_deeper_than_a_pump_draws_in_this_air_is_a_fault(changes: dict[str, str]):
    told = by_rule(assess(car_from(changed(text_of("ridgeway"), changes))))
    assert by_rule(assessment_of("ridgeway"))["brakes.vacuum_reach"].verdict == "met"
    assert told["brakes.vacuum_reach"].verdict == "fix"


@pytest.mark.arithmetic
def test_who_does_not_say_what_assists_the_brakes_is_asked_before_a_crash_is_survived():
    alive = '["hazard lamps", "brake lamps", "horn", "door locks"]'
    changes = {"brakes.booster": None, "lv.alive_after_crash": alive}
    told = by_rule(assess(car_from(changed(text_of("ridgeway"), changes))))["lv.crash_alive"]
    assert told.verdict == "unknown"
    assert told.needs == ("brakes.booster",)
    changes = {"brakes.booster": None, "lv.alive_after_crash": '["horn"]'}
    told = by_rule(assess(car_from(changed(text_of("ridgeway"), changes))))["lv.crash_alive"]
    assert told.verdict == "fix"


@pytest.mark.arithmetic
def test_a_battery_far_too_small_has_no_voltage_left_and_its_contactors_drop_out():
    small = told("ridgeway", lv__battery__capacity="1 Ah")
    assert of(small, "lv.lowest_voltage") == 0.0
    found = by_rule(small)
    assert found["lv.controllers"].verdict == "fix"
    assert found["lv.coil_drop_out"].verdict == "stop"


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("kind", "word"), [("LFP", "lithium"), ("flooded", "water"), ("AGM", "water"), ("gel", "gel")]
)
def test_a_set_point_too_high_is_told_by_what_it_does_to_the_kind_of_battery(kind: str, word: str):
    changes = {"lv__battery__kind": f"{kind}", "lv__voltage": "14.6 V"}
    found = by_rule(told("ridgeway", **changes))["lv.set_point_high"]
    assert found.verdict == "watch"
    assert word in found.text
    assert ("water" in found.text) == (kind in ("flooded", "AGM"))
