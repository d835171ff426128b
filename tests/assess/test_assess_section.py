"""Live or not: what a section of the circuit may hold, for any state of its switches."""

from __future__ import annotations

import random
from itertools import pairwise

import pytest
from example_cars import SOUND, STRINGS, car_of
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.assess.circuit.section import (
    CONTACTORS,
    FROM_OUTSIDE,
    LIVE,
    MAY_BE_LIVE,
    SEPARATED,
    STORED,
    SectionState,
    SwitchState,
    live_or_not,
    sections,
    source_name,
)
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.model import CHASSIS, Circuit, Element
from swapwright.physics.circuit.network import Network, Part, solve_dc

DANGER = {SEPARATED: 0, STORED: 1, MAY_BE_LIVE: 2, LIVE: 3}
many = settings(max_examples=150, deadline=None, derandomize=True)
UNPLUGGED: frozenset[str] = frozenset()


def switches(circuit: Circuit, *kinds: str) -> frozenset[str]:
    return frozenset(each.name for each in circuit.elements if each.kind in kinds)


def by_name(circuit: Circuit, state: SwitchState) -> dict[str, SectionState]:
    return {each.section.name: each for each in live_or_not(circuit, state)}


@pytest.mark.property
@pytest.mark.parametrize("name", [*SOUND, STRINGS])
def test_with_the_key_off_and_nothing_measured_every_section_may_be_live(name: str):
    circuit = circuit_of(car_of(name))
    state = SwitchState(closed=switches(circuit, model.DISCONNECT))
    for found in live_or_not(circuit, state):
        assert DANGER[found.word] >= DANGER[MAY_BE_LIVE], found.section.name


@pytest.mark.property
@pytest.mark.parametrize("name", [*SOUND, STRINGS])
def test_with_every_gap_open_and_all_unplugged_the_halves_live_on_and_the_link_holds_charge(
    name: str,
):
    circuit = circuit_of(car_of(name))
    found = by_name(circuit, SwitchState(joined=UNPLUGGED))
    packs = circuit.of_kind(model.PACK)
    assert len(packs) >= 2
    for pack in packs:
        half = next(each for each in found.values() if pack.name in each.section.elements)
        assert half.word == LIVE
        assert [reach.source for reach in half.reached_by] == [pack.name]
        assert half.span == pytest.approx(pack.share)
    assert found["inverter"].word == STORED
    assert found["inverter"].reached_by == ()


@pytest.mark.property
def test_two_strings_need_two_gaps():
    circuit = circuit_of(car_of(STRINGS))
    gaps = sorted(switches(circuit, model.DISCONNECT))
    assert len(gaps) == 2
    for shut in gaps:
        state = SwitchState(closed=frozenset({shut}), joined=UNPLUGGED)
        found = by_name(circuit, state)["inverter"]
        assert found.word == MAY_BE_LIVE
        assert found.span == pytest.approx(1.0)
    assert by_name(circuit, SwitchState(joined=UNPLUGGED))["inverter"].word == STORED


@pytest.mark.property
def test_a_string_reaches_the_link_through_its_welded_contactors():
    circuit = circuit_of(car_of("ridgeway"))
    closed = switches(circuit, model.DISCONNECT)
    found = by_name(circuit, SwitchState(closed=closed, joined=UNPLUGGED))["inverter"]
    for reach in found.reached_by:
        # Both poles open: one welded contactor alone brings no current, two do.
        assert not reach.through_one
        assert len(reach.welded) >= 2
    one_shut = closed | {"main contactors -"}
    found = by_name(circuit, SwitchState(closed=one_shut, joined=UNPLUGGED))["inverter"]
    for reach in found.reached_by:
        assert reach.through_one
        assert "main contactors +" in reach.welded


@pytest.mark.property
def test_contactors_a_person_has_measured_open_separate_the_link():
    circuit = circuit_of(car_of("ridgeway"))
    state = SwitchState(
        closed=switches(circuit, model.DISCONNECT),
        joined=UNPLUGGED,
        measured_open=switches(circuit, *CONTACTORS),
    )
    assert by_name(circuit, state)["inverter"].word == STORED


@pytest.mark.property
@pytest.mark.parametrize("source", sorted(set(FROM_OUTSIDE.values())))
def test_what_is_joined_from_outside_keeps_the_link_live(source: str):
    circuit = circuit_of(car_of("ridgeway"))
    state = SwitchState(joined=frozenset({source}), measured_open=switches(circuit, *CONTACTORS))
    found = by_name(circuit, state)["inverter"]
    assert found.word == LIVE
    assert all(source in reach.source for reach in found.reached_by)


KINDS = (
    model.CONTACTOR,
    model.CONTACTOR,
    model.PRECHARGE_RELAY,
    model.DISCONNECT,
    model.CABLE,
    model.FUSE,
    model.LINK,
    model.BLEED,
    model.INVERTER,
    model.CHARGER,
    model.LOAD,
    model.Y_CAPACITOR,
)


def random_circuit(seed: int) -> Circuit:
    """Return a circuit of a pack or two and some twenty elements between a few nodes."""
    pick = random.Random(seed)
    nodes = [f"n{number}" for number in range(pick.randint(3, 9))]
    found = []
    for number in range(pick.randint(5, 20)):
        kind = model.PACK if number < pick.randint(1, 2) else pick.choice(KINDS)
        one, other = pick.sample(nodes, 2)
        if kind in model.TO_CHASSIS:
            other = CHASSIS
        string = number + 1 if kind == model.PACK else 0
        found.append(Element(f"e{number}", kind, one, other, f"e{number}", "hv", string=string))
    return Circuit(tuple(found))


def chain(circuit: Circuit, seed: int) -> list[frozenset[str]]:
    """Return sets of closed switches, each with one more than the one before."""
    names = [each.name for each in circuit.elements if each.is_switch]
    random.Random(seed).shuffle(names)
    return [frozenset(names[:count]) for count in range(len(names) + 1)]


@pytest.mark.property
@many
@given(seed=st.integers(0, 10**6), joined=st.sets(st.sampled_from(sorted(FROM_OUTSIDE.values()))))
def test_opening_one_more_switch_never_makes_a_section_more_dangerous(seed: int, joined: set[str]):
    circuit = random_circuit(seed)
    states = [
        live_or_not(circuit, SwitchState(closed=closed, joined=frozenset(joined)))
        for closed in chain(circuit, seed)
    ]
    for fewer, more in pairwise(states):
        for one, other in zip(fewer, more, strict=True):
            assert one.section == other.section
            assert DANGER[one.word] <= DANGER[other.word]
            assert {reach.source for reach in one.reached_by} <= {
                reach.source for reach in other.reached_by
            }


@pytest.mark.property
@many
@given(seed=st.integers(0, 10**6))
def test_a_contactor_measured_open_or_a_source_unplugged_never_adds_danger(seed: int):
    circuit = random_circuit(seed)
    closed = frozenset(
        name for name in chain(circuit, seed)[-1] if circuit.by_name[name].kind == model.DISCONNECT
    )
    plain = live_or_not(circuit, SwitchState(closed=closed))
    measured = live_or_not(
        circuit, SwitchState(closed=closed, measured_open=switches(circuit, *CONTACTORS))
    )
    unplugged = live_or_not(circuit, SwitchState(closed=closed, joined=UNPLUGGED))
    for one, two, three in zip(plain, measured, unplugged, strict=True):
        assert DANGER[two.word] <= DANGER[one.word]
        assert DANGER[three.word] <= DANGER[one.word]


def driven(circuit: Circuit, closed: frozenset[str], source: Element, seed: int) -> set[str]:
    """Return the elements a source drives current through, by solving the circuit for it alone."""
    pick = random.Random(seed)
    parts = []
    for each in circuit.elements:
        if each.kind in model.TO_CHASSIS or (each.is_switch and each.name not in closed):
            continue
        ohms = pick.uniform(1.0, 9.0)
        if each is source:
            parts.append(Part(each.name, "source", each.plus, each.minus, 9.0, resistance=ohms))
        else:
            parts.append(Part(each.name, "resistor", each.plus, each.minus, ohms))
    currents = solve_dc(Network(tuple(parts))).currents
    return {name for name, current in currents.items() if abs(current) > 1e-9} | {source.name}


@pytest.mark.property
@settings(max_examples=60, deadline=None, derandomize=True)
@given(seed=st.integers(0, 10**6))
def test_the_sources_named_of_a_live_section_are_those_that_drive_current_in_it(seed: int):
    circuit = random_circuit(seed)
    closed = random.Random(seed).choice(chain(circuit, seed))
    states = live_or_not(circuit, SwitchState(closed=closed))
    outside = [each for each in circuit.elements if each.kind in (model.PACK, *FROM_OUTSIDE)]
    reached = {source.name: driven(circuit, closed, source, seed) for source in outside}
    for state in states:
        # Nothing but switches may touch a section: what flows through one stands in it.
        inside = {each.name for each in circuit.at(state.section.nodes)}
        expected = {source_name(source) for source in outside if reached[source.name] & inside}
        now = {reach.source for reach in state.reached_by if not reach.welded}
        assert now == expected
        assert (state.word == LIVE) == bool(expected)


@pytest.mark.property
@many
@given(seed=st.integers(0, 10**6))
def test_no_section_is_ever_called_dead(seed: int):
    circuit = random_circuit(seed)
    for state in live_or_not(circuit, SwitchState(joined=UNPLUGGED)):
        assert state.word in DANGER
        assert "dead" not in state.word
        assert "isolated" not in state.word
        assert (state.word in (STORED, SEPARATED)) == (not state.reached_by)
        assert (state.word == STORED) <= bool(state.stores or state.charges)


@pytest.mark.property
@many
@given(seed=st.integers(0, 10**6))
def test_every_node_lies_in_one_section(seed: int):
    circuit = random_circuit(seed)
    nodes = [node for section in sections(circuit) for node in section.nodes]
    assert sorted(nodes) == sorted(circuit.nodes)
    held = [name for section in sections(circuit) for name in section.elements]
    assert len(held) == len(set(held))
    assert set(held) == {each.name for each in circuit.elements if not each.is_switch}
