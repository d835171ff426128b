"""The example cars, and circuits drawn by lot, as the tests of derived procedures use them."""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path

from swapwright.assess.assessment import Assessment
from swapwright.assess.solve import assess
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Element, slug
from swapwright.build.edit import edit
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue
from swapwright.procedures.facts import Facts
from swapwright.procedures.isolation import isolation, isolation_procedure
from swapwright.procedures.step import Procedure, Step
from swapwright.procedures.subject import Subject

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
CARS = ("ridgeway", "bakery", "parcel-round", "hill-farm", "fault-finder")
CATALOGUE = Catalogue()
VOLTS = 400.0
SECOND_STRING: Mapping[str, str | None] = {
    "pack.strings": "2",
    "pack.boxes[0].modules": "10",
    "pack.boxes[1].modules": "14",
    "hv.string_fuse": '{ part = "fuse-200a-500vdc", poles = "both" }',
    "hv.string_contactors": '{ part = "contactor-500vdc-350a", poles = "both", polarised = false }',
    "hv.join_difference": "2 V",
}


def changed(name: str, changes: Mapping[str, str | None]) -> Car:
    """Return an example car with entries changed; None takes one out."""
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for path, to in changes.items():
        text = edit(text, path, to)
    return resolve(load_text(text, "a car"), CATALOGUE)


@cache
def car(name: str) -> tuple[Car, Assessment]:
    """Return an example car and its assessment."""
    found = changed(name, {})
    return found, assess(found)


@cache
def procedure(name: str) -> Procedure:
    """Return the isolation procedure of an example car."""
    return isolation_procedure(*car(name))


def of_changed(name: str, changes: Mapping[str, str | None]) -> Procedure:
    """Return the isolation procedure of an example car with entries changed."""
    found = changed(name, changes)
    return isolation_procedure(found, assess(found))


def ids(found: Procedure | Iterable[Step]) -> list[str]:
    """Return the ids of a procedure's steps, in order."""
    return [step.id for step in (found.steps if isinstance(found, Procedure) else found)]


def step(found: Procedure, step_id: str) -> Step:
    """Return the step with an id; it has to be there."""
    wanted = found.step(step_id)
    assert wanted is not None, (step_id, ids(found))
    return wanted


def of_circuit(circuit: Circuit) -> Procedure:
    """Return the isolation procedure of a circuit drawn by lot: every section has a wait."""
    names = [name for e in circuit.elements for name in (e.name, e.device)]
    waits = {slug(name): 300.0 for name in names if "slow" not in name}
    return isolation(Subject(circuit, Facts(VOLTS, 0.75 * VOLTS, waits)))


def element(
    name: str,
    kind: str,
    plus: str,
    minus: str,
    *,
    device: str = "",
    share: float = 1.0,
    of: int = 0,
) -> Element:
    """Return an element of a circuit drawn by lot."""
    return Element(name, kind, plus, minus, device or name, "hv", share=share, string=of)


KINDS = (
    model.CONTACTOR,
    model.CONTACTOR,
    model.PRECHARGE_RELAY,
    *(model.DISCONNECT,) * 5,
    model.CABLE,
    model.FUSE,
    model.LINK,
    model.BLEED,
    model.INVERTER,
    model.CHARGER,
    model.DCDC,
    model.LOAD,
    model.Y_CAPACITOR,
)


def tangle(seed: int) -> Circuit:
    """Return a circuit of a pack or two and a few elements more than nodes, anyhow between them."""
    pick = random.Random(seed)
    nodes = [f"n{number}" for number in range(pick.randint(4, 12))]
    found = []
    packs = pick.randint(1, 2)
    for number in range(len(nodes) + pick.randint(0, 6)):
        kind = model.PACK if number < packs else pick.choice(KINDS)
        one, other = pick.sample(nodes, 2)
        if kind in model.TO_CHASSIS:
            other = CHASSIS
        of = number + 1 if kind == model.PACK else 0
        found.append(element(f"e{number}", kind, one, other, of=of))
    return Circuit(tuple(found))


BRANCHES = (model.INVERTER, model.CHARGER, model.DCDC, model.INLET, model.LOAD)


def along(found: list[Element], pair: tuple[str, str], kind: str, name: str) -> tuple[str, str]:
    """Put a device in series in both poles; return the pair of nodes behind it."""
    plus, minus = f"{name} + out", f"{name} - out"
    found.append(element(f"{name} +", kind, pair[0], plus, device=name))
    found.append(element(f"{name} -", kind, pair[1], minus, device=name))
    return plus, minus


def string(pick: random.Random, number: int, *, has_gap: bool) -> list[Element]:
    """Return a string of the pack in two halves, with a gap or none, fuse and contactors by lot."""
    low, high = f"low {number}", f"high {number}"
    found = [element(low, model.PACK, f"{low} +", f"s{number} -", share=0.5, of=number)]
    middle = f"{low} +"
    if has_gap:
        middle = f"gap {number} out"
        found.append(element(f"gap {number}", model.DISCONNECT, f"{low} +", middle))
    found.append(element(high, model.PACK, f"s{number} +", middle, share=0.5, of=number))
    pair = (f"s{number} +", f"s{number} -")
    if pick.random() < 0.7:
        pair = along(found, pair, model.FUSE, f"string fuse {number}")
    if pick.random() < 0.7:
        pair = along(found, pair, model.CONTACTOR, f"string contactors {number}")
    found.append(element(f"busbar {number} +", model.CABLE, pair[0], "pack +"))
    found.append(element(f"busbar {number} -", model.CABLE, pair[1], "pack -"))
    return found


def branch(pick: random.Random, name: str, kind: str, bus: tuple[str, str]) -> list[Element]:
    """Return a converter behind a fuse, contactors and a cable, with what stores and empties."""
    found: list[Element] = []
    pair = bus
    if pick.random() < 0.5:
        pair = along(found, pair, model.FUSE, f"{name} fuse")
    if pick.random() < 0.4:
        pair = along(found, pair, model.CONTACTOR, f"{name} contactors")
    pair = along(found, pair, model.CABLE, f"{name} cable")
    found.append(element(name, kind, *pair))
    if pick.random() < 0.7:
        found.append(element(f"{name} capacitor", model.LINK, *pair))
    if pick.random() < 0.4:
        found.append(element(f"{name} bleed", model.BLEED, *pair))
    return found


def trunk(pick: random.Random, gaps: Iterable[bool]) -> list[Element]:
    """Return strings, main contactors, the bus with its first branch, and what goes to chassis."""
    found = [e for n, has in enumerate(gaps, start=1) for e in string(pick, n, has_gap=has)]
    found.append(element("main contactors +", model.CONTACTOR, "pack +", "bus +"))
    found.append(element("main contactors -", model.CONTACTOR, "pack -", "bus -"))
    found.append(element("first load", model.LOAD, "bus +", "bus -"))
    found.append(element("first capacitor", model.LINK, "bus +", "bus -"))
    found += [
        element(f"y-capacitor {sign}", model.Y_CAPACITOR, f"bus {sign}", CHASSIS) for sign in "+-"
    ]
    return found


def car_circuit(
    seed: int, kinds: Iterable[str], gaps: Iterable[bool], without: int | None = None
) -> Circuit:
    """Return a car's circuit by lot, one of its branches left out."""
    found = trunk(random.Random(seed), gaps)
    for number, kind in enumerate(kinds):
        parts = branch(random.Random(seed + number), f"b{number}", kind, ("bus +", "bus -"))
        if number != without:
            found += parts
    return Circuit(tuple(found))
