"""Precharge: is there one, does it get there, does the resistor bear it, what is closed on."""

from __future__ import annotations

from collections.abc import Iterable

from swapwright.assess.context import Context, Rule, Subject
from swapwright.assess.rules.compare import asks_for, compare, compare_each, devices
from swapwright.base.errors import Missing
from swapwright.base.finding import Finding
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.standards.contactors import RESISTOR_MAX_TEMPERATURE
from swapwright.standards.margins import NO_BAND

PRACTICE = ("precharge-practice",)
NONE = "the circuit has no precharge"
REMEDY = "Fit a precharge relay and resistor around the main contactor in the plus pole, and measure the link before closing."
FEEDBACK_REMEDY = "Measure the link's voltage and close the main contactor on that, not on a timer; give up and lock out when it does not come."


def has_precharge(car: Car) -> bool:
    """Tell whether the car's file gives a precharge, in either form."""
    kinds = {car.texts.get(f"hv.element[{n}].kind") for n in range(car.counts.get("hv.element", 0))}
    return car.has("hv.precharge.resistor") or model.PRECHARGE_RESISTOR in kinds


def _present(context: Context) -> Iterable[Finding]:
    """Judge whether a link that has a capacitor is filled through a resistor."""
    context.value("link.capacitance")
    if not has_precharge(context.car):
        raise Missing("hv.precharge.resistor")
    yield Finding(
        rule="circuit.precharge",
        subject="hv.precharge",
        verdict="met",
        text="The link is filled through a resistor before the main contactor closes.",
        sources=PRACTICE,
    )


def _feedback(context: Context) -> Iterable[Finding]:
    """Judge whether the link's voltage is measured before the main contactor closes."""
    if "hv.precharge.feedback" not in context.car.flags:
        raise Missing("hv.precharge.feedback")
    is_measured = context.car.flags["hv.precharge.feedback"]
    yield Finding(
        rule="circuit.precharge_feedback",
        subject="hv.precharge.feedback",
        verdict="met" if is_measured else "fix",
        text=(
            "The link's voltage is measured before the main contactor closes."
            if is_measured
            else "The main contactor closes without anyone having measured the link: an open resistor, a short or a load left on goes unnoticed until it welds."
        ),
        remedy="" if is_measured else FEEDBACK_REMEDY,
        sources=PRACTICE,
    )


def _resting(context: Context) -> tuple[Subject, ...]:
    """Return the precharge resistors, where the file says how long they rest between tries."""
    return RESISTORS(context) if context.has("hv.precharge.pause") else ()


def _closing(context: Context) -> tuple[Subject, ...]:
    """Return the contactors that close on what precharge has left: those beside its resistor."""
    circuit = context.book.circuit
    filled = {each.minus for each in circuit.of_kind(model.PRECHARGE_RESISTOR)}
    return tuple(
        Subject(device.name, device.slug, device.path, device.entry)
        for device in circuit.devices_of(model.CONTACTOR)
        if any(element.minus in filled for element in device.elements)
    )


RESISTORS = devices(model.PRECHARGE_RESISTOR)

RULES = (
    Rule(
        id="circuit.precharge",
        subject="hv.precharge",
        worst="stop",
        judge=_present,
        sources=PRACTICE,
        remedy=REMEDY,
    ),
    Rule(
        id="circuit.precharge_feedback",
        subject="hv.precharge.feedback",
        worst="fix",
        judge=_feedback,
        sources=PRACTICE,
        applies=has_precharge,
        skip_reason=NONE,
        remedy=FEEDBACK_REMEDY,
    ),
    compare(
        "circuit.precharge_left",
        subject="hv.precharge.timer",
        value="precharge.voltage_left",
        limit="precharge.voltage_allowed",
        sense="at_most",
        outside="stop",
        inside_text="When the timer closes the main contactor, the link has come near enough to the pack.",
        outside_text="The timer closes the main contactor with the link far below the pack: the surge that follows welds it.",
        remedy="Give it at least four to five time constants, and measure the link's voltage instead of trusting a timer.",
        sources=PRACTICE,
        applies=asks_for("hv.precharge.timer"),
        skip_reason="no timer closes the main contactor",
        watch=NO_BAND,
    ),
    compare(
        "circuit.precharge_pulse",
        subject="hv.precharge.pulse",
        value="precharge.energy",
        limit="precharge.pulse",
        sense="at_most",
        outside="stop",
        inside_text="The resistor bears the energy of one precharge.",
        outside_text="One precharge is more energy than the resistor bears: it opens, and the next start closes on an empty link.",
        remedy="Fit a wirewound or ceramic-composition resistor with a published pulse rating above that energy; its watts alone say nothing.",
        sources=PRACTICE,
        applies=has_precharge,
        skip_reason=NONE,
    ),
    compare(
        "circuit.precharge_time",
        subject="hv.precharge.timeout",
        value="precharge.time",
        limit="hv.precharge.timeout",
        sense="at_most",
        outside="fix",
        inside_text="The link is full before precharge is given up.",
        outside_text="Precharge is given up before the link is full: the car never starts.",
        remedy="Fit a smaller resistor with the pulse rating for it, or wait longer.",
        sources=PRACTICE,
        applies=asks_for("hv.precharge.timeout"),
        skip_reason="no time-out of precharge is given",
    ),
    compare_each(
        "circuit.precharge_repeated",
        _resting,
        subject="hv.precharge.rating",
        value="precharge.mean_power",
        limit=":power",
        sense="at_most",
        outside="fix",
        inside_text="Bears tries repeated without end.",
        outside_text="Tries repeated without end are more than its continuous rating.",
        remedy="Lock out after a few tries, rest longer between them, or fit a larger resistor.",
        sources=PRACTICE,
        skip_reason="no pause between tries is given",
    ),
    compare(
        "circuit.precharge_temperature",
        subject="hv.precharge.tries",
        value="precharge.temperature",
        limit=RESISTOR_MAX_TEMPERATURE,
        sense="at_most",
        outside="fix",
        inside_text="After the last try its wire is no hotter than it may be.",
        outside_text="After the last try its wire is hotter than it may be.",
        remedy="Fewer tries, longer pauses, or a resistor with more pulse energy.",
        sources=("resistor-pulse-typical",),
        applies=asks_for("hv.precharge.pause"),
        skip_reason="no pause between tries is given",
        watch=NO_BAND,
    ),
    compare(
        "circuit.precharge_short",
        subject="hv.precharge.timeout",
        value="precharge.short_time",
        limit="hv.precharge.timeout",
        sense="at_least",
        outside="watch",
        inside_text="Into a shorted link the resistor lasts until precharge is given up.",
        outside_text="Into a shorted link the resistor is overloaded before precharge is given up.",
        remedy="Have precharge given up at once when the link's voltage does not rise in its first time constant.",
        sources=PRACTICE,
        applies=asks_for("hv.precharge.timeout"),
        skip_reason="no time-out of precharge is given",
        watch=NO_BAND,
    ),
    compare_each(
        "circuit.making_current",
        _closing,
        subject="hv.contactors",
        value="precharge.making_bound",
        limit=":making",
        sense="at_most",
        outside="stop",
        inside_text="What is left of the voltage drives no more through them as they close than they may close on.",
        outside_text="What is left of the voltage drives more through them as they close than they may close on: they weld.",
        remedy="Precharge nearer to the pack's voltage before closing; a share looks good, but only milliohms are left to hold the current.",
        sources=PRACTICE,
        skip_reason=NONE,
    ),
)
