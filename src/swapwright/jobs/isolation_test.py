"""The voltmeter method on a live pack: a mechanic's readings, what they say, what to do about it.

Every reading that is a number with a unit is kept as read, whatever it says. What contradicts the
pack stops the job; only a text that is no reading is sent back.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import isfinite

from swapwright.assess.queries import number_of
from swapwright.base.errors import InputError, Problem, UnitError
from swapwright.base.quantity import parse
from swapwright.build.car import Car
from swapwright.jobs.check import BAD_INPUT, NOTHING_OPEN, OPEN, STOP
from swapwright.jobs.opening import Opened
from swapwright.physics.circuit.isolation import ohms_per_volt, resistance_of_all
from swapwright.physics.circuit.voltmeter_method import (
    BALANCED,
    METER_TOO_LOW,
    NEXT_TO_NOTHING,
    IsolationTest,
    is_next_to_nothing,
    isolation_from_readings,
    reading_wait,
)
from swapwright.standards.isolation import (
    AC_OHMS_PER_VOLT,
    DC_OHMS_PER_VOLT,
    MIN_METER_RESISTANCE,
    MIN_RESISTOR_OHMS_PER_VOLT,
    READINGS_AGREE,
    WAIT_MULTIPLES,
)

PLUS, MINUS, AFTER, PACK = "V+", "V-", "V'", "Vb"
READINGS = {
    PLUS: "plus pole to chassis",
    MINUS: "minus pole to chassis",
    AFTER: "the larger of the two again, with the resistor across that pole",
    PACK: "plus pole to minus pole",
}
_NAMES = {
    PLUS: ("v+", "+", "plus", "vplus", "positive"),
    MINUS: ("v-", "-", "minus", "vminus", "negative"),
    AFTER: ("v'", "v\u2019", "v\u2032", "'", "with", "after", "va", "v2"),
    PACK: ("vb", "pack", "battery", "v"),
}
_BY_NAME = {spelling: name for name, spellings in _NAMES.items() for spelling in spellings}
EXAMPLE = "'V+=193.6 V' 'V-=161.4 V' \"V'=40.0 V\""

HIGHER = "read higher than this pack can be: a second source, or the file is not the car"
LOWER = "read lower than this pack can be: a dead lead, a wrong point, or the file is not the car"
BELOW_ZERO = "a reading below zero: leads swapped, or a second source"
NO_SECOND = "without the reading with the resistor nothing can be said of the isolation"
ASK_METER = "give the meter's input resistance too, with --meter: it stands on it or in its papers"
WEAK_METER = (
    "the meter's input resistance is below the 10 Mohm the method asks for: it pulls both poles "
    "down; read again with one that has them"
)
NO_PACK = (
    "the pack's voltage was not read: the sum of the two poles stands for it, which a meter that "
    "draws current makes a little low"
)

LEAST_OF_SUM = 0.5
"""Share of the empty pack's voltage that the two poles together show at least."""

HAZARDS = (
    "This is work on a live pack: a second, briefed person within sight, gloves on, the resistor "
    "in a fixed, insulated holder, connected with the contactors open where the pole allows.",
    "If a monitor and Y-capacitors are there, wait before each reading until they have settled; "
    "the monitor moves the poles while it measures.",
    "A separate insulation tester is another job, and puts a voltage of its own on the circuit: "
    "pack disconnected, monitor off, both poles joined, electronics as their maker allows, a test "
    "voltage at or above the maximum working voltage and within every part's rating, a 'test on' "
    "sign up, and a timed discharge after.",
)
TRAP = (
    "One fault at mid-pack shows two equal readings: V+ and V- alone never prove anything. Only "
    "the reading with the resistor tells."
)
CONTRADICTION = (
    "Stop. Treat the car as live. Prove the meter again on a known dc source, find the source or "
    "the fault in the leads, and only then read again. The readings above are kept as read."
)


@dataclass(frozen=True)
class IsolationAnswer:
    """What readings say: as read V, the test, the demand ohm/V, the place, the exit status.

    ``contradictions`` stop the job; ``notes`` are to be known; ``module`` and ``box`` say roughly
    where along a string a single fault would sit. ``wait`` s is to be waited before a reading.
    """

    readings: Mapping[str, float]
    resistor: float | None
    meter: float | None
    test: IsolationTest | None
    battery: float | None
    required: float
    floor: float
    per_volt: float | None
    place: float | None
    module: str
    contradictions: tuple[str, ...]
    notes: tuple[str, ...]
    expected: tuple[float, float] | None
    resistor_power: float | None
    resistor_voltage: float | None
    wait: float | None
    status: int

    @property
    def implied_meter(self) -> tuple[float, float] | None:
        """Return what the readings make of the meter, and the least it may be, ohm, if they do."""
        found = None if self.test is None else self.test.meter_found
        if METER_TOO_LOW not in self.contradictions or found is None or not isfinite(found):
            return None
        return found, MIN_METER_RESISTANCE.si


def readings_of(texts: Iterable[str]) -> Mapping[str, float]:
    """Return readings V by name, as a mechanic typed them; raise InputError for what is none.

    ``V+=193.6 V``, ``plus = 193.6 V`` or, in the order V+, V-, V', ``193.6 V``.
    """
    found: dict[str, float] = {}
    problems: list[Problem] = []
    order = iter((PLUS, MINUS, AFTER, PACK))
    for text in texts:
        name, problem = _named(text, order)
        number: float | None = None
        if problem is None:
            number, problem = _volts(text)
        if problem is None and name in found:
            problem = _problem("this reading is given twice", text)
        if problem is not None:
            problems.append(problem)
        elif name is not None and number is not None:
            found[name] = number
    if problems:
        raise InputError(*problems)
    return found


def _named(text: str, order: Iterable[str]) -> tuple[str | None, Problem | None]:
    said, equals, _ = text.partition("=")
    if not equals:
        return next(iter(order), None), None
    name = _BY_NAME.get(re.sub(r"\s+", "", said).lower())
    if name is None:
        return None, _problem("there is no such reading", text)
    return name, None


def _volts(text: str) -> tuple[float | None, Problem | None]:
    try:
        return parse(text.rpartition("=")[2].strip(), "voltage").si, None
    except UnitError as error:
        return None, Problem("--readings", "", error.message, text, error.allowed, error.nearest)


def _problem(message: str, text: str) -> Problem:
    allowed = ", ".join(f"{name} ({words})" for name, words in READINGS.items())
    return Problem("--readings", "", message, text, f"{allowed}, as {EXAMPLE}")


def ohms_of(option: str, text: str | None) -> float | None:
    """Return a resistance a person typed, None where none; raise InputError where it is none."""
    if text is None:
        return None
    try:
        return parse(text, "resistance").si
    except UnitError as error:
        problem = Problem(option, "", error.message, text, error.allowed, error.nearest)
        raise InputError(problem) from None


def isolation_test(
    opened: Opened, texts: Iterable[str], resistor: str | None, meter: str | None
) -> IsolationAnswer:
    """Return what readings say of a car's isolation; raise InputError for what is no reading."""
    readings = readings_of(texts)
    if PLUS not in readings or MINUS not in readings:
        lacking = " and ".join(name for name in (PLUS, MINUS) if name not in readings)
        raise InputError(
            Problem("--readings", "", f"{lacking} is not read", allowed=f"as {EXAMPLE}")
        )
    known, inside = ohms_of("--resistor", resistor), ohms_of("--meter", meter)
    if AFTER in readings and known is None:
        message = "the known resistor is not given"
        raise InputError(Problem("--resistor", "", message, allowed="as --resistor '200 kohm'"))
    return _answer(opened.car, readings, known, inside)


def _answer(
    car: Car, readings: Mapping[str, float], resistor: float | None, meter: float | None
) -> IsolationAnswer:
    highest = number_of(car, "pack.max_working_voltage")
    battery, contradictions = _battery(car, readings, highest)
    test = None
    if AFTER in readings and resistor is not None and battery > 0.0:
        test = _tested(readings, resistor, battery, meter=meter)
        found = [note for note in test.notes if note != BALANCED] if test.is_contradictory else []
        contradictions += found or _short_of_pack(car, readings, resistor, meter)
    per_volt = None
    if test is not None and test.isolation is not None and not contradictions:
        per_volt = ohms_per_volt(resistance=test.isolation, voltage=highest or battery)
    is_protected = car.flags.get("hv.ac_protection", False)
    required = DC_OHMS_PER_VOLT.si if is_protected else AC_OHMS_PER_VOLT.si
    place = None if test is None or contradictions else test.place
    stands = highest or battery
    return IsolationAnswer(
        readings,
        resistor,
        meter,
        test,
        battery if battery > 0.0 else None,
        required,
        DC_OHMS_PER_VOLT.si,
        per_volt,
        place,
        "" if place is None else _module(car, place),
        tuple(dict.fromkeys(contradictions)),
        _notes(readings, test, meter, contradictions),
        _window(car, highest),
        None if not resistor else stands**2 / resistor,
        stands if resistor else None,
        _wait(car, test, meter),
        _status(test, per_volt, required, contradictions),
    )


def _tested(
    readings: Mapping[str, float],
    resistor: float,
    battery: float,
    *,
    meter: float | None,
    min_meter: float = MIN_METER_RESISTANCE.si,
) -> IsolationTest:
    return isolation_from_readings(
        v_pos=readings[PLUS],
        v_neg=readings[MINUS],
        v_after=readings[AFTER],
        resistor=resistor,
        battery=battery,
        min_ohms_per_volt=MIN_RESISTOR_OHMS_PER_VOLT.si,
        tolerance=READINGS_AGREE.si,
        min_meter=min_meter,
        meter=meter,
    )


def _short_of_pack(
    car: Car, readings: Mapping[str, float], resistor: float, meter: float | None
) -> list[str]:
    """Return what is wrong where the poles are short of even the empty pack, which was not read."""
    lowest = number_of(car, "pack.voltage_empty")
    if lowest is None or PACK in readings or readings[PLUS] + readings[MINUS] >= lowest:
        return []
    # The pack may stand higher than empty, so the meter may draw less than this, never more.
    least = meter or MIN_METER_RESISTANCE.si
    found = _tested(readings, resistor, lowest, meter=None, min_meter=least)
    return [METER_TOO_LOW] if METER_TOO_LOW in found.notes else []


def _battery(
    car: Car, readings: Mapping[str, float], highest: float | None
) -> tuple[float, list[str]]:
    """Return the pack's voltage, read or as the sum of the poles, and what contradicts the car."""
    whole = readings[PLUS] + readings[MINUS]
    battery = readings.get(PACK, whole)
    wrong = [BELOW_ZERO] if min(readings.values()) < 0.0 else []
    lowest = number_of(car, "pack.voltage_empty")
    spread = READINGS_AGREE.si
    if highest is not None and max(battery, whole) > (1.0 + spread) * highest:
        wrong.append(HIGHER)
    # A meter that draws current pulls the sum of the poles down, not the pack's own voltage.
    share = 1.0 - spread if PACK in readings else LEAST_OF_SUM
    if lowest is not None and battery < share * lowest:
        wrong.append(LOWER)
    return battery, wrong


def _window(car: Car, highest: float | None) -> tuple[float, float] | None:
    lowest = number_of(car, "pack.voltage_empty")
    return None if lowest is None or highest is None else (lowest, highest)


def _notes(
    readings: Mapping[str, float],
    test: IsolationTest | None,
    meter: float | None,
    contradictions: list[str],
) -> tuple[str, ...]:
    notes = [] if test is not None else [NO_SECOND]
    if PACK not in readings:
        notes.append(NO_PACK)
    poles = readings[PLUS], readings[MINUS]
    if is_next_to_nothing(v_pos=poles[0], v_neg=poles[1], tolerance=READINGS_AGREE.si):
        notes.append(NEXT_TO_NOTHING)
    if test is not None and test.is_refused:
        notes += test.notes
    elif test is not None and BALANCED in test.notes:
        notes.append(BALANCED)
    if meter is None and METER_TOO_LOW in contradictions:
        notes.append(ASK_METER)
    if meter is not None and meter < MIN_METER_RESISTANCE.si:
        notes.append(WEAK_METER)
    return tuple(notes)


def _module(car: Car, place: float) -> str:
    """Return which module, and which box, a share of the pack's voltage from minus falls in."""
    in_string = car.get("pack.modules_per_string")
    if in_string is None:
        return ""
    count = round(in_string.si)
    number = min(int(place * count) + 1, count)
    words = f"near module {number} of {count} from the minus end"
    reached = 0.0
    for row in range(car.counts.get("pack.boxes", 0)):
        held = car.get(f"pack.boxes[{row}].modules")
        reached += 0.0 if held is None else held.si
        if number <= reached:
            name = car.texts.get(f"pack.boxes[{row}].name", f"box {row + 1}")
            return f"{words}, in the {name} box"
    return words


def _wait(car: Car, test: IsolationTest | None, meter: float | None) -> float | None:
    """Return how long the Y-capacitors take to settle before each reading."""
    capacitance = car.get("hv.y_capacitance")
    if capacitance is None:
        return None
    leaks = [meter or MIN_METER_RESISTANCE.si]
    if test is not None and test.combined:
        leaks.append(test.combined)
    both = 1.0 + 1.0
    return reading_wait(
        multiples=WAIT_MULTIPLES.si,
        leak=resistance_of_all(tuple(leaks)),
        capacitance=both * capacitance.si,
    )


def _status(
    test: IsolationTest | None, per_volt: float | None, required: float, wrong: list[str]
) -> int:
    if wrong:
        return STOP
    if test is not None and test.is_refused:
        return BAD_INPUT
    if per_volt is None:
        return OPEN
    if per_volt < DC_OHMS_PER_VOLT.si:
        return STOP
    return OPEN if per_volt < required else NOTHING_OPEN
