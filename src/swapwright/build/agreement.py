"""What must agree across a file: names told apart, windows the right way up, one way to say it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from swapwright.base.figure import Value
from swapwright.base.nearest import nearest
from swapwright.build.entries import Found
from swapwright.build.shape import FIELDS

_NAMED_LISTS = (
    "pack.boxes",
    "hv.cable",
    "hv.branch",
    "hv.element",
    "lv.load",
    "cooling.loop",
    "network.bus",
    "network.message",
)

# (low end, high end), each a path of the file.
_WINDOWS = (
    ("pack.usable.from", "pack.usable.to"),
    ("charging.from", "charging.to"),
    ("brakes.cut_out", "brakes.cut_in"),
)

_COAST_DOWN = ("car.road_load.a", "car.road_load.b", "car.road_load.c")
_COEFFICIENTS = ("car.road_load.cd_a", "car.road_load.c_rr")


def note_disagreements(found: Found) -> None:
    """Note a problem for everything in a file that contradicts another thing in it."""
    _names_told_apart(found)
    _windows(found)
    _mass_rows(found)
    _road_load(found)
    _pack_form(found)
    _circuit_form(found)
    _disconnect_boxes(found)


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


def _circuit_form(found: Found) -> None:
    short = [
        path
        for path in ("hv.main_fuse", "hv.contactors", "hv.cable", "hv.branch")
        if path in found.parts or found.counts.get(path)
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
