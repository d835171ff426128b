"""The parts there are: listed, filtered, and one of them in full."""

from __future__ import annotations

import operator
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from swapwright.base.errors import InputError, Problem, UnitError
from swapwright.base.field import Field
from swapwright.base.figure import Value
from swapwright.base.nearest import nearest
from swapwright.base.quantity import KINDS, parse
from swapwright.base.table import Line, Map
from swapwright.catalogue.fields import PART_FIELDS
from swapwright.catalogue.read import Catalogue, Part
from swapwright.jobs.telling import both_texts, tell
from swapwright.physics.pack.layout import pack_current
from swapwright.physics.pack.pack import pack_capacity, pack_energy, pack_voltage

LISTED: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "cell": ("chemistry", "format", "capacity", "nominal_voltage", "discharge_peak", "mass"),
        "module": ("cell.chemistry", "series", "parallel", "voltage", "energy", "peak", "mass"),
        "motor": (
            "test_voltage",
            "peak_power",
            "continuous_power",
            "peak_torque",
            "max_speed",
            "mass",
        ),
        "inverter": (
            "drives",
            "min_voltage",
            "max_voltage",
            "dc_current_limit",
            "phase_current_limit",
            "phase_current_continuous",
        ),
        "gearbox": ("ratios", "torque_limit", "efficiency", "mass"),
        "charger": ("power", "min_voltage", "max_voltage", "efficiency"),
        "dcdc": ("power", "min_voltage", "max_voltage", "efficiency"),
        "fuse": ("rating", "voltage", "breaking"),
        "contactor": ("voltage", "carry"),
    }
)
"""What a list of parts shows of each kind; a module's volts and energy come from its cells."""

HEADS: Mapping[str, str] = MappingProxyType(
    {
        "cell.chemistry": "chemistry",
        "test_voltage": "at",
        "peak_power": "peak",
        "continuous_power": "lasting",
        "peak_torque": "torque",
        "max_speed": "up to",
        "min_voltage": "from",
        "max_voltage": "to",
        "dc_current_limit": "dc",
        "phase_current_limit": "phase",
        "phase_current_continuous": "lasting",
        "nominal_voltage": "voltage",
        "discharge_peak": "10 s",
        "peak": "10 s",
    }
)
"""What a list calls an entry, where its key is too long for a column."""

KIND_WORDS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "cell": ("cell", "cells"),
        "module": ("module", "modules"),
        "motor": ("motor", "motors"),
        "inverter": ("inverter", "inverters"),
        "gearbox": ("gearbox", "gearboxes"),
        "charger": ("charger", "chargers"),
        "dcdc": ("dc-dc converter", "dc-dc converters"),
        "fuse": ("fuse", "fuses"),
        "contactor": ("contactor", "contactors"),
    }
)
"""What a kind of part is called, one of it and several."""

_TEST = re.compile(r"\s*([A-Za-z0-9_.]+)\s*(<=|>=|!=|=|<|>)\s*(.+?)\s*")
_SIGNS: Mapping[str, Callable[[Any, Any], bool]] = {
    "<=": operator.le,
    ">=": operator.ge,
    "!=": operator.ne,
    "=": operator.eq,
    "<": operator.lt,
    ">": operator.gt,
}


@dataclass(frozen=True)
class Entry:
    """One line of a part's data: its key, what it is, and its text or its table's rows of texts.

    ``axes`` name what a table's columns are, or a map's rows, columns and what stands in it.
    """

    key: str
    label: str
    text: str
    table: tuple[tuple[str, ...], ...] = ()
    axes: tuple[str, ...] = ()

    @property
    def is_map(self) -> bool:
        """Tell whether the table is a map, with an axis along each of two edges."""
        return len(self.axes) == 3


def kinds() -> tuple[str, ...]:
    """Return the kinds of part there are."""
    return tuple(PART_FIELDS)


def list_parts(
    catalogue: Catalogue, kind: str, tests: Sequence[str] = (), chemistry: str = ""
) -> tuple[Part, ...]:
    """Return the parts of a kind that pass every test (``peak_power >= 80 kW``).

    Raises InputError for an unknown kind, a test that cannot be read, and a faulty part.
    """
    _refuse_unknown(kind)
    compiled = [_test(kind, text) for text in tests]
    parts = [catalogue.get(kind, name) for name in catalogue.names(kind)]
    if chemistry:
        _refuse_chemistry(kind, chemistry)
        parts = [part for part in parts if chemistry in _chemistries(part)]
    return tuple(part for part in parts if all(passes(part) for passes in compiled))


def get_part(catalogue: Catalogue, kind: str, name: str) -> Part:
    """Return one part; raise InputError with the nearest name where there is none."""
    _refuse_unknown(kind)
    return catalogue.get(kind, name)


def entries(part: Part, profile: str) -> tuple[Entry, ...]:
    """Return everything a part says, in the order of its kind's fields, a nested part's after."""
    own = [
        entry
        for key, row in _rows(part.kind).items()
        if (entry := _entry(part, key, row, profile)) is not None
    ]
    return tuple(own)


def cell_text(part: Part, key: str, profile: str) -> str:
    """Return one entry of a part as a text, empty where the part does not say it."""
    if part.kind == "module" and key in _OF_MODULE:
        si, kind = _OF_MODULE[key](part)
        return tell(si, kind, profile)
    if part.kind == "motor" and key == "peak_power":
        return both_texts(part.values[key].si, "power", profile)
    if part.kind == "motor" and key == "continuous_power" and key in part.values:
        world = "electric" if profile == "metric" else "engine"
        return tell(part.values[key].si, "power", profile, world=world)
    row = _rows(part.kind).get(key)
    entry = None if row is None else _entry(part, key, row, profile)
    return "" if entry is None else entry.text


def _module_voltage(part: Part) -> tuple[float, str]:
    volts = pack_voltage(
        series=part.values["series"].si, cell_voltage=part.values["cell.nominal_voltage"].si
    )
    return volts, "voltage"


def _module_energy(part: Part) -> tuple[float, str]:
    capacity = pack_capacity(
        parallel=part.values["parallel"].si, cell_capacity=part.values["cell.capacity"].si
    )
    return pack_energy(capacity=capacity, nominal_voltage=_module_voltage(part)[0]), "energy"


def _module_peak(part: Part) -> tuple[float, str]:
    current = pack_current(
        cell_current=part.values["cell.discharge_peak"].si, parallel=part.values["parallel"].si
    )
    return current, "current"


_OF_MODULE: Mapping[str, Callable[[Part], tuple[float, str]]] = MappingProxyType(
    {"voltage": _module_voltage, "energy": _module_energy, "peak": _module_peak}
)


def part_document(part: Part) -> dict[str, Any]:
    """Return a part for other programs: SI numbers with their units, tables as lists."""
    return {
        "kind": part.kind,
        "name": part.name,
        "file": part.file,
        "values": {key: {"value": v.si, "unit": v.unit} for key, v in part.values.items()},
        "texts": dict(part.texts),
        "flags": dict(part.flags),
        "numbers": {key: [value.si for value in row] for key, row in part.numbers.items()},
        "words": {key: list(row) for key, row in part.words.items()},
        "tables": {key: _table_document(table) for key, table in part.tables.items()},
        "parts": dict(part.parts),
    }


def _rows(kind: str) -> Mapping[str, Field]:
    """Return the field rows of a kind by key, a nested part's under its own key."""
    rows: dict[str, Field] = {}
    for row in PART_FIELDS[kind]:
        rows[row.path] = row
        if row.kind.startswith("part:"):
            nested = _rows(row.kind.removeprefix("part:"))
            rows.update({f"{row.path}.{key}": inner for key, inner in nested.items()})
    return rows


def _entry(part: Part, key: str, row: Field, profile: str) -> Entry | None:
    if key in part.values:
        return Entry(key, row.label, _value_text(part.values[key], row.kind, profile))
    if key in part.texts:
        return Entry(key, row.label, part.texts[key])
    if key in part.flags:
        return Entry(key, row.label, "yes" if part.flags[key] else "no")
    if key in part.parts:
        return Entry(key, row.label, part.parts[key])
    if key in part.words:
        return Entry(key, row.label, ", ".join(part.words[key]))
    if key in part.numbers:
        inner = row.kind.removeprefix("list:")
        return Entry(
            key, row.label, ", ".join(_value_text(v, inner, profile) for v in part.numbers[key])
        )
    if key in part.tables:
        axes = tuple(_axis(each) for each in row.kind.partition(":")[2].split(","))
        return Entry(key, row.label, "", _table_texts(part.tables[key], row.kind, profile), axes)
    return None


def _axis(kind: str) -> str:
    return "share" if kind == "fraction" else kind.replace("_", " ")


def _table_texts(table: Line | Map, kind: str, profile: str) -> tuple[tuple[str, ...], ...]:
    """Return a table as rows of texts: a line as pairs, a map with its axes along its edges."""
    kinds = kind.partition(":")[2].split(",")

    def told(numbers: Sequence[float], number: int) -> tuple[str, ...]:
        return tuple(tell(each, kinds[number], profile) for each in numbers)

    if isinstance(table, Line):
        return tuple(zip(told(table.x, 0), told(table.y, 1), strict=True))
    edge = ("", *told(table.columns, 1))
    heads = told(table.rows, 0)
    return (edge, *((head, *told(z, 2)) for head, z in zip(heads, table.z, strict=True)))


def _value_text(value: Value, kind: str, profile: str) -> str:
    return tell(value.si, kind, profile, low=value.low, high=value.high)


def _table_document(table: Line | Map) -> dict[str, Any]:
    if isinstance(table, Line):
        return {"x": table.x, "y": table.y, "x_unit": table.x_unit, "y_unit": table.y_unit}
    return {
        "rows": table.rows,
        "columns": table.columns,
        "z": table.z,
        "row_unit": table.row_unit,
        "column_unit": table.column_unit,
        "z_unit": table.z_unit,
    }


def _refuse_unknown(kind: str) -> None:
    if kind not in PART_FIELDS:
        raise InputError(
            Problem(
                "catalogue",
                "",
                "there is no such kind of part",
                given=kind,
                allowed=", ".join(PART_FIELDS),
                nearest=nearest(kind, PART_FIELDS),
            )
        )


def _refuse_chemistry(kind: str, chemistry: str) -> None:
    rows = _rows(kind)
    row = rows.get("chemistry") or rows.get("cell.chemistry")
    if row is None:
        raise InputError(Problem("--chemistry", "", f"a {kind} has no chemistry", chemistry))
    if chemistry not in row.choices:
        message = "there is no such chemistry"
        close = nearest(chemistry, row.choices)
        raise InputError(
            Problem("--chemistry", "", message, chemistry, ", ".join(row.choices), close)
        )


def _chemistries(part: Part) -> tuple[str, ...]:
    return (part.texts.get("chemistry", ""), part.texts.get("cell.chemistry", ""))


def _words(part: Part, key: str) -> tuple[str, ...]:
    """Return the words a part says at an entry: one, several of a list, or none."""
    return (part.texts[key],) if key in part.texts else part.words.get(key, ())


def _test(kind: str, text: str) -> Callable[[Part], bool]:
    """Return the test a text says; a part that does not say the entry does not pass it."""
    match = _TEST.fullmatch(text)
    if match is None:
        form = "an entry, one of <= >= < > = !=, and a value, as peak_power >= 80 kW"
        raise InputError(Problem("--where", "", "not a test of a part", text[:60], form))
    key, sign, given = match[1], match[2], match[3]
    rows = _rows(kind)
    if key not in rows:
        close = nearest(key, rows)
        raise InputError(Problem("--where", key, f"no {kind} has such an entry", key, "", close))
    compared = _SIGNS[sign]
    if rows[key].kind not in KINDS:
        return lambda part: any(compared(word, given) for word in _words(part, key))
    try:
        wanted = parse(given, rows[key].kind).si
    except UnitError as error:
        problem = Problem("--where", key, error.message, given, error.allowed, error.nearest)
        raise InputError(problem) from None
    return lambda part: key in part.values and compared(part.values[key].si, wanted)
