"""Sections that lie between switches, stored charge, gaps, waiting: what a person is told."""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest
from example_cars import STRINGS, assessment_of, by_rule, car_from, changed, text_of

from swapwright.assess.assessment import Assessment
from swapwright.assess.circuit.section import (
    CONTACTORS,
    LIVE,
    MAY_BE_LIVE,
    STORED,
    SectionState,
    SwitchState,
    live_or_not,
)
from swapwright.assess.circuit.stranded import stranded
from swapwright.assess.queries import GAP_OPEN, earthed, section_states
from swapwright.assess.solve import assess
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.expansion import full_form_text
from swapwright.build.circuit.model import Circuit, Element
from swapwright.build.load import load_text

pytestmark = pytest.mark.arithmetic

VOLTS = 403.2
UNPLUGGED: frozenset[str] = frozenset()
INLET = (
    '[[hv.branch]]\nname = "fast inlet"\nload = "inlet"\ncurrent = "250 A"\n'
    'contactor = { part = "contactor-500vdc-350a", poles = "both", polarised = false }\n\n'
    "[charging]\n"
)


def car(changes: Mapping[str, str | None], name: str = "ridgeway") -> Car:
    return car_from(changed(text_of(name), changes))


def with_inlet() -> Car:
    text = text_of("ridgeway").replace("[charging]\n", INLET)
    return car_from(text.replace('"type 2"', '"ccs 2"'))


def states_of(circuit: Circuit, state: SwitchState) -> dict[str, SectionState]:
    return {each.section.name: each for each in live_or_not(circuit, state)}


def gap_open(car: Car) -> dict[str, SectionState]:
    return {each.section.name: each for each in section_states(car, GAP_OPEN)}


def element(name: str, kind: str, plus: str, minus: str, device: str = "") -> Element:
    return Element(name, kind, plus, minus, device or name, "hv", string=kind == model.PACK)


def between_contactors(*further: Element) -> Circuit:
    """Return a pack with two pairs of contactors one behind the other, and nothing between."""
    return Circuit(
        (
            element("pack", model.PACK, "p0", "m0"),
            element("string contactors +", model.CONTACTOR, "p0", "p1", "string contactors"),
            element("string contactors -", model.CONTACTOR, "m0", "m1", "string contactors"),
            element("main contactors +", model.CONTACTOR, "p1", "p2", "main contactors"),
            element("main contactors -", model.CONTACTOR, "m1", "m2", "main contactors"),
            *further,
            element("inverter", model.INVERTER, "p2", "m2"),
            element("link", model.LINK, "p2", "m2"),
        )
    )


BETWEEN = "between string contactors and main contactors"


def test_a_section_of_nothing_but_contactors_may_be_live_with_the_whole_pack():
    found = states_of(between_contactors(), SwitchState(joined=UNPLUGGED))[BETWEEN]
    assert found.section.elements == ()
    assert found.section.nodes == {"p1", "m1"}
    assert found.word == MAY_BE_LIVE
    assert found.span == 1.0
    (pack,) = found.reached_by
    assert pack.welded == ("string contactors +", "string contactors -")


def test_the_pack_stands_between_two_bare_ends_though_no_current_can_flow():
    circuit = between_contactors()
    behind = frozenset({"main contactors +", "main contactors -"})
    found = states_of(circuit, SwitchState(joined=UNPLUGGED, measured_open=behind))
    assert found[BETWEEN].word == MAY_BE_LIVE
    before = frozenset({"string contactors +", "string contactors -"})
    found = states_of(circuit, SwitchState(joined=UNPLUGGED, measured_open=before))
    assert found[BETWEEN].word == STORED
    (link,) = found[BETWEEN].charges
    assert link.source == "link"
    assert link.welded == ("main contactors +", "main contactors -")


def test_a_switch_closed_onto_a_bare_section_makes_it_live():
    shut = frozenset({"string contactors +", "string contactors -"})
    found = states_of(between_contactors(), SwitchState(shut, joined=UNPLUGGED))
    assert found[BETWEEN].word == LIVE


def test_the_busbar_of_two_strings_may_be_live_with_the_key_off():
    found = {each.section.name: each for each in section_states(car({}, STRINGS), "key-off")}
    assert any({"pack +", "pack -"} <= each.section.nodes for each in found.values())
    for each in found.values():
        assert each.word in (LIVE, MAY_BE_LIVE), each.section.name
        assert each.span == pytest.approx(1.0)


def test_a_charged_link_stands_in_its_section_whatever_the_gap_does():
    found = gap_open(car({}))["inverter"]
    assert found.word == STORED
    assert found.span == 1.0
    assert found.driven_span == 0.0
    assert found.rests_on_charge
    assert found.one_pole == ("front pack", "rear pack")
    assert {"link capacitor", "charger capacitor", "y-capacitor +"} <= set(found.stores)


def test_charge_reaches_an_inlet_through_contactors_that_may_have_welded():
    found = gap_open(with_inlet())["fast inlet"]
    assert found.word == STORED
    assert found.span == 1.0
    ways = {each.source: each.welded for each in found.charges}
    both = ("fast inlet contactors +", "fast inlet contactors -")
    assert ways["link capacitor"] == both
    assert ways["y-capacitor +"] == both


def test_contactors_measured_open_keep_the_charge_away():
    circuit = circuit_of(with_inlet())
    contactors = frozenset(each.name for each in circuit.of_kind(*CONTACTORS))
    state = SwitchState(joined=UNPLUGGED, measured_open=contactors)
    assert states_of(circuit, state)["fast inlet"].charges == ()


def test_what_is_plugged_in_brings_the_highest_voltage_though_no_pack_does():
    circuit = circuit_of(car({}))
    contactors = frozenset(each.name for each in circuit.of_kind(*CONTACTORS))
    state = SwitchState(joined=frozenset({"charging plug"}), measured_open=contactors)
    found = states_of(circuit, state)["inverter"]
    assert (found.word, found.driven_span) == (LIVE, 1.0)


def test_a_heater_before_the_contactors_puts_the_whole_pack_on_the_open_gap():
    heater = element("heater", model.LOAD, "plus", "minus")
    halves = (
        element("front", model.PACK, "gap -", "minus"),
        element("gap", model.DISCONNECT, "gap -", "gap +"),
        element("rear", model.PACK, "plus", "gap +"),
    )
    halves = tuple(
        Element(e.name, e.kind, e.plus, e.minus, e.device, e.path, share=0.5, string=1)
        for e in halves
    )
    apart = states_of(Circuit(halves), SwitchState(joined=UNPLUGGED))
    assert all(each.span == 0.5 for each in apart.values())
    (found,) = states_of(Circuit((*halves, heater)), SwitchState(joined=UNPLUGGED)).values()
    assert found.span == 1.0


# Waiting


def no_wait(found: Assessment, section: str) -> str:
    assert f"wait.{section}.time" not in found.figures
    return " ".join(found.missing[f"wait.{section}.time"])


@pytest.mark.parametrize(
    "changes",
    [
        {"hv.contactors": None, "hv.precharge": None},
        {"hv.contactors.poles": "one"},
    ],
    ids=["no contactors", "one pole"],
)
def test_no_waiting_empties_a_section_with_the_pack_in_it(changes: dict[str, str | None]):
    found = assess(car(changes))
    assert "no waiting empties" in no_wait(found, "front_pack")
    rules = by_rule(found)
    card = rules["circuit.wait_card"]
    if "hv.contactors" in changes:  # the file may only not have said so yet
        assert (card.verdict, card.could_be, card.needs) == ("unknown", "stop", ("hv.contactors",))
    else:
        assert card.verdict == "stop"
        assert "no minutes may stand on the card" in card.text
    assert not {"circuit.wait_failed", "circuit.discharge_paths"} & rules.keys()


def test_no_minutes_stand_on_a_card_where_one_failed_path_leaves_none():
    found = assess(car({"hv.active_discharge": None}))
    assert "no waiting time exists" in no_wait(found, "inverter")
    rules = by_rule(found)
    assert rules["circuit.discharge_paths"].verdict == "fix"
    card = rules["circuit.wait_card"]
    assert card.verdict == "stop"
    assert "no minutes may stand on the card" in card.text
    assert "longer time on the work card" in card.remedy


def test_a_section_without_any_path_is_a_stop_for_its_paths_too():
    rules = by_rule(assess(car({"hv.branch[0].bleed": None}, "parcel-round")))
    assert rules["circuit.discharge_paths"].verdict == "stop"
    assert rules["circuit.wait_card"].verdict == "stop"


def test_y_capacitors_drain_through_the_leaks_alone():
    found = assessment_of("ridgeway").figures
    ohms = 2.4e6 * 2.1e6 / (2.4e6 + 2.1e6)  # as measured; the monitor left out
    tau = ohms * 2 * 1.2 * 0.4e-6
    expected = tau * math.log(VOLTS / 60.0)
    assert found["wait.inverter.y_to_60v"].value.si == pytest.approx(expected, rel=1e-9)
    assert found["wait.inverter.y_to_energy"].value.si == 0.0


def test_large_y_capacitors_on_good_isolation_set_the_wait():
    changes = {
        "hv.y_capacitance": "20 uF",
        "hv.isolation.positive": "50 Mohm",
        "hv.isolation.negative": "50 Mohm",
    }
    found = assess(car(changes)).figures
    tau = 25e6 * 2 * 1.2 * 20e-6
    to_energy = tau / 2 * math.log(2 * 1.2 * 20e-6 * VOLTS**2 / 0.4)
    longest = max(to_energy, tau * math.log(VOLTS / 60.0))
    assert longest > 300.0
    for name in ("time", "least"):
        assert found[f"wait.inverter.{name}"].value.si == pytest.approx(longest, rel=1e-9)


@pytest.mark.parametrize(
    "path", ["hv.isolation.negative", "hv.y_capacitance", "hv.branch[1].capacitance"]
)
def test_what_was_not_measured_or_not_said_leaves_the_wait_unknown(path: str):
    found = assess(car({path: None}))
    assert path in found.missing["wait.inverter.time"]
    assert by_rule(found)["circuit.wait_card"].verdict == "unknown"


@pytest.mark.parametrize(
    ("name", "load", "has_one"),
    [
        ("heater", "ceramic heater", False),
        ("cabin", "compressor", True),
        ("fast inlet", "inlet", False),
        ("spare", "dc-dc", True),
    ],
)
def test_a_converter_whose_capacitance_is_not_said_has_one_of_unknown_size(
    name: str, load: str, has_one: bool
):
    branch = f'[[hv.branch]]\nname = "{name}"\nload = "{load}"\ncurrent = "5 A"\n\n[charging]\n'
    circuit = circuit_of(car_from(text_of("ridgeway").replace("[charging]\n", branch)))
    assert (f"{name} capacitor" in circuit.by_name) == has_one


def test_a_capacitance_not_said_is_not_said_in_the_full_form_either():
    text = changed(text_of("ridgeway"), {"hv.branch[0].capacitance": None})
    full = car_from(full_form_text(load_text(text, "a car"), car_from(text)))
    assert "charger capacitor" in circuit_of(full).by_name
    assert by_rule(assess(full))["circuit.wait_card"].verdict == "unknown"


def test_a_blown_branch_fuse_strands_the_charge_behind_it():
    found = {each.capacitor.name: each.fuses for each in stranded(circuit_of(car({})))}
    assert found == {
        "charger capacitor": ("charger fuse",),
        "dc-dc capacitor": ("dc-dc fuse",),
    }
    rule = by_rule(assessment_of("ridgeway"))["circuit.stranded_charge"]
    assert rule.verdict == "watch"
    energies = assessment_of("ridgeway").figures
    kept = energies["circuit.charger_capacitor.stranded_energy"].value.si
    assert kept == pytest.approx(0.5 * 1.2 * 4.7e-6 * VOLTS**2, rel=1e-9)


def test_a_small_capacitor_is_watched_for_its_volts():
    found = assess(car({"hv.branch[0].capacitance": "1 uF", "hv.branch[1].bleed": "100 kohm"}))
    rule = by_rule(found)["circuit.stranded_charge"]
    assert rule.verdict == "watch"
    assert rule.limit is not None
    assert rule.limit.unit == "V"


def test_a_bleed_behind_the_fuse_strands_nothing():
    bled = {f"hv.branch[{number}].bleed": "100 kohm" for number in (0, 1)}
    assert stranded(circuit_of(car(bled))) == ()


# Two faults to the chassis

SIDES = ("front pack +", "service disconnect out")


def test_the_chassis_in_place_of_the_open_disconnect_leaves_the_car_live():
    closed, opened = earthed(car({}), SIDES)
    assert closed.between == opened.between == 0.0
    assert "same voltage" in closed.why
    assert closed.beside == ("service disconnect",)
    assert closed.bridged is None
    assert opened.poles == pytest.approx(VOLTS, rel=1e-6)
    assert opened.gaps["service disconnect"] == 0.0
    assert opened.bridged is not None
    # As at the pack's terminals with the disconnect closed, less its own fifth of a milliohm.
    terminals = assessment_of("ridgeway").figures["fault.pack_terminals.current_full"].value.si
    assert opened.bridged.current == pytest.approx(terminals, rel=0.01)
    assert opened.bridged.current > terminals
    assert opened.bridged.ended is None
    assert opened.bridged.why.startswith("nothing clears this fault")


def test_a_fuse_in_the_gap_is_bypassed_by_the_chassis():
    mid = car({"hv.main_fuse": '{ part = "fuse-200a-500vdc", at = "mid" }'})
    rear = circuit_of(mid).by_name["rear pack"].minus
    _, opened = earthed(mid, ("front pack +", rear))
    assert opened.bridged is not None
    assert opened.bridged.ended is None
    assert "main fuse" in opened.beside


def test_both_outer_ends_on_the_chassis_put_the_pack_on_the_gap_and_bridge_nothing():
    _, opened = earthed(car({}), ("pack +", "pack -"))
    assert opened.bridged is None
    assert opened.poles == 0.0
    assert opened.gaps["service disconnect"] == pytest.approx(VOLTS, rel=1e-6)


def test_a_charged_link_keeps_the_other_pole_at_its_voltage_with_the_gap_open():
    closed, opened = earthed(car({}), ("pack +",))
    assert closed.from_link == {}
    assert abs(opened.voltages["minus pole"] or 0.0) < 1.0
    assert opened.from_link["minus pole"] == pytest.approx(-VOLTS, rel=1e-3)
    touched = {each.node: each for each in opened.touched}
    assert touched["minus pole"].voltage == pytest.approx(-VOLTS, rel=1e-3)


def test_what_only_the_arithmetic_leaves_is_no_voltage():
    for result in earthed(car({}), SIDES):
        for volts in (*result.voltages.values(), *result.gaps.values()):
            assert volts is None or volts == 0.0 or abs(volts) > 1e-3
