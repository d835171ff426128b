"""The voltmeter method's answer as a person reads it: the readings first, as they were read."""

from __future__ import annotations

from swapwright.base.finding import Verdict
from swapwright.cli.console import COLOURS, Console
from swapwright.jobs.account import CAUTIONS
from swapwright.jobs.isolation_test import (
    CONTRADICTION,
    HAZARDS,
    READINGS,
    TRAP,
    IsolationAnswer,
)
from swapwright.jobs.opening import Opened
from swapwright.jobs.telling import tell

DIGITS = 4


def write_isolation(
    console: Console, opened: Opened, answer: IsolationAnswer, profile: str
) -> None:
    """Write what was read, what it says, and the hazards of the method."""
    name = opened.car.texts.get("car.name", "") or "a car without a name"
    console.line(f"{name}: isolation by the voltmeter method", bold=True)
    console.heading("As read")
    console.columns(
        [
            (key, tell(volts, "voltage", profile, digits=DIGITS), READINGS[key])
            for key, volts in answer.readings.items()
        ]
    )
    if answer.contradictions:
        _contradiction(console, answer, profile)
    else:
        _result(console, answer, profile)
    for note in answer.notes:
        console.wrapped(note[:1].upper() + note[1:] + ".", indent=2)
    _method(console, answer, profile)
    console.line()
    for caution in CAUTIONS:
        console.wrapped(caution)


def _contradiction(console: Console, answer: IsolationAnswer, profile: str) -> None:
    console.heading("These readings contradict each other or the pack")
    word = console.verdict("stop")
    console.line(f"  {word} stop the job", style=COLOURS["stop"], bold=True)
    for each in answer.contradictions:
        console.wrapped(each, indent=len(word) + 3)
    implied = answer.implied_meter
    if implied is not None:
        found, least = (tell(each, "resistance", profile) for each in implied)
        console.wrapped(
            f"By these readings the meter would have {found} inside; the method asks for {least} "
            "or more.",
            indent=len(word) + 3,
        )
    console.wrapped(CONTRADICTION, indent=2)
    if answer.expected is not None:
        low, high = (tell(each, "voltage", profile) for each in answer.expected)
        console.line(f"  By its file this pack stands between {low} and {high}.")


def _result(console: Console, answer: IsolationAnswer, profile: str) -> None:
    test = answer.test
    console.heading("What they say")
    if test is None or test.isolation is None or answer.per_volt is None:
        console.line(f"  {console.verdict('unknown')} no isolation can be worked out of these")
        return
    verdict: Verdict = "met"
    if answer.per_volt < answer.required:
        verdict = "stop" if answer.per_volt < answer.floor else "fix"
    per_volt = tell(answer.per_volt, "resistance_per_voltage", profile)
    asked, floor = (
        tell(each, "resistance_per_voltage", profile) for each in (answer.required, answer.floor)
    )
    rows = [
        ("weaker pole", str(test.weak_pole)),
        ("its isolation", tell(test.isolation, "resistance", profile)),
        ("per volt", f"{per_volt}, at least {asked}; never below {floor}"),
    ]
    if test.other_leak is not None and test.other_leak < float("inf"):
        rows.append(("the other pole", tell(test.other_leak, "resistance", profile)))
    if test.combined is not None:
        rows.append(("both side by side", tell(test.combined, "resistance", profile)))
    if answer.place is not None:
        share = tell(answer.place, "fraction", profile, digits=2)
        where = f"; {answer.module}" if answer.module else ""
        rows.append(("one fault would sit", f"{share} of the way up from minus{where}"))
    console.columns(rows)
    words = {
        "met": "not below what is asked for",
        "fix": "below what a circuit joined to ac must keep",
        "stop": "below what any circuit must keep: nobody drives or charges it",
    }
    style = COLOURS[verdict]
    console.line(f"  {console.verdict(verdict)} {words[verdict]}", style=style, bold=True)
    console.wrapped("Two leaks at different points look like one between them.", indent=2)


def _method(console: Console, answer: IsolationAnswer, profile: str) -> None:
    console.heading("The method is a hazard of its own")
    if answer.resistor_power is not None and answer.resistor_voltage is not None:
        watts = tell(answer.resistor_power, "power", profile)
        volts = tell(answer.resistor_voltage, "voltage", profile)
        console.wrapped(
            f"The resistor has to bear {watts} and {volts}: the whole pack, if the other pole lies "
            "dead on the chassis.",
            indent=2,
        )
    if answer.wait is not None:
        wait = tell(answer.wait, "time", profile)
        console.wrapped(
            f"Wait at least {wait} before each reading: five time constants of leaks, meter and "
            "Y-capacitors.",
            indent=2,
        )
    for each in (TRAP, *HAZARDS):
        console.wrapped(each, indent=2)
