"""Circuits of many shapes to draw, written out element by element."""

from __future__ import annotations

from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Element


def element(name: str, kind: str, plus: str, minus: str, device: str = "") -> Element:
    return Element(name, kind, plus, minus, device or name, f"hv.element.{name}")


def both(name: str, kind: str, plus: tuple[str, str], minus: tuple[str, str]) -> list[Element]:
    """Return a device with an element in each pole."""
    return [
        element(f"{name} +", kind, *plus, name),
        element(f"{name} -", kind, *minus, name),
    ]


def drive(name: str, plus: str, minus: str) -> list[Element]:
    return [
        element(name, model.INVERTER, plus, minus),
        element(f"{name} link", model.LINK, plus, minus),
        element(f"{name} bleed", model.BLEED, plus, minus),
    ]


def chassis(plus: str, minus: str) -> list[Element]:
    found = []
    for name, kind in (
        ("y-capacitors", model.Y_CAPACITOR),
        ("isolation", model.LEAK),
        ("isolation monitor", model.MONITOR),
    ):
        found += both(name, kind, (plus, CHASSIS), (minus, CHASSIS))
    return found


def precharged(start: str, end: str) -> list[Element]:
    return [
        element("main contactor", model.CONTACTOR, start, end),
        element("precharge relay", model.PRECHARGE_RELAY, start, f"{start} half"),
        element("precharge resistor", model.PRECHARGE_RESISTOR, f"{start} half", end),
    ]


def single_box() -> Circuit:
    return Circuit(
        (
            element("pack", model.PACK, "p0", "m0"),
            element("main fuse", model.FUSE, "p0", "p1"),
            *precharged("p1", "p2"),
            *both("pair", model.CABLE, ("p2", "p3"), ("m0", "m1")),
            *drive("inverter", "p3", "m1"),
            *chassis("p3", "m1"),
        )
    )


def two_strings() -> Circuit:
    parts: list[Element] = []
    for n in (1, 2):
        parts += [
            element(f"lower box {n}", model.PACK, f"a{n}", f"s{n} -"),
            element(f"service disconnect {n}", model.DISCONNECT, f"b{n}", f"a{n}"),
            element(f"upper box {n}", model.PACK, f"s{n} +", f"b{n}"),
            element(f"string fuse {n}", model.FUSE, f"s{n} +", f"f{n}"),
            *both(f"string contactors {n}", model.CONTACTOR, (f"f{n}", "p0"), (f"s{n} -", "m0")),
        ]
    return Circuit(
        (
            *parts,
            *precharged("p0", "p1"),
            *both("trunk", model.CABLE, ("p1", "p2"), ("m0", "m1")),
            *drive("inverter", "p2", "m1"),
            *chassis("p2", "m1"),
        )
    )


def two_drives() -> Circuit:
    return Circuit(
        (
            element("pack", model.PACK, "p0", "m0"),
            element("main fuse", model.FUSE, "p0", "p1"),
            *precharged("p1", "bus +"),
            *both("front cable", model.CABLE, ("bus +", "f +"), ("m0", "f -")),
            *drive("front inverter", "f +", "f -"),
            element("rear fuse", model.FUSE, "bus +", "r0"),
            *both("rear cable", model.CABLE, ("r0", "r +"), ("m0", "r -")),
            *drive("rear inverter", "r +", "r -"),
            element("heater fuse", model.FUSE, "bus +", "h +"),
            element("heater", model.LOAD, "h +", "m0"),
            *chassis("bus +", "m0"),
        )
    )


def fast_charge() -> Circuit:
    """The inlet hangs before the main contactors, with contactors and a precharge of its own."""
    return Circuit(
        (
            element("lower box", model.PACK, "mid -", "m0"),
            element("service disconnect", model.DISCONNECT, "mid +", "mid -"),
            element("upper box", model.PACK, "p0", "mid +"),
            element("mid leak", model.LEAK, "mid +", CHASSIS),
            element("main fuse", model.FUSE, "p0", "p1"),
            *both("charge contactors", model.CONTACTOR, ("p1", "c +"), ("m0", "c -")),
            element("charge precharge relay", model.PRECHARGE_RELAY, "p1", "c half"),
            element("charge precharge resistor", model.PRECHARGE_RESISTOR, "c half", "c +"),
            element("fast-charge inlet", model.INLET, "c +", "c -"),
            *precharged("p1", "p2"),
            element("minus contactor", model.CONTACTOR, "m0", "m1"),
            *both("plug", model.CONNECTOR, ("p2", "p3"), ("m1", "m2")),
            *drive("inverter", "p3", "m2"),
            element("discharge", model.ACTIVE_DISCHARGE, "p3", "m2"),
            element("charger", model.CHARGER, "p2", "m1"),
            element("dc-dc", model.DCDC, "p2", "m1"),
            *chassis("p3", "m2"),
        )
    )


def meshed() -> Circuit:
    """A ring of cables and a load between two rings: no two rails."""
    return Circuit(
        (
            element("pack", model.PACK, "a", "z"),
            element("cable 1", model.CABLE, "a", "b"),
            element("cable 2", model.CABLE, "b", "c"),
            element("cable 3", model.CABLE, "c", "a"),
            element("cable 4", model.CABLE, "b", "d"),
            element("cable 5", model.CABLE, "d", "c"),
            element("inverter", model.INVERTER, "d", "z"),
            element("heater", model.LOAD, "c", "y"),
            element("pump", model.LOAD, "y", "z"),
            element("fuse", model.FUSE, "y", "b"),
            element("odd", model.BLEED, "d", CHASSIS),
            element("spare pack", model.PACK, "q", "w"),
            element("spare load", model.LOAD, "q", "w"),
        )
    )


BUILT = {
    "single box": single_box,
    "two strings": two_strings,
    "two drives": two_drives,
    "fast charge": fast_charge,
    "meshed": meshed,
}
