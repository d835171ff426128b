"""Cables, connectors and the service disconnect: current, heat, short circuit, voltage, make."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from swapwright.assess.context import Context, Rule, Subject
from swapwright.assess.rules.circuit_fuse import with_figure
from swapwright.assess.rules.compare import compare_each, devices, said_of
from swapwright.assess.rules.word import of_class_b
from swapwright.base.errors import Missing
from swapwright.base.finding import Finding, Verdict
from swapwright.build.circuit import model
from swapwright.standards.margins import NO_BAND, TEMPERATURE_BAND
from swapwright.standards.voltage_class import MAX_CLASS_A_DC

CABLES = devices(model.CABLE)
NO_CONNECTOR = "the circuit has no connector of its own"
NO_CABLE = "the circuit has no cable"
RATED = ("swapwright-least-ampacity", "conductor-square-law")
LOW_VOLTAGE = ("SAE J1127", "SAE J1128")
NOT_FOR_CARS = ("welding cable", "other")


def _standard(context: Context, each: Subject) -> Iterable[Finding]:
    """Judge what standard a cable is made to, on a circuit of class B."""
    made_to = context.car.texts.get(each.resolve(":standard"))
    if made_to is None:
        raise Missing(each.resolve(":standard"))
    is_class_b = context.number("pack.max_working_voltage") > MAX_CLASS_A_DC.si
    verdict: Verdict = "met"
    text = "Made to a standard for cables of this voltage in road vehicles."
    if is_class_b and made_to in LOW_VOLTAGE:
        verdict = "stop"
        text = "Battery cable for voltage class A, on a circuit of class B."
    elif is_class_b and made_to in NOT_FOR_CARS:
        verdict = "watch"
        text = "Not made to a standard for this voltage in road vehicles: its insulation, its screen and its ageing in oil and heat are not known."
    elif not is_class_b:
        text = "Voltage class A: battery cable will do."
    yield Finding(
        rule="circuit.cable_standard",
        subject=each.path,
        verdict=verdict,
        text=said_of(each, text),
        remedy="" if verdict == "met" else STANDARD_REMEDY,
        sources=("sae-j1127-2015-scope",),
    )


def _interlocked(context: Context, each: Subject) -> Iterable[Finding]:
    """Judge whether the interlock loop runs through a connector."""
    entry = each.resolve(":interlocked")
    if entry not in context.car.flags:
        raise Missing(entry)
    is_in_loop = context.car.flags[entry]
    text = (
        "The interlock loop runs through it: pulled, it opens the contactors."
        if is_in_loop
        else "The interlock loop does not run through it: pulled under load it draws an arc, and its pins stay live."
    )
    yield Finding(
        rule="circuit.connector_interlocked",
        subject=each.path,
        verdict="met" if is_in_loop else "fix",
        text=said_of(each, text),
        remedy="" if is_in_loop else LOOP_REMEDY,
        sources=LOOP,
    )


LOOP_REMEDY = "Take the loop through the connector's own pilot contacts, which part before its pins; or bolt it shut so that it opens with a tool only."
LOOP = ("interlock-loop-practice",)

STANDARD_REMEDY = "Lay cable made for high voltage in road vehicles, rated above the pack's highest voltage, orange."


def _given(entry: str) -> Callable[[Context], tuple[Subject, ...]]:
    """Return the cables of which the file gives an entry."""

    def some(context: Context) -> tuple[Subject, ...]:
        return tuple(each for each in CABLES(context) if context.car.has(each.resolve(entry)))

    return some


RULES = (
    compare_each(
        "circuit.cable_fuse",
        with_figure(CABLES, "circuit.{slug}.ampacity"),
        subject="hv.cable",
        value="circuit.{slug}.fuse_rating",
        limit="circuit.{slug}.ampacity",
        sense="at_most",
        outside="stop",
        inside_text="Carries at least what its fuse lets flow for good.",
        outside_text="Carries less than its fuse lets flow for good: the cable is the fuse.",
        remedy="Fit a smaller fuse, or lay a thicker cable, out of the conduit or out of the heat.",
        sources=("fuse-cable-practice", *RATED),
        skip_reason=NO_CABLE,
        rests_on=(":length", ":size"),
    ),
    compare_each(
        "circuit.cable_current",
        CABLES,
        subject="hv.cable",
        value="circuit.{slug}.current",
        limit="circuit.{slug}.ampacity",
        sense="at_most",
        outside="fix",
        inside_text="Carries what flows for good, where it lies.",
        outside_text="Does not carry what flows for good, where it lies.",
        remedy="Lay a thicker cable, or lay it in open air and out of the heat.",
        sources=RATED,
        skip_reason=NO_CABLE,
    ),
    compare_each(
        "circuit.cable_temperature",
        with_figure(CABLES, "circuit.{slug}.run_temperature"),
        subject="hv.cable",
        value="circuit.{slug}.run_temperature",
        limit="circuit.{slug}.max_temperature",
        sense="at_most",
        outside="fix",
        inside_text="Hard driving, the climb and full throttle leave its conductor below the hottest it may be.",
        outside_text="Hard driving, the climb or full throttle bring its conductor above the hottest it may be.",
        remedy="Lay a thicker cable, or limit how long peak current lasts.",
        sources=RATED,
        skip_reason="no cable carries a current that comes and goes",
        watch=TEMPERATURE_BAND,
    ),
    compare_each(
        "circuit.cable_lug",
        CABLES,
        subject="hv.cable",
        value="circuit.{slug}.lug_temperature",
        limit="circuit.{slug}.max_temperature",
        sense="at_most",
        outside="fix",
        inside_text="Its lugs stay within what they and their terminals may be, if well crimped.",
        outside_text="Its lugs run hotter than they and their terminals may be.",
        remedy="Lay a thicker cable or fit larger lugs; crimp with the right die and check them with a thermal camera under load.",
        sources=("lug-contact-typical",),
        skip_reason=NO_CABLE,
        watch=TEMPERATURE_BAND,
    ),
    compare_each(
        "circuit.cable_short",
        CABLES,
        subject="hv.cable",
        value="circuit.{slug}.fuse_i2t",
        limit="circuit.{slug}.withstand",
        sense="at_most",
        outside="stop",
        inside_text="Bears what its fuse lets through in a short circuit.",
        outside_text="A short circuit destroys it before its fuse has cleared.",
        remedy="Lay a thicker cable, or fit a faster fuse.",
        sources=("iec-60364-5-54-2011-k",),
        skip_reason=NO_CABLE,
    ),
    compare_each(
        "circuit.cable_voltage",
        CABLES,
        subject="hv.cable",
        value="pack.max_working_voltage",
        limit=":voltage",
        sense="at_most",
        outside="stop",
        inside_text="Insulated for the highest voltage of the pack.",
        outside_text="Insulated for less than the pack's highest voltage.",
        remedy="Lay cable rated for the pack's highest dc voltage.",
        sources=("part-data-sheet",),
        skip_reason=NO_CABLE,
        watch=NO_BAND,
    ),
    compare_each(
        "circuit.cable_bend",
        _given(":bend_radius"),
        subject="hv.cable",
        value=":bend_radius",
        limit="circuit.{slug}.bend_radius",
        sense="at_least",
        outside="fix",
        inside_text="Its tightest bend is wide enough.",
        outside_text="Its tightest bend is too tight: insulation thins and the screen cuts in.",
        remedy="Lay it in a wider bend, or take a more flexible cable and its maker's radius.",
        sources=("cable-bend-practice",),
        skip_reason="no cable's tightest bend is given",
    ),
    Rule(
        id="circuit.cable_standard",
        subject="hv.cable",
        worst="stop",
        sources=("sae-j1127-2015-scope",),
        skip_reason=NO_CABLE,
        remedy=STANDARD_REMEDY,
        over=CABLES,
        judge_one=_standard,
    ),
    compare_each(
        "circuit.disconnect_voltage",
        devices(model.DISCONNECT),
        subject="hv.disconnect",
        value="pack.max_working_voltage",
        limit=":voltage",
        sense="at_most",
        outside="stop",
        inside_text="Rated for the whole pack's voltage, which stands across it when it is open.",
        outside_text="Rated for less than the whole pack's voltage, which stands across it when it is open.",
        remedy="Fit a service disconnect rated for the whole pack, not for half of it.",
        sources=("part-data-sheet",),
        skip_reason="the circuit has no service disconnect",
        watch=NO_BAND,
    ),
    compare_each(
        "circuit.disconnect_current",
        devices(model.DISCONNECT),
        subject="hv.disconnect",
        value="circuit.{slug}.current",
        limit=":current",
        sense="at_most",
        outside="fix",
        inside_text="Carries what flows for good.",
        outside_text="Does not carry what flows for good.",
        remedy="Fit a service disconnect for more current.",
        sources=("part-data-sheet",),
        skip_reason="the circuit has no service disconnect",
    ),
    of_class_b(
        Rule(
            id="circuit.connector_interlocked",
            subject="hv.connector",
            worst="fix",
            sources=LOOP,
            skip_reason=NO_CONNECTOR,
            remedy=LOOP_REMEDY,
            over=devices(model.CONNECTOR),
            judge_one=_interlocked,
        )
    ),
    compare_each(
        "circuit.connector_voltage",
        devices(model.CONNECTOR),
        subject="hv.connector",
        value="pack.max_working_voltage",
        limit=":voltage",
        sense="at_most",
        outside="stop",
        inside_text="Rated for the highest voltage of the pack.",
        outside_text="Rated for less than the pack's highest voltage.",
        remedy="Fit connectors rated for the pack's highest dc voltage.",
        sources=("part-data-sheet",),
        skip_reason=NO_CONNECTOR,
        watch=NO_BAND,
    ),
    compare_each(
        "circuit.connector_current",
        devices(model.CONNECTOR),
        subject="hv.connector",
        value="circuit.{slug}.current",
        limit=":current",
        sense="at_most",
        outside="fix",
        inside_text="Carries what flows for good.",
        outside_text="Does not carry what flows for good.",
        remedy="Fit a connector for more current.",
        sources=("part-data-sheet",),
        skip_reason=NO_CONNECTOR,
    ),
)
