"""Giving a car its voltage back: the isolation in reverse, each lock lifted by its own owner."""

from __future__ import annotations

from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, slug
from swapwright.procedures.before import before
from swapwright.procedures.checks import MOST_OHMS, joining
from swapwright.procedures.points import elements_of, gaps, opened
from swapwright.procedures.protection import AT_PARTS, INSULATION_TESTER, protection
from swapwright.procedures.remaining import remaining
from swapwright.procedures.sources_of_energy import energy_sources
from swapwright.procedures.step import Expectation, Procedure, ReadingSpec, Step
from swapwright.procedures.subject import Subject
from swapwright.procedures.wording import told
from swapwright.standards import procedures as table

CLOSE, LIFT, BACK, WATCH = "Close up", "Lift the locks", "Bring the sources back", "Watch it start"
PRACTICE = (table.FIRST_POWER,)


def re_energising(subject: Subject) -> Procedure:
    """Return the procedure that brings a car's voltage back after work on it."""
    found = opened(subject.circuit)
    return subject.procedure(
        "re-energising",
        (
            *before(protection(subject.facts.highest), "isolation", "bringing voltage back"),
            *_close_up(subject),
            *_lift(subject),
            *_back(subject),
            *_watch(subject),
        ),
        sources=energy_sources(subject.circuit, subject.facts),
        remaining=remaining(found, subject.facts),
        no_absence=("Bringing voltage back ends every absence that was verified.",),
        cautions=(
            "Absence of voltage lapses with the first lock that is lifted: from then on every "
            "orange part counts as live.",
        ),
    )


def _close_up(subject: Subject) -> tuple[Step, ...]:
    return (
        Step(
            "close.tools",
            CLOSE,
            "confirm",
            "Tools and shorts counted",
            "Every tool, cover, lead and shorting link that went in has come out: count them "
            "against the list.",
            "A forgotten short link meets the whole pack.",
            sources=PRACTICE,
            photo=True,
        ),
        Step(
            "close.parts",
            CLOSE,
            "confirm",
            "Everything mated and covered",
            "Connectors mated and latched, joints at torque and marked, bonds back on, covers and "
            "seals on, labels in place, interlock loop whole.",
            sources=PRACTICE,
            photo=True,
        ),
        _insulation(subject),
        Step(
            "close.people",
            CLOSE,
            "confirm",
            "Everybody out and told",
            "Everybody who worked is out of the car, knows that voltage comes back, and has "
            "handed back the permit.",
            sources=(table.SECOND_PERSON,),
        ),
    )


def _insulation(subject: Subject) -> Step:
    asked = max(subject.facts.min_isolation or 0.0, table.MIN_INSULATION.si)
    return Step(
        "close.insulation",
        CLOSE,
        "measure",
        "Insulation: both poles to chassis",
        "The disconnect still locked out, monitor off, both poles joined, electronics as "
        "their makers allow: test as before first power, enter the resistance, and let the "
        "tester discharge it until it shows nothing.",
        "Work on a circuit is what its insulation suffers from most.",
        who="live",
        needs=(*AT_PARTS, INSULATION_TESTER),
        ppe=protection(subject.facts.highest).worn_at_parts,
        sources=(table.INSULATION_TEST, "un-r100-isolation-resistance"),
        reading=ReadingSpec(
            "resistance",
            "ohm",
            ("both poles joined", CHASSIS),
            Expectation(asked, MOST_OHMS, "what the car must keep and the shop asks, or more"),
        ),
    )


def _lift(subject: Subject) -> tuple[Step, ...]:
    names = [
        *(gap.name for gap in gaps(subject.circuit)),
        "12 V lead",
        *(f"inlet of {each.name}" for each in subject.circuit.of_kind(*_PLUGS)),
    ]
    abouts = [
        *(elements_of(gap) for gap in gaps(subject.circuit)),
        (),
        *((each.name,) for each in subject.circuit.of_kind(*_PLUGS)),
    ]
    return tuple(
        Step(
            f"lift.{slug(name)}",
            LIFT,
            "confirm",
            f"Locks off: {name}",
            f"Each owner lifts their own lock from the {name}, and nobody another's. A lock whose "
            "owner is not there comes off only by the written way for abandoned locks, by two "
            "people.",
            about=about,
            sources=(table.VERIFY_ORDER,),
        )
        for name, about in zip(names, abouts, strict=True)
    )


_PLUGS = (model.CHARGER, model.INLET)


def _back(subject: Subject) -> tuple[Step, ...]:
    worn = protection(subject.facts.highest)
    steps = [*joining(subject, BACK)]
    steps += [
        Step(
            f"back.gap.{gap.slug}",
            BACK,
            "confirm",
            f"Fit {gap.name}",
            f"Key off and kept by you, 12 V still off: fit {gap.name} in one movement, face "
            "turned away.",
            "The reverse of how it was opened: no current may flow.",
            elements_of(gap),
            needs=AT_PARTS,
            ppe=worn.worn_at_parts,
            sources=(table.DISCONNECT_PRACTICE,),
        )
        for gap in gaps(subject.circuit)
    ]
    steps.append(
        Step(
            "back.12v",
            BACK,
            "confirm",
            "12 V on",
            "Wheels still, selector in neutral or park, key out: put the lead back on the 12 V "
            "battery. No contactor may be heard.",
            sources=(table.TWELVE_VOLT,),
        )
    )
    return tuple(steps)


def _watch(subject: Subject) -> tuple[Step, ...]:
    time = subject.facts.precharge_time
    by = "" if time is None else f" By the design it takes {told(time, 'time')}."
    return (
        Step(
            "watch.precharge",
            WATCH,
            "confirm",
            "Precharge and contactors",
            "Wheels chocked, nobody in line with the car: switch on. Precharge ends, contactors "
            f"close in their order, no fault shows.{by} Anything else: off, and isolate again.",
            about=tuple(e.name for e in subject.circuit.of_kind(model.PRECHARGE_RELAY)),
            sources=PRACTICE,
        ),
        Step(
            "watch.isolation",
            WATCH,
            "confirm",
            "Isolation by the car's monitor",
            "Let the monitor settle: no warning, no alarm.",
            sources=PRACTICE,
        ),
        Step(
            "watch.sign",
            WATCH,
            "sign",
            "Given back",
            "Sign that the car has its voltage back, which locks were lifted by whom, and what "
            "was not tried.",
            people=2,
            sources=PRACTICE,
        ),
    )
