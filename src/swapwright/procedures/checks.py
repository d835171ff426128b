"""Tests with nothing live: bonding, insulation, and the timed discharge after it.

An insulation tester puts a voltage of its own on the circuit: it is as hazardous as the pack.
"""

from __future__ import annotations

from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Circuit
from swapwright.procedures.protection import (
    AT_METER,
    AT_PARTS,
    INSULATION_TESTER,
    METER,
    Protection,
    protection,
)
from swapwright.procedures.step import Expectation, ReadingSpec, Step
from swapwright.procedures.subject import Subject
from swapwright.procedures.wording import told
from swapwright.standards import procedures as table
from swapwright.standards.discharge import SHOP_WAIT
from swapwright.standards.isolation import BONDING_TEST_CURRENT, MAX_BONDING_RESISTANCE

PHASE = "Test with nothing live"
MOST_OHMS = 1e12
"""A resistance too high for any tester: the open end of an expectation."""

_BONDED = model.CONVERTERS | {model.PACK}


def bonding(circuit: Circuit) -> tuple[Step, ...]:
    """Return one bonding reading for each part with a case."""
    current = told(BONDING_TEST_CURRENT.si, "current")
    return tuple(
        Step(
            f"bonding.{device.slug}",
            PHASE,
            "measure",
            f"Bonding: {device.name}",
            f"With {current} or more read the resistance from the case of {device.name} to a bare "
            "place on the chassis, leads zeroed.",
            "A case that one fault makes live must not stand apart from the chassis.",
            tuple(each.name for each in device.elements),
            needs=(METER,),
            sources=("un-r100-bonding",),
            reading=ReadingSpec(
                "resistance",
                "ohm",
                (f"case of {device.name}", CHASSIS),
                Expectation(0.0, MAX_BONDING_RESISTANCE.si, "as the regulation asks, or less"),
            ),
        )
        for device in circuit.devices
        if device.kind in _BONDED
    )


def insulation(subject: Subject, worn: Protection) -> tuple[Step, ...]:
    """Return the insulation test: what comes first, and the reading of both poles together."""
    volts = told(subject.facts.highest, "voltage")
    asked = max(subject.facts.min_isolation or 0.0, table.MIN_INSULATION.si)
    return (
        Step(
            "insulation.ready",
            PHASE,
            "confirm",
            "Ready for the insulation test",
            "Pack disconnected and the disconnect locked out, absence verified. Isolation monitor "
            "off. Both poles joined to each other. Electronics left on or taken off as their "
            f"makers allow. Test voltage at or above {volts}, and within the rating of every part "
            "that stays joined. 'Test on' signs at both ends; nobody touches anything orange.",
            "The tester's own voltage can kill, and charges every capacitor to the chassis.",
            who="live",
            people=2,
            needs=(*AT_PARTS, INSULATION_TESTER),
            ppe=worn.worn_at_parts,
            sources=(table.INSULATION_TEST,),
        ),
        Step(
            "insulation.reading",
            PHASE,
            "measure",
            "Insulation: both poles to chassis",
            "Hold the test for a minute and enter the resistance at its end.",
            "Taken before power, while nothing but the tester can feed a fault.",
            who="live",
            needs=(*AT_PARTS, INSULATION_TESTER),
            ppe=worn.worn_at_parts,
            sources=(table.INSULATION_TEST, "un-r100-isolation-resistance"),
            reading=ReadingSpec(
                "resistance",
                "ohm",
                ("both poles joined", CHASSIS),
                Expectation(asked, MOST_OHMS, "what the car must keep and the shop asks, or more"),
            ),
        ),
    )


def joining(subject: Subject, phase: str) -> tuple[Step, ...]:
    """Return the step before strings are joined; none for a pack of one string."""
    packs = subject.circuit.of_kind(model.PACK)
    if len({each.string for each in packs}) < MORE_THAN_ONE:
        return ()
    allowed = subject.facts.join_difference
    most = "what its maker allows" if allowed is None else told(allowed, "voltage")
    return (
        Step(
            "strings.join",
            phase,
            "confirm",
            "Strings alike before they are joined",
            "Read each string by itself, rested, before the second disconnect goes in. They are "
            f"joined only where they lie no more than {most} apart. Cells with a flat curve are "
            "not joined by voltage alone.",
            "What they lie apart drives a current with little but copper to hold it back.",
            tuple(each.name for each in packs),
            who="live",
            people=2,
            needs=AT_METER,
            ppe=protection(subject.facts.highest).worn_at_parts,
            sources=(table.FIRST_POWER,),
        ),
    )


MORE_THAN_ONE = 2


def discharge_after_test(subject: Subject) -> Step:
    """Return the timed discharge after an insulation test."""
    longest = max(subject.facts.waits.values(), default=SHOP_WAIT.si)
    return Step(
        "insulation.discharge",
        PHASE,
        "wait",
        "Discharge after the test",
        f"Leave the tester's discharge on until it shows nothing, then wait {told(longest, 'time')}"
        " with both poles still joined and joined to the chassis by the tester's lead.",
        "What the test charged stays charged when its leads come off too soon.",
        who="live",
        sources=(table.INSULATION_TEST, "shop-wait-practice"),
        wait=longest,
    )
