"""Work inside the pack: live work, however the disconnect stands."""

from __future__ import annotations

from math import floor

from swapwright.build.circuit import model
from swapwright.build.circuit.model import Element, slug
from swapwright.procedures.before import before
from swapwright.procedures.measuring import proved
from swapwright.procedures.points import opened
from swapwright.procedures.protection import (
    AT_METER,
    AT_PARTS,
    EXTINGUISHER,
    FACE_SHIELD,
    HOOK,
    Protection,
    protection,
)
from swapwright.procedures.remaining import remaining
from swapwright.procedures.sources_of_energy import energy_sources
from swapwright.procedures.step import Expectation, Procedure, ReadingSpec, Step
from swapwright.procedures.subject import Subject
from swapwright.procedures.wording import sentence, told
from swapwright.standards import procedures as table

READY, OPEN, WORK, CLOSE = "Ready for live work", "Open a box", "Work", "Close up"
INSIDE = (table.INSIDE,)
NOTHING_CLEARS = (
    "Between cells and the first fuse nothing clears a fault: an arc burns until the metal is "
    "gone. A small energy figure lowers no caution."
)


def inside_the_pack(subject: Subject) -> Procedure:
    """Return the procedure of work inside the boxes of a car's pack."""
    worn = protection(subject.facts.highest)
    packs = subject.circuit.of_kind(model.PACK)
    return subject.procedure(
        "inside the pack",
        (
            *before(worn, "live", "work inside the pack"),
            *_ready(worn),
            proved(worn, is_again=False),
            *(step for pack in packs for step in _box(subject, pack, worn)),
            proved(worn, is_again=True),
            *_close(worn),
        ),
        sources=energy_sources(subject.circuit, subject.facts),
        remaining=remaining(opened(subject.circuit), subject.facts),
        no_absence=("A pack is never off: there is no absence of voltage inside it.",),
        cautions=(
            "Work inside a pack is live work however the disconnect stands.",
            NOTHING_CLEARS,
            "Gloves stop shock, not an arc: face shield and arc-rated layers are lines of their "
            "own, after a hazard assessment of the task.",
        ),
    )


def _live(
    step_id: str,
    phase: str,
    title: str,
    words: str,
    worn: Protection,
    *,
    why: str = "",
    about: tuple[str, ...] = (),
    needs: tuple[str, ...] = AT_PARTS,
    people: int = 1,
) -> Step:
    return Step(
        step_id,
        phase,
        "confirm",
        title,
        words,
        why,
        about,
        who="live",
        people=people,
        needs=needs,
        ppe=worn.worn_at_parts,
        sources=INSIDE,
    )


def _ready(worn: Protection) -> tuple[Step, ...]:
    return (
        Step(
            "ready.permit",
            READY,
            "sign",
            "Why it cannot be done otherwise",
            "Write on the permit why this work must be done on live parts, what is worn, who "
            "stands by, and how long it may last. Both sign.",
            "Live work is the last choice: a smaller part, or a spare, may be worked on instead.",
            who="live",
            people=2,
            sources=INSIDE,
        ),
        _live(
            "ready.isolated",
            READY,
            "The car is isolated",
            "The isolation procedure of this revision has been run, absence is verified at its "
            "points and has not lapsed. That says nothing of the inside of the pack.",
            worn,
            needs=(),
        ),
        _live(
            "ready.place",
            READY,
            "A place for an open pack",
            "Dry, clean, nothing metal above it, way out free, extinguisher and a place outdoors "
            "for a hurt module. The second person watches and does nothing else.",
            worn,
            needs=(EXTINGUISHER, HOOK, FACE_SHIELD),
        ),
    )


def _box(subject: Subject, pack: Element, worn: Protection) -> tuple[Step, ...]:
    name, about = slug(pack.name), (pack.name,)
    lines = "; ".join(subject.facts.arcs.get(name, ()))
    held = subject.facts.modules.get(pack.name, "its modules")
    return (
        _live(
            f"open.{name}",
            OPEN,
            f"Open {pack.name}",
            f"Take its cover off flat and away from the terminals. It holds {held}. Cover every "
            "terminal at once with insulating sheet, then uncover only where you work.",
            worn,
            why=sentence(lines) if lines else NOTHING_CLEARS,
            about=about,
            people=2,
        ),
        *_readings(subject, pack, worn),
        _live(
            f"split.{name}",
            OPEN,
            f"Split {pack.name} into smaller parts",
            _split(subject),
            worn,
            why="Less voltage is less shock; the current of a short stays the same.",
            about=about,
        ),
        _live(
            f"work.{name}",
            WORK,
            f"Work in {pack.name}",
            "One module uncovered at a time. One hand where one will do. Every tool insulated to "
            "its tip and tied, nothing laid on the pack, one joint at a time, never both poles "
            "bare. Vent covers free; a warm, swollen or smelling cell ends the work.",
            worn,
            about=about,
        ),
    )


def _readings(subject: Subject, pack: Element, worn: Protection) -> tuple[Step, ...]:
    facts, name = subject.facts, slug(pack.name)
    agrees = 1.0 + table.VOLTAGE_AGREES.si
    high = pack.share * facts.highest * agrees
    low = pack.share * (facts.lowest or 0.0) / agrees
    ends = f"{pack.name} plus", f"{pack.name} minus"
    spans = [
        ("pole_pole", ends, Expectation(low, high, "this part's own voltage, empty to full")),
        *(
            (
                f"{side}_case",
                (end, f"case of {pack.name}"),
                Expectation(0.0, high, "up to this part's own voltage, by its leaks"),
            )
            for side, end in zip(("plus", "minus"), ends, strict=True)
        ),
    ]
    return tuple(
        Step(
            f"measure.{name}.{tail}",
            OPEN,
            "measure",
            f"{points[0]} to {points[1]}",
            sentence(f"measure dc voltage from {points[0]} to {points[1]}"),
            "A zero here is a stop too: a dead lead, a blown fuse, or the file is not the pack.",
            (pack.name,),
            who="live",
            needs=AT_METER,
            ppe=worn.worn_at_parts,
            sources=INSIDE,
            reading=ReadingSpec("dc voltage", "V", points, expected),
        )
        for tail, points, expected in spans
    )


def _split(subject: Subject) -> str:
    """Return how far the string is taken apart: parts of no more than class A, where that goes."""
    boundary = table.CLASS_BOUNDARY_DC.si
    module = subject.facts.module_voltage
    if module is None or module > boundary:
        return "Take out links between modules, cover each end as it comes free, one by one."
    together = max(1, floor(boundary / module))
    parts = "each module stands by itself" if together == 1 else f"no more than {together} in row"
    return (
        f"Take out links between modules until {parts}: then no part is above "
        f"{told(boundary, 'voltage')}. Cover each end as it comes free, one by one."
    )


def _close(worn: Protection) -> tuple[Step, ...]:
    return (
        _live(
            "close.links",
            CLOSE,
            "Links back, joints at torque",
            "Links back one at a time, the last one under gloves and shield: it closes the whole "
            "part. Torque, mark, photo. Sense leads and covers as they were.",
            worn,
            people=2,
        ),
        _live(
            "close.tools",
            CLOSE,
            "Tools counted, box shut",
            "Tools and small parts counted against the list before the cover goes on. Cover, seal, "
            "vent and label back.",
            worn,
        ),
        Step(
            "close.sign",
            CLOSE,
            "sign",
            "What was done inside",
            "Sign which module and joint was touched, at which torque, with which reading.",
            who="live",
            people=2,
            sources=INSIDE,
        ),
    )
