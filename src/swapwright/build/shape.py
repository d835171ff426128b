"""The shape of a build file, folded out of the Field rows: sections, lists, parts and leaves."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from types import MappingProxyType

from swapwright.base.field import Field
from swapwright.build import fields, fields_systems
from swapwright.catalogue.fields import PART_FIELDS

FIELDS: tuple[Field, ...] = (
    *fields.CAR,
    *fields.GOALS,
    *fields.CONDITIONS,
    *fields.DRIVE,
    *fields.PACK,
    *fields.MASS,
    *fields_systems.SYSTEMS,
    *fields.ACCEPTED,
)

# A default below the first path is filled only where the second path is given.
DEFAULT_NEEDS: Mapping[str, str] = MappingProxyType(
    {
        "drive.second": "drive.second",
        "drive.regen": "drive.regen",
        "pack.parallel": "pack.cell",
        "hv.precharge": "hv.precharge",
        "hv.isolation_monitor": "hv.isolation_monitor",
        "hv.bleed_count": "hv.bleed",
        "charging.chargers": "charging.charger",
        "charging.supply.phases": "charging.supply",
        "auxiliaries.charging": "charging.charger",
    }
)

# A default that stands in for something the car does not say: filled only where that is not given.
DEFAULT_INSTEAD: Mapping[str, str] = MappingProxyType(
    {
        "charging.efficiency": "charging.charger.efficiency",
        "charging.power": "charging.charger.power",
    }
)

# Defaults filled only where the driver changes gear with this gearbox.
GEAR_CHANGES: Mapping[str, str] = MappingProxyType(
    {
        f"{gearbox}.{key}": gearbox
        for gearbox in ("drive.gearbox", "drive.second.gearbox")
        for key in ("shift", "shift_time")
    }
)


@dataclass(frozen=True)
class Section:
    """A table: what may stand under each key."""

    children: dict[str, Node] = field(default_factory=dict)


@dataclass(frozen=True)
class Rows:
    """A list of tables, each of the same shape."""

    row: Section


@dataclass(frozen=True)
class PartPlace:
    """A place for a part: a catalogue name, a name with overrides, or a part in full.

    ``section`` holds the part's own keys and those the place adds.
    """

    field: Field
    kind: str
    section: Section


Node = Section | Rows | PartPlace | Field


def part_kind(row: Field) -> str | None:
    """Return the kind of part a row takes (``motor``), None for a row that takes no part."""
    head, _, kind = row.kind.partition(":")
    return kind if head == "part" else None


def shape_of(rows: tuple[Field, ...]) -> Section:
    """Fold Field rows into the tree a file is read against."""
    top = Section()
    for row in rows:
        _plant(top, row.path.split("."), row)
    return top


def _plant(section: Section, steps: list[str], row: Field) -> None:
    head, rest = steps[0], steps[1:]
    key = head.removesuffix("[]")
    if rest:
        _plant(_below(section, key, is_list=head != key), rest, row)
        return
    kind = part_kind(row)
    section.children[key] = row if kind is None else PartPlace(row, kind, _part_section(kind))


def _below(section: Section, key: str, *, is_list: bool) -> Section:
    node = section.children.setdefault(key, Rows(Section()) if is_list else Section())
    if isinstance(node, Rows):
        return node.row
    if isinstance(node, PartPlace):
        return node.section
    if isinstance(node, Section):
        return node
    raise ValueError(f"{node.path} is both a value and a section")


def _part_section(kind: str) -> Section:
    return shape_of((Field("part", "name", "catalogue part it starts from"), *PART_FIELDS[kind]))


SHAPE: Section = shape_of(FIELDS)


@lru_cache(maxsize=1)
def rows_by_path() -> dict[str, Field]:
    """Return every row of the file by its path, the parts' own rows included."""
    found: dict[str, Field] = {}
    _gather(SHAPE, "", found)
    return found


_ROW_NUMBER = re.compile(r"\[\d+\]")


@lru_cache(maxsize=1)
def _life_critical() -> frozenset[str]:
    return frozenset(path for path, row in rows_by_path().items() if row.life_critical)


def is_life_critical(path: str) -> bool:
    """Tell whether a build path is an input whose default can never carry a *met*."""
    return _ROW_NUMBER.sub("[]", path) in _life_critical()


def _gather(section: Section, path: str, found: dict[str, Field]) -> None:
    for key, node in section.children.items():
        at = f"{path}.{key}" if path else key
        if isinstance(node, Section):
            _gather(node, at, found)
        elif isinstance(node, Rows):
            _gather(node.row, f"{at}[]", found)
        elif isinstance(node, PartPlace):
            found[at] = node.field
            _gather(node.section, at, found)
        else:
            found[at] = node
