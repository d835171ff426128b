"""A procedure as a sheet of paper to fill in: what repeats is said once, a reading is a row."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from swapwright.procedures.step import Procedure, Step

AT_ONCE = ("rescue of a person", "damaged vehicle")
"""What is done comes first where seconds count."""


@dataclass(frozen=True)
class SheetStep:
    """One step with its number in the procedure."""

    number: int
    step: Step


@dataclass(frozen=True)
class Block:
    """Steps with one head: one step, or readings that are taken in the same way one after another.

    ``wear`` and ``why`` are empty where they are as in the block before; ``refs`` number the
    sources at the end of the sheet.
    """

    steps: tuple[SheetStep, ...]
    wear: tuple[str, ...]
    why: str
    refs: tuple[int, ...]

    @property
    def first(self) -> Step:
        """Return the step all of them are like."""
        return self.steps[0].step

    @property
    def is_readings(self) -> bool:
        """Tell whether it is a table of readings."""
        return len(self.steps) > 1


@dataclass(frozen=True)
class SheetPhase:
    """The blocks under one head."""

    name: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Sheet:
    """A procedure ready to be printed; ``sources`` are ids, numbered from 1 by their order."""

    procedure: Procedure
    phases: tuple[SheetPhase, ...]
    sources: tuple[str, ...]
    is_at_once: bool


def sheet_of(procedure: Procedure) -> Sheet:
    """Return a procedure as a sheet of paper."""
    sources = tuple(dict.fromkeys(each for step in procedure.steps for each in step.sources))
    phases: list[SheetPhase] = []
    worn: tuple[str, ...] = ()
    why = ""
    for steps in _grouped(procedure.steps):
        first = steps[0].step
        block = Block(
            steps,
            first.ppe if first.ppe != worn else (),
            first.why if first.why != why else "",
            tuple(sources.index(each) + 1 for each in first.sources),
        )
        worn, why = first.ppe or worn, first.why
        if phases and phases[-1].name == first.phase:
            phases[-1] = SheetPhase(first.phase, (*phases[-1].blocks, block))
        else:
            phases.append(SheetPhase(first.phase, (block,)))
    return Sheet(procedure, tuple(phases), sources, procedure.kind in AT_ONCE)


def _grouped(steps: Iterable[Step]) -> list[tuple[SheetStep, ...]]:
    """Return the steps in order, readings that are alike but for their points together."""
    found: list[tuple[SheetStep, ...]] = []
    for number, step in enumerate(steps, start=1):
        one = SheetStep(number, step)
        if found and step.reading is not None and _way(found[-1][0].step) == _way(step):
            found[-1] = (*found[-1], one)
        else:
            found.append((one,))
    return found


def _way(step: Step) -> tuple[object, ...]:
    """Return everything of a step but its name, its words and its points."""
    reading = step.reading
    after = None if reading is None else (reading.after, bool(reading.first))
    return (
        step.phase,
        step.act,
        reading is None,
        after,
        step.why,
        step.who,
        step.people,
        step.needs,
        step.ppe,
        step.cautions,
        step.sources,
        step.wait,
        step.no_wait,
        step.photo,
    )
