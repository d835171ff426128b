"""What must agree across a file: names told apart, sums that come out, one way to say a thing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import pairwise

from swapwright.base.errors import UnitError
from swapwright.base.figure import Value
from swapwright.base.nearest import nearest
from swapwright.base.quantity import bare_gallon, show
from swapwright.base.table import Line
from swapwright.build.agreement_systems import note_disagreements_of_systems
from swapwright.build.entries import Found
from swapwright.build.shape import FIELDS
from swapwright.physics.network.identifier import MAX_11
from swapwright.physics.vehicle.tyre_size import tyre_size

_NAMED_LISTS = (
    "pack.boxes",
    "hv.cable",
    "hv.connector",
    "hv.branch",
    "hv.element",
    "lv.load",
    "cooling.loop",
    "network.bus",
    "network.message",
    "network.line",
)

# (low end, high end), each a path of the file.
_WINDOWS = (
    ("pack.usable.from", "pack.usable.to"),
    ("charging.from", "charging.to"),
    ("charging.station.min_voltage", "charging.station.voltage"),
    ("brakes.cut_out", "brakes.cut_in"),
)

_COAST_DOWN = ("car.road_load.a", "car.road_load.b", "car.road_load.c")
_COEFFICIENTS = ("car.road_load.cd_a", "car.road_load.c_rr")

_AXLES = ("car.axle_mass.front", "car.axle_mass.rear")
_WEIGHING = 0.02
"""Two weighings of one car agree within this share of it."""

_LEAST_AT_FULL = 0.05
"""Share of the torque at full pedal: the least any of the controller's tables may leave."""

_OTHER_GALLON = ("UK", "AU", "NZ")
"""Regions whose own gallon was not the US one."""


def note_disagreements(found: Found) -> None:
    """Note a problem for everything in a file that contradicts another thing in it."""
    _names_told_apart(found)
    _windows(found)
    _mass_rows(found)
    _road_load(found)
    _axle_masses(found)
    _tyres(found)
    _gallons(found)
    _pack_form(found)
    _box_modules(found)
    _circuit_form(found)
    _disconnect_boxes(found)
    _identifiers(found)
    note_disagreements_of_systems(found)
    _pedal(found)


def _names_told_apart(found: Found) -> None:
    for path in _NAMED_LISTS:
        seen: set[str] = set()
        for number in range(found.counts.get(path, 0)):
            at = f"{path}[{number}].name"
            name = found.entries.get(at)
            if isinstance(name, str):
                if name in seen:
                    found.fault(at, "another one has this name", given=name)
                seen.add(name)


def _windows(found: Found) -> None:
    defaults = {row.path: row.default for row in FIELDS}
    for low, high in _WINDOWS:
        if low in found.entries or high in found.entries:
            _right_way_up(found, low, high, defaults)


def _right_way_up(found: Found, low: str, high: str, defaults: Mapping[str, object]) -> None:
    bottom = _number(found, low, defaults)
    top = _number(found, high, defaults)
    if bottom is None or top is None or bottom < top:
        return
    if high in found.entries:
        found.fault(high, "the window is upside down", allowed=f"above {low}")
    else:
        found.fault(low, "the window is upside down", allowed=f"below {high}")


def _number(found: Found, path: str, defaults: Mapping[str, object]) -> float | None:
    entry = found.entries.get(path, defaults.get(path))
    if isinstance(entry, Value):
        return entry.si
    return entry if isinstance(entry, float) else None


def _mass_rows(found: Found) -> None:
    for number in range(found.counts.get("mass", 0)):
        at = f"mass[{number}]"
        said = [word for word in ("remove", "add", "load") if f"{at}.{word}" in found.entries]
        if len(said) != 1:
            found.fault(
                at,
                "say what this mass is, once",
                given=" and ".join(said) or "none of them",
                allowed="exactly one of remove, add, load",
            )


def _road_load(found: Found) -> None:
    letters = [path for path in _COAST_DOWN if path in found.entries]
    others = [path for path in _COEFFICIENTS if path in found.entries]
    if letters and others:
        found.fault(
            "car.road_load",
            "road load is given twice; choose one way",
            given=_last_words([*letters, *others]),
            allowed="a, b and c from a coast-down, or cd_a and c_rr",
        )
    elif 0 < len(letters) < len(_COAST_DOWN):
        found.fault(
            "car.road_load",
            "a coast-down has three coefficients",
            given=_last_words(letters),
            allowed="a, b and c together",
        )


def _axle_masses(found: Found) -> None:
    """Note a fault where the two axles do not weigh what the car does, at any end of a range."""
    weighed = [found.entries.get(path) for path in (*_AXLES, "car.kerb_mass")]
    values = [entry for entry in weighed if isinstance(entry, Value)]
    if len(values) < len(weighed):
        return
    front, rear, kerb = values
    apart = max(
        _least(front) + _least(rear) - _most(kerb), _least(kerb) - _most(front) - _most(rear)
    )
    if apart > _WEIGHING * kerb.si:
        found.fault(
            "car.axle_mass",
            "the two axles do not weigh what the car does",
            given=f"{show(front.si + rear.si, 'mass', digits=4)} together",
            allowed=f"car.kerb_mass, {show(kerb.si, 'mass', digits=4)}, within 2 %;"
            " to change them one by one, empty one of the three first and fill it last",
        )


def _least(value: Value) -> float:
    return value.si if value.low is None else value.low


def _most(value: Value) -> float:
    return value.si if value.high is None else value.high


def _tyres(found: Found) -> None:
    text = found.entries.get("car.tyres")
    if not isinstance(text, str):
        return
    try:
        tyre_size(text)
    except UnitError as error:
        found.fault(
            "car.tyres", error.message, given=text, allowed=error.allowed, near=error.nearest
        )


def _gallons(found: Found) -> None:
    """Note a fault wherever a file of a region with its own gallon does not say which it means."""
    region = found.entries.get("goals.region")
    if region not in _OTHER_GALLON:
        return
    for path, text in found.written.items():
        if isinstance(found.entries[path], Value) and (unit := bare_gallon(text)):
            found.fault(
                path,
                "whose gallon is this? The UK's is a fifth larger than the US one",
                given=text,
                allowed=f"say {unit}-uk or {unit}-us",
            )


def _last_words(paths: Iterable[str]) -> str:
    return ", ".join(path.rpartition(".")[2] for path in paths)


def _pack_form(found: Found) -> None:
    allowed = "module with modules_per_string, or cell with series and parallel"
    is_modules = "pack.module" in found.parts
    if is_modules and "pack.cell" in found.parts:
        found.fault("pack.cell", "the pack is given twice; choose one way", allowed=allowed)
    elif is_modules or "pack.cell" in found.parts:
        part = "module" if is_modules else "cell"
        for key in ("series", "parallel") if is_modules else ("modules_per_string",):
            if f"pack.{key}" in found.entries:
                found.fault(f"pack.{key}", f"{key} does not go with a {part}", allowed=allowed)


def _box_modules(found: Found) -> None:
    rows = [f"pack.boxes[{number}].modules" for number in range(found.counts.get("pack.boxes", 0))]
    held = [count.si for row in rows if isinstance(count := found.entries.get(row), Value)]
    in_string = found.entries.get("pack.modules_per_string")
    if not rows or len(held) < len(rows) or not isinstance(in_string, Value):
        return
    strings = found.entries.get("pack.strings")
    total = in_string.si * (strings.si if isinstance(strings, Value) else 1.0)
    if sum(held) != total:
        found.fault(
            "pack.boxes",
            "the boxes do not hold the pack's modules",
            given=f"{sum(held):.0f} modules",
            allowed=f"{total:.0f}, which is pack.modules_per_string for each of pack.strings;"
            " to change them one by one, empty the counts of the boxes first and fill them last",
        )


_SHORT_FORM = (
    "hv.main_fuse",
    "hv.contactors",
    "hv.string_fuse",
    "hv.string_contactors",
    "hv.disconnect.between",
    "hv.precharge.resistor",
    "hv.precharge.relay",
    "hv.bleed",
    "hv.active_discharge",
    "hv.y_capacitance",
    "hv.cable",
    "hv.connector",
    "hv.branch",
)
"""What the circuit's short form is made of; beside single elements none of it can stand."""


def _circuit_form(found: Found) -> None:
    short = [
        path
        for path in _SHORT_FORM
        if path in found.parts or found.counts.get(path) or path in found.entries
    ]
    if short and found.counts.get("hv.element"):
        found.fault(
            short[0],
            "the circuit is given twice; choose one form",
            given=", ".join([*short, "hv.element"]),
            allowed="[[hv.element]] alone, or the short form alone",
        )


def _disconnect_boxes(found: Found) -> None:
    boxes = [
        name
        for number in range(found.counts.get("pack.boxes", 0))
        if isinstance(name := found.entries.get(f"pack.boxes[{number}].name"), str)
    ]
    between = found.entries.get("hv.disconnect.between")
    if not boxes or not isinstance(between, tuple):
        return
    for name in between:
        if isinstance(name, str) and name not in boxes:
            found.fault(
                "hv.disconnect.between",
                "there is no such box",
                given=name,
                allowed=", ".join(boxes),
                near=nearest(name, boxes),
            )


def _identifiers(found: Found) -> None:
    """Note a fault where an identifier needs more bits than its message is said to have."""
    for number in range(found.counts.get("network.message", 0)):
        at = f"network.message[{number}]"
        identifier = found.entries.get(f"{at}.identifier")
        if not isinstance(identifier, Value) or identifier.si <= MAX_11:
            continue
        if found.entries.get(f"{at}.extended") is not True:
            found.fault(
                f"{at}.identifier",
                "this identifier has more than 11 bits",
                given=f"{identifier.si:.0f}",
                allowed=f"up to {MAX_11}, or extended = true",
            )


def _pedal(found: Found) -> None:
    """Note a fault where a pedal's map leaves travel out, falls, or ends in next to no torque."""
    path = "drive.torque_by.pedal"
    table = found.entries.get(path)
    if not isinstance(table, Line):
        return
    if table.x[0] != 0.0 or table.x[-1] != 1.0:
        first, last = (show(end, "fraction") for end in (table.x[0], table.x[-1]))
        found.fault(
            path,
            "the map does not go from the released pedal to the floor",
            given=f"x from {first} to {last}",
            allowed="x from 0 % to 100 %",
        )
    for place, (before, after) in enumerate(pairwise(table.y), start=2):
        if after < before:
            found.fault(
                path,
                "the torque falls as the pedal goes down",
                given=f"y number {place}: {show(after, 'fraction')}",
                allowed=f"y that never falls: {show(before, 'fraction')} or more here",
            )
            return
    if table.y[-1] < _LEAST_AT_FULL:
        found.fault(
            path,
            "next to no torque is left at full pedal",
            given=show(table.y[-1], "fraction"),
            allowed=f"{show(_LEAST_AT_FULL, 'fraction')} or more at the last point",
        )
