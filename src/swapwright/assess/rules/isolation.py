"""Isolation from the chassis, interlock and crash cut, and what must open both poles."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from swapwright.assess.circuit.place import potentials
from swapwright.assess.context import Context, Rule, judged
from swapwright.assess.rules.compare import asks_for, compare
from swapwright.assess.rules.word import flag, of_class_b, said_rule, word
from swapwright.base.figure import LookedUp
from swapwright.base.finding import Finding
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit
from swapwright.physics.circuit.graph import joined
from swapwright.standards.discharge import DISCHARGED_ENERGY
from swapwright.standards.isolation import (
    DC_OHMS_PER_VOLT,
    MAX_BONDING_RESISTANCE,
    ONE_MONITOR,
)
from swapwright.standards.margins import NO_BAND

REGULATION = ("un-r100-isolation-resistance",)
MONITOR = (*REGULATION, "isolation-monitor-typical")
FIND_LEAK = "Unplug the branches one by one, disconnects open and absence verified before each, and measure again after each: the one it recovers with is wet, chafed or dirty. Dry, clean or replace it. A reading by voltmeter needs the pack live, so absence lapses with every such reading: verify it anew each time before a hand goes in. Or use an insulation tester, under its own conditions: pack disconnected, monitor off, both poles joined, a test voltage at or above the maximum working voltage and within every part's rating, a 'test on' sign, a timed discharge after."
TWO_POLE_REGION = "NZ"

_ISOLATION = (
    compare(
        "circuit.isolation_floor",
        subject="hv.isolation",
        value="isolation.resistance",
        limit="isolation.floor",
        sense="at_least",
        outside="stop",
        inside_text="Everything between the circuit and the chassis, side by side, keeps the least isolation any direct-current circuit must have.",
        outside_text="Everything between the circuit and the chassis, side by side, leaves less isolation than any direct-current circuit must have: one more fault and the chassis is live.",
        remedy=FIND_LEAK,
        sources=REGULATION,
    ),
    compare(
        "circuit.isolation_required",
        subject="hv.isolation",
        value="isolation.resistance",
        limit="isolation.required",
        sense="at_least",
        outside="fix",
        inside_text="The isolation is what the circuit must keep as it is joined.",
        outside_text="The isolation is below what a circuit joined to its ac side must keep.",
        remedy=FIND_LEAK,
        sources=REGULATION,
    ),
    compare(
        "circuit.isolation_target",
        subject="hv.isolation",
        value="isolation.measured",
        limit="hv.isolation.target",
        sense="at_least",
        outside="watch",
        inside_text="Both poles measure what a car is handed over with.",
        outside_text="One pole measures less than a car is handed over with: within the rules, and on its way down.",
        remedy="Look for dirt, damp and a chafed cable now, and measure again before handover.",
        sources=("isolation-handover-typical",),
        watch=NO_BAND,
    ),
)

_MONITOR = (
    compare(
        "circuit.isolation_monitor",
        subject="hv.isolation_monitor",
        value="hv.isolation_monitor.count",
        limit=ONE_MONITOR,
        sense="at_least",
        outside="fix",
        inside_text="An isolation monitor watches the circuit.",
        outside_text="Nothing watches the isolation: the first fault stays unseen until the second.",
        remedy="Fit an isolation monitor to the circuit and lead its alarm to the driver.",
        sources=MONITOR,
        watch=NO_BAND,
    ),
    compare(
        "circuit.monitors_on_bus",
        subject="hv.isolation_monitor",
        value="hv.isolation_monitor.count",
        limit=ONE_MONITOR,
        sense="at_most",
        outside="fix",
        inside_text="No second isolation monitor disturbs the first.",
        outside_text="Several isolation monitors measure one circuit: each takes the others for a leak, and their alarms mean nothing.",
        remedy="Leave one at work and switch the others off, the charger's and the inverter's own looked at too.",
        sources=("two-monitors-practice",),
        applies=asks_for("hv.isolation_monitor"),
        skip_reason="no isolation monitor is given",
        watch=NO_BAND,
    ),
    compare(
        "circuit.isolation_alarm",
        subject="hv.isolation_monitor.alarm",
        value="hv.isolation_monitor.alarm",
        limit=DC_OHMS_PER_VOLT,
        sense="at_least",
        outside="fix",
        inside_text="The isolation monitor's alarm is no lower than the least a direct-current circuit must keep.",
        outside_text="The isolation monitor's alarm is set below the least a direct-current circuit must keep: it stays quiet on a circuit that must not be driven.",
        remedy="Set the alarm to what the circuit must keep as it is joined, and the warning well above it.",
        sources=REGULATION,
        watch=NO_BAND,
    ),
    compare(
        "circuit.isolation_alarm_joined",
        subject="hv.isolation_monitor.alarm",
        value="hv.isolation_monitor.alarm",
        limit="isolation.required_per_volt",
        sense="at_least",
        outside="fix",
        inside_text="The alarm comes before the isolation falls below what the circuit must keep as it is joined.",
        outside_text="The alarm comes only after the isolation has fallen below what a circuit joined to its ac side must keep; the lower limit is for ac parts protected for life, and nothing here documents that.",
        remedy="Raise the alarm to what the joined circuit must keep; or document the protection of every ac part and say so with hv.ac_protection.",
        sources=REGULATION,
        applies=asks_for("hv.isolation_monitor.alarm"),
        skip_reason="no alarm is given",
        watch=NO_BAND,
    ),
    compare(
        "circuit.monitor_reading",
        subject="hv.isolation_monitor",
        value="isolation.resistance",
        limit="isolation.alarm",
        sense="at_least",
        outside="fix",
        inside_text="With every leak on it, its own included, the monitor should read above its alarm.",
        outside_text="With every leak on it, its own included, the monitor should read below its alarm: it sounds the first time it is switched on.",
        remedy="Find the leak; do not lower the alarm to make it quiet.",
        sources=MONITOR,
        applies=asks_for("hv.isolation_monitor.alarm"),
        skip_reason="no alarm is given",
    ),
)


def _y_energy(context: Context) -> Iterable[Finding]:
    """Judge the worst of the three energies of the Y-capacitors, and say which it is."""
    name = "isolation.y_energy"
    found = context.value(name)
    figure = context.book.figures.get(name)
    working = figure.working if figure is not None else None
    which = working.row if isinstance(working, LookedUp) else "the worst way"
    inside = found.si <= DISCHARGED_ENERGY.si
    text = (
        f"The Y-capacitors hold no more than a touch may meet: {which}."
        if inside
        else f"The Y-capacitors hold more than a touch may meet: {which}. One hand on a pole takes it, contactors open or closed."
    )
    yield judged(
        "circuit.y_energy",
        "hv.y_capacitance",
        found,
        DISCHARGED_ENERGY,
        sense="at_most",
        outside="fix",
        text=text,
        remedy=_LESS_Y,
        sources=("iso-6469-4-2015-5.2.3",),
        figures=(name,),
    )


_LESS_Y = "Use less capacitance to the chassis: smaller filters, or fewer devices with their own on one circuit."

_STORED = (
    Rule(
        id="circuit.y_energy",
        subject="hv.y_capacitance",
        worst="fix",
        judge=_y_energy,
        sources=("iso-6469-4-2015-5.2.3",),
        remedy=_LESS_Y,
    ),
    compare(
        "circuit.bonding",
        subject="hv.bonding",
        value="hv.bonding",
        limit=MAX_BONDING_RESISTANCE,
        sense="at_most",
        outside="fix",
        inside_text="Every metal case measured is bonded to the chassis.",
        outside_text="A metal case is not bonded well enough to the chassis: in a fault it stands apart from it, with a person between.",
        remedy="Clean paint and rust off the bond's faces, fit a wide strap with toothed washers, tighten and measure again.",
        sources=("un-r100-bonding",),
    ),
)

INTERLOCK = ("interlock-loop-practice",)

_CUTS = (
    said_rule(
        "circuit.interlock",
        "hv.interlock",
        flag("hv.interlock"),
        outside="fix",
        inside_text="An interlock loop opens the contactors when a plug or a cover is opened.",
        outside_text="Nothing opens the contactors when a plug or a cover is opened: live pins are a finger's reach away.",
        remedy="Run a loop through every connector and cover that opens without tools, and have it open the main contactors.",
        sources=INTERLOCK,
    ),
    said_rule(
        "circuit.interlock_opens",
        "hv.interlock_loop.opens",
        word("hv.interlock_loop.opens", "both"),
        outside="fix",
        inside_text="The interlock loop opens the contactors of both poles.",
        outside_text="The interlock loop opens one pole only: the other stays joined to the pack behind the open cover.",
        remedy="Feed the coils of both main contactors through the loop.",
        sources=INTERLOCK,
        applies=lambda car: car.flags.get("hv.interlock", True),
        skip_reason="the file says there is no interlock loop",
    ),
    compare(
        "circuit.interlock_resistance",
        subject="hv.interlock_loop",
        value="hv.interlock_loop.resistance",
        limit="hv.interlock_loop.limit",
        sense="at_most",
        outside="fix",
        inside_text="The closed interlock loop measures below what its monitor takes for open.",
        outside_text="The closed interlock loop measures above what its monitor takes for open: the car will not start, or drops out on a bump.",
        remedy="Find the weak contact: measure each connector of the loop by itself, clean or replace its pins.",
        sources=INTERLOCK,
        applies=asks_for("hv.interlock_loop.resistance", "hv.interlock_loop.limit"),
        skip_reason="neither the interlock loop's resistance nor its monitor's limit is given",
    ),
    said_rule(
        "circuit.inertia_switch",
        "hv.inertia_switch",
        flag("hv.inertia_switch"),
        outside="fix",
        inside_text="A crash signal opens the contactors.",
        outside_text="Nothing opens the contactors in a crash: who comes to help meets a live car.",
        remedy="Put an inertia switch or the airbag's crash signal into the supply of both contactor coils.",
        sources=("crash-cut-practice",),
    ),
)


def _is_full_form(context: Context) -> bool:
    return bool(context.car.counts.get("hv.element", 0))


def opens_both_poles(circuit: Circuit, *kinds: str) -> bool:
    """Tell whether opening every element of some kinds parts each converter from both pack ends."""
    levels = potentials(circuit)
    ends = {element.plus for element in circuit.of_kind(model.PACK)}
    ends |= {element.minus for element in circuit.of_kind(model.PACK)}
    island = joined(
        (element.plus, element.minus)
        for element in circuit.elements
        if element.kind in model.SERIES and element.kind not in kinds
    )
    live = {island.get(node, node) for node in ends if node in levels}
    return not any(
        island.get(node, node) in live
        for element in circuit.of_kind(*model.CONVERTERS)
        for node in (element.plus, element.minus)
    )


def _poles(path: str, *kinds: str) -> Callable[[Context], bool]:
    """Return a test that a device stands in both poles: by its word, or by the drawn elements."""

    def is_inside(context: Context) -> bool:
        if _is_full_form(context):
            return opens_both_poles(context.book.circuit, *kinds)
        return context.car.text(path) == "both"

    return is_inside


def _is_two_pole_region(car: Car) -> bool:
    return car.texts.get("goals.region") == TWO_POLE_REGION


_POLES = (
    said_rule(
        "circuit.main_fuse_poles",
        "hv.main_fuse.poles",
        _poles("hv.main_fuse.poles", model.FUSE),
        outside="fix",
        inside_text="A fuse stands in both poles, as inspection in this region is reported to want it.",
        outside_text="The main fuse stands in one pole only; inspection in this region is reported to want both poles of each battery bank fused, as near to it as practical.",
        remedy="Fit a second fuse of the same type in the other pole, close to the pack; ask the certifier before cutting cable.",
        sources=("nz-certification-two-pole-reported",),
        applies=_is_two_pole_region,
        skip_reason="no rule for a fuse in both poles is known for this region",
    ),
    said_rule(
        "circuit.contactor_poles",
        "hv.contactors.poles",
        _poles("hv.contactors.poles", model.CONTACTOR, model.PRECHARGE_RELAY),
        outside="fix",
        inside_text="The main contactors open both poles.",
        outside_text="The contactors do not part everything from both poles of the pack: what stays joined to one pole is live with a single fault to the chassis, what stays joined to both is live all the time.",
        remedy="Fit a main contactor in each pole; where every element is drawn, also one before each converter that is fed past them.",
        sources=("contactors-both-poles-practice",),
    ),
)

RULES = tuple(of_class_b(rule) for rule in (*_ISOLATION, *_MONITOR, *_STORED, *_CUTS, *_POLES))
