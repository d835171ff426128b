"""Every kind of record: what it must be about, and what its body must and may say.

A kind is never renamed, and a key never changes its meaning: what was written stays readable.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True)
class Kind:
    """A kind of record: what it says, what it is about, the keys of its body."""

    name: str
    label: str
    about: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()
    may: tuple[str, ...] = ()


_READING = ("step", "point", "text")
_TAKEN = (
    "device",
    "sequence",
    "read_at",
    "clock",
    "meter",
    "leads",
    "mode",
    "items",
    "told_by",
    "note",
)
"""What a device adds to what it was told: which one, its own count, its own time of day, the clocks
a wait is counted by, the meter, what else was used, and whose word it is where another sends it."""
_BESIDE_CLOCK = tuple(each for each in _TAKEN if each != "clock")

_ALL = (
    # people
    Kind("person.added", "person entered", ("person",), ("name",)),
    Kind("person.renamed", "person's name corrected", ("person",), ("name",)),
    Kind("person.left", "person left the shop", ("person",), ("reason",)),
    Kind("role.given", "role given", ("person",), ("role",)),
    Kind("role.taken", "role taken back", ("person",), ("role", "reason")),
    Kind(
        "competence.granted",
        "competence entered",
        ("person",),
        ("level", "scheme", "scheme_level", "evidence", "since"),
        ("until",),
    ),
    Kind("competence.withdrawn", "competence withdrawn", ("person",), ("level", "reason")),
    Kind("secret.set", "password or PIN set", ("person",), ("which",), ("proof",)),
    Kind("access.opened", "logged in", ("person",), (), ("address",)),
    Kind("access.refused", "access refused", (), ("what", "reason"), ("address", "person")),
    # equipment
    Kind("item.added", "equipment entered", ("item",), ("kind", "name", "serial", "data")),
    Kind("item.described", "equipment's data corrected", ("item",), ("data", "reason")),
    Kind(
        "item.tested",
        "tested or calibrated",
        ("item",),
        ("test", "on", "result", "by_whom"),
        ("certificate", "note"),
    ),
    Kind("item.issued", "issued for use", ("item",), ("on",), ("to",)),
    Kind(
        "item.inspected", "inspected before use", ("item",), ("on", "checks", "result"), ("note",)
    ),
    Kind("item.withdrawn", "taken out of use", ("item",), ("reason",)),
    Kind("item.returned", "brought back into use", ("item",), ("reason",)),
    # vehicles
    Kind("vehicle.added", "vehicle entered", ("vehicle",), ("name", "car"), ("identity",)),
    Kind(
        "revision.entered",
        "revision entered",
        ("vehicle",),
        ("revision", "mark", "data_version", "build"),
    ),
    Kind("vehicle.moved", "wheels turned or car moved", ("vehicle",), ("what",), _TAKEN),
    Kind(
        "vehicle.supplied", "12 V restored or charger plugged in", ("vehicle",), ("what",), _TAKEN
    ),
    Kind("vehicle.energised", "energised", ("vehicle",), ("what",), _TAKEN),
    # permits
    Kind(
        "permit.issued",
        "work permit issued",
        ("vehicle", "permit"),
        ("work", "revision", "level", "people", "since", "until", "precautions"),
        ("reason_live",),
    ),
    Kind("permit.accepted", "work permit accepted", ("vehicle", "permit"), ("person",)),
    Kind("permit.withdrawn", "work permit withdrawn", ("vehicle", "permit"), ("reason",)),
    Kind("permit.closed", "work permit handed back", ("vehicle", "permit"), ("state",)),
    # runs of a procedure
    Kind(
        "run.begun",
        "run begun",
        ("vehicle", "run"),
        ("procedure", "people", "items"),
        ("worker", "note", "clock"),
    ),
    Kind("step.done", "step done", ("vehicle", "run"), ("step",), (*_TAKEN, "words")),
    Kind("step.differs", "the car differs", ("vehicle", "run"), ("step", "what"), _TAKEN),
    Kind("wait.begun", "waiting begun", ("vehicle", "run"), ("step", "clock"), _BESIDE_CLOCK),
    Kind("wait.over", "waiting over", ("vehicle", "run"), ("step", "clock"), _BESIDE_CLOCK),
    Kind(
        "reading.entered", "reading", ("vehicle", "run"), _READING, (*_TAKEN, "corrected", "given")
    ),
    Kind("lock.hung", "lock and tag hung", ("vehicle", "run"), ("step", "place", "lock"), _TAKEN),
    Kind(
        "lock.lifted",
        "lock lifted",
        ("vehicle", "run"),
        ("place", "lock", "owner"),
        (*_TAKEN, "abandoned", "second", "reason"),
    ),
    Kind("photo.added", "photo", ("vehicle",), ("photo", "what"), ("step", *_TAKEN)),
    Kind(
        "signature.given",
        "signature",
        ("vehicle",),
        ("meaning", "signed"),
        ("step", *_TAKEN),
    ),
    Kind("stop.cleared", "the source was found", ("vehicle", "run"), ("stop", "found"), _TAKEN),
    Kind("run.held", "held", ("vehicle", "run"), ("reason",), _TAKEN),
    Kind("run.resumed", "resumed", ("vehicle", "run"), (), _TAKEN),
    Kind("run.handed_over", "handed over", ("vehicle", "run"), ("to",), _TAKEN),
    Kind("run.stopped", "stopped", ("vehicle", "run"), ("reason",), ("step", *_TAKEN)),
    Kind("run.ended", "run ended", ("vehicle", "run"), ("outcome",), _TAKEN),
    Kind("absence.lapsed", "absence of voltage no longer holds", ("vehicle",), ("cause",), _TAKEN),
    # incidents
    Kind(
        "incident.reported",
        "incident or near miss",
        ("incident",),
        ("what", "happened_at", "where", "harm", "is_near_miss"),
        ("voltage", "first_aid", "step", "people"),
    ),
    Kind("incident.added_to", "added to an incident", ("incident",), ("what",)),
    # any
    Kind("record.corrected", "correction of an earlier record", (), ("corrects", "what", "reason")),
    Kind("checkpoint.exported", "checkpoint exported", (), ("number", "chained", "to")),
    Kind("store.restored", "restored from a backup", (), ("from", "number", "chained")),
)

KINDS: Mapping[str, Kind] = MappingProxyType({each.name: each for each in _ALL})
"""Name of a kind -> the kind."""
