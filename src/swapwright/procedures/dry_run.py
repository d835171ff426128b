"""The dry run before first power: everything that switches, from a small supply.

The pack is still disconnected. What goes wrong here meets a small supply.
"""

from __future__ import annotations

from swapwright.build.circuit import model
from swapwright.procedures.points import elements_of
from swapwright.procedures.step import Step
from swapwright.procedures.subject import Subject
from swapwright.procedures.wording import told
from swapwright.standards import procedures as table

PHASE = "Dry run"
FIRST = (table.FIRST_POWER,)


def dry_run(subject: Subject) -> tuple[Step, ...]:
    """Return the steps of the dry run."""
    limit = told(table.BENCH_CURRENT.si, "current")
    boundary = told(table.CLASS_BOUNDARY_DC.si, "voltage")
    steps = [
        Step(
            "dry.interlock",
            PHASE,
            "confirm",
            "Interlock loop and stops",
            "Open the interlock loop at each connector in turn, press each emergency button, trip "
            "the inertia switch: each time every contactor drops out.",
            who="isolation",
            sources=FIRST,
        )
    ]
    steps += [
        Step(
            f"dry.contactor.{each.slug}",
            PHASE,
            "confirm",
            f"{each.name.capitalize()} by themselves",
            f"Command {each.name} alone, each pole in turn, with the pack still disconnected: it "
            "pulls in and drops out, and its feedback says so.",
            about=elements_of(each),
            sources=FIRST,
        )
        for each in subject.circuit.devices_of(model.CONTACTOR, model.PRECHARGE_RELAY)
    ]
    steps.append(
        Step(
            "dry.supply",
            PHASE,
            "confirm",
            "Start-up from a limited supply",
            f"In the pack's place a supply of no more than {boundary}, limited to {limit}: run the "
            "whole start-up, see precharge end and the contactors close in their order. Then take "
            "the supply off, and off the car.",
            "The first fault meets a small supply, not the pack.",
            sources=FIRST,
        )
    )
    return tuple(steps)
