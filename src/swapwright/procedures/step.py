"""A procedure: its steps, and for each who does it, with what, what is read and how it is judged.

A procedure is data: it is kept whole in the record of the run that followed it, so that the record
can be read when the program has changed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Level = Literal["aware", "isolation", "live"]
"""Competence: made aware; may isolate, and work on what is isolated; may work live."""

Act = Literal["confirm", "open", "lock", "wait", "prove", "measure", "sign"]
"""What a step asks for.

confirm: do it and say so (``photo``: with a picture). open: bring a source's gap about. lock: hang
one's own lock and tag. wait: let a time run. prove: read the proving source with the meter.
measure: read a point. sign: a person answers for what was done, with their PIN.
"""

Quantity = Literal["dc voltage", "ac voltage", "resistance", "current", "temperature"]

Kind = Literal[
    "isolation",
    "first energisation",
    "re-energising",
    "inside the pack",
    "damaged vehicle",
    "rescue of a person",
]


@dataclass(frozen=True)
class Expectation:
    """What a reading should be, SI; told only after it has been entered.

    ``low`` and ``high`` bound what the design expects; outside them, in either direction, the
    reading contradicts the expectation. ``words`` says what it stands on.
    """

    low: float
    high: float
    words: str


@dataclass(frozen=True)
class ReadingSpec:
    """One reading a step asks for, between two named points (``"chassis"`` is one), SI.

    ``limit`` is the most it may be for absence to be verified, None where absence is not the
    question. ``first`` names the step whose reading this one repeats: it must not have risen, and
    is taken ``after`` s or more after that one.
    """

    quantity: Quantity
    unit: str
    points: tuple[str, str]
    expected: Expectation
    limit: float | None = None
    first: str = ""
    after: float = 0.0


@dataclass(frozen=True)
class Step:
    """One step.

    ``id`` is stable within a revision (``measure.inverter.pole_pole``); ``phase`` heads a group of
    steps; ``words`` is what to do, in a mechanic's words; ``why`` what it rests on. ``about`` names
    sources, stores, gaps or sections of the circuit it is there for: it goes when they go.
    ``people`` is how many different people must sign it. ``needs`` are kinds of equipment
    (`swapwright.standards.equipment`), ``ppe`` what is worn. ``wait`` is in s; where no waiting
    time exists it is None and ``no_wait`` says what is done instead. ``sources`` are ids of what it
    rests on (`swapwright.base.sources`).
    """

    id: str
    phase: str
    act: Act
    title: str
    words: str
    why: str = ""
    about: tuple[str, ...] = ()
    who: Level = "isolation"
    people: int = 1
    needs: tuple[str, ...] = ()
    ppe: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    reading: ReadingSpec | None = None
    wait: float | None = None
    no_wait: str = ""
    photo: bool = False


@dataclass(frozen=True)
class EnergySource:
    """What can put voltage on the circuit, or keep it there, and how it is taken away.

    ``elements`` are the elements of the circuit it comes in by; ``gap`` says where it is opened and
    locked; empty where it cannot be.
    """

    name: str
    elements: tuple[str, ...]
    gap: str
    words: str


@dataclass(frozen=True)
class Remaining:
    """A hazard the procedure does not take away: where, how much, and what it means."""

    where: str
    words: str
    figures: tuple[str, ...] = ()


@dataclass(frozen=True)
class Procedure:
    """The procedure of one kind for one revision of one car.

    ``is_generic`` where the file is missing or says too little: everything is then taken at its
    worst. ``highest`` is the maximum working voltage V, None where it is not known. ``no_absence``
    says why absence cannot be verified by it (no gap separates ...); empty where it can.
    ``not_covered`` says what it does not look at.
    """

    kind: Kind
    car: str
    revision: str
    mark: str
    region: str
    is_generic: bool
    highest: float | None
    is_class_b: bool
    sources: tuple[EnergySource, ...]
    steps: tuple[Step, ...]
    remaining: tuple[Remaining, ...]
    no_absence: tuple[str, ...]
    cautions: tuple[str, ...]
    not_covered: tuple[str, ...]
    figures: tuple[str, ...]

    def step(self, step_id: str) -> Step | None:
        """Return the step with an id, None where there is none."""
        return next((each for each in self.steps if each.id == step_id), None)
