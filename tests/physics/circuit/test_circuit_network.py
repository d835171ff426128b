from __future__ import annotations

import random
from fractions import Fraction
from itertools import pairwise
from math import inf, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import spsolve

from swapwright.physics.circuit.network import (
    Network,
    NetworkError,
    Part,
    Thevenin,
    all_faults,
    all_thevenin,
    fault,
    loop_inductance,
    solve_dc,
    thevenin,
)

SEEDS = st.integers(0, 10**9)


def network(*parts: Part) -> Network:
    return Network(parts)


def resistor(name: str, a: str, b: str, ohms: float, inductance: float = 0.0) -> Part:
    return Part(name, "resistor", a, b, ohms, inductance=inductance)


def pack(
    volts: float, ohms: float, henries: float = 0.0, a: str = "plus", b: str = "minus"
) -> Part:
    return Part("pack", "source", a, b, volts, ohms, henries)


def random_network(seed: int, *, loads: bool = False) -> Network:
    """Everything hangs together; sources have resistance, resistances span a car's range."""
    draw = random.Random(seed)
    nodes = [f"n{k}" for k in range(draw.randint(3, 9))]
    tree = [(draw.choice(nodes[:k]), nodes[k]) for k in range(1, len(nodes))]
    more = [tuple(draw.sample(nodes, 2)) for _ in range(draw.randint(1, 8))]
    parts = [pack(400.0, 0.05, a=nodes[0], b=nodes[1])]
    for k, (a, b) in enumerate([*tree, *more]):
        if draw.random() < 0.25:
            emf, ohms = draw.uniform(10.0, 800.0), draw.uniform(0.01, 0.2)
            parts.append(Part(f"p{k}", "source", a, b, emf, ohms, draw.uniform(0.0, 1e-5)))
        elif draw.random() < 0.1:
            parts.append(Part(f"p{k}", "inductor", a, b, 1e-5, 10 ** draw.uniform(-4.0, 0.0)))
        else:
            parts.append(resistor(f"p{k}", a, b, 10 ** draw.uniform(-4.0, 6.0)))
    for k in range(draw.randint(0, 2)):
        parts.append(Part(f"i{k}", "current", *draw.sample(nodes, 2), draw.uniform(-200.0, 200.0)))
    if loads:
        seen = thevenin(Network(tuple(parts)), nodes[0], nodes[1])
        most = seen.voltage**2 / (4.0 * seen.resistance)
        for k in range(draw.randint(1, 2)):
            share = draw.uniform(-0.3, 0.45)
            parts.append(Part(f"w{k}", "power", nodes[0], nodes[1], share * most))
    return Network(tuple(parts))


def tableau(circuit: Network) -> dict[str, float]:
    """Solve for every branch current and branch voltage at once: sparse, by loops and nodes.

    Another formulation than the solver's: Kirchhoff's current law at all nodes but one of a
    network in one piece, his voltage law around the loops of a tree grown in the order of the
    parts, and one law for each part.
    """
    parts, nodes = circuit.parts, circuit.nodes
    up = {nodes[0]: {}}
    waiting = list(parts)
    tree = set()
    while grown := [p for p in waiting if (p.a in up) != (p.b in up)]:
        part = grown[0]
        near, far, sign = (part.a, part.b, -1.0) if part.a in up else (part.b, part.a, 1.0)
        up[far] = up[near] | {part.name: sign}
        tree.add(part.name)
        waiting = [p for p in waiting if p.name not in tree]
    assert set(up) == set(nodes)
    count = len(parts)
    place = {part.name: k for k, part in enumerate(parts)}
    rows, right = [], []
    for node in nodes[1:]:
        rows.append(
            {place[p.name]: (1.0 if p.a == node else -1.0) for p in parts if node in (p.a, p.b)}
        )
        right.append(0.0)
    for part in (p for p in parts if p.name not in tree):
        row = {count + place[part.name]: 1.0}
        for name, sign in up[part.a].items():
            row[count + place[name]] = row.get(count + place[name], 0.0) - sign
        for name, sign in up[part.b].items():
            row[count + place[name]] = row.get(count + place[name], 0.0) + sign
        rows.append(row)
        right.append(0.0)
    for k, part in enumerate(parts):
        if part.kind == "current":
            rows.append({k: 1.0})
            right.append(part.value)
        else:
            rows.append({k: -part.ohms, count + k: 1.0})
            right.append(part.emf)
    entries = [(r, c, value) for r, row in enumerate(rows) for c, value in row.items()]
    r, c, values = zip(*entries, strict=True)
    found = spsolve(csc_matrix((values, (r, c)), shape=(2 * count, 2 * count)), np.array(right))
    return {part.name: float(found[k]) for k, part in enumerate(parts)}


# -- at rest


# The five-resistor bridge of every textbook of circuits; its sum by star and triangle.
@pytest.mark.arithmetic
def test_the_unbalanced_bridge_has_the_resistance_of_its_star():
    top, left, right = (Fraction(x, 8) for x in (1 * 2, 1 * 5, 2 * 5))
    below, beside = left + 3, right + 4
    whole = top + below * beside / (below + beside)
    bridge = [
        resistor("r1", "t", "l", 1.0),
        resistor("r2", "t", "r", 2.0),
        resistor("r3", "l", "b", 3.0),
        resistor("r4", "r", "b", 4.0),
        resistor("r5", "l", "r", 5.0),
    ]
    assert thevenin(network(*bridge), "t", "b").resistance == pytest.approx(float(whole), rel=1e-12)
    found = solve_dc(network(Part("e", "source", "t", "b", 10.0), *bridge))
    assert -found.currents["e"] == pytest.approx(10.0 / float(whole), rel=1e-12)
    # current of the middle from the same star: its ends differ by what left and right drop
    i_left = 10.0 / float(whole) * float(beside / (below + beside))
    middle = i_left * 3.0 - (10.0 / float(whole) - i_left) * 4.0
    assert found.currents["r5"] == pytest.approx(middle / 5.0, rel=1e-12)


@pytest.mark.arithmetic
def test_a_balanced_bridge_carries_nothing_in_the_middle():
    parts = [pack(100.0, 0.0), resistor("m", "l", "r", 7.0)]
    for name, a, b, ohms in (
        ("r1", "plus", "l", 10.0),
        ("r2", "plus", "r", 20.0),
        ("r3", "l", "minus", 30.0),
        ("r4", "r", "minus", 60.0),
    ):
        parts.append(resistor(name, a, b, ohms))
    assert solve_dc(network(*parts)).currents["m"] == pytest.approx(0.0, abs=1e-12)


@pytest.mark.arithmetic
def test_a_constant_power_load_takes_the_upper_of_its_two_voltages():
    found = solve_dc(network(pack(400.0, 0.1), Part("drive", "power", "plus", "minus", 100e3)))
    volts = 200.0 + sqrt(200.0**2 - 0.1 * 100e3)
    assert found.across("plus", "minus") == pytest.approx(volts, rel=1e-12)
    assert found.powers["drive"] == pytest.approx(100e3, rel=1e-11)


@pytest.mark.arithmetic
@pytest.mark.parametrize("share", [0.5, 0.99, 0.999999])
def test_a_load_up_to_the_most_a_pack_can_give_is_met(share):
    most = 400.0**2 / (4.0 * 0.1)
    load = Part("drive", "power", "plus", "minus", share * most)
    found = solve_dc(network(pack(400.0, 0.1), load))
    assert found.powers["drive"] == pytest.approx(share * most, rel=1e-9)
    assert found.across("plus", "minus") > 200.0


@pytest.mark.arithmetic
def test_the_load_that_asks_more_than_the_pack_can_give_is_named():
    load = Part("drive", "power", "plus", "minus", 400.1e3)
    heater = Part("heater", "power", "plus", "minus", 10.0)
    with pytest.raises(NetworkError, match=r"drive: asks 400100 W") as caught:
        solve_dc(network(pack(400.0, 0.1), load, heater))
    assert caught.value.names == ("drive",)


@pytest.mark.arithmetic
def test_a_regenerating_drive_lifts_the_pack():
    found = solve_dc(network(pack(400.0, 0.1), Part("drive", "power", "plus", "minus", -40e3)))
    volts = 200.0 + sqrt(200.0**2 + 0.1 * 40e3)
    assert found.across("plus", "minus") == pytest.approx(volts, rel=1e-12)
    assert found.powers["pack"] > 0.0


@pytest.mark.arithmetic
def test_one_isolation_fault_leaves_the_other_pole_at_pack_voltage_to_the_chassis():
    found = solve_dc(
        network(
            pack(400.0, 0.1),
            resistor("plus_leak", "plus", "chassis", 100.0),
            resistor("minus_leak", "minus", "chassis", 1e6),
        )
    )
    leak = 400.0 / (1e6 + 100.0 + 0.1)
    assert found.across("plus", "chassis") == pytest.approx(100.0 * leak, rel=1e-9)
    assert found.currents["minus_leak"] == pytest.approx(-leak, rel=1e-9)
    assert found.references["plus"] == "chassis"


@pytest.mark.arithmetic
def test_two_circuits_that_nothing_joins_have_no_voltage_between_them():
    found = solve_dc(
        network(
            pack(400.0, 0.1),
            resistor("bleed", "plus", "minus", 2e4),
            Part("aux", "source", "aux_plus", "chassis", 12.0, 0.01),
            Part("y", "capacitor", "plus", "chassis", 1e-7),
        )
    )
    assert found.across("aux_plus", "chassis") == pytest.approx(12.0)
    assert found.currents["y"] == 0.0
    with pytest.raises(NetworkError, match="nothing joins 'plus' and 'chassis'"):
        found.across("plus", "chassis")


@pytest.mark.arithmetic
def test_an_empty_network_has_an_empty_solution():
    assert solve_dc(network()).voltages == {}
    assert all_thevenin(network(), []) == ()


# -- the two second opinions and the laws


@pytest.mark.arithmetic
@given(SEEDS)
def test_a_random_network_agrees_with_a_sparse_solution_by_loops(seed):
    circuit = random_network(seed)
    found, expected = solve_dc(circuit).currents, tableau(circuit)
    largest = max(map(abs, expected.values()))
    for name, current in expected.items():
        assert found[name] == pytest.approx(current, rel=1e-7, abs=1e-10 * largest)


@pytest.mark.property
@given(SEEDS)
def test_the_powers_of_all_parts_add_up_to_nothing(seed):
    found = solve_dc(random_network(seed, loads=True))
    largest = max(map(abs, found.powers.values()))
    assert sum(found.powers.values()) == pytest.approx(0.0, abs=1e-9 * largest)
    assert found.residual <= 1e-9 * max(map(abs, found.currents.values()))


@pytest.mark.property
@given(SEEDS)
def test_the_sources_together_do_what_each_does_alone(seed):
    circuit = random_network(seed)
    whole = solve_dc(circuit).currents
    sums = dict.fromkeys(whole, 0.0)
    live = [part for part in circuit.parts if part.kind in ("source", "current")]
    largest = max(map(abs, whole.values()))
    for one in live:
        still = {
            part.name: Part(part.name, part.kind, part.a, part.b, 0.0, part.resistance)
            for part in live
            if part is not one
        }
        alone = solve_dc(circuit.changed(still)).currents
        largest = max(largest, *map(abs, alone.values()))
        sums = {name: sums[name] + alone[name] for name in sums}
    for name, current in sums.items():
        assert whole[name] == pytest.approx(current, rel=1e-6, abs=1e-8 * largest)


@pytest.mark.property
@given(SEEDS)
def test_a_pair_of_nodes_is_the_same_source_from_both_ends(seed):
    circuit = random_network(seed)
    a, b = random.Random(seed).sample(circuit.nodes, 2)
    there, back = all_thevenin(circuit, [(a, b), (b, a)])
    assert back.resistance == pytest.approx(there.resistance, rel=1e-9)
    assert back.voltage == pytest.approx(-there.voltage, rel=1e-9, abs=1e-9)


@pytest.mark.property
@given(SEEDS)
def test_a_resistor_across_two_nodes_carries_what_thevenin_says(seed):
    circuit = random_network(seed)
    a, b = random.Random(seed).sample(circuit.nodes, 2)
    seen = thevenin(circuit, a, b)
    loaded = solve_dc(circuit.changed({"extra": resistor("extra", a, b, 0.5)}))
    expected = seen.voltage / (seen.resistance + 0.5)
    scale = max(map(abs, loaded.currents.values()))
    assert loaded.currents["extra"] == pytest.approx(expected, rel=1e-6, abs=1e-9 * scale)


@pytest.mark.property
@given(SEEDS)
def test_a_push_here_seen_there_is_the_same_the_other_way_round(seed):
    circuit = random_network(seed)
    still = {
        part.name: Part(part.name, part.kind, part.a, part.b, 0.0, part.resistance)
        for part in circuit.parts
        if part.kind in ("source", "current")
    }
    quiet = circuit.changed(still)
    draw = random.Random(seed)
    one, other = draw.sample(circuit.nodes, 2), draw.sample(circuit.nodes, 2)
    there = solve_dc(quiet.changed({"push": Part("push", "current", *one, 1.0)}))
    back = solve_dc(quiet.changed({"push": Part("push", "current", *other, 1.0)}))
    scale = max(map(abs, (*there.voltages.values(), *back.voltages.values())))
    assert there.across(*other) == pytest.approx(back.across(*one), rel=1e-7, abs=1e-9 * scale)


@pytest.mark.property
@given(SEEDS, st.floats(1.0, 100.0))
def test_a_longer_cable_never_raises_the_fault_current(seed, longer):
    draw = random.Random(seed)
    parts = [pack(400.0, draw.uniform(0.02, 0.2), 4e-6)]
    names = ["plus", "a", "b", "c", "minus"]
    for k, (a, b) in enumerate(pairwise(names[:-1])):
        parts.append(resistor(f"cable{k}", a, b, draw.uniform(1e-4, 1e-2), 1e-6))
    parts.append(resistor("bleed", "c", "minus", 2e4))
    parts.append(resistor("second", "plus", draw.choice("abc"), draw.uniform(1e-4, 1e-2), 1e-6))
    circuit = Network(tuple(parts))
    old = circuit.part(f"cable{draw.randrange(3)}")
    new = resistor(old.name, old.a, old.b, old.ohms * longer, old.henries * longer)
    shorter, further = (
        fault(each, "c", "minus") for each in (circuit, circuit.changed({old.name: new}))
    )
    assert further.prospective <= shorter.prospective * (1.0 + 1e-12)


# -- faults


# 96 cells of 1 mohm, 20 mohm of loop, 5 uH, 355 V: V/R and L/R.
@pytest.mark.arithmetic
def test_a_shorted_pack_gives_voltage_over_resistance_with_the_lag_of_its_loop():
    found = fault(
        network(pack(355.0, 0.096), resistor("loop", "plus", "x", 0.02, 5e-6)), "x", "minus"
    )
    assert found.prospective == pytest.approx(3060.3, abs=0.05)
    assert found.time_constant == pytest.approx(43.1e-6, abs=0.05e-6)


@pytest.mark.property
@given(st.floats(1e2, 1e7), st.floats(1e-7, 1e-4))
def test_a_bleed_beside_a_fault_hardly_alters_its_inductance(bleed, henries):
    circuit = network(pack(400.0, 0.05, henries), resistor("bleed", "plus", "minus", bleed))
    assert loop_inductance(circuit, "plus", "minus") == pytest.approx(henries, rel=2e-3)


@pytest.mark.arithmetic
def test_two_strings_in_parallel_feed_a_fault_with_half_the_loop_of_one():
    strings = [Part(f"string{k}", "source", "plus", "minus", 400.0, 0.1, 8e-6) for k in range(2)]
    found = fault(network(*strings), "plus", "minus")
    assert found.prospective == pytest.approx(8000.0)
    assert found.inductance == pytest.approx(4e-6)


@pytest.mark.arithmetic
def test_a_power_part_feeds_no_fault_and_a_capacitor_is_open():
    parts = [pack(400.0, 0.1), Part("drive", "power", "plus", "minus", 50e3)]
    parts.append(Part("link", "capacitor", "plus", "minus", 1e-3, start=400.0))
    assert all_thevenin(network(*parts), [("plus", "minus")]) == (
        Thevenin(400.0, pytest.approx(0.1)),
    )


@pytest.mark.arithmetic
def test_nodes_that_nothing_joins_give_no_fault_current():
    circuit = network(pack(400.0, 0.1), resistor("body", "chassis", "door", 0.01))
    assert thevenin(circuit, "plus", "chassis") == Thevenin(0.0, inf)
    (found,) = all_faults(circuit, [("plus", "chassis")])
    assert (found.prospective, found.time_constant) == (0.0, 0.0)


# -- what cannot be solved


@pytest.mark.property
@pytest.mark.parametrize(
    ("parts", "text", "names"),
    [
        (
            [pack(400.0, 0.0), resistor("bar", "plus", "minus", 0.0)],
            "a loop without resistance",
            {"pack", "bar"},
        ),
        (
            [pack(400.0, 0.0), Part("spare", "source", "plus", "minus", 390.0)],
            "a loop without resistance",
            {"pack", "spare"},
        ),
        (
            [Part("drive", "power", "plus", "minus", 1e3), resistor("r", "plus", "minus", 1e4)],
            "no source reaches it",
            {"drive"},
        ),
        (
            [pack(400.0, 0.1), Part("drive", "power", "plus", "far", 1e3)],
            "no way back between 'plus' and 'far'",
            {"drive"},
        ),
        (
            [pack(400.0, 0.1), Part("station", "current", "far", "minus", -50.0)],
            "no way back between 'far' and 'minus'",
            {"station"},
        ),
    ],
    ids=[
        "shorted source",
        "two ideal sources",
        "no source",
        "load on nothing",
        "current to nothing",
    ],
)
def test_what_cannot_be_solved_is_named(parts, text, names):
    with pytest.raises(NetworkError, match=text) as caught:
        solve_dc(Network(tuple(parts)))
    assert set(caught.value.names) == names


@pytest.mark.property
@pytest.mark.parametrize(
    ("part", "text"),
    [
        (resistor("r", "a", "a", 1.0), "both ends are at node 'a'"),
        (resistor("r", "a", "b", -1.0), "not negative"),
        (resistor("r", "a", "b", float("nan")), "not a finite number"),
        (Part("c", "capacitor", "a", "b", 0.0), "above zero"),
        (Part("e", "source", "a", "b", 1.0, -0.1), "negative"),
    ],
    ids=["both ends together", "negative", "not a number", "empty capacitor", "negative source"],
)
def test_a_part_that_makes_no_sense_is_refused(part, text):
    with pytest.raises(NetworkError, match=text):
        network(part)


@pytest.mark.property
def test_two_parts_of_one_name_are_refused():
    with pytest.raises(NetworkError, match="two parts are called 'r'"):
        network(resistor("r", "a", "b", 1.0), resistor("r", "b", "c", 1.0))


@pytest.mark.property
def test_a_node_that_is_not_there_is_named():
    with pytest.raises(NetworkError, match="no node is called 'nowhere'"):
        thevenin(network(pack(400.0, 0.1)), "plus", "nowhere")
    with pytest.raises(NetworkError, match="nothing limits a fault"):
        fault(network(pack(400.0, 0.0)), "plus", "minus")


# -- the five layouts, at rest, by the sparse second solution


def layouts() -> dict[str, Network]:
    bar = 2e-4
    single = [
        pack(400.0, 0.1),
        resistor("main", "plus", "bus", bar),
        resistor("inverter", "bus", "minus", 4.0),
    ]
    split = [
        Part("front", "source", "plus", "mid1", 180.0, 0.05),
        resistor("disconnect", "mid1", "mid2", bar),
        Part("rear", "source", "mid2", "minus", 220.0, 0.06),
        resistor("heater", "plus", "minus", 30.0),
        resistor("iso_plus", "plus", "chassis", 2e6),
        resistor("iso_mid", "mid2", "chassis", 3e5),
    ]
    strings = [
        Part("string1", "source", "s1", "minus", 400.0, 0.1),
        Part("string2", "source", "s2", "minus", 396.0, 0.12),
        resistor("k1", "s1", "bus", bar),
        resistor("k2", "s2", "bus", bar),
        Part("drive", "current", "bus", "minus", 150.0),
    ]
    motors = [
        pack(700.0, 0.15),
        resistor("front_cable", "plus", "front", 3e-3),
        resistor("rear_cable", "plus", "rear", 1e-3),
        Part("front_drive", "current", "front", "minus", 120.0),
        Part("rear_drive", "current", "rear", "minus", -60.0),
    ]
    inlet = [
        pack(380.0, 0.1),
        resistor("k_plus", "inlet_plus", "plus", bar),
        resistor("k_minus", "minus", "inlet_minus", bar),
        Part("station", "current", "inlet_plus", "inlet_minus", -125.0),
        resistor("dcdc", "plus", "minus", 90.0),
    ]
    named = {"single box": single, "split pack": split, "two strings": strings}
    named |= {"two motors": motors, "fast-charge inlet": inlet}
    return {name: Network(tuple(parts)) for name, parts in named.items()}


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", layouts())
def test_each_layout_at_rest_agrees_with_a_sparse_solution_by_loops(name):
    circuit = layouts()[name]
    found = solve_dc(circuit)
    for part, current in tableau(circuit).items():
        assert found.currents[part] == pytest.approx(current, rel=1e-9, abs=1e-11)
    assert sum(found.powers.values()) == pytest.approx(0.0, abs=1e-7)
