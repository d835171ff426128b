"""The isolation procedure of the example cars: what a careful person would look for in it."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from procedure_cars import (
    CARS,
    CATALOGUE,
    EXAMPLES,
    SECOND_STRING,
    car,
    changed,
    element,
    ids,
    of_changed,
    of_circuit,
    procedure,
    step,
)

from swapwright.assess.solve import assess
from swapwright.base.sources import all_sources
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.expansion import full_form_text
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.procedures.facts import Facts
from swapwright.procedures.isolation import isolation, isolation_procedure
from swapwright.procedures.kinds import KINDS, generic_procedure
from swapwright.procedures.protection import protection
from swapwright.procedures.step import Procedure, Step
from swapwright.procedures.subject import Subject

every_car = pytest.mark.parametrize("name", CARS)


def readings(found: Procedure, start: str) -> list[Step]:
    return [s for s in found.steps if s.id.startswith(start) and s.reading is not None]


EIGHT: tuple[tuple[str, str], ...] = (
    ("find every source", r"walk\."),
    ("drop the load, open each disconnect", r"off\.|open\."),
    ("look at the gap", r"look\."),
    ("let stored electrical energy go", r"release\."),
    ("block stored mechanical energy", r"block\."),
    ("lock and tag", r"lock\."),
    ("test, the tester proved before and after", r"prove\.|measure\.|again\."),
    ("short where it can charge again", r"short"),
)


@pytest.mark.published
@pytest.mark.parametrize("name", [name for name in CARS if procedure(name).step("sign.absence")])
def test_the_eight_steps_of_verifying_stand_in_their_order(name: str):
    """NFPA 70E (2018), 120.5, in the order a trade article on that edition gives.

    The charge begins to go before the lock is hung, and the waiting time runs out under it.
    """
    order = ids(procedure(name))
    spans = []
    for what, pattern in EIGHT:
        at = [number for number, each in enumerate(order) if re.match(pattern, each)]
        assert at, what
        spans.append((what, min(at), max(at)))
    for (one, _, last), (other, first, _) in pairwise(spans):
        assert last < first, (one, other)
    waits = [n for n, s in enumerate(procedure(name).steps) if s.act == "wait"]
    assert spans[5][2] < min(waits)
    assert max(waits) < spans[6][1]


@pytest.mark.published
@every_car
def test_the_tester_is_proved_right_before_and_right_after(name: str):
    """29 CFR 1910.333(b)(2)(iv): proved immediately before and immediately after the test."""
    order = ids(procedure(name))
    first, last = order.index("prove.before"), order.index("prove.after")
    between = order[first + 1 : last]
    assert between
    assert all(each.startswith(("measure.", "again.")) for each in between)
    assert not [each for each in order if each.startswith(("measure.", "again."))][len(between) :]
    for each in ("prove.before", "prove.after"):
        proof = step(procedure(name), each)
        assert "osha-1910.333-prove-the-tester" in proof.sources
        assert {"meter", "leads", "proving unit"} <= set(proof.needs)
        assert proof.reading is not None
        # A zero from the proving source is a stop.
        assert proof.reading.expected.low >= 12.0


@pytest.mark.arithmetic
@every_car
def test_every_converter_is_measured_pole_to_pole_and_to_the_chassis_twice(name: str):
    found = procedure(name)
    for part in circuit_of(car(name)[0]).of_kind(*model.CONVERTERS):
        slug = model.slug(part.name)
        for tail in ("pole_pole", "plus_chassis", "minus_chassis"):
            first = step(found, f"measure.{slug}.{tail}").reading
            again = step(found, f"again.{slug}.{tail}").reading
            assert first is not None
            assert again is not None
            assert first.limit == again.limit == 12.0
            assert first.points == again.points
            assert first.expected.high <= 12.0
            assert again.first == f"measure.{slug}.{tail}"
            assert again.after >= 60.0


@pytest.mark.arithmetic
@every_car
def test_phases_are_measured_pair_by_pair_and_to_the_chassis_dc_and_ac(name: str):
    found = procedure(name)
    for inverter in circuit_of(car(name)[0]).of_kind(model.INVERTER):
        slug = model.slug(inverter.name)
        seen = {
            (frozenset(s.reading.points), s.reading.quantity)
            for s in readings(found, f"measure.{slug}.phase_")
            if s.reading is not None
        }
        ends = [f"motor phase {letter} at {inverter.name}" for letter in "UVW"]
        pairs = [(a, b) for n, a in enumerate(ends) for b in ends[n + 1 :]]
        pairs += [(end, "chassis") for end in ends]
        wanted = {
            (frozenset(pair), quantity)
            for pair in pairs
            for quantity in ("dc voltage", "ac voltage")
        }
        assert seen == wanted


@pytest.mark.arithmetic
@every_car
def test_both_sides_of_each_gap_are_read_and_a_live_side_is_no_proof_of_absence(name: str):
    found = procedure(name)
    highest = found.highest
    assert highest is not None
    for gap in circuit_of(car(name)[0]).of_kind(model.DISCONNECT):
        sides = readings(found, f"measure.gap.{model.slug(gap.name)}.")
        assert len(sides) == 3
        for each in sides:
            assert each.reading is not None
            assert each.reading.limit is None
            assert 12.0 < each.reading.expected.high <= 1.05 * highest + 1e-9
            assert not [s for s in found.steps if s.reading and s.reading.first == each.id]


@pytest.mark.arithmetic
def test_each_side_of_a_middle_gap_may_show_its_own_part_of_the_pack_and_no_more():
    found = procedure("ridgeway")
    low = step(found, "measure.gap.service_disconnect.first_chassis").reading
    high = step(found, "measure.gap.service_disconnect.second_chassis").reading
    assert low is not None
    assert high is not None
    assert low.expected.high == pytest.approx(1.05 * 403.2 * 5 / 12)
    assert high.expected.high == pytest.approx(1.05 * 403.2 * 7 / 12)


@pytest.mark.arithmetic
@every_car
def test_no_words_of_a_step_give_away_what_its_reading_should_be(name: str):
    for each in procedure(name).steps:
        if each.reading is not None and each.act == "measure":
            told = f"{each.title} {each.words} {each.why} {' '.join(each.cautions)}"
            assert not re.search(r"\d+(\.\d+)? ?(V|kV)\b", told), told
            assert each.reading.expected.words not in told


@pytest.mark.arithmetic
@every_car
def test_the_walk_round_comes_first_with_a_photo_of_each_and_a_signature(name: str):
    found = procedure(name)
    walk = [s for s in found.steps if s.id.startswith("walk.")]
    assert [s.act for s in walk] == [*["confirm"] * (len(walk) - 1), "sign"]
    assert all(s.photo for s in walk[:-1])
    assert walk[-1].who == "isolation"
    circuit = circuit_of(car(name)[0])
    about = {each for s in walk for each in s.about}
    for kind in (model.PACK, model.DISCONNECT, model.CABLE, *model.CONVERTERS):
        assert {e.name for e in circuit.of_kind(kind)} <= about, kind
    for inverter in circuit.of_kind(model.INVERTER):
        assert found.step(f"walk.phases.{model.slug(inverter.name)}") is not None
    order = ids(found)
    assert order.index("walk.sign") < order.index("off.load")
    assert any("design, not confirmed" in each for each in found.cautions)


@pytest.mark.arithmetic
@every_car
def test_every_source_is_named_and_what_has_a_gap_is_opened_and_locked(name: str):
    found, circuit = procedure(name), circuit_of(car(name)[0])
    named = {each for source in found.sources for each in source.elements}
    kinds = (model.PACK, model.CHARGER, model.INLET, model.DCDC, model.INVERTER, model.LINK)
    for part in circuit.of_kind(*kinds, model.Y_CAPACITOR):
        assert part.name in named
    for gap in circuit.of_kind(model.DISCONNECT):
        slug = model.slug(gap.name)
        order = ids(found)
        acts = [order.index(f"{act}.gap.{slug}") for act in ("open", "look", "lock")]
        assert acts == sorted(acts)
    for charger in circuit.of_kind(model.CHARGER):
        slug = model.slug(charger.name)
        assert step(found, f"open.plug.{slug}").act == "open"
        assert step(found, f"lock.plug.{slug}").act == "lock"
    assert step(found, "lock.12v").act == "lock"
    assert step(found, "open.12v").act == "open"


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", CARS[:-1])
def test_the_wait_is_the_longest_of_the_car_and_names_each_section(name: str):
    found, assessment = procedure(name), car(name)[1]
    waits = {
        key: figure.value.si
        for key, figure in assessment.figures.items()
        if re.fullmatch(r"wait\.\w+\.time", key)
    }
    assert waits
    wait = step(found, "wait")
    assert wait.wait == max(waits.values())
    assert set(waits) <= set(found.figures)
    assert any("active discharge failed" in each for each in wait.cautions)


@pytest.mark.arithmetic
def test_a_slower_bleed_lengthens_the_wait():
    slow = of_changed("ridgeway", {"hv.bleed": "470 kohm"})
    assert step(slow, "wait").wait == pytest.approx(867.372, rel=1e-3)
    assert step(procedure("ridgeway"), "wait").wait == 300.0


@pytest.mark.arithmetic
def test_where_no_waiting_time_exists_the_charge_is_taken_off_as_live_work():
    """The work card of this car says 60 s: nothing here does."""
    found = procedure("fault-finder")
    assert found.step("wait") is None
    steps = [s for s in found.steps if s.id.startswith("discharge.")]
    stores = circuit_of(car("fault-finder")[0]).of_kind(model.LINK, model.Y_CAPACITOR)
    assert {name for s in steps for name in s.about} == {each.name for each in stores}
    for each in steps:
        assert each.act == "wait"
        assert each.wait is None
        assert "No waiting time exists" in each.no_wait
        assert (each.who, each.people) == ("live", 2)
        assert not re.search(r"\d+ (s|min)\b", each.words)
    assert all(s.wait != 60.0 for s in found.steps)


@pytest.mark.arithmetic
def test_gloves_and_meter_follow_the_highest_voltage_of_the_car():
    high, low = procedure("fault-finder"), procedure("bakery")
    assert high.highest == pytest.approx(967.58, abs=0.01)
    for found in (high, low):
        assert "class 0" in step(found, "before.gloves").words
    assert (protection(60.0).glove_class, protection(1000.0).glove_class) == ("0", "0")
    assert protection(1000.1).glove_class == "1"
    assert protection(1200.0).meter_voltage == 1200.0
    assert protection(400.0).meter_voltage == 1000.0


@pytest.mark.arithmetic
def test_a_middle_gap_leaves_two_live_terminal_boxes_each_with_its_voltage():
    found = procedure("ridgeway")
    boxes = {each.where: each.words for each in found.remaining}
    assert "168 V" in boxes["terminal box of front pack"]
    assert "235 V" in boxes["terminal box of rear pack"]
    assert "403 V" in boxes["service disconnect"]
    assert "in series" in boxes["two isolation faults at once"]
    (front,) = [each for each in found.remaining if each.where == "front pack"]
    assert "5 modules of up to 33.6 V" in front.words
    assert any("nothing clears this fault" in line for line in front.figures)
    assert any("prospective current" in line for line in front.figures)
    assert any("boundary" in line for line in front.figures)


@pytest.mark.arithmetic
def test_an_arc_whose_fuse_is_too_slow_counts_as_cleared_by_nothing():
    (place,) = [
        each
        for each in procedure("ridgeway").remaining
        if each.where == "work point behind main fuse"
    ]
    assert any("nothing clears this fault in time" in line for line in place.figures)


@pytest.mark.arithmetic
def test_a_disconnect_is_not_for_load_break_unless_its_data_say_so():
    plain = step(procedure("ridgeway"), "open.gap.service_disconnect")
    assert "not made to be opened under load" in plain.why
    said = of_changed("ridgeway", {"hv.disconnect.load_break": "true"})
    assert "not made to be opened under load" not in step(said, "open.gap.service_disconnect").why


@pytest.mark.arithmetic
def test_two_strings_have_two_gaps_and_the_busbar_between_is_measured():
    found = of_changed("ridgeway", SECOND_STRING)
    gaps = [each for each in ids(found) if each.startswith("open.gap.")]
    assert gaps == ["open.gap.service_disconnect_1", "open.gap.service_disconnect_2"]
    assert not found.no_absence
    by_name = {each.name: each.gap for each in found.sources}
    assert by_name["front pack 1"] == by_name["rear pack 1"] == "service disconnect 1"
    assert by_name["rear pack 2"] == "service disconnect 2"
    assert found.step("measure.main_fuse.pole_pole") is not None


@pytest.mark.arithmetic
def test_a_car_without_a_disconnect_ends_in_no_statement():
    found = of_changed("ridgeway", {"hv.disconnect": None})
    assert any("no service disconnect" in why.lower() for why in found.no_absence)
    assert any("main contactors" in why and "welded" in why for why in found.no_absence)
    assert found.step("sign.absence") is None
    assert not [s for s in found.steps if s.id.startswith(("open.gap", "lock.gap"))]
    assert not [s for s in found.steps if s.reading is not None and s.reading.limit is not None]


@pytest.mark.arithmetic
def test_a_heater_before_the_contactors_keeps_absence_away():
    base = circuit_of(car("ridgeway")[0])
    heater = model.Element("heater", model.LOAD, "pack +", "pack -", "heater", "hv")
    found = of_circuit(model.Circuit((*base.elements, heater)))
    assert any("heater is not separated" in why.lower() for why in found.no_absence)
    assert found.step("sign.absence") is None


@pytest.mark.arithmetic
def test_a_file_that_says_nothing_of_its_voltage_gets_the_generic_procedure():
    lacking = changed("ridgeway", {"pack.module": None})
    found = isolation_procedure(lacking, assess(lacking))
    assert found.is_generic
    assert found.highest is None
    assert any("highest voltage is not known" in why for why in found.no_absence)
    assert found.step("sign.absence") is None
    assert any("welded" in each and "second source" in each for each in found.cautions)


@pytest.mark.arithmetic
def test_the_generic_procedure_takes_everything_at_its_worst():
    found = generic_procedure("isolation", "a van")
    assert found.is_generic
    assert found.is_class_b
    assert found.no_absence
    assert found.step("wait") is None
    assert step(found, "discharge.link_capacitor").who == "live"
    assert "class 1" in step(found, "before.gloves").words
    walk = [s for s in found.steps if s.id.startswith("walk.")]
    assert len(walk) > 5
    assert not any("file has" in s.words or "file says" in s.words for s in walk)
    assert not any("design, not confirmed" in each for each in found.cautions)
    for kind in (".plug.charger", ".plug.fast_charge_inlet", ".wheels.inverter", ".others"):
        assert found.step(f"open{kind}") is not None, kind


@pytest.mark.arithmetic
def test_a_low_voltage_car_is_never_called_harmless():
    circuit = circuit_of(car("bakery")[0])
    found = isolation(Subject(circuit, Facts(58.4)))
    assert not found.is_class_b
    assert any("still a hazard" in each for each in found.cautions)
    assert found.step("before.gloves") is not None


@pytest.mark.arithmetic
@pytest.mark.parametrize("kind", KINDS)
def test_every_source_a_step_names_is_in_the_list_of_sources(kind: str):
    known = set(all_sources())
    for found in (generic_procedure(kind, "a car"),):  # type: ignore[arg-type]
        for each in found.steps:
            assert each.sources, each.id
            assert set(each.sources) <= known, each.id


@pytest.mark.arithmetic
@every_car
def test_the_circuit_written_out_in_full_gives_the_same_steps(name: str):
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    full = resolve(
        load_text(full_form_text(load_text(text, "a car"), car(name)[0]), "a car"), CATALOGUE
    )
    found = isolation_procedure(full, assess(full))
    # The two capacitors to the chassis go by one name more in one form than in the other.
    one, other = (
        {each.removesuffix("s") for each in ids(form)} for form in (found, procedure(name))
    )
    assert one == other
    assert found.no_absence == procedure(name).no_absence


@pytest.mark.arithmetic
def test_a_disconnect_in_both_poles_is_one_gap_with_four_sides():
    circuit = model.Circuit(
        (
            element("pack", model.PACK, "p0", "m0", of=1),
            element("disconnect +", model.DISCONNECT, "p0", "p1", device="disconnect"),
            element("disconnect -", model.DISCONNECT, "m0", "m1", device="disconnect"),
            element("inverter", model.INVERTER, "p1", "m1"),
            element("link", model.LINK, "p1", "m1"),
        )
    )
    found = of_circuit(circuit)
    assert not found.no_absence
    assert [s.id for s in found.steps if s.act == "open" and "gap" in s.id] == [
        "open.gap.disconnect"
    ]
    assert step(found, "lock.gap.disconnect").about == ("disconnect +", "disconnect -")
    (source,) = [each for each in found.sources if each.name == "pack"]
    assert source.gap == "disconnect"
    limits = {
        s.id.removeprefix("measure.gap."): s.reading.limit
        for s in found.steps
        if s.id.startswith("measure.gap.") and s.reading is not None
    }
    # The side away from the pack is a point of absence; the pack's own side is not.
    assert limits["disconnect_plus.first_chassis"] is None
    assert limits["disconnect_plus.second_chassis"] == 12.0
    assert limits["disconnect_minus.second_chassis"] == 12.0


@pytest.mark.arithmetic
def test_a_welded_contactor_beside_an_open_one_is_told_of_on_its_pole():
    caution = " ".join(step(procedure("ridgeway"), "measure.inverter.plus_chassis").cautions)
    assert "front pack and rear pack" in caution
    assert "welded" in caution
