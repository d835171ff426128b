"""The full form of a build file's circuit: every element of the short form as a row of its own.

The text of the file is kept but for the entries of the short form, in whose place the rows stand.
A part from the catalogue stays a part by name with what the file changes of it; what the file says
in its own words stays in those words; a default that the full form lacks is written out.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

from swapwright.base.display import show
from swapwright.base.errors import InputError, Problem
from swapwright.base.figure import Value
from swapwright.base.kinds import KINDS, squash
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.model import CHASSIS, Circuit, Element
from swapwright.build.shape import rows_by_path
from swapwright.build.written import Build

CHARGER = "charging.charger"
UNTIL = "hv.precharge.until"

_TAKEN_OUT = (
    "main_fuse",
    "string_fuse",
    "contactors",
    "string_contactors",
    "disconnect",
    "cable",
    "connector",
    "branch",
    "bleed",
    "bleed_count",
    "bleed_rating",
    "active_discharge",
    "y_capacitance",
    "isolation.positive",
    "isolation.negative",
    "isolation_monitor.resistance",
    "precharge.resistor",
    "precharge.relay",
    "precharge.rating",
    "precharge.pulse",
)
"""What stands in `hv` for the circuit itself; the rest is about the car and stays."""

_PARTS = {
    model.FUSE: ("fuse", ("poles", "at")),
    model.CONTACTOR: ("contactor", ("poles",)),
    model.PRECHARGE_RELAY: ("contactor", ()),
}
"""Kinds that a part describes: the key of the part, and what its place says that is no part's."""

_DATA = {
    model.DISCONNECT: ("voltage", "current", "load_break"),
    model.PRECHARGE_RESISTOR: ("resistance", "power", "pulse"),
    model.CABLE: (
        "length",
        "size",
        "insulation",
        "standard",
        "voltage",
        "colour",
        "screened",
        "routing",
        "laid",
        "terminals",
        "diameter",
        "bend_radius",
        "ambient",
        "bundled",
    ),
    model.CONNECTOR: ("voltage", "current", "resistance", "interlocked"),
    model.BLEED: ("resistance", "power"),
    model.ACTIVE_DISCHARGE: ("time",),
    model.LINK: ("capacitance",),
    model.Y_CAPACITOR: ("capacitance",),
    model.LEAK: ("resistance",),
    model.MONITOR: ("resistance",),
    model.LOAD: ("current", "power"),
    model.CHARGER: ("current", "power"),
    model.DCDC: ("current", "power"),
    model.INLET: ("current", "power"),
}
"""The data an element of each kind carries over, where the file gives them."""


def full_form_text(build: Build, car: Car) -> str:
    """Return the text of a build file with its circuit in the full form.

    A file that is in the full form already comes back as it is. Raises InputError where it says
    nothing of a circuit.
    """
    if car.counts.get("hv.element", 0):
        return build.text
    circuit = circuit_of(car)
    if "hv" not in build.raw or not circuit.elements:
        problem = Problem(build.file, "hv", "the file says nothing of a high-voltage circuit")
        raise InputError(problem)
    rows = "\n".join(_row(build, car, circuit, element) for element in circuit.elements)
    return f"{_without_short_form(build, car).rstrip()}\n\n{rows}"


def _without_short_form(build: Build, car: Car) -> str:
    """Return the file's text without the entries of the short form."""
    import tomlkit

    tree = tomlkit.parse(build.text.removeprefix("\ufeff"))
    for key in _TAKEN_OUT:
        holder: Any = tree["hv"]
        *above, last = key.split(".")
        for step in above:
            holder = holder.get(step, {})
        if last in holder:
            del holder[last]
    hv: Any = tree["hv"]
    for key in ("isolation", "isolation_monitor"):
        if key in hv and not hv[key]:
            del hv[key]
    if car.has("hv.isolation_monitor") and "isolation_monitor" not in hv:
        hv["isolation_monitor"] = {"count": round(car.number("hv.isolation_monitor.count"))}
    if "precharge" in hv and not hv["precharge"]:
        hv["precharge"]["until"] = _text(car.value(UNTIL), UNTIL)
    if CHARGER not in build.parts and CHARGER in car.part_names:
        tree.setdefault("charging", tomlkit.table())["charger"] = car.part_names[CHARGER]
    return _sound(tomlkit.dumps(tree), build)


def _sound(text: str, build: Build) -> str:
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        problem = Problem(build.file, "hv", f"the short form cannot be taken out: {error}")
        raise InputError(problem) from None
    return text


def _row(build: Build, car: Car, circuit: Circuit, element: Element) -> str:
    said: dict[str, str] = {"name": _quoted(element.name), "kind": _quoted(element.kind)}
    said |= _ends(circuit, element)
    said |= dict(_data(build, car, element))
    wide = max(map(len, said))
    lines = "\n".join(f"{key:<{wide}} = {text}" for key, text in said.items())
    return f"[[hv.element]]\n{lines}\n"


def _ends(circuit: Circuit, element: Element) -> Iterator[tuple[str, str]]:
    """Yield where an element's ends are joined to: the first terminal of each node."""
    for key, end, node in (("from", "plus", element.plus), ("to", "minus", element.minus)):
        first = CHASSIS if node == CHASSIS else _first_terminal(circuit, node)
        if first != f"{element.name}.{end}":
            yield key, _quoted(first)


def _first_terminal(circuit: Circuit, node: str) -> str:
    first = circuit.at([node])[0]
    return f"{first.name}.{'plus' if first.plus == node else 'minus'}"


def _data(build: Build, car: Car, element: Element) -> Iterator[tuple[str, str]]:
    if element.kind == model.PACK:
        yield from _modules(car, element)
    elif element.kind == model.INVERTER:
        yield "drive", _quoted("second" if ".second." in element.path else "first")
    elif element.kind in _PARTS:
        key, places = _PARTS[element.kind]
        part = _raw(build.raw, element.path)
        if part is not None:
            yield key, _inline(_without(part, places))
    for name in _DATA.get(element.kind, ()):
        text = _entry(build, car, element.entry(name), name)
        if text is not None:
            yield name, text


def _modules(car: Car, element: Element) -> Iterator[tuple[str, str]]:
    in_string = car.get("pack.modules_per_string")
    if in_string is not None:
        yield "modules", str(round(element.share * in_string.si))


def _entry(build: Build, car: Car, path: str, name: str) -> str | None:
    """Return an entry as it stands in the file, or as the car has it; None where there is none."""
    raw = _raw(build.raw, path)
    if raw is not None:
        return _inline(raw)
    value = car.get(path)
    if value is None or (value.origin == "default" and name not in _NEEDED):
        return None
    return _inline(_text(value, path))


_NEEDED = ("resistance", "capacitance")
"""Data the full form has no default for."""


def _text(value: Value, path: str) -> str | int | float:
    """Return an SI value as a person would type it, to twelve digits."""
    row = rows_by_path().get(re.sub(r"\[\d+\]", "[]", path))
    kind = row.kind if row is not None else _KIND_OF_UNIT[value.unit]
    if value.low is not None and value.high is not None:
        unit = _unit(value.high, kind)
        ends = (_number(end, kind, unit) for end in (value.low, value.high))
        return "..".join(ends) + f" {unit}"
    unit = _unit(value.si, kind)
    number = _number(value.si, kind, unit)
    return f"{number} {unit}" if unit else float(number)


_KIND_OF_UNIT = {"F": "capacitance", "ohm": "resistance", "V": "voltage", "A": "current"}


def _unit(si: float, kind: str) -> str:
    return show(si, kind).partition(" ")[2]


def _number(si: float, kind: str, unit: str) -> str:
    return f"{KINDS[kind].units[squash(unit)].from_si(si):.12g}"


def _raw(raw: Mapping[str, Any], path: str) -> Any:
    """Return what a file has at a build path (``hv.branch[0].fuse``), None where nothing."""
    found: Any = raw
    for step in path.replace("[", ".[").split("."):
        if step.startswith("["):
            number = int(step[1:-1])
            if not isinstance(found, list) or number >= len(found):
                return None
            found = found[number]
        elif isinstance(found, dict) and step in found:
            found = found[step]
        else:
            return None
    return found


def _without(part: Any, places: tuple[str, ...]) -> Any:
    """Return a part without what is said of its place; by its bare name where that is all."""
    if not isinstance(part, dict):
        return part
    kept = {key: entry for key, entry in part.items() if key not in places}
    return kept["part"] if list(kept) == ["part"] else kept


def _inline(entry: Any) -> str:
    """Return an entry as TOML in one line."""
    if isinstance(entry, dict):
        inside = ", ".join(f"{_key(key)} = {_inline(each)}" for key, each in entry.items())
        return f"{{ {inside} }}"
    if isinstance(entry, list):
        return f"[{', '.join(map(_inline, entry))}]"
    if isinstance(entry, bool):
        return str(entry).lower()
    return _quoted(entry) if isinstance(entry, str) else repr(entry)


def _key(key: str) -> str:
    return (
        key if key.isascii() and key.replace("_", "").replace("-", "").isalnum() else _quoted(key)
    )


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
