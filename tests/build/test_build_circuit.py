from __future__ import annotations

from pathlib import Path

import pytest

from swapwright.assess.circuit.place import places
from swapwright.assess.solve import assess
from swapwright.base.errors import InputError
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.expansion import full_form_text
from swapwright.build.circuit.model import Circuit
from swapwright.build.edit import edit
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue

pytestmark = pytest.mark.arithmetic

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
CATALOGUE = Catalogue()
PACK = """\
format = 1
[pack]
module = "nmc-module-8s1p-60ah"
modules_per_string = 12
"""
OF_THE_CIRCUIT = ("circuit.", "fault.", "precharge.", "wait.", "link.", "isolation.", "work.")


def car_of(text: str) -> Car:
    return resolve(load_text(text, "car.toml"), CATALOGUE)


def example(name: str, **changes: str | None) -> str:
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for path, to in changes.items():
        text = edit(text, path.replace("__", "."), to)
    return text


def element(name: str, kind: str, **said: str) -> str:
    names = {"start": "from", "end": "to"}
    rows = {"name": name, "kind": kind, **{names.get(key, key): to for key, to in said.items()}}
    return "[[hv.element]]\n" + "".join(
        f"{key} = {to if to.isdigit() else chr(34) + to + chr(34)}\n" for key, to in rows.items()
    )


def in_full(*elements: str, pack: str = PACK) -> str:
    return pack + "".join(elements)


def refused(text: str) -> tuple[str, ...]:
    with pytest.raises(InputError) as caught:
        car_of(text)
    return tuple(map(str, caught.value.problems))


def kinds(circuit: Circuit) -> list[str]:
    return [device.kind for device in circuit.devices]


SINGLE_BOX = in_full(
    element("pack", "pack"),
    element("main fuse", "fuse", start="pack.plus"),
    element("main contactor", "contactor", start="main fuse.minus"),
    element("inverter", "inverter", start="main contactor.minus", end="pack.minus"),
)


def test_a_single_box_is_pack_fuse_contactor_inverter():
    circuit = circuit_of(car_of(SINGLE_BOX))
    assert kinds(circuit) == [model.PACK, model.FUSE, model.CONTACTOR, model.INVERTER]
    assert len(circuit.nodes) == 4
    assert circuit.by_name["inverter"].minus == circuit.by_name["pack"].minus


def test_a_split_pack_has_its_disconnect_in_the_middle_and_each_box_its_share():
    circuit = circuit_of(car_of(example("ridgeway")))
    front, gap, rear = circuit.elements[:3]
    assert (front.name, gap.name, rear.name) == ("front pack", "service disconnect", "rear pack")
    assert (gap.plus, gap.minus) == (front.plus, rear.minus)
    assert front.share == pytest.approx(5 / 12)
    assert rear.share == pytest.approx(7 / 12)


def test_two_strings_have_own_fuses_and_contactors_and_join_behind_them():
    text = example(
        "ridgeway",
        pack__strings="2",
        pack__boxes=None,
        hv__disconnect__between=None,
        hv__string_fuse="fuse-200a-500vdc",
        hv__string_contactors="contactor-500vdc-350a",
    )
    circuit = circuit_of(car_of(text))
    names = [device.name for device in circuit.devices]
    assert {"string fuse 1", "string fuse 2", "string contactors 1", "string contactors 2"} <= set(
        names
    )
    assert {e.string for e in circuit.of_kind(model.PACK)} == {1, 2}
    assert circuit.by_name["string contactors 1 +"].minus == "pack +"
    assert circuit.by_name["string contactors 2 +"].minus == "pack +"


def test_two_motors_have_an_inverter_and_a_link_each():
    text = example(
        "parcel-round",
        drive__second__motor="pm-radial-75kw",
        drive__second__inverter="inverter-400v-300a",
        drive__second__gearbox="reducer-9-1",
        drive__second__axle="front",
    )
    circuit = circuit_of(car_of(text))
    assert [e.name for e in circuit.of_kind(model.INVERTER)] == ["inverter", "second inverter"]
    assert len(circuit.of_kind(model.LINK)) >= 2


def test_a_fast_charge_inlet_stands_behind_its_own_contactors():
    text = example("parcel-round", charging__inlet="ccs 2")
    circuit = circuit_of(car_of(text))
    inlet = circuit.by_name["fast-charge inlet"]
    before = [e.name for e in circuit.at([inlet.plus]) if e is not inlet]
    assert before == ["charge contactors +"]


def test_terminals_joined_over_a_third_are_one_node():
    text = in_full(
        element("pack", "pack"),
        element("heater", "load", start="pump.plus", end="pack.minus"),
        element("pump", "load", start="pack.plus", end="heater.minus"),
    )
    circuit = circuit_of(car_of(text))
    assert len(circuit.nodes) == 2


def test_a_fuse_in_both_poles_is_one_device_in_the_full_form_too():
    text = in_full(
        element("pack", "pack"),
        element("main fuse +", "fuse", start="pack.plus", current="200 A"),
        element("main fuse -", "fuse", start="pack.minus", current="200 A"),
        element("heater", "load", start="main fuse +.minus", end="main fuse -.minus"),
    )
    circuit = circuit_of(car_of(text))
    assert [device.name for device in circuit.devices] == ["pack", "main fuse", "heater"]
    unlike = text.replace('current = "200 A"', 'current = "150 A"', 1)
    names = [device.name for device in circuit_of(car_of(unlike)).devices]
    assert names == ["pack", "main fuse +", "main fuse -", "heater"]


def test_boxes_one_behind_the_other_are_one_string_and_boxes_side_by_side_are_two():
    one = in_full(
        element("front", "pack", modules="5"),
        element("gap", "disconnect", start="front.plus"),
        element("rear", "pack", modules="7", end="gap.minus"),
        element("heater", "load", start="rear.plus", end="front.minus"),
    )
    assert {e.string for e in circuit_of(car_of(one)).of_kind(model.PACK)} == {1}
    two = in_full(
        element("one", "pack"),
        element("other", "pack", end="one.minus"),
        element("fuse 1", "fuse", start="one.plus"),
        element("fuse 2", "fuse", start="other.plus", end="fuse 1.minus"),
        element("heater", "load", start="fuse 1.minus", end="one.minus"),
        pack=PACK + "strings = 2\n",
    )
    assert [e.string for e in circuit_of(car_of(two)).of_kind(model.PACK)] == [1, 2]


def test_an_unknown_terminal_is_told_with_its_line_and_the_nearest():
    line, *others = refused(SINGLE_BOX.replace('"main fuse.minus"', '"main fus.minus"'))
    assert all("joined to nothing" in each for each in others)
    assert line.startswith("car.toml:15: hv.element[2].from: there is no such terminal; ")
    assert "given: main fus.minus" in line
    assert "allowed: the plus or minus terminal of an element" in line
    assert line.endswith("did you mean: main fuse.minus")


def test_a_loop_is_told_by_its_element():
    problems = refused(SINGLE_BOX + element("stray", "cable", start="pack.plus", end="pack.plus"))
    (line,) = [each for each in problems if "is a loop" in each]
    assert "hv.element[4]" in line
    assert "stray" in line
    assert "allowed: two different nodes" in line


def test_a_dangling_end_is_told_with_its_side():
    (line,) = refused(SINGLE_BOX + element("spare", "cable", start="pack.plus"))
    assert "car.toml:" in line
    assert "hv.element[4]: this element's minus end is joined to nothing; given: spare" in line


def test_a_source_shorted_by_conductors_and_closed_switches_is_told():
    problems = refused(
        in_full(
            element("pack", "pack"),
            element("fuse", "fuse", start="pack.plus"),
            element("contactor", "contactor", start="fuse.minus", end="pack.minus"),
        )
    )
    (line,) = problems
    assert "hv.element[0]: this source is shorted" in line
    assert "given: pack; allowed: a load, a capacitor or a resistor" in line


def test_a_circuit_without_a_pack_has_no_source():
    problems = refused(
        in_full(
            element("heater", "load"),
            element("pump", "load", start="heater.plus", end="heater.minus"),
        )
    )
    assert any("the circuit has no source" in each for each in problems)


def test_pack_elements_must_hold_the_modules_of_the_pack():
    problems = refused(SINGLE_BOX.replace('kind = "pack"\n', 'kind = "pack"\nmodules = 5\n'))
    (line,) = problems
    assert "given: 5 modules; allowed: 12" in line


def test_a_cable_to_a_place_there_is_not_is_told_with_the_nearest():
    text = example("ridgeway").replace('to         = "inverter"', 'to         = "invertor"')
    (line,) = refused(text)
    assert "hv.cable[0].to: there is no such place; given: invertor; allowed: pack, " in line
    assert line.endswith("did you mean: inverter")


def test_two_forms_at_once_are_refused():
    problems = refused(example("ridgeway") + element("pack", "pack"))
    (line,) = [each for each in problems if "given twice" in each]
    assert "hv.main_fuse" in line
    assert "allowed: [[hv.element]] alone, or the short form alone" in line


def test_every_fault_of_a_circuit_is_told_at_once():
    text = SINGLE_BOX.replace('"main fuse.minus"', '"nowhere.plus"')
    assert len(refused(text + element("stray", "cable", start="pack.plus", end="pack.plus"))) >= 3


def expanded(text: str) -> tuple[Car, Car]:
    build = load_text(text, "car.toml")
    car = resolve(build, CATALOGUE)
    return car, car_of(full_form_text(build, car))


def joints(circuit: Circuit) -> set[frozenset[str]]:
    """Return each node as the terminals at it, whatever it is called."""
    found: dict[str, set[str]] = {}
    for each in circuit.elements:
        found.setdefault(each.plus, set()).add(f"{each.name}.plus")
        found.setdefault(each.minus, set()).add(f"{each.name}.minus")
    return {frozenset(terminals) for terminals in found.values()}


@pytest.mark.parametrize("name", ["ridgeway", "parcel-round", "bakery", "fault-finder"])
def test_the_expanded_file_is_the_same_circuit(name):
    short, full = (circuit_of(car) for car in expanded(example(name)))
    assert [(e.name, e.kind) for e in short.elements] == [(e.name, e.kind) for e in full.elements]
    assert joints(short) == joints(full)
    assert [each.name for each in places(short)] == [each.name for each in places(full)]
    assert [e.share for e in short.elements] == pytest.approx([e.share for e in full.elements])


@pytest.mark.parametrize("name", ["ridgeway", "parcel-round"])
def test_the_expanded_file_comes_to_the_same_figures(name):
    short, full = (assess(car).figures for car in expanded(example(name)))
    ours = {figure_id for figure_id in short if figure_id.startswith(OF_THE_CIRCUIT)}
    # Bleeds side by side are one device in the short form, and one each in the full form.
    ours -= {figure_id for figure_id in ours if figure_id.startswith("circuit.charger_bleed.")}
    assert len(ours) > 300
    assert ours <= set(full)
    for figure_id in ours:
        assert full[figure_id].value.si == pytest.approx(
            short[figure_id].value.si, rel=1e-9, abs=1e-15
        ), figure_id


def test_the_expanded_file_keeps_comments_and_parts_by_name():
    text = example("ridgeway", hv__main_fuse__rating="160 A")
    build = load_text(text, "car.toml")
    full = full_form_text(build, resolve(build, CATALOGUE))
    assert "# class B: everything here is orange on the car" in full
    assert 'fuse = { part = "fuse-200a-500vdc", rating = "160 A" }' in full
    assert "[[hv.cable]]" not in full
    assert "main_fuse " not in full


def test_a_file_in_the_full_form_comes_back_as_it_is():
    build = load_text(SINGLE_BOX, "car.toml")
    assert full_form_text(build, resolve(build, CATALOGUE)) == SINGLE_BOX


def test_a_file_without_a_circuit_has_nothing_to_write_out():
    build = load_text(PACK, "car.toml")
    with pytest.raises(InputError, match="says nothing of a high-voltage circuit"):
        full_form_text(build, resolve(build, CATALOGUE))
