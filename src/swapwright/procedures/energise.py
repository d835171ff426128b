"""First power into a car: what is tested while nothing is live, then power stage by stage.

Each stage has a reading the design expects, told only after it has been entered. What ends the job
is written down before it begins.
"""

from __future__ import annotations

from swapwright.build.circuit import model
from swapwright.build.circuit.model import CHASSIS, Device, slug
from swapwright.procedures.before import before
from swapwright.procedures.checks import (
    MOST_OHMS,
    bonding,
    discharge_after_test,
    insulation,
    joining,
)
from swapwright.procedures.dry_run import dry_run
from swapwright.procedures.measuring import proved
from swapwright.procedures.points import (
    Opened,
    elements_of,
    gaps,
    measuring_points,
    opened,
    phase_units,
)
from swapwright.procedures.protection import (
    AT_METER,
    AT_PARTS,
    EXTINGUISHER,
    Protection,
    protection,
)
from swapwright.procedures.remaining import remaining
from swapwright.procedures.sources_of_energy import energy_sources
from swapwright.procedures.step import Expectation, Procedure, ReadingSpec, Step
from swapwright.procedures.subject import Subject
from swapwright.procedures.walk_round import walk_round, walk_without_file
from swapwright.procedures.wording import sentence, told
from swapwright.standards import procedures as table
from swapwright.standards.discharge import ABSENCE_VOLTAGE

SCRIPT, POWER, AFTER = "Agree on the script", "Power, stage by stage", "After"
FIRST = (table.FIRST_POWER,)
ABORT = (
    "smoke, smell, hiss, arc or a sound nobody expected",
    "a reading outside what the design expects, high or low",
    "isolation falling, or the monitor's warning",
    "a contactor that does not drop out when it is told to",
    "precharge that does not get there in its time",
    "a wheel that turns the wrong way or by itself",
    "a cell outside its limits, or the pack controller silent",
    "anybody says stop",
)
"""What ends first power at once; written down before, by everybody who is there."""


def first_energisation(subject: Subject) -> Procedure:
    """Return the procedure of first power for a car."""
    found = opened(subject.circuit)
    worn = protection(subject.facts.highest)
    return subject.procedure(
        "first energisation",
        (
            *before(worn, "live", "first power"),
            *(walk_without_file() if subject.is_generic else _walk(found)),
            *_script(),
            *bonding(subject.circuit),
            *_polarity(subject),
            *insulation(subject, worn),
            discharge_after_test(subject),
            *dry_run(subject),
            proved(worn, is_again=False),
            *_power(subject, worn),
            proved(worn, is_again=True),
            *_after(),
        ),
        sources=energy_sources(subject.circuit, subject.facts),
        remaining=remaining(found, subject.facts),
        no_absence=("First power measures no absence: the isolation procedure does.",),
        cautions=(
            "Everything is live from the moment the disconnect goes in: contactors may be welded "
            "from the first closing on.",
            f"It ends at once on: {'; '.join(ABORT)}.",
        ),
    )


def _walk(found: Opened) -> tuple[Step, ...]:
    return walk_round(found.circuit, measuring_points(found), phase_units(found))


def _script() -> tuple[Step, ...]:
    return (
        Step(
            "script.abort",
            SCRIPT,
            "sign",
            "What ends it",
            sentence(f"read aloud what ends it at once, and sign it, both: {'; '.join(ABORT)}")
            + " Whoever sees one says stop and switches off; no disconnect is pulled under load.",
            "Criteria made up on the spot come too late.",
            who="live",
            people=2,
            sources=FIRST,
        ),
        Step(
            "script.place",
            SCRIPT,
            "confirm",
            "Wheels off the ground, fire watch",
            "Driven wheels off the ground on stands, nobody in line with them, doors of the hall "
            "open, extinguisher and the way out free, one person on watch.",
            who="live",
            needs=(EXTINGUISHER,),
            sources=(table.FIRST_POWER, table.WHEELS),
        ),
    )


def _polarity(subject: Subject) -> tuple[Step, ...]:
    devices = [d for d in subject.circuit.devices if d.kind in model.CONVERTERS]
    return tuple(_poles(each) for each in devices)


def _poles(device: Device) -> Step:
    return Step(
        f"polarity.{device.slug}",
        "Test with nothing live",
        "confirm",
        f"Polarity and continuity: {device.name}",
        f"With the disconnect out and absence verified follow plus and minus of {device.name} with "
        "a continuity tester, end to end, before its connector is mated: plus is plus, minus is "
        "minus, neither goes to the chassis or to the other.",
        "A converter with its poles swapped is gone in an instant.",
        tuple(each.name for each in device.elements),
        sources=FIRST,
        photo=True,
    )


def _power(subject: Subject, worn: Protection) -> tuple[Step, ...]:
    facts = subject.facts
    agrees = 1.0 + table.VOLTAGE_AGREES.si
    low = (facts.lowest or 0.0) / agrees
    whole = Expectation(low, facts.highest * agrees, "between the empty and the full pack")
    first = _first_point(subject)
    steps = [*joining(subject, POWER)]
    steps += [_insert(gap, worn) for gap in gaps(subject.circuit)]
    steps += _before_contactors(first, facts.highest, worn)
    steps += _precharge(subject, first, worn)
    steps += [
        _reading(
            "power.main",
            "Main contactors, no torque",
            "Close the main contactors, ask for no torque. Read plus to minus at {}.",
            first,
            whole,
            worn,
        ),
        *_isolation_now(subject),
        *_low_side(subject, worn),
        *_chargers(subject),
        *_motors(subject),
    ]
    return tuple(steps)


def _insert(gap: Device, worn: Protection) -> Step:
    return Step(
        f"power.insert.{gap.slug}",
        POWER,
        "confirm",
        f"Fit {gap.name}",
        "Each owner lifts their own lock. Key off, contactors open: fit it in one movement, face "
        "turned away.",
        "From here on the circuit counts as live.",
        elements_of(gap),
        who="live",
        people=2,
        needs=AT_PARTS,
        ppe=worn.worn_at_parts,
        sources=(table.FIRST_POWER, table.DISCONNECT_PRACTICE),
    )


def _first_point(subject: Subject) -> str:
    points = measuring_points(opened(subject.circuit))
    inverter = next((p.name for p in points if p.name in _names(subject, model.INVERTER)), "")
    return inverter or next((p.name for p in points), "the first part behind the contactors")


def _names(subject: Subject, *kinds: str) -> tuple[str, ...]:
    return tuple(each.name for each in subject.circuit.of_kind(*kinds))


def _before_contactors(point: str, highest: float, worn: Protection) -> list[Step]:
    return [
        _reading(
            "power.contactors_open",
            "Disconnect in, contactors open",
            "Read plus to minus at {} before any contactor is told to close.",
            point,
            Expectation(
                0.0,
                ABSENCE_VOLTAGE.si,
                f"contactors open: nothing; up to {told(highest, 'voltage')} if one has welded",
            ),
            worn,
        )
    ]


def _precharge(subject: Subject, point: str, worn: Protection) -> list[Step]:
    facts = subject.facts
    if not subject.circuit.of_kind(model.PRECHARGE_RELAY):
        return []
    share = facts.precharged or 0.0
    words = "Precharge only: hold the main contactor back. Read plus to minus at {}"
    if facts.precharge_time is not None:
        words += f" after {told(facts.precharge_time, 'time')} by the design"
    agrees = 1.0 + table.VOLTAGE_AGREES.si
    expected = Expectation(
        share * (facts.lowest or 0.0) / agrees,
        facts.highest * agrees,
        f"at least {told(share, 'fraction')} of what the pack has",
    )
    return [_reading("power.precharge", "Precharge", f"{words}.", point, expected, worn)]


def _reading(
    step_id: str, title: str, words: str, point: str, expected: Expectation, worn: Protection
) -> Step:
    return Step(
        step_id,
        POWER,
        "measure",
        title,
        words.format(point),
        "Enter what the meter shows, whatever it is.",
        who="live",
        needs=AT_METER,
        ppe=worn.worn_at_parts,
        sources=FIRST,
        reading=ReadingSpec("dc voltage", "V", (f"{point} plus", f"{point} minus"), expected),
    )


def _isolation_now(subject: Subject) -> list[Step]:
    asked = subject.facts.min_isolation
    if asked is None:
        return []
    return [
        Step(
            "power.isolation",
            POWER,
            "measure",
            "Isolation by the car's monitor",
            "Let the monitor settle and enter the resistance it shows.",
            "It shows all paths side by side, its own among them.",
            who="live",
            sources=(table.FIRST_POWER, "un-r100-isolation-resistance"),
            reading=ReadingSpec(
                "resistance",
                "ohm",
                ("both poles", CHASSIS),
                Expectation(asked, MOST_OHMS, "what the joined circuit must keep, or more"),
            ),
        )
    ]


def _low_side(subject: Subject, worn: Protection) -> list[Step]:
    low_side = subject.facts.low_side
    if low_side is None:
        return []
    spread = (
        low_side * (1.0 + table.LOW_SIDE_SPREAD.si),
        low_side / (1.0 + table.LOW_SIDE_SPREAD.si),
    )
    return [
        Step(
            f"power.low_side.{slug(name)}",
            POWER,
            "measure",
            f"Converter: {name}",
            f"Switch {name} on and read the 12 V battery from pole to pole.",
            about=(name,),
            who="live",
            needs=AT_METER,
            ppe=worn.worn_at_parts,
            sources=FIRST,
            reading=ReadingSpec(
                "dc voltage",
                "V",
                ("12 V battery plus", "12 V battery minus"),
                Expectation(spread[1], spread[0], "the converter feeds the 12 V side"),
            ),
        )
        for name in _names(subject, model.DCDC)
    ]


def _chargers(subject: Subject) -> list[Step]:
    return [
        Step(
            f"power.charge.{slug(name)}",
            POWER,
            "confirm",
            f"Charge a little: {name}",
            f"Contactors open, then plug in at {name}: smallest current, watch cells and "
            "temperatures, see that the car cannot drive while plugged in, and end it.",
            about=(name,),
            who="live",
            sources=FIRST,
        )
        for name in _names(subject, model.CHARGER, model.INLET)
    ]


def _motors(subject: Subject) -> list[Step]:
    return [
        Step(
            f"power.motor.{slug(name)}",
            POWER,
            "confirm",
            f"Motor at {name}: smallest torque",
            "Wheels off the ground, nobody near them: smallest torque forwards, then back. It "
            "turns the way it was told, and stops when it is told.",
            about=(name,),
            who="live",
            people=2,
            sources=(table.FIRST_POWER, table.WHEELS),
        )
        for name in _names(subject, model.INVERTER)
    ]


def _after() -> tuple[Step, ...]:
    rise = told(table.AMBIENT_RISE.si, "temperature_difference").replace(" K", " degC")
    return (
        Step(
            "after.warm",
            AFTER,
            "confirm",
            "Look for warm joints",
            "Off, and the isolation procedure run. Then look along every joint with a thermal "
            f"camera: none more than {rise} above its neighbours. Torque marks unbroken.",
            who="live",
            sources=FIRST,
            photo=True,
        ),
        Step(
            "after.sign",
            AFTER,
            "sign",
            "What was done, and what was not",
            "Sign what was tested with which reading, and what was left out. Both people sign.",
            who="live",
            people=2,
            sources=FIRST,
        ),
    )
