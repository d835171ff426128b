"""The isolation procedure of one car: from what reaches what in its circuit, not from a template.

Order: before, walk round, take away, look, let go, block, lock, wait, prove, measure twice, prove
again, sign, short and cover. Absence is claimed of listed points only, and of none where a part
that is no pack stays within reach of a source.
"""

from __future__ import annotations

from swapwright.assess.assessment import Assessment
from swapwright.assess.circuit.section import Reach, SectionState
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit
from swapwright.procedures.before import before
from swapwright.procedures.measuring import cover, measured, proved, short_and_cover, statement
from swapwright.procedures.points import (
    MeasuringPoint,
    Opened,
    gaps,
    measuring_points,
    opened,
    phase_units,
)
from swapwright.procedures.protection import protection
from swapwright.procedures.remaining import remaining
from swapwright.procedures.sources_of_energy import energy_sources
from swapwright.procedures.step import Procedure, Step
from swapwright.procedures.subject import Subject, subject_of
from swapwright.procedures.taking_away import (
    CONTACTORS_ARE_NO_GAP,
    block_motion,
    charge_begins_to_go,
    locks,
    look_at_gaps,
    sources_off,
    waits,
)
from swapwright.procedures.walk_round import NOT_CONFIRMED, walk_round, walk_without_file
from swapwright.procedures.wording import listed, sentence

DESIGN = (
    f"This is a {NOT_CONFIRMED}: it holds only once a qualified person has walked the car against "
    "it and signed."
)
CAUTIONS = (
    CONTACTORS_ARE_NO_GAP,
    "A reading that does not fit, high or low, stops the job: treat the car as live, prove the "
    "meter again, find the source.",
    "To the chassis a meter with a high input shows ghost volts and those of the Y-capacitors; one "
    "with a low input takes them down while you look. Write down which yours is.",
)


def isolation_procedure(car: Car, assessment: Assessment) -> Procedure:
    """Return the isolation procedure of a car; a generic one where its file says too little."""
    return isolation(subject_of(car, assessment))


def isolation(subject: Subject) -> Procedure:
    """Return the isolation procedure of a circuit about which these facts are known."""
    found = opened(subject.circuit)
    points = measuring_points(found)
    why_not = no_absence(found, points)
    if subject.is_generic:
        why_not = (
            *map(sentence, subject.lacking),
            "Without a file that can be walked against the car no list of points is complete.",
            *why_not,
        )
    return subject.procedure(
        "isolation",
        _steps(subject, found, points, can_be_verified=not why_not),
        sources=energy_sources(subject.circuit, subject.facts),
        remaining=remaining(found, subject.facts),
        no_absence=why_not,
        cautions=CAUTIONS if subject.is_generic else (DESIGN, *CAUTIONS),
    )


def _steps(
    subject: Subject, found: Opened, points: tuple[MeasuringPoint, ...], *, can_be_verified: bool
) -> tuple[Step, ...]:
    circuit, facts = subject.circuit, subject.facts
    worn, phases = protection(facts.highest), phase_units(found)
    ends = (statement(), *short_and_cover(found, worn)) if can_be_verified else (cover(worn),)
    return (
        *before(worn, "isolation", "opening and locking every source of this car"),
        *(walk_without_file() if subject.is_generic else walk_round(circuit, points, phases)),
        *sources_off(circuit, facts, worn),
        *look_at_gaps(circuit, worn),
        charge_begins_to_go(),
        block_motion(),
        *locks(circuit),
        *waits(found, facts, worn),
        proved(worn, is_again=False),
        *measured(found, points, phases, facts, worn),
        proved(worn, is_again=True),
        *ends,
    )


def no_absence(found: Opened, points: tuple[MeasuringPoint, ...]) -> tuple[str, ...]:
    """Return why absence cannot be verified; empty where it can, at the listed points."""
    reasons = []
    if not gaps(found.circuit):
        reasons.append("no service disconnect stands in the circuit: no gap can be locked open")
    reasons += [why for state in found.reached for why in _stays(found.circuit, state)]
    if not points:
        reasons.append("no part lies behind a gap, so there is no point to measure absence at")
    return tuple(map(sentence, reasons))


def _stays(circuit: Circuit, state: SectionState) -> list[str]:
    """Return why a section keeps absence from being verified: more than a pack stays live."""
    inside = [circuit.by_name[name] for name in state.section.elements]
    parts = [each.name for each in inside if each.kind in model.CONVERTERS]
    if any(each.kind == model.PACK for each in inside) and not parts:
        return []
    names = listed(parts) or state.section.name
    ways = listed(_way(reach) for reach in state.reached_by)
    return [f"{names} is not separated: {state.word}, by {ways}"]


def _way(reach: Reach) -> str:
    if not reach.welded:
        return reach.source
    if reach.through_one:
        return f"{reach.source} where {listed(reach.welded, 'or')} has welded"
    return f"{reach.source} where {listed(reach.welded)} have welded"
