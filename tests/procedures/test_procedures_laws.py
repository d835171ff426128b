"""Laws of the isolation procedure, on circuits drawn by lot."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from procedure_cars import (
    BRANCHES,
    car_circuit,
    ids,
    of_circuit,
    tangle,
)

from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Element
from swapwright.procedures.points import MeasuringPoint, measuring_points, opened
from swapwright.procedures.step import Procedure, Step

pytestmark = pytest.mark.property

many = settings(max_examples=300, deadline=None, derandomize=True)
some = settings(max_examples=60, deadline=None, derandomize=True)
seeds = st.integers(0, 10**6)
kinds = st.lists(st.sampled_from(BRANCHES), min_size=1, max_size=4)
gaps = st.lists(st.booleans(), min_size=1, max_size=3)
all_gaps = st.lists(st.just(True), min_size=1, max_size=3)
NO_GAP = (model.CONTACTOR, model.PRECHARGE_RELAY)


def conducting(circuit: Circuit) -> list[Element]:
    """Return what joins two nodes once every disconnect is open: contactors taken as welded."""
    return [
        e
        for e in circuit.elements
        if e.kind != model.DISCONNECT and CHASSIS not in (e.plus, e.minus)
    ]


def drives(circuit: Circuit, source: Element, point: MeasuringPoint) -> bool:
    """Tell whether a source can drive a current through a meter at a point.

    It can where two paths that share no node lead from its terminals to the two tips: found by
    letting two units flow over nodes that each let one through.
    """
    if {source.plus, source.minus} == {point.plus, point.minus}:
        return True
    room: dict[tuple[str, str], dict[tuple[str, str], int]] = {}

    def join(one: tuple[str, str], other: tuple[str, str]) -> None:
        room.setdefault(one, {})[other] = 1
        room.setdefault(other, {}).setdefault(one, 0)

    for node in circuit.nodes:
        join((node, "in"), (node, "out"))
    for e in conducting(circuit):
        if e is not source and e.plus != e.minus:
            join((e.plus, "out"), (e.minus, "in"))
            join((e.minus, "out"), (e.plus, "in"))
    start, end = ("", "source"), ("", "meter")
    for node in (source.plus, source.minus):
        join(start, (node, "in"))
    for node in (point.plus, point.minus):
        join((node, "out"), end)
    return all(augmented(room, start, end) for _ in range(2))


def augmented(
    room: dict[tuple[str, str], dict[tuple[str, str], int]],
    start: tuple[str, str],
    end: tuple[str, str],
) -> bool:
    """Send one more unit from start to end, breadth first; tell whether it went."""
    came: dict[tuple[str, str], tuple[str, str]] = {start: start}
    waiting = [start]
    while waiting and end not in came:
        node = waiting.pop(0)
        for far, left in room.get(node, {}).items():
            if left and far not in came:
                came[far] = node
                waiting.append(far)
    if end not in came:
        return False
    node = end
    while node != start:
        room[came[node]][node] -= 1
        room[node][came[node]] += 1
        node = came[node]
    return True


def nothing_reaches(circuit: Circuit) -> int:
    points = [p for p in measuring_points(opened(circuit)) if p.minus]
    for point in points:
        for source in circuit.of_kind(model.PACK):
            assert not drives(circuit, source, point), (source.name, point)
    return len(points)


@many
@given(seed=seeds)
def test_after_the_last_gap_no_source_reaches_a_point_of_absence_in_any_tangle(seed: int):
    nothing_reaches(tangle(seed))


@some
@given(seed=seeds, feeds=kinds, strings=gaps)
def test_after_the_last_gap_no_source_reaches_a_point_of_absence_in_any_car(
    seed: int, feeds: list[str], strings: list[bool]
):
    circuit = car_circuit(seed, feeds, strings)
    found = nothing_reaches(circuit)
    if all(strings):
        # One for each branch and for the bus, and more between contactors.
        assert found >= len(feeds) + 1


def test_the_tangles_have_points_of_absence_that_a_closed_gap_would_reach():
    reached = total = 0
    for seed in range(400):
        circuit = tangle(seed)
        shut = Circuit(
            tuple(
                Element(e.name, model.CABLE, e.plus, e.minus, e.device, e.path)
                if e.kind == model.DISCONNECT
                else e
                for e in circuit.elements
            )
        )
        for point in measuring_points(opened(circuit)):
            if point.minus:
                total += 1
                reached += any(drives(shut, s, point) for s in shut.of_kind(model.PACK))
    assert total > 100, total
    assert reached > 30, reached


def absence(found: Procedure) -> list[Step]:
    return [s for s in found.steps if s.reading is not None and s.reading.limit is not None]


def joined_nodes(circuit: Circuit, start: set[str]) -> set[str]:
    """Return the nodes that conductors without a switch join to some nodes."""
    found = set(start)
    while True:
        more = {
            node
            for e in circuit.elements
            if not e.is_switch and e.kind not in model.TO_CHASSIS and {e.plus, e.minus} & found
            for node in (e.plus, e.minus)
        }
        if more <= found:
            return found
        found |= more


def check_stores(circuit: Circuit) -> None:
    found = of_circuit(circuit)
    emptied = {name for s in found.steps if s.act == "wait" for name in s.about}
    listed = " ".join(f"{each.where} {each.words}" for each in found.remaining)
    points = measuring_points(opened(circuit))
    measured = {node for p in points for node in (p.plus, p.minus)}
    at = {frozenset((p.plus, p.minus)) for p in points}
    for store in circuit.of_kind(model.LINK, model.Y_CAPACITOR, model.PACK):
        if store.name in emptied:
            if store.kind == model.LINK and store.plus != store.minus:
                assert frozenset((store.plus, store.minus)) in at, store.name
            assert joined_nodes(circuit, {store.plus, store.minus} - {CHASSIS}) & measured
        else:
            assert f"{store.name}" in listed, store.name
    assert bool(points) == bool(absence(found))


@many
@given(seed=seeds)
def test_every_store_is_waited_for_and_measured_or_told_of_in_any_tangle(seed: int):
    check_stores(tangle(seed))


@some
@given(seed=seeds, feeds=kinds, strings=gaps)
def test_every_store_is_waited_for_and_measured_or_told_of_in_any_car(
    seed: int, feeds: list[str], strings: list[bool]
):
    check_stores(car_circuit(seed, feeds, strings))


@some
@given(seed=seeds, feeds=kinds, strings=all_gaps, data=st.data())
def test_taking_a_source_out_takes_exactly_its_steps_out(
    seed: int, feeds: list[str], strings: list[bool], data: st.DataObject
):
    number = data.draw(st.integers(0, len(feeds) - 1))
    whole, less = (car_circuit(seed, feeds, strings, without=without) for without in (None, number))
    gone = {e.name for e in whole.elements} - {e.name for e in less.elements}
    before, after = of_circuit(whole), of_circuit(less)
    own = {s.id for s in before.steps if s.about and set(s.about) <= gone}
    assert own
    assert ids(after) == [each for each in ids(before) if each not in own]
    others = {s.id: s for s in after.steps}
    for step in before.steps:
        if not set(step.about) & gone:
            assert others[step.id] == step
    assert {s.name for s in after.sources} <= {s.name for s in before.sources}


@some
@given(seed=seeds, feeds=kinds, strings=all_gaps)
def test_one_more_string_with_its_gap_takes_no_step_away(
    seed: int, feeds: list[str], strings: list[bool]
):
    fewer = of_circuit(car_circuit(seed, feeds, strings))
    more = of_circuit(car_circuit(seed, feeds, [*strings, True]))
    kept = [each for each in ids(fewer) if not each.startswith(("measure.", "again.", "walk."))]
    assert set(kept) <= set(ids(more))
    assert len(more.steps) > len(fewer.steps)
    assert len(more.sources) > len(fewer.sources)


@some
@given(seed=seeds, feeds=kinds, strings=gaps)
def test_a_string_without_a_gap_of_its_own_takes_absence_away(
    seed: int, feeds: list[str], strings: list[bool]
):
    found = of_circuit(car_circuit(seed, feeds, strings))
    assert bool(found.no_absence) == (not all(strings))
    assert (found.step("sign.absence") is not None) == all(strings)
    if not all(strings):
        assert any("not separated" in why for why in found.no_absence)


@many
@given(seed=seeds)
def test_a_contactor_is_never_a_gap(seed: int):
    circuit = tangle(seed)
    found = of_circuit(circuit)
    contactors = {name for e in circuit.of_kind(*NO_GAP) for name in (e.name, e.device)}
    for each in found.steps:
        if each.act in ("open", "lock"):
            assert not contactors & set(each.about), each.id
    opened_gaps = {n for s in found.steps if s.id.startswith("open.gap.") for n in s.about}
    assert opened_gaps == {e.name for e in circuit.of_kind(model.DISCONNECT)}
    for source in found.sources:
        assert not contactors & set(source.gap.replace(" and ", ", ").split(", ")), source


@many
@given(seed=seeds)
def test_ids_are_one_each_and_every_second_reading_has_its_first(seed: int):
    found = of_circuit(tangle(seed))
    assert len(ids(found)) == len(set(ids(found)))
    order = {each: number for number, each in enumerate(ids(found))}
    first = {s.id for s in absence(found) if s.reading is not None and not s.reading.first}
    repeated = {s.reading.first for s in absence(found) if s.reading is not None} - {""}
    assert first == repeated
    for s in absence(found):
        assert s.reading is not None
        assert order["prove.before"] < order[s.id] < order["prove.after"]
        if s.reading.first:
            assert order[s.reading.first] < order[s.id]
            assert s.reading.after >= 60.0


@many
@given(seed=seeds)
def test_every_pack_is_told_of_as_never_off(seed: int):
    circuit = tangle(seed)
    found = of_circuit(circuit)
    for pack in circuit.of_kind(model.PACK):
        (told,) = [each for each in found.remaining if each.where == pack.name]
        assert "Never off" in told.words
