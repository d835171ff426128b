"""A procedure as a person reads it in a terminal: step by step, expectations kept back."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import groupby
from types import MappingProxyType
from typing import get_args

from swapwright.cli.console import Console
from swapwright.jobs.telling import tell
from swapwright.procedures.step import Level, Procedure, Step

MARK = "design, not confirmed"
WHO: Mapping[Level, str] = MappingProxyType(
    dict(zip(get_args(Level), ("anybody made aware", "may isolate", "may work live"), strict=True))
)
"""Levels of competence as a step tells them."""
AT_ONCE = ("rescue of a person", "damaged vehicle")
"""What is done comes first where seconds count."""
KEPT_BACK = "what it should be is told once the reading has been entered"


def write_procedure(console: Console, procedure: Procedure) -> None:
    """Write a procedure: what it is for, its sources, its steps, what remains."""
    _head(console, procedure)
    if procedure.kind not in AT_ONCE:
        _sources(console, procedure)
    number = 0
    worn: tuple[str, ...] = ()
    for phase, steps in groupby(procedure.steps, key=lambda step: step.phase):
        console.heading(phase)
        for step in steps:
            number += 1
            _step(console, number, step, worn)
            worn = step.ppe or worn
    if procedure.kind in AT_ONCE:
        _sources(console, procedure)
    _remaining(console, procedure)
    _not_covered(console, procedure)


def _head(console: Console, procedure: Procedure) -> None:
    console.line(f"{procedure.car or 'a car without a name'}: {procedure.kind}", bold=True)
    if procedure.is_generic:
        console.line("  generic: the file says too little")
    else:
        revision = f"{procedure.mark} {procedure.revision[:12]}".strip()
        console.line(f"  revision {revision}: {MARK}")
    if procedure.highest is not None:
        letter = "B" if procedure.is_class_b else "A"
        told = tell(procedure.highest, "voltage", "metric")
        console.line(f"  maximum working voltage {told}, class {letter}")
    for caution in procedure.cautions:
        console.wrapped(caution, indent=4, first="  ! ")
    for reason in procedure.no_absence:
        console.wrapped(f"No absence: {reason}", indent=4, first="  ! ")


def _sources(console: Console, procedure: Procedure) -> None:
    if not procedure.sources:
        return
    console.heading("Sources of energy")
    for each in procedure.sources:
        gap = f" [{each.gap}]" if each.gap else ""
        console.wrapped(f"{each.name}{gap}: {each.words}", indent=4, first="  - ")


def _step(console: Console, number: int, step: Step, worn: tuple[str, ...]) -> None:
    """Write one step; ``worn`` is what the steps before it had put on, told where it changes."""
    console.wrapped(step.title, indent=6, first=f" {number:>3}  ")
    console.wrapped(step.words, indent=6)
    if step.ppe and step.ppe != worn:
        console.wrapped(f"wear: {'; '.join(step.ppe)}", indent=8, first="      - ")
    for line in _asked(step):
        console.wrapped(line, indent=8, first="      - ")
    for caution in step.cautions:
        console.wrapped(caution, indent=8, first="      ! ")


def _asked(step: Step) -> list[str]:
    """Return what a step asks for beside its words, a line each."""
    lines = []
    if step.who != "aware" or step.people > 1:
        people = f", {step.people} people" if step.people > 1 else ""
        lines.append(f"who: {WHO[step.who]}{people}")
    if step.needs:
        lines.append(f"needs: {', '.join(step.needs)}")
    if step.reading is not None:
        lines.append(f"reading: ________ {step.reading.unit}; {KEPT_BACK}")
    if step.photo:
        lines.append("photo")
    if step.act == "sign":
        lines.append("signature: ________")
    return lines


def _remaining(console: Console, procedure: Procedure) -> None:
    if not procedure.remaining:
        return
    console.heading("What remains when it is done")
    for each in procedure.remaining:
        figures = f" ({'; '.join(each.figures)})" if each.figures else ""
        console.wrapped(f"{each.where}: {each.words}{figures}", indent=4, first="  - ")


def _not_covered(console: Console, procedure: Procedure) -> None:
    console.heading("Not looked at")
    for each in procedure.not_covered:
        console.wrapped(each, indent=4, first="  - ")
