"""The one-line diagram: everything once, nothing over anything else, orange for class B alone."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest
from car_circuits import CARS
from drawn_circuits import BUILT, element

from swapwright.base.finding import SEVERITY
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit
from swapwright.drawing import style
from swapwright.drawing.diagram import one_line_diagram
from swapwright.drawing.layout import layout_of
from swapwright.drawing.mark import mark
from swapwright.drawing.placed import Box, Layout
from swapwright.drawing.sheet import SheetText
from swapwright.drawing.skeleton import skeleton_of

pytestmark = pytest.mark.arithmetic

NAMES = (*CARS, *BUILT)
HOSTILE = "<script>alert('x')</script> & \"quoted\" ]]> \x07"
SHEET = SheetText(
    "High-voltage circuit",
    (
        ("car", "ridgeway"),
        ("revision", "3f9a 81c2"),
        ("date", "2026-11-27"),
        ("maximum working voltage", "403 V"),
    ),
)
every_circuit = pytest.mark.parametrize("name", NAMES)


@cache
def circuit_named(name: str) -> Circuit:
    return CARS[name]() if name in CARS else BUILT[name]()


def data_of(circuit: Circuit) -> dict[str, tuple[str, ...]]:
    """Return three lines of data for each device, as long as real ones get."""
    return {
        each.name: ("350 A 500 V dc", "70 mm2 4.0 m", "class D, conduit, 137 A of 202 A")
        for each in circuit.devices
    }


def drawn(name: str, **changes) -> str:
    circuit = circuit_named(name)
    given = {
        "sheet": SHEET,
        "labels": data_of(circuit),
        "marks": {},
        "is_class_b": True,
    }
    return one_line_diagram(circuit, **(given | changes))


def classes(each: ET.Element) -> set[str]:
    return set(each.get("class", "").split())


def walked(each: ET.Element, above: tuple[ET.Element, ...] = ()):
    """Yield every element of a drawing with what it stands in."""
    yield each, above
    for child in each:
        yield from walked(child, (*above, each))


def boxes(layout: Layout) -> list[tuple[str, Box]]:
    return [
        *((f"label of {each.element.device}", each.box) for each in layout.labels),
        *((f"word at {each.node}", each.box) for each in layout.words),
        *((f"symbol of {each.element.name}", each.box) for each in layout.signs),
    ]


def layouts(name: str) -> list[Layout]:
    """Return a circuit laid out with much and with little written at it."""
    circuit = circuit_named(name)
    marks = {each.name: "unknown" for each in circuit.devices}
    states = dict.fromkeys(circuit.nodes, style.SEPARATED)
    return [
        layout_of(circuit, labels, marked, known)
        for labels in (data_of(circuit), {})
        for marked in (marks, {})
        for known in (None, states)
    ]


@every_circuit
def test_the_sheet_is_well_formed_and_draws_every_element_once(name: str):
    root = ET.fromstring(drawn(name))
    shown = Counter(each.get("data-element") for each, _ in walked(root))
    shown.pop(None)
    assert shown == Counter(each.name for each in circuit_named(name).elements)


@every_circuit
def test_no_text_stands_on_other_text_or_on_a_symbol(name: str):
    for layout in layouts(name):
        every = boxes(layout)
        for place, (one, box) in enumerate(every):
            for other, second in every[place + 1 :]:
                assert not box.overlaps(second), f"{one} on {other}"


@every_circuit
def test_no_text_stands_on_a_line(name: str):
    half = style.CASED / 2.0
    for layout in layouts(name):
        texts = [each for each in boxes(layout) if not each[0].startswith("symbol")]
        for wire in layout.wires:
            for (x0, y0), (x1, y1) in pairwise(wire.points):
                room = Box(
                    min(x0, x1) - half, min(y0, y1) - half, max(x0, x1) + half, max(y0, y1) + half
                )
                for name_of, box in texts:
                    assert not box.overlaps(room), f"{name_of} on a line of {wire.node}"


@every_circuit
def test_each_device_has_one_label_and_each_section_one_word(name: str):
    circuit = circuit_named(name)
    layout = layouts(name)[1]
    assert Counter(each.element.device for each in layout.labels) == Counter(
        each.name for each in circuit.devices
    )
    assert Counter(each.node for each in layout.words) == Counter(circuit.nodes)


@every_circuit
def test_everything_drawn_lies_inside_the_sheet(name: str):
    for layout in layouts(name):
        bounds = layout.bounds
        for what, box in boxes(layout):
            assert bounds.left <= box.left and box.right <= bounds.right, what
            assert bounds.top <= box.top and box.bottom <= bounds.bottom, what


@every_circuit
def test_the_two_ends_of_a_symbol_meet_lines_of_its_two_nodes(name: str):
    layout = layouts(name)[0]
    for sign in layout.signs:
        box = sign.box
        ends = (
            [(sign.x, box.top), (sign.x, box.bottom)]
            if sign.is_upright
            else [(box.left, sign.y), (box.right, sign.y)]
        )
        nodes = [sign.element.plus, sign.element.minus]
        for end, node in zip(ends, reversed(nodes) if sign.is_flipped else nodes, strict=True):
            tips = [tip for wire in layout.wires if wire.node == node for tip in wire.points]
            assert _near(end) in map(_near, tips), f"{sign.element.name} at {node}"


def _near(point: tuple[float, float]) -> tuple[float, float]:
    return round(point[0], 6), round(point[1], 6)


@every_circuit
def test_lines_of_one_node_hang_together(name: str):
    for layout in layouts(name)[:2]:
        for node in circuit_named(name).nodes:
            wires = [wire.points for wire in layout.wires if wire.node == node]
            reached, waiting = [], [wires[0]]
            rest = wires[1:]
            while waiting:
                now = waiting.pop()
                reached.append(now)
                touching = [each for each in rest if _touch(now, each)]
                rest = [each for each in rest if each not in touching]
                waiting += touching
            assert not rest, node


def _touch(one, other) -> bool:
    return any(_on(point, other) for point in one) or any(_on(point, one) for point in other)


def _on(point, line) -> bool:
    x, y = point
    return any(
        min(x0, x1) - 1e-6 <= x <= max(x0, x1) + 1e-6
        and min(y0, y1) - 1e-6 <= y <= max(y0, y1) + 1e-6
        for (x0, y0), (x1, y1) in pairwise(line)
    )


@pytest.mark.parametrize("name", [name for name in NAMES if name != "meshed"])
def test_a_usual_circuit_is_drawn_on_two_rails(name: str):
    assert skeleton_of(circuit_named(name)) is not None


def test_a_circuit_of_rings_is_drawn_as_a_ladder():
    assert skeleton_of(circuit_named("meshed")) is None


@every_circuit
def test_a_circuit_of_class_a_has_no_orange(name: str):
    assert style.ORANGE not in drawn(name, is_class_b=False)


@every_circuit
def test_orange_stands_on_things_of_class_b_alone(name: str):
    states = dict.fromkeys(circuit_named(name).nodes, style.MAY_BE_LIVE)
    marks = dict.fromkeys((each.name for each in circuit_named(name).devices), "fix")
    root = ET.fromstring(drawn(name, states=states, marks=marks))
    found = 0
    for each, above in walked(root):
        if style.ORANGE in each.attrib.values():
            found += 1
            around = set().union(*(classes(one) for one in above))
            assert around & {"class-b", "legend"}
            assert not around & {"label", "state", "mark", "title-block", "frame", "chassis"}
    assert found


def test_no_colour_but_orange_is_more_than_ink_and_paper():
    colours = set(re.findall(r"#[0-9a-fA-F]{6}", drawn("bakery")))
    for colour in colours - {style.ORANGE}:
        red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
        assert max(red, green, blue) - min(red, green, blue) < 8, colour


def test_class_b_is_a_double_line_in_black_and_white():
    root = ET.fromstring(drawn("ridgeway"))
    (casing,) = [each for each, _ in walked(root) if {"class-b", "casing"} <= classes(each)]
    (core,) = [each for each, _ in walked(root) if {"class-b", "core"} <= classes(each)]
    assert len(casing) == len(core)
    for outer, inner in zip(casing, core, strict=True):
        assert outer.get("d") == inner.get("d")
        assert outer.get("stroke") == style.INK
        assert float(outer.get("stroke-width")) > float(inner.get("stroke-width"))
    assert style.CASED > style.CONDUCTOR


def test_the_five_verdicts_have_five_shapes_and_no_colour():
    shapes = {verdict: mark(verdict, 0.0, 0.0) for verdict in SEVERITY}
    bare = {re.sub(r' class="[^"]*"', "", shape) for shape in shapes.values()}
    assert len(bare) == len(SEVERITY)
    for shape in shapes.values():
        assert set(re.findall(r"#[0-9a-f]{6}", shape)) <= {style.INK, style.PAPER}


def test_a_verdict_nobody_knows_is_drawn_as_unknown():
    assert mark("splendid", 0.0, 0.0) == mark("unknown", 0.0, 0.0)


@pytest.mark.parametrize("verdict", SEVERITY)
def test_a_verdict_is_written_beside_its_mark(verdict: str):
    text = drawn("ridgeway", marks={"main fuse": verdict})
    assert f'class="mark mark-{verdict}"' in text
    assert f">{verdict}<" in text


def test_the_states_of_sections_differ_by_word_and_by_line():
    assert len(set(style.STATE_DASHES.values())) == len(style.STATE_DASHES)
    nodes = circuit_named("ridgeway").nodes
    known = dict(zip(nodes, list(style.STATE_DASHES) * len(nodes), strict=False))
    text = drawn("ridgeway", states=known)
    for state, dashes in style.STATE_DASHES.items():
        assert state.split(",")[0] in text
        assert dashes is None or f'stroke-dasharray="{dashes}"' in text


def test_hostile_names_stay_text():
    parts = [
        replace(each, name=f"{each.name} {HOSTILE}", device=f"{each.device} {HOSTILE}")
        for each in BUILT["single box"]().elements
    ]
    circuit = Circuit(tuple(parts))
    text = one_line_diagram(
        circuit,
        sheet=SheetText(HOSTILE, ((HOSTILE, HOSTILE),)),
        labels={each.name: (HOSTILE,) for each in circuit.devices},
        marks={each.name: HOSTILE for each in circuit.devices},
        is_class_b=True,
        states=dict.fromkeys(circuit.nodes, HOSTILE),
    )
    root = ET.fromstring(text)
    assert "<script" not in text
    assert not [each for each, _ in walked(root) if each.tag.endswith("script")]
    assert "\x07" not in text


def test_a_sheet_rests_on_nothing_outside_it():
    text = drawn("ridgeway").replace('xmlns="http://www.w3.org/2000/svg"', "", 1)
    for outside in ("http", "url(", "@import", "href", "<style", "<image"):
        assert outside not in text


def test_a_sheet_says_what_it_is_and_that_the_car_is_not_confirmed():
    root = ET.fromstring(drawn("ridgeway"))
    said = " ".join(" ".join(each.itertext()) for each, _ in walked(root))
    for words in ("ridgeway", "3f9a 81c2", "2026-11-27", "403 V", style.CAUTION):
        assert words in said
    assert style.STATUS in said


def test_a_sheet_is_as_large_as_its_paper():
    for paper, width, height in (("A3", "420mm", "297mm"), ("A4", "297mm", "210mm")):
        root = ET.fromstring(drawn("ridgeway", paper=paper))
        assert (root.get("width"), root.get("height")) == (width, height)
        assert root.get("viewBox") == "0 0 420 297"


@every_circuit
def test_a_circuit_is_drawn_the_same_each_time(name: str):
    assert drawn(name) == drawn(name)


@every_circuit
def test_other_data_of_the_same_length_moves_nothing(name: str):
    circuit = circuit_named(name)
    one = layout_of(circuit, {each.name: ("200 A",) for each in circuit.devices}, {})
    other = layout_of(circuit, {each.name: ("35 mm2",) for each in circuit.devices}, {})
    assert one.signs == other.signs
    assert one.wires == other.wires


@pytest.mark.parametrize("name", [name for name in CARS if name != "meshed"])
def test_a_branch_taken_out_only_closes_its_gap(name: str):
    circuit = circuit_named(name)
    before = {sign.element.name: sign for sign in layout_of(circuit, {}, {}).signs}
    branches = [each for each in circuit.devices if each.kind in (model.DCDC, model.CHARGER)]
    assert branches
    for branch in branches:
        rest = tuple(e for e in circuit.elements if not e.name.startswith(branch.name))
        after = layout_of(Circuit(rest), {}, {}).signs
        left = min(sign.box.left for each, sign in before.items() if each.startswith(branch.name))
        shifts = set()
        for sign in after:
            was = before[sign.element.name]
            assert sign.y == pytest.approx(was.y)
            if was.x < left:
                assert sign.x == pytest.approx(was.x)
            else:
                shifts.add(round(was.x - sign.x, 6))
        assert len(shifts) <= 1
        assert all(shift > 0.0 for shift in shifts)


def test_a_longer_list_of_loads_grows_the_sheet_and_keeps_the_letters_readable():
    loads = tuple(element(f"heater {n}", model.LOAD, "p3", "m1") for n in range(60))
    circuit = Circuit((*BUILT["single box"]().elements, *loads))
    text = one_line_diagram(circuit, sheet=SHEET, labels={}, marks={}, is_class_b=True)
    (scale,) = re.findall(r"scale\(([0-9.]+)\)\" class=\"drawing\"", text)
    assert float(scale) * style.LABEL >= 1.9


def test_a_car_without_a_circuit_gets_a_sheet_that_says_so():
    text = one_line_diagram(Circuit(()), sheet=SHEET, labels={}, marks={}, is_class_b=False)
    assert ET.fromstring(text) is not None
    assert "no high-voltage circuit" in text
