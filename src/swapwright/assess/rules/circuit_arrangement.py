"""How the circuit is laid out: a fuse for every fault, a gap to lock, contactors at the inlet."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from swapwright.assess.circuit.arrangement import (
    bare_strings,
    unfused_cables,
    unfused_converters,
    unfused_in_strings,
    unlockable,
    unparted_inlets,
)
from swapwright.assess.context import Context, Rule
from swapwright.assess.rules.alternating import INLET, is_fast
from swapwright.base.errors import Missing
from swapwright.base.finding import Finding, Verdict
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.model import Circuit, Device, Element

PRACTICE = ("circuit-layout-practice",)

Named = tuple[Element, ...] | tuple[Device, ...]


def _layout(
    rule_id: str,
    *,
    subject: str,
    outside: Verdict,
    lacking: Callable[[Circuit], Named],
    needs: str,
    kinds: tuple[str, ...],
    inside_text: str,
    outside_text: str,
    remedy: str,
    applies: Callable[[Car], bool],
    skip_reason: str,
    must_name: str = "",
) -> Rule:
    """Return a rule on what stands, or does not stand, where in a circuit.

    ``lacking`` names what is amiss. Where the circuit has nothing of ``kinds`` and the file is in
    the short form, it may only have been left out: *unknown*, with ``needs``. ``must_name`` is the
    entry that tells whether an inlet belongs in a circuit that has none.
    """

    def judge(context: Context) -> Iterable[Finding]:
        circuit = context.book.circuit
        if must_name and not circuit.of_kind(model.INLET):
            context.car.text(must_name)
        found = lacking(circuit)
        is_drawn = bool(context.car.counts.get("hv.element", 0))
        if found and not is_drawn and not circuit.of_kind(*kinds):
            raise Missing(needs)
        names = ", ".join(each.name for each in found)
        yield Finding(
            rule=rule_id,
            subject=found[0].path if found else subject,
            verdict=outside if found else "met",
            text=f"{outside_text} ({names})" if found else inside_text,
            remedy=remedy if found else "",
            sources=PRACTICE,
        )

    return Rule(
        id=rule_id,
        subject=subject,
        worst=outside,
        judge=judge,
        sources=PRACTICE,
        applies=applies,
        skip_reason=skip_reason,
        remedy=remedy,
    )


def _has_circuit(car: Car) -> bool:
    return True


def _may_have_cables(car: Car) -> bool:
    return bool(car.counts.get("hv.cable", 0) or car.counts.get("hv.element", 0))


def _has_inlet(car: Car) -> bool:
    """Tell whether the car takes direct current from outside, or may at a station described."""
    return bool(circuit_of(car).of_kind(model.INLET)) or is_fast(car)


def _has_strings(car: Car) -> bool:
    value = car.get("pack.strings")
    return value is not None and value.si > 1


RULES = (
    _layout(
        "circuit.main_fuse",
        subject="hv.main_fuse",
        outside="stop",
        lacking=unfused_converters,
        needs="hv.main_fuse",
        kinds=(model.FUSE,),
        inside_text="A fuse stands between the pack and everything it feeds.",
        outside_text="No fuse ends a short here: nothing clears this fault.",
        remedy="Fit a fuse at the pack, before anything it feeds; in each string where there are several.",
        applies=_has_circuit,
        skip_reason="",
    ),
    _layout(
        "circuit.cable_unfused",
        subject="hv.cable",
        outside="stop",
        lacking=unfused_cables,
        needs="hv.main_fuse",
        kinds=(model.FUSE,),
        inside_text="Every cable has a fuse before it.",
        outside_text="This cable lies before the fuse: nothing clears a short along it.",
        remedy="Put the fuse first, at the pack's terminal; keep what lies before it short, doubly insulated and inside the box.",
        applies=_may_have_cables,
        skip_reason="the circuit has no cable",
    ),
    _layout(
        "circuit.cable_in_string",
        subject="hv.cable",
        outside="fix",
        lacking=unfused_in_strings,
        needs="hv.main_fuse",
        kinds=(model.FUSE,),
        inside_text="A cable between two boxes has a fuse in the middle of its string.",
        outside_text="This cable joins two boxes with no fuse in the middle of the string: a fuse at the pack's end does not end a fault within either half.",
        remedy="Fit a fuse in the middle of the string as well, beside the service disconnect, rated for the whole pack.",
        applies=_may_have_cables,
        skip_reason="the circuit has no cable",
    ),
    _layout(
        "circuit.gap",
        subject="hv.disconnect",
        outside="fix",
        lacking=unlockable,
        needs="hv.disconnect.between",
        kinds=(model.DISCONNECT,),
        inside_text="Opened, the service disconnects leave no way from any string to what it feeds.",
        outside_text="No gap that a person can open and lock parts the pack from this; contactors are none.",
        remedy="Fit a service disconnect in every string, best in its middle, that can be locked open.",
        applies=_has_circuit,
        skip_reason="",
    ),
    _layout(
        "circuit.inlet_contactors",
        subject="charging.contactors",
        outside="stop",
        lacking=unparted_inlets,
        needs="charging.contactors",
        kinds=(model.CONTACTOR,),
        inside_text="Contactors of its own part the fast-charge inlet from the circuit, in both poles.",
        outside_text="The inlet's pins are live whenever the car is on: no contactors of its own part it from the circuit in both poles.",
        remedy="Fit charge contactors in both poles at the inlet, open unless a station has asked for them, watched for welding.",
        applies=_has_inlet,
        skip_reason="the car has no fast-charge inlet",
        must_name=INLET,
    ),
    _layout(
        "circuit.string_fuse",
        subject="hv.string_fuse",
        outside="stop",
        lacking=bare_strings,
        needs="hv.string_fuse",
        kinds=(model.FUSE,),
        inside_text="Each string has a fuse of its own against what the others feed into a fault in it.",
        outside_text="A fault in this string is fed by the others, and no fuse ends it.",
        remedy="Fit a fuse in every string, rated to break what all the others together can feed.",
        applies=_has_strings,
        skip_reason="the pack has one string",
    ),
)
