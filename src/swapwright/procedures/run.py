"""A run of a procedure as it stands: what is done, what holds it up, which step is due."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from swapwright.procedures.reading import Entered, Judgement
from swapwright.procedures.step import Procedure, Step
from swapwright.records.record import Record

ABSENCE = "sign.absence"
"""The step that signs the statement that absence was verified."""
WALK = "walk."
"""What the ids of the steps begin with that confirm the car against its revision."""
ISOLATES = ("isolation", "inside the pack")
"""Kinds of procedure that rest on every source being away: what brings one back takes steps back.
"""
NONE: Mapping[str, Record] = MappingProxyType({})


@dataclass(frozen=True)
class MeterUse:
    """With what a reading was taken: ids of meter and leads, and what the meter was set to."""

    meter: str
    leads: str
    mode: str

    @property
    def is_told(self) -> bool:
        """Tell whether all three are known: otherwise nothing is proved by it."""
        return bool(self.meter and self.leads and self.mode)


@dataclass(frozen=True)
class Taken:
    """A reading as it was taken: None where its text has no unit yet, or its step asks for none.

    ``why_not`` says why it does not count for its step; empty where it does.
    """

    record: Record
    entered: Entered | None
    judgement: Judgement | None
    use: MeterUse
    why_not: str = ""


@dataclass(frozen=True)
class Stop:
    """What stops a run; ``is_final`` where it cannot be cleared: the car is not the file."""

    record: Record
    words: str
    is_final: bool = False


@dataclass(frozen=True)
class Lapse:
    """What took steps back: its record, in words, and whether absence had stood."""

    record: Record
    words: str
    had_stood: bool


@dataclass(frozen=True)
class Run:
    """One run after every record that bears on it.

    ``worker`` is who does it now. ``done`` has the record each step was done by, ``signatures``
    those under a step by whoever gave them, ``taken`` the reading that counts, ``readings`` all of
    them, ``locks`` what hangs by it. ``meter`` is what was proved before measuring.
    ``not_counted`` says of a record why it did not count. ``lapse`` is the last thing that took
    steps back, ``asked`` the readings, by step, that are still to be typed again with their unit.
    """

    id: str
    vehicle: str
    begun: Record
    procedure: Procedure
    people: tuple[str, ...]
    worker: str
    done: Mapping[str, Record] = field(default_factory=lambda: NONE)
    signatures: Mapping[str, Mapping[str, Record]] = field(
        default_factory=lambda: MappingProxyType({})
    )
    waits: Mapping[str, Record] = field(default_factory=lambda: NONE)
    taken: Mapping[str, Taken] = field(default_factory=lambda: MappingProxyType({}))
    photos: Mapping[str, Record] = field(default_factory=lambda: NONE)
    locks: tuple[Record, ...] = ()
    meter: MeterUse | None = None
    readings: tuple[Taken, ...] = ()
    stop: Stop | None = None
    is_proved_since: bool = False
    held: Record | None = None
    ended: Record | None = None
    lapse: Lapse | None = None
    asked: Mapping[str, Record] = field(default_factory=lambda: NONE)
    latest: Record | None = None
    not_counted: Mapping[int, str] = field(default_factory=lambda: MappingProxyType({}))

    def is_done(self, step: Step) -> bool:
        """Tell whether nothing is left to do of a step."""
        if step.act != "sign" and step.id not in self.done:
            return False
        if step.act == "sign" or step.people > 1:
            return len(self.signatures.get(step.id, {})) >= step.people
        return True

    @property
    def due(self) -> Step | None:
        """The step that is due: the first that is not done; None after the last."""
        return next((step for step in self.procedure.steps if not self.is_done(step)), None)

    @property
    def last(self) -> Taken | None:
        """The last reading, None before the first."""
        return self.readings[-1] if self.readings else None

    @property
    def is_walked(self) -> bool:
        """Tell whether the car was confirmed against its revision, step by step, and signed."""
        walk = [step for step in self.procedure.steps if step.id.startswith(WALK)]
        return bool(walk) and not self.procedure.is_generic and all(map(self.is_done, walk))

    @property
    def statement(self) -> Record | None:
        """The worker's signature under the statement of absence, None while it does not stand."""
        return self.signatures.get(ABSENCE, NONE).get(self.worker)

    def lock_at(self, step: Step, person: str) -> Record | None:
        """Return the lock somebody has hanging for a step, None where there is none."""
        return next((e for e in self.locks if e.body["step"] == step.id and e.by == person), None)


def place_of(step: Step) -> str:
    """Return where the lock of a step hangs, as a person calls it."""
    return step.title.partition(":")[0]


def use_of(record: Record) -> MeterUse:
    """Return with what a reading was taken."""
    body = record.body
    meter, leads, mode = (str(body.get(key) or "") for key in ("meter", "leads", "mode"))
    return MeterUse(meter, leads, mode)
