"""Equipment as the records tell of it: what it is, when it was tested, issued and looked over."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from swapwright.records.record import Json, Record


@dataclass(frozen=True)
class ItemTest:
    """A test or calibration: which, on what day (ISO), whether it held, by whom."""

    test: str
    on: str
    is_met: bool
    by_whom: str
    certificate: str
    number: int


@dataclass(frozen=True)
class Inspection:
    """A look before use: on what day (ISO), what was looked at and found, whether all was well."""

    on: str
    checks: Mapping[str, bool]
    is_met: bool
    by: str
    number: int


@dataclass(frozen=True)
class Item:
    """One piece of equipment; ``issued`` is the day (ISO) it was first put in use, or empty.

    ``withdrawn`` says why it is out of use, empty where it is not.
    """

    id: str
    kind: str
    name: str
    serial: str
    data: Mapping[str, Json]
    number: int
    tests: tuple[ItemTest, ...] = ()
    issued: str = ""
    issued_to: str = ""
    inspections: tuple[Inspection, ...] = ()
    withdrawn: str = ""


MET = "met"
"""What a test or an inspection that found nothing amiss has for its result."""


def items(records: Iterable[Record]) -> Mapping[str, Item]:
    """Return every item by id, in the order they were entered."""
    found: dict[str, Item] = {}
    for each in records:
        name = each.about.get("item", "")
        if each.kind == "item.added":
            found.setdefault(name, _added(name, each))
        elif name in found:
            found[name] = _after(found[name], each)
    return MappingProxyType(found)


def _added(name: str, record: Record) -> Item:
    body = record.body
    return Item(
        name,
        str(body["kind"]),
        str(body["name"]),
        str(body["serial"]),
        _data(body["data"]),
        record.number,
    )


def _data(given: Json) -> Mapping[str, Json]:
    return MappingProxyType(dict(given)) if isinstance(given, Mapping) else MappingProxyType({})


def _after(item: Item, record: Record) -> Item:
    """Return an item after a record about it."""
    body = record.body
    if record.kind == "item.described":
        return replace(item, data=_data(body["data"]))
    if record.kind == "item.tested":
        return replace(item, tests=(*item.tests, _test(record)))
    if record.kind == "item.issued":
        to = str(body.get("to") or "")
        return replace(item, issued=item.issued or str(body["on"]), issued_to=to)
    if record.kind == "item.inspected":
        return replace(item, inspections=(*item.inspections, _inspection(record)))
    if record.kind == "item.withdrawn":
        return replace(item, withdrawn=str(body["reason"]) or "withdrawn")
    if record.kind == "item.returned":
        return replace(item, withdrawn="")
    return item


def _test(record: Record) -> ItemTest:
    body = record.body
    return ItemTest(
        str(body["test"]),
        str(body["on"]),
        body["result"] == MET,
        str(body["by_whom"]),
        str(body.get("certificate") or ""),
        record.number,
    )


def _inspection(record: Record) -> Inspection:
    checks = record.body["checks"]
    told = {str(k): bool(v) for k, v in checks.items()} if isinstance(checks, Mapping) else {}
    return Inspection(
        str(record.body["on"]),
        MappingProxyType(told),
        record.body["result"] == MET and all(told.values()),
        record.by,
        record.number,
    )
