"""What must agree in the systems round the drive: one entry for each of a list, nothing twice."""

from __future__ import annotations

from collections.abc import Iterator

from swapwright.base.figure import Value
from swapwright.base.quantity import show
from swapwright.build.entries import Found
from swapwright.build.fields_systems import LV, SHEDS_HEAT

# (list, what it gives one each of): both in one row, or both of one unit of the drive.
_ONE_EACH = (
    ("cooling.loop", "drops", "parts"),
    ("network.bus", "node_bit_rates", "nodes"),
)
_GEARS = tuple(
    (f"{unit}.torque_by_gear", f"{unit}.gearbox.ratios") for unit in ("drive", "drive.second")
)
_LV_VOLTAGE = next(row for row in LV if row.path == "lv.voltage")
_AGREE = 0.02
"""Two entries of one current agree within this share of it: each is rounded to two figures."""


def note_disagreements_of_systems(found: Found) -> None:
    """Note a problem for everything in the systems round the drive that contradicts another."""
    _lengths(found)
    _disconnect(found)
    _nodes_told_apart(found)
    _loads(found)
    _bleeds(found)
    _one_way_of_cooling(found)


def _lengths(found: Found) -> None:
    """Note a fault where a list does not give one of each of another."""
    pairs = [
        (f"{at}.{key}", f"{at}.{of}") for path, key, of in _ONE_EACH for at in _rows(found, path)
    ]
    for path, of in (*pairs, *_GEARS):
        given, wanted = found.entries.get(path), found.entries.get(of)
        if not isinstance(given, tuple) or not isinstance(wanted, tuple):
            continue
        if len(given) != len(wanted):
            found.fault(
                path,
                f"this gives one for each of {of.rpartition('.')[2]}, in their order",
                given=f"{len(given)} in the list",
                allowed=f"{len(wanted)}, as many as {of} has;"
                " to change the two one by one, empty this list first and fill it last",
            )


def _disconnect(found: Found) -> None:
    path = "hv.disconnect.between"
    boxes = found.entries.get(path)
    if isinstance(boxes, tuple) and len(set(boxes)) != 2:
        found.fault(
            path,
            "a disconnect stands between two boxes",
            given=", ".join(map(str, boxes)) or "none",
            allowed="the names of two boxes",
        )


def _nodes_told_apart(found: Found) -> None:
    for at in _rows(found, "network.bus"):
        for key in ("nodes", "terminated_at"):
            names = found.entries.get(f"{at}.{key}")
            twice = _twice(names) if isinstance(names, tuple) else ()
            if twice:
                found.fault(
                    f"{at}.{key}",
                    "a node stands here more than once",
                    given=", ".join(twice),
                    allowed="each node once, under a name of its own",
                )


def _twice(names: tuple[object, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(str(name) for name in names if names.count(name) > 1))


def _loads(found: Found) -> None:
    """Note a fault where the current and the power of a 12 V load are not one and the same."""
    voltage = found.entries.get(_LV_VOLTAGE.path)
    if not isinstance(voltage, Value):
        usual = float(_LV_VOLTAGE.default or 0.0)
        voltage = Value(usual, "V", "default", _LV_VOLTAGE.default_source)
    for at in _rows(found, "lv.load"):
        current, power = found.entries.get(f"{at}.current"), found.entries.get(f"{at}.power")
        if not isinstance(current, Value) or not isinstance(power, Value):
            continue
        least = _ends(power)[0] / _ends(voltage)[1]
        most = _ends(power)[1] / _ends(voltage)[0]
        apart = max(least - _ends(current)[1], _ends(current)[0] - most)
        if apart > _AGREE * current.si:
            found.fault(
                f"{at}.power",
                "current and power of this load contradict each other; leave one out",
                given=f"{_shown(current, 'current')} and {_shown(power, 'power')}",
                allowed=f"{_shown(power, 'power')} is"
                f" {show(power.si / voltage.si, 'current', digits=3)}"
                f" at lv.voltage, {_shown(voltage, 'voltage')}",
            )


def _ends(value: Value) -> tuple[float, float]:
    return (
        value.si if value.low is None else value.low,
        value.si if value.high is None else value.high,
    )


def _shown(value: Value, kind: str) -> str:
    return show(value.si, kind, digits=3)


def _bleeds(found: Found) -> None:
    for at in _rows(found, "cooling.loop"):
        points, bleeds = (found.entries.get(f"{at}.{key}") for key in ("high_points", "air_bleeds"))
        if isinstance(points, Value) and isinstance(bleeds, Value) and bleeds.si > points.si:
            found.fault(
                f"{at}.air_bleeds",
                "more high points have a bleed than there are",
                given=f"{bleeds.si:.0f}",
                allowed=f"up to {points.si:.0f}, which is high_points",
            )


def _one_way_of_cooling(found: Found) -> None:
    """Note a fault where one part sheds its heat into two loops, or into a loop and the air.

    Chargers may be several, each in a place of its own.
    """
    seen: dict[str, str] = {}
    by_air = found.entries.get("cooling.by_air")
    for name in by_air if isinstance(by_air, tuple) else ():
        seen.setdefault(str(name), "cooling.by_air")
    for at in _rows(found, "cooling.loop"):
        parts = found.entries.get(f"{at}.parts")
        for part in dict.fromkeys(parts) if isinstance(parts, tuple) else ():
            name = str(part)
            if name not in SHEDS_HEAT or name == "charger":
                continue
            elsewhere = seen.setdefault(name, f"{at}.parts")
            if elsewhere != f"{at}.parts":
                found.fault(
                    f"{at}.parts",
                    f"this part stands in {elsewhere} too",
                    given=name,
                    allowed="each part in one loop, or in by_air",
                )


def _rows(found: Found, path: str) -> Iterator[str]:
    return (f"{path}[{number}]" for number in range(found.counts.get(path, 0)))
