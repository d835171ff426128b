"""Vehicles as the records tell of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from swapwright.records.record import Record


@dataclass(frozen=True)
class Revision:
    """A revision of a car's file that was entered for a vehicle, with the file's text as it was."""

    revision: str
    mark: str
    data_version: str
    build: str
    by: str
    at: str
    number: int


@dataclass(frozen=True)
class Vehicle:
    """One vehicle: the car's file it was built from, and what tells it from others."""

    id: str
    name: str
    car: str
    identity: str
    number: int
    revisions: tuple[Revision, ...] = ()

    @property
    def revision(self) -> Revision | None:
        """Return the revision that holds now, None while none is entered."""
        return self.revisions[-1] if self.revisions else None


def vehicles(records: Iterable[Record]) -> Mapping[str, Vehicle]:
    """Return every vehicle by id, in the order they were entered."""
    found: dict[str, Vehicle] = {}
    for each in records:
        name = each.about.get("vehicle", "")
        if each.kind == "vehicle.added" and name not in found:
            body = each.body
            identity = str(body.get("identity") or "")
            found[name] = Vehicle(name, str(body["name"]), str(body["car"]), identity, each.number)
        elif each.kind == "revision.entered" and name in found:
            vehicle = found[name]
            found[name] = replace(vehicle, revisions=(*vehicle.revisions, _revision(each)))
    return MappingProxyType(found)


def _revision(record: Record) -> Revision:
    body = record.body
    return Revision(
        str(body["revision"]),
        str(body["mark"]),
        str(body["data_version"]),
        str(body["build"]),
        record.by,
        record.at.isoformat(),
        record.number,
    )
