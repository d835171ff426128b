"""The short form of the circuit written out: from parts and lengths to every element.

What it makes of a file, from the pack outwards:

* each string of the pack: its boxes in the order of the file, from minus to plus; between two boxes
  the service disconnect, a main fuse that stands in the middle, and a cable between the boxes
* string fuses and string contactors, where they are given; the strings join at the pack's busbar
* main fuse, then main contactors with the precharge branch around the one in the plus pole
* the cable from the pack to the inverter, or to a distribution unit and on from there
* at its end the inverter with its link capacitor, bleed resistor and active discharge; the
  branches, each with fuse, contactors and cable; a fast-charge inlet behind the charge contactors
* Y-capacitors, isolation resistances and the isolation monitor between the poles and the chassis
"""

from __future__ import annotations

from dataclasses import dataclass, field

from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit, Element
from swapwright.build.circuit.place import DISTRIBUTION, PACK_PLACE, place_word
from swapwright.standards.inlets import FAST_INLETS

Pair = tuple[str, str]


@dataclass
class _Wiring:
    """Elements put together so far."""

    car: Car
    elements: list[Element] = field(default_factory=list)

    def add(
        self,
        name: str,
        kind: str,
        nodes: Pair,
        path: str,
        device: str = "",
        *,
        entries: dict[str, str] | None = None,
        share: float = 1.0,
        string: int = 0,
    ) -> None:
        """Put one element between two nodes."""
        self.elements.append(
            Element(name, kind, *nodes, device or name, path, entries or {}, share, string)
        )

    def along(self, pair: Pair, kind: str, device: str, path: str, poles: str = "both") -> Pair:
        """Put a device in series in one pole or both; return the pair of nodes behind it."""
        plus, minus = pair
        if poles in ("both", "positive"):
            plus = self._series(plus, kind, f"{device} +", device, path)
        if poles in ("both", "negative"):
            minus = self._series(minus, kind, f"{device} -", device, path)
        return plus, minus

    def _series(self, node: str, kind: str, name: str, device: str, path: str) -> str:
        behind = f"{name} out"
        self.add(name, kind, (node, behind), path, device)
        return behind

    def has(self, path: str) -> bool:
        return self.car.has(path)

    def text(self, path: str, default: str = "") -> str:
        return self.car.texts.get(path, default)


def short_form(car: Car) -> Circuit:
    """Return the circuit of a car whose file gives it in the short form."""
    wiring = _Wiring(car)
    pair = _pack(wiring)
    pair = _main_fuse(wiring, pair)
    pair = _main_contactors(wiring, pair)
    routes = _Routes(car)
    bus = _cables(wiring, pair, routes.trunk)
    _drive(wiring, bus, routes)
    _branches(wiring, bus, routes)
    _inlet(wiring, bus)
    _chassis(wiring, bus)
    return Circuit(tuple(wiring.elements))


class _Routes:
    """Which cables lie where: in the pack, from it, to the inverters, to the branches."""

    def __init__(self, car: Car) -> None:
        self.mid: list[str] = []
        self.trunk: list[str] = []
        self.to: dict[str, list[str]] = {}
        boxes = {place_word(name) for name in box_names(car)} | {PACK_PLACE}
        for number in range(car.counts.get("hv.cable", 0)):
            path = f"hv.cable[{number}]"
            start = place_word(car.texts.get(f"{path}.from", PACK_PLACE))
            end = place_word(car.texts.get(f"{path}.to", "inverter"))
            if start in boxes and end in boxes:
                self.mid.append(path)
            elif start in boxes and end in ("inverter", DISTRIBUTION):
                self.trunk.append(path)
            else:
                self.to.setdefault(end, []).append(path)


def box_names(car: Car) -> tuple[str, ...]:
    """Return the names of the pack's boxes, in the order of the file."""
    return tuple(
        car.texts.get(f"pack.boxes[{number}].name", f"box {number + 1}")
        for number in range(car.counts.get("pack.boxes", 0))
    )


def _named(car: Car, path: str, fallback: str) -> str:
    return car.texts.get(f"{path}.name", fallback)


def _pack(wiring: _Wiring) -> Pair:
    """Write out the strings; return the pair of nodes they join at."""
    value = wiring.car.get("pack.strings")
    strings = 1 if value is None else round(value.si)
    if strings == 1:
        return _string(wiring, 1, "", ("pack +", "pack -"))
    for number in range(1, strings + 1):
        suffix = f" {number}"
        pair = _string(wiring, number, suffix, (f"string{suffix} +", f"string{suffix} -"))
        joined = _string_protection(wiring, suffix, pair)
        _rename(wiring, joined, ("pack +", "pack -"))
    return "pack +", "pack -"


def _string_protection(wiring: _Wiring, suffix: str, pair: Pair) -> Pair:
    for kind, path, device in (
        (model.FUSE, "hv.string_fuse", "string fuse"),
        (model.CONTACTOR, "hv.string_contactors", "string contactors"),
    ):
        if wiring.has(path):
            poles = _poles(wiring.text(f"{path}.poles", "both"), "positive")
            pair = wiring.along(pair, kind, f"{device}{suffix}", path, poles)
    return pair


def _poles(said: str, at: str) -> str:
    """Return where a device stands: ``both``, ``positive``, ``negative``."""
    return "both" if said == "both" else at


def _rename(wiring: _Wiring, old: Pair, new: Pair) -> None:
    """Join a pair of nodes to another pair."""
    names = dict(zip(old, new, strict=True))
    wiring.elements[:] = [
        Element(
            each.name,
            each.kind,
            names.get(each.plus, each.plus),
            names.get(each.minus, each.minus),
            each.device,
            each.path,
            each.entries,
            each.share,
            each.string,
        )
        for each in wiring.elements
    ]


def _string(wiring: _Wiring, number: int, suffix: str, ends: Pair) -> Pair:
    """Write out one string between its two ends, with the gap in its middle."""
    cells = "pack.module" if wiring.has("pack.module") else "pack.cell"
    halves = _halves(wiring.car)
    if not halves:
        wiring.add(f"pack{suffix}", model.PACK, ends, cells, string=number)
        return ends
    (low, low_share), (high, high_share) = halves
    node = f"{low}{suffix} +"
    wiring.add(f"{low}{suffix}", model.PACK, (node, ends[1]), cells, share=low_share, string=number)
    node = _middle(wiring, node, suffix)
    wiring.add(
        f"{high}{suffix}", model.PACK, (ends[0], node), cells, share=high_share, string=number
    )
    return ends


def _halves(car: Car) -> tuple[tuple[str, float], tuple[str, float]] | None:
    """Return the two sides of the gap: a name and its share of a string's modules each."""
    names = box_names(car)
    between = tuple(
        car.texts[f"hv.disconnect.between[{number}]"]
        for number in range(car.counts.get("hv.disconnect.between", 0))
    )
    places = sorted(names.index(name) for name in between if name in names)
    if len(places) != len(between) or len(places) != 1 + 1:
        return None
    held = [car.get(f"pack.boxes[{number}].modules") for number in range(len(names))]
    modules = [0.0 if value is None else value.si for value in held]
    if not all(modules):
        return None
    cut = places[0] + 1
    share = sum(modules[:cut]) / sum(modules)
    low = f"{_together(names[:cut])} pack"
    high = f"{_together(names[cut:])} pack"
    return (low, share), (high, 1.0 - share)


def _together(names: tuple[str, ...]) -> str:
    return " and ".join(names)


def _middle(wiring: _Wiring, node: str, suffix: str) -> str:
    """Put what stands between the boxes: disconnect, a fuse in the middle, a cable."""
    items = [(model.DISCONNECT, "service disconnect", "hv.disconnect")]
    if wiring.text("hv.main_fuse.at") == "mid":
        items.append((model.FUSE, "main fuse", "hv.main_fuse"))
    for path in _Routes(wiring.car).mid:
        items.append((model.CABLE, _named(wiring.car, path, "cable between boxes"), path))
    for kind, device, path in items:
        behind = f"{device}{suffix} out"
        wiring.add(f"{device}{suffix}", kind, (node, behind), path, f"{device}{suffix}")
        node = behind
    return node


def _main_fuse(wiring: _Wiring, pair: Pair) -> Pair:
    at = wiring.text("hv.main_fuse.at", "positive")
    if not wiring.has("hv.main_fuse") or (at == "mid" and _halves(wiring.car)):
        return pair
    poles = _poles(wiring.text("hv.main_fuse.poles", "one"), "positive" if at == "mid" else at)
    return wiring.along(pair, model.FUSE, "main fuse", "hv.main_fuse", poles)


def _main_contactors(wiring: _Wiring, pair: Pair) -> Pair:
    if not wiring.has("hv.contactors"):
        return pair
    poles = _poles(wiring.text("hv.contactors.poles", "one"), "positive")
    behind = wiring.along(pair, model.CONTACTOR, "main contactors", "hv.contactors", poles)
    if wiring.has("hv.precharge"):
        middle = "precharge relay out"
        wiring.add(
            "precharge relay", model.PRECHARGE_RELAY, (pair[0], middle), "hv.precharge.relay"
        )
        wiring.add(
            "precharge resistor",
            model.PRECHARGE_RESISTOR,
            (middle, behind[0]),
            "hv.precharge",
            entries={
                "resistance": "hv.precharge.resistor",
                "power": "hv.precharge.rating",
                "pulse": "hv.precharge.pulse",
            },
        )
    return behind


def _cables(wiring: _Wiring, pair: Pair, paths: list[str]) -> Pair:
    """Put cables, and the connectors at their ends, one behind the other."""
    for path in paths:
        name = _named(wiring.car, path, f"cable {int(path[9:-1]) + 1}")
        pair = wiring.along(pair, model.CABLE, name, path)
        pair = _connectors(wiring, pair, wiring.text(f"{path}.to", "inverter"))
    return pair


def _connectors(wiring: _Wiring, pair: Pair, place: str) -> Pair:
    for number in range(wiring.car.counts.get("hv.connector", 0)):
        path = f"hv.connector[{number}]"
        if place_word(wiring.text(f"{path}.at", "inverter")) == place_word(place):
            name = _named(wiring.car, path, f"connector {number + 1}")
            pair = wiring.along(pair, model.CONNECTOR, name, path)
    return pair


def _drive(wiring: _Wiring, bus: Pair, routes: _Routes) -> None:
    """Put each inverter with its link capacitor; bleed and discharge stand at the first."""
    for prefix, name in (("drive", "inverter"), ("drive.second", "second inverter")):
        if prefix != "drive" and not wiring.has(f"{prefix}.motor"):
            continue
        path = f"{prefix}.inverter"
        pair = _cables(wiring, bus, routes.to.get(name, []))
        wiring.add(name, model.INVERTER, pair, path)
        wiring.add(
            "link capacitor" if prefix == "drive" else "second link capacitor",
            model.LINK,
            pair,
            path,
            entries={"capacitance": f"{path}.link_capacitance"},
        )
        if prefix == "drive":
            _discharge(wiring, pair)


def _discharge(wiring: _Wiring, pair: Pair) -> None:
    if wiring.has("hv.bleed"):
        entries = {"resistance": "hv.bleed", "power": "hv.bleed_rating"}
        _bleeds(wiring, pair, "bleed resistor", "hv.bleed", "hv.bleed_count", entries)
    if wiring.has("hv.active_discharge"):
        entries = {"time": "hv.active_discharge"}
        wiring.add(
            "active discharge", model.ACTIVE_DISCHARGE, pair, "hv.active_discharge", entries=entries
        )


def _bleeds(
    wiring: _Wiring, pair: Pair, name: str, path: str, count: str, entries: dict[str, str]
) -> None:
    """Put the bleed resistors of one value side by side: one device of so many elements."""
    value = wiring.car.get(count)
    several = 1 if value is None else round(value.si)
    for number in range(1, several + 1):
        own = name if several == 1 else f"{name} {number}"
        wiring.add(own, model.BLEED, pair, path, name, entries=entries)


def _branches(wiring: _Wiring, bus: Pair, routes: _Routes) -> None:
    car = wiring.car
    for number in range(car.counts.get("hv.branch", 0)):
        path = f"hv.branch[{number}]"
        name = _named(car, path, f"branch {number + 1}")
        pair = bus
        if car.has(f"{path}.fuse"):
            poles = _poles(wiring.text(f"{path}.fuse.poles", "one"), "positive")
            pair = wiring.along(pair, model.FUSE, f"{name} fuse", f"{path}.fuse", poles)
        kind = branch_kind(car, path, name)
        contactor = f"{path}.contactor"
        if kind == model.CHARGER and not car.has(contactor) and not _is_fast(car):
            contactor = "charging.contactors"
        if car.has(contactor):
            poles = _poles(wiring.text(f"{contactor}.poles", "one"), "positive")
            pair = wiring.along(pair, model.CONTACTOR, f"{name} contactors", contactor, poles)
        if any(car.has(f"{path}.cable.{key}") for key in ("length", "size")):
            pair = wiring.along(pair, model.CABLE, f"{name} cable", f"{path}.cable")
        pair = _cables(wiring, pair, routes.to.get(place_word(name), []))
        wiring.add(name, kind, pair, path)
        if _has_capacitor(car, path, name, kind):
            entries = {"capacitance": f"{path}.capacitance"}
            wiring.add(f"{name} capacitor", model.LINK, pair, path, entries=entries)
        if car.has(f"{path}.bleed"):
            entries = {"resistance": f"{path}.bleed", "power": f"{path}.bleed_rating"}
            _bleeds(wiring, pair, f"{name} bleed", path, f"{path}.bleed_count", entries)


def branch_kind(car: Car, path: str, name: str) -> str:
    """Return what a branch feeds, by the part or the word its file gives."""
    load = car.texts.get(f"{path}.load", "")
    if load and load == car.part_names.get("charging.charger"):
        return model.CHARGER
    if load and load == car.part_names.get("lv.dcdc"):
        return model.DCDC
    said = place_word(f"{load} {name}")
    if "inlet" in said:
        return model.INLET
    if "charger" in said:
        return model.CHARGER
    if "dc dc" in said or "dcdc" in said:
        return model.DCDC
    return model.LOAD


def _has_capacitor(car: Car, path: str, name: str, kind: str) -> bool:
    """Tell whether a branch has a capacitor across it: said, or of a kind that always has one.

    Every converter has one across its input. Where its size is not said it is unknown, not none;
    only a plain heater and the contacts of an inlet go without.
    """
    entry = f"{path}.capacitance"
    if car.has(entry):
        return car.number(entry) > 0.0
    said = place_word(f"{car.texts.get(f'{path}.load', '')} {name}")
    is_plain = "heater" in said and "compressor" not in said and "pump" not in said
    return kind != model.INLET and not (kind == model.LOAD and is_plain)


def _is_fast(car: Car) -> bool:
    return car.texts.get("charging.inlet", "") in FAST_INLETS


def _inlet(wiring: _Wiring, bus: Pair) -> None:
    """Put a direct-current inlet behind its own contactors, unless a branch is one already."""
    if not _is_fast(wiring.car) or any(e.kind == model.INLET for e in wiring.elements):
        return
    path, pair = "charging.contactors", bus
    if wiring.has(path):
        poles = _poles(wiring.text(f"{path}.poles", "one"), "positive")
        pair = wiring.along(pair, model.CONTACTOR, "charge contactors", path, poles)
    wiring.add("fast-charge inlet", model.INLET, pair, "charging.inlet")


def _chassis(wiring: _Wiring, bus: Pair) -> None:
    """Put what stands between the poles and the chassis."""
    sides = (("+", bus[0], "positive"), ("-", bus[1], "negative"))
    if wiring.has("hv.y_capacitance"):
        for sign, node, _ in sides:
            wiring.add(
                f"y-capacitor {sign}",
                model.Y_CAPACITOR,
                (node, CHASSIS),
                "hv.y_capacitance",
                "y-capacitors",
                entries={"capacitance": "hv.y_capacitance"},
            )
    for sign, node, side in sides:
        if wiring.has(f"hv.isolation.{side}"):
            wiring.add(
                f"isolation {sign}",
                model.LEAK,
                (node, CHASSIS),
                f"hv.isolation.{side}",
                "isolation",
                entries={"resistance": f"hv.isolation.{side}"},
            )
    if wiring.has("hv.isolation_monitor"):
        for sign, node, _ in sides:
            wiring.add(
                f"isolation monitor {sign}",
                model.MONITOR,
                (node, CHASSIS),
                "hv.isolation_monitor",
                "isolation monitor",
                entries={"resistance": "hv.isolation_monitor.resistance"},
            )
