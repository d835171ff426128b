"""The one-line diagram in a page: elements that lead somewhere and tell of themselves."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from car_circuits import CARS

from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit
from swapwright.drawing.diagram import one_line_diagram
from swapwright.drawing.sheet import SheetText

pytestmark = pytest.mark.arithmetic

HOSTILE = "\"><script>alert('x')</script>&"


def drawn(circuit: Circuit, **changes) -> str:
    given = {"sheet": SheetText("a car", ()), "labels": {}, "marks": {}, "is_class_b": True}
    return one_line_diagram(circuit, **(given | changes))


def circuit() -> Circuit:
    return CARS["ridgeway"]()


def elements_of(text: str) -> dict[str, ET.Element]:
    return {
        each.attrib["data-element"]: each
        for each in ET.fromstring(text).iter()
        if "data-element" in each.attrib
    }


def bare(tag: str) -> str:
    return tag.rpartition("}")[2]


def test_nothing_is_drawn_otherwise_where_nothing_is_told():
    assert drawn(circuit(), links={}, titles={}, closed=()) == drawn(circuit())


def test_every_element_of_a_device_leads_to_its_address():
    links = {each.name: f"/at/{each.slug}" for each in circuit().devices}
    found = elements_of(drawn(circuit(), links=links))
    assert len(found) == len(circuit().elements)
    for element in circuit().elements:
        assert bare(found[element.name].tag) == "a"
        assert found[element.name].attrib["href"] == links[element.device]


def test_a_keyboard_stops_once_at_each_symbol_and_at_no_label():
    links = {each.name: "/at" for each in circuit().devices}
    root = ET.fromstring(drawn(circuit(), links=links))
    anchors = [each for each in root.iter() if bare(each.tag) == "a"]
    reached = [each for each in anchors if each.get("tabindex") != "-1"]
    assert len(reached) == len(circuit().elements)
    assert all(each.get("aria-label") for each in reached)
    assert all(each.get("aria-hidden") == "true" for each in anchors if each not in reached)


def test_an_element_is_named_and_told_of_by_its_title():
    titles = {"main fuse": "watch, for good 92 A"}
    found = elements_of(drawn(circuit(), titles=titles, links={"main fuse": "/at"}))
    fuse = found["main fuse +"]
    assert fuse[0].text == "main fuse + (fuse): watch, for good 92 A" == fuse.get("aria-label")
    assert found["inverter"][0].text == "inverter (inverter)"


def test_a_drawing_one_can_go_into_is_a_group_and_any_other_a_picture():
    assert ET.fromstring(drawn(circuit())).get("role") == "img"
    assert ET.fromstring(drawn(circuit(), links={"inverter": "/at"})).get("role") == "group"


def test_only_the_switches_that_are_closed_are_drawn_otherwise():
    shut = "main contactors +"
    before, after = (elements_of(drawn(circuit(), closed=each)) for each in ((), (shut,)))
    changed = [name for name in before if ET.tostring(before[name]) != ET.tostring(after[name])]
    assert changed == [shut]
    (gap,) = [each for each in circuit().elements if each.kind == model.DISCONNECT]
    after = elements_of(drawn(circuit(), closed=(gap.name, "no such switch")))
    assert [n for n in before if ET.tostring(before[n]) != ET.tostring(after[n])] == [gap.name]


def test_hostile_addresses_and_titles_stay_text():
    given = dict.fromkeys((each.name for each in circuit().devices), HOSTILE)
    text = drawn(circuit(), links=given, titles=given)
    assert "<script" not in text
    assert elements_of(text)["inverter"].attrib["href"] == HOSTILE
