"""Read a file's raw tables against its shape: typed entries, parts, and every problem met."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from swapwright.base.errors import Problem, UnitError
from swapwright.base.field import Field
from swapwright.base.reading import read
from swapwright.build.near import near_key
from swapwright.build.shape import SHAPE, Node, PartPlace, Rows, Section
from swapwright.build.written import Entry, PartRef
from swapwright.catalogue.fields import PART_FIELDS

_LONGEST_SHOWN = 60


@dataclass
class Found:
    """What a file says so far, and what is wrong with it.

    ``written`` keeps every text, quantities' too, as it stands in the file.
    """

    file: str
    entries: dict[str, Entry] = field(default_factory=dict)
    written: dict[str, str] = field(default_factory=dict)
    parts: dict[str, PartRef] = field(default_factory=dict)
    counts: dict[str, int] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def fault(
        self, path: str, message: str, *, given: object = "", allowed: str = "", near: str = ""
    ) -> None:
        """Note a problem at a path."""
        text = shown(given)
        if len(text) > _LONGEST_SHOWN:
            text = text[: _LONGEST_SHOWN - 3] + "..."
        self.problems.append(Problem(self.file, path, message, text, allowed, near))


def shown(given: object) -> str:
    """Return what was given as text, also of a number too long to be written out."""
    try:
        return str(given)
    except ValueError:
        return "a number of thousands of digits"


def read_entries(raw: Mapping[str, Any], file: str) -> Found:
    """Read raw tables against the shape of a build file.

    Every value is read through its Field; whatever does not fit becomes a problem.
    """
    found = Found(file)
    _section(found, SHAPE, raw, "")
    return found


def _section(found: Found, section: Section, table: Mapping[str, Any], path: str) -> None:
    for key, raw in table.items():
        at = f"{path}.{key}" if path else key
        node = section.children.get(key)
        if node is None:
            _unknown(found, section, key, at)
        else:
            _node(found, node, raw, at)


def _node(found: Found, node: Node, raw: Any, path: str) -> None:
    if isinstance(node, Field):
        _leaf(found, node, raw, path)
    elif isinstance(node, Rows):
        _rows(found, node, raw, path)
    elif isinstance(node, PartPlace):
        _part(found, node, raw, path)
    elif isinstance(raw, dict):
        _section(found, node, raw, path)
    else:
        allowed = f"a table, {{ {next(iter(node.children))} = ... }}, with any of {_keys(node)}"
        found.fault(path, "this is a section, not a value", given=raw, allowed=allowed)


def _unknown(found: Found, section: Section, key: str, path: str) -> None:
    near = near_key(section, key, path)
    known = _keys(section)
    found.fault(path[:120], "there is no such key", given=key, allowed=known, near=near)


def _keys(section: Section) -> str:
    return ", ".join(section.children)


def _leaf(found: Found, row: Field, raw: Any, path: str) -> None:
    try:
        found.entries[path] = read(row, raw, ref=path, origin="entered")
    except UnitError as error:
        found.fault(path, error.message, given=raw, allowed=error.allowed, near=error.nearest)
    else:
        if isinstance(raw, str):
            found.written[path] = raw


def _rows(found: Found, node: Rows, raw: Any, path: str) -> None:
    if not isinstance(raw, list) or not all(isinstance(row, dict) for row in raw):
        header = f"[[{path}]]"
        found.fault(
            path,
            "this is a list of tables, each row under a header of its own",
            given=raw,
            allowed=f"{header} and below it {_keys(node.row)}",
            near=f"{header}, with two brackets" if isinstance(raw, dict) else "",
        )
        return
    found.counts[path] = len(raw)
    for number, row in enumerate(raw):
        at = f"{path}[{number}]"
        _section(found, node.row, row, at)
        required = (item for item in node.row.children.values() if isinstance(item, Field))
        _require(found, required, row, at)


def _part(found: Found, place: PartPlace, raw: Any, path: str, *, inherits: bool = False) -> None:
    if isinstance(raw, str):
        found.parts[path] = PartRef(place.kind, raw)
        return
    if not isinstance(raw, dict):
        allowed = f"the name of a {place.kind} in quotes, or a table of what its data sheet says"
        found.fault(path, f"this is a {place.kind}", given=raw, allowed=allowed)
        return
    name = raw.get("part")
    if name is not None and not isinstance(name, str):
        allowed = f"the name of a {place.kind}"
        found.fault(f"{path}.part", "this is a name", given=name, allowed=allowed)
        return
    found.parts[path] = PartRef(place.kind, name)
    has_base = inherits or name is not None
    for key, item in raw.items():
        at = f"{path}.{key}"
        node = place.section.children.get(key)
        if key == "part":
            continue
        if node is None:
            _unknown(found, place.section, key, at)
        elif isinstance(node, PartPlace):
            _part(found, node, item, at, inherits=has_base)
        else:
            _node(found, node, item, at)
    if not has_base:
        _require(found, PART_FIELDS[place.kind], raw, path)


def _require(found: Found, rows: Iterable[Field], given: Mapping[str, Any], path: str) -> None:
    for row in rows:
        key = row.path.rpartition(".")[2]
        if row.required and key not in given:
            words = f": {' or '.join(row.choices)}" if row.choices else ""
            found.fault(path, f"{key} is missing", allowed=f"{key} ({row.label}{words})")
