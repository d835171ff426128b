"""What must act with every bus dead: lines of their own, the drive inhibit, the pedal's tracks."""

from __future__ import annotations

from collections.abc import Iterator

from swapwright.assess.context import Context, Rule
from swapwright.assess.rules.compare import compare
from swapwright.assess.rules.word import flag, said_rule
from swapwright.base.errors import Missing
from swapwright.base.finding import Finding
from swapwright.build.car import Car
from swapwright.build.network import LINE, Line, network_of
from swapwright.standards import network as table
from swapwright.standards.margins import NO_BAND

PRACTICE = ("hard-lines-practice",)
CARRY = "Run it on a wire of its own, list it as [[network.line]] with from, to and fail_state, and pull its plug in commissioning to see it act."
LET_GO = "Have the line hold its contactor or its enable closed, so that a pulled plug or a broken wire lets go."
STOP_CHARGING = "Run a wire from the pack controller to the charger's enable input, or to a contactor in its supply, and list it as a line of kind 'charge enable'."
PEDAL = ("pedal-two-track-practice",)
PLAUSIBLE = ("pedal-plausibility-formula-sae-2023",)


def _protecting(car: Car) -> tuple[str, ...]:
    """Return the kinds of line a car must have: those it does not say it is without."""
    kinds = tuple(kind for kind, said in table.PROTECTIONS if car.flags.get(said, True))
    return (*kinds, table.WAKE_UP) if network_of(car).buses else kinds


def _lines(context: Context) -> tuple[Line, ...]:
    lines = context.book.network.lines
    if not lines:
        raise Missing(LINE)
    return lines


def _all_there(context: Context) -> Iterator[Finding]:
    lines, car = _lines(context), context.car
    for line in lines:
        for end in ("from", "to"):
            car.text(f"{line.path}.{end}")
    there = {line.kind for line in lines}
    lacking = [kind for kind in _protecting(car) if kind not in there]
    text = "Interlock, crash cut, emergency stop and drive inhibit, as far as the car has them, and the wake-up have lines of their own."
    if lacking:
        text = f"What must act with every bus dead has no line of its own on the list. ({', '.join(lacking)})"
    yield Finding(
        rule="network.lines",
        subject=LINE,
        verdict="fix" if lacking else "met",
        text=text,
        remedy=CARRY if lacking else "",
        sources=PRACTICE,
    )


def _lets_go(context: Context) -> Iterator[Finding]:
    car = context.car
    kinds = {kind for kind, _ in table.PROTECTIONS} | {table.CHARGE_LINE}
    protecting = [line for line in _lines(context) if line.kind in kinds]
    weak = [
        line.name for line in protecting if car.text(f"{line.path}.fail_state") != table.OPEN_CUTS
    ]
    text = "Every line that cuts something lets go when its wire breaks."
    if weak:
        text = f"A line that cuts something does not when its wire is broken, and nobody notices until it is needed. ({', '.join(weak)})"
    yield Finding(
        rule="network.line_break",
        subject=LINE,
        verdict="fix" if weak else "met",
        text=text,
        remedy=LET_GO if weak else "",
        sources=PRACTICE,
    )


def _has_charger_off_the_bus(car: Car) -> bool:
    return car.has("charging.charger") and table.CHARGER not in network_of(car).roles()


def _stops_charging(context: Context) -> Iterator[Finding]:
    has = any(line.kind == table.CHARGE_LINE for line in _lines(context))
    text = "A line stops the charger, which is on no bus, when the pack controller says so."
    if not has:
        text = "Nothing stops the charger when one cell is full: it is on no bus, and knows the whole string's voltage only. (no line of kind 'charge enable')"
    yield Finding(
        rule="network.charge_stop",
        subject=LINE,
        verdict="met" if has else "stop",
        text=text,
        remedy="" if has else STOP_CHARGING,
        sources=("can-signals-practice",),
    )


RULES = (
    Rule(
        id="network.lines",
        subject=LINE,
        worst="fix",
        judge=_all_there,
        sources=PRACTICE,
        remedy=CARRY,
    ),
    Rule(
        id="network.line_break",
        subject=LINE,
        worst="fix",
        judge=_lets_go,
        sources=PRACTICE,
        remedy=LET_GO,
    ),
    Rule(
        id="network.charge_stop",
        subject=LINE,
        worst="stop",
        judge=_stops_charging,
        sources=("can-signals-practice",),
        applies=_has_charger_off_the_bus,
        skip_reason="the charger is on a bus, or there is none",
        remedy=STOP_CHARGING,
    ),
    said_rule(
        "network.drive_lockout",
        "charging.drive_lockout",
        flag("charging.drive_lockout"),
        outside="fix",
        inside_text="The car cannot drive while plugged in.",
        outside_text="The car can drive off plugged in, and take the cable, the socket and whoever holds it along.",
        remedy="Let the inlet's proximity or pilot contact take the drive enable away, by a wire and not by a message alone.",
        sources=("drive-inhibit-practice",),
    ),
    said_rule(
        "network.emergency_stop",
        "network.emergency_stop",
        flag("network.emergency_stop"),
        outside="fix",
        inside_text="An emergency stop in the belted driver's reach opens the contactors.",
        outside_text="The driver has nothing in reach that opens the contactors when the controllers do not.",
        remedy="Fit a latching stop within the belted driver's reach into the supply of both contactor coils; it cuts torque first where its maker's sheet allows.",
        sources=("emergency-stop-practice",),
    ),
    compare(
        "network.pedal_tracks",
        subject="network.pedal.tracks",
        value="network.pedal.tracks",
        limit=table.MIN_PEDAL_TRACKS,
        sense="at_least",
        outside="fix",
        inside_text="The pedal has two tracks that can be held against each other.",
        outside_text="The pedal has one track: a broken ground wire reads as a floored pedal, and nothing contradicts it.",
        remedy="Fit a pedal with two tracks and lead both to the controller.",
        sources=PEDAL,
        watch=NO_BAND,
    ),
    said_rule(
        "network.pedal_separate",
        "network.pedal.separate",
        flag("network.pedal.separate"),
        outside="fix",
        inside_text="The pedal's tracks have their own supplies and grounds and are unlike: one short cannot move both alike.",
        outside_text="The pedal's tracks share a supply or a ground, or are alike: one short moves both, and they still agree.",
        remedy="Give each track its own supply and ground pin, and use a pedal whose tracks differ in slope.",
        sources=PEDAL,
    ),
    compare(
        "network.pedal_difference",
        subject="network.pedal.difference",
        value="network.pedal.difference",
        limit=table.MAX_PEDAL_DIFFERENCE,
        sense="at_most",
        outside="fix",
        inside_text="The two tracks are believed only while they nearly agree.",
        outside_text="The two tracks are believed though they differ widely: one of them can ask for torque alone.",
        remedy="Set the plausibility limit of the controller lower.",
        sources=PLAUSIBLE,
        watch=NO_BAND,
    ),
    compare(
        "network.pedal_reaction",
        subject="network.pedal.reaction_time",
        value="network.pedal.reaction_time",
        limit=table.MAX_PEDAL_TIME,
        sense="at_most",
        outside="fix",
        inside_text="Torque is gone soon after the tracks disagree; prove it in commissioning by unplugging one of them, wheels off the ground.",
        outside_text="Torque stays on too long after the tracks disagree.",
        remedy="Set the controller's time for a pedal fault shorter.",
        sources=PLAUSIBLE,
        watch=NO_BAND,
    ),
)
