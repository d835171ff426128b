"""First power, giving back, inside the pack, a damaged car, a rescue: what each must have."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from procedure_cars import CARS, SECOND_STRING, car, changed, ids, step

from swapwright.assess.solve import assess
from swapwright.base.sources import all_sources
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of
from swapwright.procedures.kinds import KINDS, generic_procedure, procedure_for
from swapwright.procedures.step import Kind, Procedure

pytestmark = pytest.mark.arithmetic
every_car = pytest.mark.parametrize("name", CARS)
every_kind = pytest.mark.parametrize("kind", KINDS)
EQUIPMENT = {
    "gloves",
    "leather protectors",
    "meter",
    "leads",
    "proving unit",
    "insulated tools",
    "rescue hook",
    "barrier",
    "extinguisher",
    "insulation tester",
    "lock",
    "face shield",
}
PROMISES = re.compile(r"(?i)\b(safe|safely|certified|approved|passed|dead circuit|guaranteed)\b")


def of(kind: Kind, name: str = "ridgeway") -> Procedure:
    return procedure_for(kind, *car(name))


def told(found: Procedure) -> str:
    lines = [*found.cautions, *found.no_absence, *found.not_covered]
    for each in found.steps:
        lines += [each.title, each.words, each.why, each.no_wait, *each.cautions, *each.ppe]
    for source in found.sources:
        lines += [source.name, source.gap, source.words]
    for left in found.remaining:
        lines += [left.where, left.words, *left.figures]
    return "\n".join(lines)


@every_kind
@every_car
def test_every_step_is_whole(name: str, kind: Kind):
    found = of(kind, name)
    assert found.kind == kind
    assert found.revision == car(name)[1].revision
    assert len(ids(found)) == len(set(ids(found)))
    known = set(all_sources())
    for each in found.steps:
        assert each.title and each.words and each.phase, each.id
        assert set(each.needs) <= EQUIPMENT, each.id
        assert each.sources and set(each.sources) <= known, each.id
        assert (each.reading is not None) == (each.act in ("measure", "prove")), each.id
        assert (each.act == "wait") == (each.wait is not None or bool(each.no_wait)), each.id
        if each.reading is not None:
            assert each.reading.expected.low <= each.reading.expected.high, each.id
            assert each.reading.points[0] != each.reading.points[1], each.id


@every_kind
def test_nothing_is_promised_and_no_number_is_broken(kind: Kind):
    for found in (*(of(kind, name) for name in CARS), generic_procedure(kind, "a van")):
        text = told(found)
        assert not PROMISES.search(text), PROMISES.search(text)
        assert not re.search(r"(?i)\b(nan|inf)\b", text)
        assert "  " not in text
        assert ".." not in text


@every_kind
@every_car
def test_only_isolation_claims_absence(name: str, kind: Kind):
    found = of(kind, name)
    if kind != "isolation":
        assert found.no_absence
        assert found.step("sign.absence") is None
        limits = [s for s in found.steps if s.reading is not None and s.reading.limit is not None]
        assert not limits


@every_kind
@every_car
def test_whoever_touches_a_conductor_wears_gloves_and_a_meter_has_its_leads(name: str, kind: Kind):
    for each in of(kind, name).steps:
        if each.reading is not None and each.reading.quantity in ("dc voltage", "ac voltage"):
            assert {"gloves", "leather protectors", "meter", "leads"} <= set(each.needs), each.id
        if "gloves" in each.needs and each.act != "confirm":
            assert any("insulating gloves of class" in line for line in each.ppe), each.id
            assert any("hazard assessment" in line for line in each.ppe), each.id


# First power


@every_car
def test_nothing_is_powered_before_it_has_been_tested(name: str):
    order = ids(of("first energisation", name))
    groups = ("script.abort", "bonding.", "polarity.", "insulation.", "dry.", "power.", "after.")
    at = [[n for n, each in enumerate(order) if each.startswith(g)] for g in groups]
    assert all(at)
    for one, other in pairwise(at):
        assert max(one) < min(other)


def test_what_ends_first_power_is_signed_by_two_people_before():
    found = of("first energisation")
    agreed = step(found, "script.abort")
    assert (agreed.act, agreed.people, agreed.who) == ("sign", 2, "live")
    assert "smoke" in agreed.words
    assert step(found, "after.sign").people == 2


def test_first_power_goes_stage_by_stage_with_what_the_design_expects():
    found, figures = of("first energisation"), car("ridgeway")[1].figures
    bonding = step(found, "bonding.inverter").reading
    assert bonding is not None
    assert (bonding.quantity, bonding.expected.high) == ("resistance", 0.1)
    opened = step(found, "power.contactors_open").reading
    assert opened is not None
    assert opened.expected.high == 12.0
    empty, full = (
        figures["pack.voltage_empty"].value.si,
        figures["pack.max_working_voltage"].value.si,
    )
    precharged = step(found, "power.precharge").reading
    assert precharged is not None
    assert precharged.expected.low == pytest.approx(0.98 * empty / 1.05)
    main = step(found, "power.main").reading
    assert main is not None
    # No polarity is left open: a reading of the wrong sign lies outside.
    assert main.expected.low == pytest.approx(empty / 1.05)
    assert main.expected.high == pytest.approx(1.05 * full)
    isolation = step(found, "power.isolation").reading
    assert isolation is not None
    assert isolation.expected.low == pytest.approx(500.0 * 403.2)
    low_side = step(found, "power.low_side.dc_dc").reading
    assert low_side is not None
    assert 12.0 < low_side.expected.low < 14.0 < low_side.expected.high < 16.0


@every_car
def test_the_insulation_test_is_made_ready_and_discharged(name: str):
    found = of("first energisation", name)
    ready = step(found, "insulation.ready").words
    for words in ("Pack disconnected", "monitor off", "poles joined", "makers allow", "Test on"):
        assert words.lower() in ready.lower(), words
    assert "insulation tester" in step(found, "insulation.ready").needs
    wait = step(found, "insulation.discharge").wait
    assert wait is not None
    assert wait >= 300.0
    order = ids(found)
    assert order.index("insulation.reading") + 1 == order.index("insulation.discharge")


# Giving back


@every_car
def test_each_lock_is_lifted_by_its_owner_before_anything_goes_back_in(name: str):
    found = of("re-energising", name)
    order = ids(found)
    lifted = [s for s in found.steps if s.id.startswith("lift.")]
    gaps = circuit_of(car(name)[0]).of_kind(model.DISCONNECT)
    assert len(lifted) >= len(gaps) + 1
    assert all("their own lock" in s.words for s in lifted)
    assert order.index("close.tools") < order.index("close.insulation") < order.index(lifted[0].id)
    assert order.index(lifted[-1].id) < order.index("back.12v") < order.index("watch.precharge")
    for gap in gaps:
        assert order.index(f"back.gap.{model.slug(gap.name)}") < order.index("back.12v")


# Inside the pack


@every_car
def test_inside_a_pack_everything_is_live_work_and_a_zero_is_a_stop(name: str):
    found = of("inside the pack", name)
    figures = car(name)[1].figures
    for pack in circuit_of(car(name)[0]).of_kind(model.PACK):
        slug = model.slug(pack.name)
        reading = step(found, f"measure.{slug}.pole_pole").reading
        assert reading is not None
        empty = figures["pack.voltage_empty"].value.si
        assert reading.expected.low == pytest.approx(pack.share * empty / 1.05)
        assert reading.expected.low > 12.0
        assert step(found, f"open.{slug}").people == 2
    at_parts = [s for s in found.steps if not s.id.startswith(("before.", "prove."))]
    assert all(s.who == "live" for s in at_parts)
    assert any("nothing clears a fault" in each for each in found.cautions)
    assert (step(found, "ready.permit").act, step(found, "ready.permit").people) == ("sign", 2)


def test_a_string_is_taken_apart_into_parts_of_class_a_where_that_goes():
    # 33.6 V a module on the coupe: two in row would be 67.2 V.
    assert "each module stands by itself" in step(of("inside the pack"), "split.front_pack").words


# A damaged car


@every_car
def test_nobody_is_sent_to_touch_a_damaged_car(name: str):
    found = of("damaged vehicle", name)
    assert found.steps[0].id == "away.stop"
    assert found.steps[0].who == "aware"
    assert "Nobody touches the car" in found.steps[0].words
    order = ids(found)
    assert (
        order.index("tell.call") < order.index("quarantine.place") < order.index("later.stranded")
    )
    assert "outdoors" in step(found, "quarantine.place").words
    for pack in circuit_of(car(name)[0]).of_kind(model.PACK):
        assert pack.name in step(found, "later.stranded").words
    highest = f"{found.highest:.0f} V"
    assert highest in step(found, "tell.call").words


# A rescue


@every_car
def test_the_first_line_of_a_rescue_is_cut_or_hook_and_do_not_touch(name: str):
    found = of("rescue of a person", name)
    first = found.steps[0]
    assert first.title == "Cut the source or use the hook: do not touch"
    assert first.words.startswith("Do not touch the person")
    assert "rescue hook" in first.needs
    assert ids(found) == [
        "free.cut",
        "free.call",
        "help.breathing",
        "help.defibrillator",
        "help.burns",
        "help.hospital",
        "after.car",
        "after.report",
    ]
    assert "hospital" in step(found, "help.hospital").title
    assert all(s.who == "aware" and s.people == 1 for s in found.steps)
    assert any("outrank" in each for each in found.cautions)


@pytest.mark.parametrize("kind", ["first energisation", "re-energising"])
def test_strings_are_compared_before_they_are_joined(kind: Kind):
    two = changed("ridgeway", SECOND_STRING)
    found = procedure_for(kind, two, assess(two))
    order = ids(found)
    joined = step(found, "strings.join")
    assert "2.00 V" in joined.words
    assert joined.about == ("front pack 1", "rear pack 1", "front pack 2", "rear pack 2")
    fitted = [n for n, each in enumerate(order) if each.startswith(("power.insert", "back.gap"))]
    assert order.index("strings.join") < min(fitted)
    assert of(kind).step("strings.join") is None
