"""Contactors: voltage, load both ways, what they close on, what they bear until a fuse opens."""

from __future__ import annotations

from collections.abc import Iterable

from swapwright.assess.context import Context, Rule, Subject, judged
from swapwright.assess.rules.compare import compare_each, devices, said_of
from swapwright.base.errors import Missing
from swapwright.base.finding import Finding
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit
from swapwright.physics.circuit.graph import joined
from swapwright.standards.circuit import AS_MUCH
from swapwright.standards.margins import NO_BAND

CONTACTORS = devices(model.CONTACTOR)
RELAYS = devices(model.PRECHARGE_RELAY)
NO_CONTACTOR = "the circuit has no contactor"
PRACTICE = ("contactor-practice",)
OPENING = (model.CONTACTOR, model.PRECHARGE_RELAY)


def _breaking(context: Context) -> tuple[Subject, ...]:
    """Return the contactors and the precharge relay, which breaks the whole pack into a short."""
    return (*CONTACTORS(context), *RELAYS(context))


def _reverse(context: Context, each: Subject) -> Iterable[Finding]:
    """Judge the current a contactor opens the other way; one that is not polarised breaks both."""
    current = context.value(f"circuit.{each.slug}.reverse")
    entry = each.resolve(":break_reverse")
    if not context.has(entry) and context.car.flags.get(each.resolve(":polarised")) is False:
        entry = each.resolve(":break_forward")
    limit = context.value(entry)
    text = (
        "Breaks the current of charging and regeneration, which flows the other way."
        if current.si <= limit.si
        else "Does not break the current of charging or regeneration, which flows the other way."
    )
    yield judged(
        "circuit.contactor_reverse",
        each.path,
        current,
        limit,
        sense="at_most",
        outside="fix",
        text=said_of(each, text),
        remedy=REVERSE_REMEDY,
        sources=PRACTICE,
        figures=(f"circuit.{each.slug}.reverse", entry),
    )


REVERSE_REMEDY = "Fit a contactor that is not polarised, or two of them back to back; never open one under charge that cannot break it."


def _is_cut_off(circuit: Circuit) -> bool:
    """Tell whether no inverter stays joined to both ends of a pack with every contactor open."""
    island = joined(
        (element.plus, element.minus)
        for element in circuit.elements
        if element.kind == model.PACK
        or (element.kind in model.SERIES and element.kind not in OPENING)
    )
    return all(
        island.get(each.plus, each.plus) != island.get(each.minus, each.minus)
        for each in circuit.of_kind(model.INVERTER)
    )


def _present(context: Context) -> Iterable[Finding]:
    """Judge whether the pack can be cut off at all: what drives the car, past every contactor."""
    circuit = context.book.circuit
    if not circuit.of_kind(model.CONTACTOR) or not _is_cut_off(circuit):
        raise Missing("hv.contactors")
    yield Finding(
        rule="circuit.contactors",
        subject="hv.contactors",
        verdict="met",
        text="The car can cut its pack off by contactors, which are no isolating gap.",
        sources=PRACTICE,
    )


RULES = (
    Rule(
        id="circuit.contactors",
        subject="hv.contactors",
        worst="stop",
        judge=_present,
        sources=PRACTICE,
        remedy="Give the main contactors in the build file.",
    ),
    compare_each(
        "circuit.contactor_voltage",
        _breaking,
        subject="hv.contactors",
        value="pack.max_working_voltage",
        limit=":voltage",
        sense="at_most",
        outside="stop",
        inside_text="Breaks at the highest dc voltage of the pack.",
        outside_text="Rated for less dc voltage than the pack can have: opened under load, the arc does not break.",
        remedy="Fit contactors whose dc breaking voltage is above the pack's highest, charging and regenerating.",
        sources=PRACTICE,
        skip_reason=NO_CONTACTOR,
        watch=NO_BAND,
    ),
    compare_each(
        "circuit.contactor_carry",
        CONTACTORS,
        subject="hv.contactors",
        value="circuit.{slug}.current",
        limit=":carry",
        sense="at_most",
        outside="fix",
        inside_text="Carries what flows for good.",
        outside_text="Does not carry what flows for good.",
        remedy="Fit a contactor for more current, on the conductor size its sheet asks for.",
        sources=PRACTICE,
        skip_reason=NO_CONTACTOR,
    ),
    compare_each(
        "circuit.contactor_peak",
        CONTACTORS,
        subject="hv.contactors",
        value="circuit.{slug}.peak",
        limit="circuit.{slug}.carry_10s",
        sense="at_most",
        outside="stop",
        inside_text="Carries the peak current for ten seconds.",
        outside_text="Peak current is above what it carries for ten seconds: contacts overheat and weld.",
        remedy="Fit a contactor for more current, or limit the current to what it carries.",
        sources=PRACTICE,
        skip_reason=NO_CONTACTOR,
        rests_on=(":carry",),
    ),
    compare_each(
        "circuit.contactor_break",
        CONTACTORS,
        subject="hv.contactors",
        value="circuit.{slug}.peak",
        limit=":break_forward",
        sense="at_most",
        outside="fix",
        inside_text="Breaks peak current, should the coil's supply fail under full load.",
        outside_text="Does not break peak current: should the coil's supply fail under full load, the arc stays.",
        remedy="Fit a contactor that breaks more, or limit the current.",
        sources=PRACTICE,
        skip_reason=NO_CONTACTOR,
    ),
    Rule(
        id="circuit.contactor_reverse",
        subject="hv.contactors",
        worst="fix",
        sources=PRACTICE,
        skip_reason=NO_CONTACTOR,
        remedy=REVERSE_REMEDY,
        over=CONTACTORS,
        judge_one=_reverse,
    ),
    compare_each(
        "circuit.contactor_weld",
        CONTACTORS,
        subject="hv.contactors",
        value="circuit.{slug}.fault_i2t",
        limit=":weld_i2t",
        sense="at_most",
        outside="fix",
        inside_text="Stays unwelded by a short circuit, strong or weak, until its fuse has cleared, and by the link's own surge.",
        outside_text="A short circuit, strong or weak, welds it closed before its fuse has cleared, or the link's own surge does.",
        remedy="Fit a faster fuse, or a contactor that bears more.",
        sources=PRACTICE,
        skip_reason=NO_CONTACTOR,
    ),
    compare_each(
        "circuit.precharge_relay",
        RELAYS,
        subject="hv.precharge.relay",
        value="precharge.peak_current",
        limit=":making",
        sense="at_most",
        outside="fix",
        inside_text="May close on the first instant of precharge.",
        outside_text="Closes on more than it may, at the first instant of precharge: it welds, and the link is live with the key off.",
        remedy="Fit a relay that closes on more, or a larger precharge resistor.",
        sources=PRACTICE,
        skip_reason="no precharge relay is described",
    ),
    compare_each(
        "circuit.contactor_until_fuse",
        CONTACTORS,
        subject="hv.contactors",
        value="circuit.{slug}.until_fuse",
        limit=AS_MUCH,
        sense="at_most",
        outside="watch",
        inside_text="Bears any overload for as long as its fuse lets it flow.",
        outside_text="Some overloads flow longer before its fuse opens than it bears them: it may weld first.",
        remedy="Have the pack monitor open on overcurrent before that, within what the contactor breaks; or fit a faster fuse.",
        sources=PRACTICE,
        skip_reason=NO_CONTACTOR,
    ),
)
