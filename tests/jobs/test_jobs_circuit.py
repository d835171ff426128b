from __future__ import annotations

import math
from datetime import date
from pathlib import Path

import pytest

from swapwright.assess.circuit.filling import FillingCase, end_share_unloaded
from swapwright.assess.queries import (
    discharge_with,
    earthed,
    fault_at,
    places,
    precharge_with,
    section_states,
    switch_state,
    welded_states,
)
from swapwright.base.errors import InputError
from swapwright.build.circuit.circuit import circuit_of
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import check
from swapwright.jobs.circuit import circuit_status, circuit_view
from swapwright.jobs.fault import FaultOrder, fault
from swapwright.jobs.isolation_test import (
    ASK_METER,
    HAZARDS,
    WEAK_METER,
    isolation_test,
    readings_of,
)
from swapwright.jobs.precharging import PrechargeOrder
from swapwright.physics.circuit.voltmeter_method import METER_TOO_LOW, NEXT_TO_NOTHING

pytestmark = pytest.mark.arithmetic

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TODAY = date(2026, 11, 27)


@pytest.fixture(scope="module")
def ridgeway():
    return check(EXAMPLES / "ridgeway.toml", Catalogue(), TODAY)


@pytest.fixture(scope="module")
def car(ridgeway):
    return ridgeway.opened.car


@pytest.fixture(scope="module")
def view(ridgeway):
    return circuit_view(ridgeway)


def number(checked, figure_id: str) -> float:
    return checked.assessment.figures[figure_id].value.si


def at(car, name: str):
    return next(place for place in places(circuit_of(car)) if place.name == name)


def facts_of(account) -> dict[str, object]:
    return {fact.key: fact.si for fact in account.facts}


@pytest.mark.parametrize("car", ["ridgeway", "parcel-round", "hill-farm", "fault-finder"])
def test_each_device_an_arc_finding_names_carries_its_mark(car: str):
    # One finding names several places; none of their devices may look as if nothing were said.
    told = check(EXAMPLES / f"{car}.toml", Catalogue(), TODAY)
    findings = [f for f in told.assessment.findings if f.rule == "people.arc_uncleared"]
    watched = [f for f in findings if f.verdict == "watch"]
    assert watched
    for row in circuit_view(told, ()).devices:
        paths = {element.path for element in row.device.elements}
        if any(paths & {f.subject, *f.also} for f in watched):
            assert row.verdict in ("stop", "fix", "unknown", "watch")
    named = {path for f in findings for path in (f.subject, *f.also)}
    assert "drive.inverter" in named
    assert "hv.main_fuse" in named
    assert "hv.contactors" in named


def test_devices_stand_in_the_order_of_the_circuit(ridgeway, view):
    circuit = circuit_of(ridgeway.opened.car)
    assert [row.device.name for row in view.devices] == [each.name for each in circuit.devices]
    assert [row.place.name for row in view.places] == [each.name for each in places(circuit)]


def test_a_device_shows_its_worst_verdict_and_its_own_findings_only(view):
    rows = {row.device.name: row for row in view.devices}
    assert rows["traction pair"].tightest.rule.startswith("circuit.cable")
    assert rows["charger cable"].tightest.subject == "hv.branch[0].cable"
    assert rows["charger"].tightest is None or rows["charger"].tightest.subject == "hv.branch[0]"


def test_the_planted_faults_of_the_flawed_car_show_at_their_devices():
    faulty = circuit_view(check(EXAMPLES / "fault-finder.toml", Catalogue(), TODAY))
    verdicts = {row.device.name: row.verdict for row in faulty.devices}
    assert verdicts["main fuse"] == "stop"
    assert verdicts["main contactors"] == "stop"
    assert circuit_status(faulty) == 3


def test_a_place_before_every_fuse_says_that_nothing_clears_it(view):
    reasons = {row.place.name: row.clears[0] for row in view.places}
    assert reasons["pack terminals"][1] == ""
    assert reasons["pack terminals"][2].startswith("nothing clears this fault")
    assert reasons["inverter"][1] == "main fuse"


def test_no_section_is_called_anything_but_the_four_words(car):
    for state in ("key-off", "disconnect-open", "running"):
        for each in section_states(car, state):
            assert each.word in {
                "live",
                "may be live",
                "stored charge",
                "separated, not measured",
            }


def test_with_the_gap_open_each_box_still_is_a_source_of_its_own(car):
    states = {each.section.name: each for each in section_states(car, "disconnect-open")}
    assert states["front pack"].word == states["rear pack"].word == "live"
    assert states["front pack"].span == pytest.approx(5 / 12, abs=0.01)
    assert switch_state(car, "disconnect-open").measured_open == frozenset()


def test_both_main_contactors_welded_leave_the_inverter_live(car):
    both = ("main contactors +", "main contactors -")
    states = {each.section.name: each for each in welded_states(car, both)}
    reached = {each.source for each in states["inverter"].reached_by if not each.welded}
    assert {"front pack", "rear pack"} <= reached


def test_a_short_settles_where_the_assessment_says_and_its_fuse_ends_it(ridgeway, car):
    result = fault_at(car, at(car, "inverter"))
    assert result.prospective == pytest.approx(number(ridgeway, "fault.inverter.current_full"))
    # The assessment takes the slowest fuse of its make, the timeline the middle one.
    assert 0.0 < result.ended <= number(ridgeway, "fault.inverter.clearing_full") * 1.05
    (fuse,) = result.opened
    assert fuse.device == "main fuse"
    assert fuse.melts < fuse.clears == result.ended


def test_what_has_gone_through_when_it_clears_is_the_fuses_let_through(ridgeway, car):
    result = fault_at(car, at(car, "behind main fuse"))
    gap = next(each for each in result.borne if each.device == "service disconnect")
    clearing = number(ridgeway, "circuit.main_fuse.clearing_i2t")
    assert gap.i2t == pytest.approx(clearing, rel=1e-6)


def test_the_link_capacitor_makes_the_first_peak_of_a_fault_beside_it(car):
    beside, behind = (fault_at(car, at(car, name)) for name in ("inverter", "behind main fuse"))
    assert beside.capacitor_peak > 5.0 * behind.capacitor_peak
    assert beside.peak_time < beside.time_constant
    stored = 0.5 * 514.7e-6 * 403.2**2
    assert beside.capacitor_energy == pytest.approx(stored, rel=1e-3)


def test_nothing_clears_a_fault_before_the_fuse(car):
    result = fault_at(car, at(car, "pack terminals"))
    assert result.ended is None
    assert result.opened == ()
    assert result.why.startswith("nothing clears this fault")


def test_precharge_as_drawn_takes_the_time_of_its_time_constant(car):
    # R C ln 20 to 95 %, with 514.7 uF behind 220 ohm; the 47 kohm bleed takes half a percent off.
    result = precharge_with(car, FillingCase())
    assert result.reached[0.95] == pytest.approx(220.0 * 514.7e-6 * math.log(20.0), rel=0.04)
    assert result.end == pytest.approx(403.2 * 47.0 / 47.22, rel=1e-4)
    assert result.closes


def test_a_larger_resistor_stretches_precharge_and_a_smaller_one_shortens_it(car):
    times = [
        precharge_with(car, FillingCase(resistor=ohms)).reached[0.9] for ohms in (110.0, 220.0, 440)
    ]
    assert times[1] / times[0] == pytest.approx(2.0, rel=0.02)
    assert times[2] / times[1] == pytest.approx(2.0, rel=0.02)


def test_a_leak_divides_the_voltage_and_a_short_takes_all_of_it(car):
    leaky = precharge_with(car, FillingCase(leak=2000.0))
    side_by_side = 1.0 / (1.0 / 2000.0 + 1.0 / 47e3)
    assert leaky.end == pytest.approx(403.2 * side_by_side / (side_by_side + 220.0), rel=1e-3)
    assert not leaky.closes
    shorted = precharge_with(car, FillingCase(leak=0.0))
    assert shorted.end < 0.01
    assert shorted.power_at_end == pytest.approx(403.2**2 / 220.0, rel=1e-3)


def test_with_its_own_bleed_alone_the_link_ends_where_bleed_and_resistor_divide_the_voltage(car):
    drawn = precharge_with(car, FillingCase())
    leaky = precharge_with(car, FillingCase(resistor=2200.0, leak=2000.0))
    assert end_share_unloaded(leaky, drawn) == pytest.approx(47.0 / (47.0 + 2.2), rel=1e-3)
    assert leaky.end_share < 0.5


def test_a_load_left_on_keeps_the_link_from_filling(car):
    result = precharge_with(car, FillingCase(loads=("dc-dc",)))
    assert result.until_time is None
    assert result.left > 100.0
    assert result.making > 1000.0


@pytest.mark.parametrize(
    ("order", "opened", "sign"),
    [
        (PrechargeOrder(), (), "as drawn"),
        (PrechargeOrder(loads=("dc-dc",)), (), "a load left on, or a leak"),
        (PrechargeOrder(leak="2 kohm"), (), "a load left on, or a leak"),
        (PrechargeOrder(leak="0 ohm"), (), "a short behind it"),
        (PrechargeOrder(resistor="2.2 kohm"), (), "stretched in time"),
        (PrechargeOrder(), ("link capacitor",), "over almost at once"),
        (PrechargeOrder(), ("precharge resistor",), "relay, fuse or resistor open"),
    ],
    ids=["drawn", "load", "leak", "short", "large resistor", "open capacitor", "open resistor"],
)
def test_each_fault_of_precharge_has_its_sign(ridgeway, order, opened, sign):
    (account,) = fault(ridgeway.opened, FaultOrder(precharge=order, opened=opened))
    assert sign in account.notes[0]


def test_discharge_gives_the_paths_all_that_was_stored(car):
    (section,) = discharge_with(car)
    assert sum(section.took.values()) == pytest.approx(section.energy, rel=1e-5)
    assert section.to_energy > section.to_60v


def test_discharge_by_the_bleed_alone_takes_the_time_of_its_time_constant(car):
    (section,) = discharge_with(car, ("active discharge",))
    expected = 47e3 * section.capacitance * math.log(section.voltage / 60.0)
    assert section.to_60v == pytest.approx(expected, rel=1e-3)


def test_with_every_path_open_there_is_no_time(ridgeway):
    order = FaultOrder(is_discharge=True, opened=("bleed resistor", "active discharge"))
    (account,) = fault(ridgeway.opened, order)
    assert "no waiting time exists" in " ".join(account.notes)
    assert facts_of(account).get("inverter.wait") is None


def test_one_pole_on_the_chassis_puts_the_whole_pack_on_the_other(ridgeway, car):
    closed, _ = earthed(car, ("pack +",))
    assert closed.voltages["plus pole"] == pytest.approx(0.0, abs=1e-3)
    assert closed.voltages["minus pole"] == pytest.approx(-403.2, rel=1e-6)
    # Half of C V squared of the one rail that is left: 0.4 uF at 403.2 V.
    assert closed.y_energy == pytest.approx(0.5 * 0.4e-6 * 403.2**2, rel=1e-6)
    touched = next(each for each in closed.touched if each.node == "minus pole")
    assert touched.current == pytest.approx(403.2 / touched.body, rel=1e-3)


def test_two_faults_across_the_gap_put_the_whole_pack_on_the_open_disconnect(car):
    closed, opened = earthed(car, ("pack +", "pack -"))
    assert closed.between > 5000.0
    assert closed.why.startswith("nothing clears this fault")
    assert opened.between == 0.0
    assert opened.gaps["service disconnect"] == pytest.approx(403.2, rel=1e-6)


def test_two_faults_within_one_half_go_round_with_the_gap_open(car):
    both = tuple(f"{each}" for each in ("front pack +", "pack -"))
    _, opened = earthed(car, both)
    assert opened.between > 1000.0
    assert opened.ended is None


def test_a_chassis_that_bridges_the_gap_is_told_as_a_closed_disconnect(ridgeway):
    order = FaultOrder(earth=("front pack.plus", "rear pack.minus"))
    closed, opened = fault(ridgeway.opened, order)
    words = " ".join(opened.notes)
    assert "as live as with the disconnect closed" in words
    assert "a fuse in the gap is bypassed" in words
    assert "breaks the way round" not in words
    assert facts_of(opened)["poles"] == pytest.approx(403.2, rel=1e-6)
    assert facts_of(opened)["short"] > 5000.0
    assert "ended" not in facts_of(closed)
    assert "lies beside service disconnect" in " ".join(closed.notes)


def test_a_pole_the_link_holds_up_is_not_told_as_no_voltage(ridgeway):
    _, opened = fault(ridgeway.opened, FaultOrder(earth=("plus pole",)))
    pole = next(fact for fact in opened.facts if fact.key == "voltage.minus_pole")
    assert pole.text("metric") == (
        "0 V from the pack; up to 403 V from the link until it is discharged"
    )


def test_energy_as_marked_is_not_told_as_the_most(ridgeway):
    (account,) = fault(ridgeway.opened, FaultOrder(is_discharge=True))
    assert not any("at their most" in fact.label for fact in account.facts)


def test_each_gap_and_each_capacitor_behind_a_fuse_is_told(view):
    assert view.gaps == ("service disconnect",)
    inverter = next(row for row in view.sections if row.name == "inverter")
    assert [each.capacitor.name for each in inverter.stranded] == [
        "charger capacitor",
        "dc-dc capacitor",
    ]
    assert inverter.spans[1].between == pytest.approx(403.2)
    assert inverter.spans[1].driven == 0.0


@pytest.mark.parametrize(
    ("order", "words"),
    [
        (FaultOrder(at="invertr"), "did you mean: inverter"),
        (FaultOrder(welded=("main fuse",)), "there is no such element"),
        (FaultOrder(earth=("front pack.pluss",)), "did you mean: front pack.plus"),
        (FaultOrder(earth=("plus pole",) * 3), "too many at once"),
        (FaultOrder(precharge=PrechargeOrder(resistor="2 V")), "--resistor"),
        (FaultOrder(), "say what goes wrong"),
    ],
    ids=["place", "not a contactor", "terminal", "three", "no resistance", "nothing"],
)
def test_what_cannot_be_asked_is_told_with_what_can(ridgeway, order, words):
    with pytest.raises(InputError) as caught:
        fault(ridgeway.opened, order)
    assert words in str(caught.value)


GOOD = ("V+=193.64 V", "V-=161.36 V", "V'=39.997 V")


def test_the_voltmeter_method_finds_the_weaker_pole_and_the_place(ridgeway):
    # 300 kohm and 250 kohm on 355 V with 35.5 kohm, by our own arithmetic of the divider.
    answer = isolation_test(ridgeway.opened, GOOD, "35.5 kohm", "10 Mohm")
    assert answer.test.weak_pole == "minus"
    assert answer.test.isolation == pytest.approx(250e3, rel=2e-3)
    assert answer.per_volt == pytest.approx(250e3 / 403.2, rel=2e-3)
    assert answer.place == pytest.approx(161.36 / 355.0, rel=1e-6)
    assert answer.module == "near module 6 of 12 from the minus end, in the rear box"
    assert answer.status == 0
    assert answer.resistor_power == pytest.approx(403.2**2 / 35.5e3, rel=1e-6)


@pytest.mark.parametrize(
    "typed",
    [
        ("V+=193.64 V", "V-=161.36 V", "V'=39.997 V"),
        ("plus = 193.64 V", "minus = 161.36 V", "with = 39.997 V"),
        ("with=39997 mV", "positive=0.19364 kV", "negative=161.36 V"),
        ("193.64 V", "161.36 V", "39.997 V"),
    ],
    ids=["letters", "words", "any order and unit", "in order"],
)
def test_readings_are_taken_as_a_mechanic_types_them(typed):
    assert readings_of(typed) == pytest.approx({"V+": 193.64, "V-": 161.36, "V'": 39.997})


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (("V+=about 190",), "is not a number with a unit"),
        (("V+=190",), "needs a unit"),
        (("V+=190 A",), "is a unit of current"),
        (("Vx=190 V",), "there is no such reading"),
        (("V+=190 V", "plus=180 V"), "given twice"),
    ],
    ids=["words", "no unit", "amperes", "unknown name", "twice"],
)
def test_only_what_is_no_reading_is_sent_back(typed, words):
    with pytest.raises(InputError) as caught:
        readings_of(typed)
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (("V+=300 V", "V-=280 V", "V'=40 V"), "higher than this pack can be"),
        (("V+=0 V", "V-=0 V", "V'=0 V"), "lower than this pack can be"),
        (("V+=200 V", "V-=160 V", "V'=0 V"), "zero volts where volts were expected"),
        (("V+=200 V", "V-=160 V", "V'=210 V"), "rose with the resistor on"),
        (("V+=-200 V", "V-=160 V", "V'=40 V"), "below zero"),
        (("V+=200 V", "V-=160 V", "V'=40 V", "Vb=1200 V"), "higher than this pack can be"),
    ],
    ids=["too much", "nothing", "dead lead", "rose", "negative", "pack reading"],
)
def test_a_reading_that_contradicts_is_kept_and_stops_the_job(ridgeway, typed, words):
    answer = isolation_test(ridgeway.opened, typed, "250 kohm", None)
    assert words in " ".join(answer.contradictions)
    assert answer.status == 3
    assert answer.per_volt is None
    assert answer.readings == readings_of(typed)


@pytest.mark.parametrize(
    "typed",
    [
        ("V+=193.6 mV", "V-=161.4 V", "V'=24 V", "Vb=355 V"),
        ("V+=193.6 mV", "V-=161.4 V", "V'=24 V"),
        ("V+=30 V", "V-=25 V", "V'=10 V", "Vb=398 V"),
        ("V+=300 V", "V-=50 V", "V'=250 V", "Vb=398 V"),
    ],
    ids=["millivolts", "millivolts, pack not read", "both poles short", "a leak and a short sum"],
)
def test_poles_that_fall_short_of_the_pack_stop_the_job_and_ask_for_the_meter(ridgeway, typed):
    answer = isolation_test(ridgeway.opened, typed, "200 kohm", None)
    assert METER_TOO_LOW in answer.contradictions
    assert (answer.status, answer.per_volt) == (3, None)
    assert answer.readings == readings_of(typed)
    assert ASK_METER in answer.notes


def test_a_meter_that_explains_the_short_sum_is_told_when_it_is_a_weak_one(ridgeway):
    typed = ("V+=30 V", "V-=25 V", "V'=10 V", "Vb=398 V")
    answer = isolation_test(ridgeway.opened, typed, "200 kohm", "464 kohm")
    assert not answer.contradictions
    assert WEAK_METER in answer.notes


def test_a_pole_that_reads_next_to_nothing_beside_the_other_is_told_at_once(ridgeway):
    answer = isolation_test(ridgeway.opened, ("V+=0.2 V", "V-=354.8 V"), None, None)
    assert NEXT_TO_NOTHING in answer.notes
    assert answer.status == 1


def test_two_readings_alone_say_nothing_of_the_isolation(ridgeway):
    answer = isolation_test(ridgeway.opened, GOOD[:2], None, None)
    assert answer.status == 1
    assert answer.per_volt is None
    assert any("without the reading with the resistor" in note for note in answer.notes)


def test_a_leak_below_what_any_circuit_must_keep_is_a_stop(ridgeway):
    answer = isolation_test(ridgeway.opened, ("V+=300 V", "V-=60 V", "V'=250 V"), "40 kohm", None)
    assert answer.per_volt < 100.0
    assert answer.status == 3


def test_a_resistor_too_small_is_refused_and_the_readings_still_kept(ridgeway):
    answer = isolation_test(ridgeway.opened, GOOD, "10 kohm", None)
    assert answer.status == 2
    assert answer.readings == readings_of(GOOD)
    assert any("least ohms per volt" in note for note in answer.notes)


def test_an_insulation_tester_has_its_conditions_said():
    told = " ".join(HAZARDS)
    for words in (
        "pack disconnected",
        "monitor off",
        "both poles joined",
        "at or above the maximum working voltage",
        "within every part's rating",
        "'test on' sign",
        "timed discharge after",
    ):
        assert words in told
