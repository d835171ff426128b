"""Somebody hangs on a live part, or had a shock. Short enough to be read aloud.

Emergency services outrank every line of it.
"""

from __future__ import annotations

from swapwright.build.circuit import model
from swapwright.procedures.points import gaps, opened
from swapwright.procedures.protection import HOOK
from swapwright.procedures.remaining import remaining
from swapwright.procedures.sources_of_energy import energy_sources
from swapwright.procedures.step import Procedure, Step
from swapwright.procedures.subject import Subject
from swapwright.procedures.wording import listed, told
from swapwright.standards import procedures as table

FREE, HELP, AFTER = "Free them", "Help them", "After"


def rescue_of_a_person(subject: Subject) -> Procedure:
    """Return what is done when a person is caught on a live part or has had a shock."""
    return subject.procedure(
        "rescue of a person",
        (*_free(subject), *_help(), *_after()),
        sources=energy_sources(subject.circuit, subject.facts),
        remaining=remaining(opened(subject.circuit), subject.facts),
        no_absence=("Nothing is measured in a rescue: the car counts as live throughout.",),
        cautions=(
            "Emergency services outrank this page: do what they say.",
            "First line: cut the source or use the hook. Do not touch the person.",
            "Any electric shock goes to hospital for the heart to be watched, even when well.",
        ),
    )


def _step(
    step_id: str,
    phase: str,
    title: str,
    words: str,
    why: str = "",
    *,
    source: str = table.RESCUE,
    needs: tuple[str, ...] = (),
) -> Step:
    return Step(
        step_id,
        phase,
        "confirm",
        title,
        words,
        why,
        who="aware",
        needs=needs,
        sources=(source,),
    )


def _free(subject: Subject) -> tuple[Step, ...]:
    where = listed(each.name for each in gaps(subject.circuit))
    cut = "emergency button or key"
    cut += ", charging supply off" if subject.circuit.of_kind(model.CHARGER, model.INLET) else ""
    cut += f"; {where} only if you reach it without touching anybody" if where else ""
    volts = told(subject.facts.highest, "voltage")
    return (
        _step(
            "free.cut",
            FREE,
            "Cut the source or use the hook: do not touch",
            f"Do not touch the person or the car. Cut the source if that is quick: {cut}. If not, "
            "pull them off with the rescue hook, round the body, standing dry.",
            f"Whoever touches them joins the same circuit, up to {volts}.",
            needs=(HOOK,),
        ),
        _step(
            "free.call",
            FREE,
            "Call",
            "Shout for help. One person calls the emergency number: electric shock, dc, where, how "
            "many; somebody fetches the defibrillator, somebody goes to meet the ambulance.",
        ),
    )


def _help() -> tuple[Step, ...]:
    return (
        _step(
            "help.breathing",
            HELP,
            "Breathing?",
            "Clear of the source, not before: if they do not answer and do not breathe as usual, "
            "begin chest compressions, hard and fast in the middle of the chest, and go on.",
        ),
        _step(
            "help.defibrillator",
            HELP,
            "Defibrillator",
            "Switch it on as soon as it is there and do what it says. Dry the chest, nobody "
            "touching, away from live parts. Go on until the services take over.",
        ),
        _step(
            "help.burns",
            HELP,
            "Burns and falls",
            "A burn that looks small can be deep. Cool what burnt with clean, cool water once "
            "they are away from the car; nothing on it but a clean cover, pull nothing off that "
            "sticks. After a fall do not move neck or back without need.",
        ),
        _step(
            "help.hospital",
            HELP,
            "To hospital, always",
            "Every shock, however short, goes to hospital for the heart to be watched, even if "
            "the person feels well. Nobody drives there alone.",
            source=table.HOSPITAL,
        ),
    )


def _after() -> tuple[Step, ...]:
    return (
        _step(
            "after.car",
            AFTER,
            "Leave the car as it is",
            "Close the place off. The car counts as live; nobody goes on working. Whatever was "
            "open, locked or measured is void and begins anew.",
        ),
        _step(
            "after.report",
            AFTER,
            "Write it down",
            "Enter the incident the same day: what, when, where, voltage, first aid, who was "
            "there. It cannot be taken out again.",
        ),
    )
