"""What people at the circuit need: gloves, meter, proving unit, colour; and arcs nothing clears."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from swapwright.assess.circuit.people import NOTHING_CLEARS, work_points
from swapwright.assess.circuit.place import Place
from swapwright.assess.context import Context, Rule, Subject, judged
from swapwright.assess.rules.compare import devices, said_of
from swapwright.assess.rules.word import flag, of_class_b, said_rule
from swapwright.base.finding import Finding
from swapwright.build.circuit import model
from swapwright.standards.arc_flash import MAX_ARC_TIME
from swapwright.standards.gloves import BASELINE_CLASS, BASELINE_SOURCE, GLOVE_CLASSES, GLOVES
from swapwright.standards.gloves import SOURCE as GLOVES_SOURCE
from swapwright.standards.margins import NO_BAND
from swapwright.standards.meters import METER_CATEGORIES, MIN_METER_CATEGORY

VOLTAGE = "pack.max_working_voltage"
GLOVE_SOURCES = (GLOVES_SOURCE, BASELINE_SOURCE)
BETTER_GLOVES = f"Get gloves of class {BASELINE_CLASS}, or of the higher class the voltage asks for, with leather over them, tested and in date, before anybody touches the circuit."


def _gloves(context: Context) -> Iterable[Finding]:
    """Judge the gloves by their ac figure against the pack's highest dc voltage."""
    said = context.car.text("shop.gloves").removeprefix("class ")
    gloves, voltage = GLOVES[said], context.value(VOLTAGE)
    names = [each.name for each in GLOVE_CLASSES]
    is_thin = names.index(said) < names.index(BASELINE_CLASS)
    if gloves.ac.si < voltage.si:
        text = f"Gloves of class {said} are not rated for this car's maximum working voltage by their ac figure: no work with them."
    elif is_thin:
        text = f"Gloves of class {said} cover the voltage, but are thinner than the class {BASELINE_CLASS} the trade wears at any such car."
    else:
        text = f"Gloves of class {said} cover the car's maximum working voltage. They stop shock, not an arc: face shield and arc-rated layers are a matter of their own."
    finding = judged(
        "people.gloves",
        "shop.gloves",
        gloves.ac,
        voltage,
        sense="at_least",
        outside="stop",
        text=text,
        remedy=BETTER_GLOVES,
        sources=GLOVE_SOURCES,
        figures=(VOLTAGE,),
        watch=NO_BAND.si,
    )
    is_watch = is_thin and finding.verdict == "met"
    yield replace(finding, verdict="watch", remedy=BETTER_GLOVES) if is_watch else finding


METER_SOURCES = ("meter-cat-iii-1000-practice", "iec-61010-2-033-categories")
BETTER_METER = "Get a meter and leads of CAT III with a voltage of that category, and a dc range, no lower than the car needs; the leads no lower than the meter."


def _meter(context: Context) -> Iterable[Finding]:
    """Judge the meter and its leads: the category, and the voltage of it."""
    category = context.car.text("shop.meter.category")
    rated, needed = context.value("shop.meter.voltage"), context.value("people.meter_voltage")
    order = tuple(METER_CATEGORIES)
    is_strong = order.index(category) >= order.index(MIN_METER_CATEGORY)
    is_high = rated.si >= needed.si
    if is_strong and is_high:
        text = "Meter and leads stand the voltage and the surges of such a car. Prove the meter on a known dc source before and after."
    elif is_strong:
        text = "The voltage of the meter or its leads is too low for this car: no proof of a dead circuit with it."
    else:
        text = "The category of the meter or its leads is too weak for this car: a surge can blow it up in the hand. No proof of a dead circuit with it."
    finding = judged(
        "people.meter",
        "shop.meter",
        rated,
        needed,
        sense="at_least",
        outside="stop",
        text=text,
        remedy=BETTER_METER,
        sources=METER_SOURCES,
        figures=("people.meter_voltage",),
        watch=NO_BAND.si,
    )
    is_weak = finding.verdict == "met" and not is_strong
    yield replace(finding, verdict="stop", remedy=BETTER_METER) if is_weak else finding


UNCLEARED, TOO_LATE, ENDED = "not cleared", "cleared late", "cleared in time"
ARC_SOURCES = ("nfpa-70e-arc-time", "doan-2010-maximum-power")
TREAT_AS_LIVE = "Treat work here as live work however the disconnect stands: terminals covered, one at a time, insulated tools, face shield and arc-rated layers after a hazard assessment; a second person at hand. Better: work on smaller sections, or fit a fuse closer to the cells."
CAUTION = "A small number lowers no caution, and a closed box is not covered by it."
COUNTED = "The arc is counted for as long as a person may need to get away."
LATE = f"{NOTHING_CLEARS} in time: the fuse takes longer over an arc here than a person may need to get away. {CAUTION}"
SOON = f"A fuse ends an arc here, and until it does the arc burns. {CAUTION}"


def _arcs(context: Context) -> Mapping[str, tuple[Place, ...]]:
    """Return the work points by what an arc there comes to, one not known under its own name."""
    found: dict[str, list[Place]] = {}
    for place in work_points(context.book.circuit):
        clearing = f"arc_flash.{place.slug}.clearing"
        if context.has(clearing):
            which = TOO_LATE if context.number(clearing) > MAX_ARC_TIME.si else ENDED
        elif context.has(f"arc_flash.{place.slug}.time"):
            which = UNCLEARED
        else:
            which = place.slug
        found.setdefault(which, []).append(place)
    return {which: tuple(those) for which, those in found.items()}


def _told_together(context: Context) -> tuple[Subject, ...]:
    """Return what is told of places in one go: they have one remedy, and it is said once."""
    return tuple(
        Subject(_listed(those), which, those[0].path) for which, those in _arcs(context).items()
    )


def _others(there: tuple[Place, ...]) -> tuple[str, ...]:
    """Return the build paths of the places behind the first, each once."""
    paths = dict.fromkeys(place.path for place in there)
    return tuple(paths)[1:]


def _listed(there: tuple[Place, ...]) -> str:
    return ", ".join(place.name for place in there)


def _arc(context: Context, each: Subject) -> Iterable[Finding]:
    """Say where no fuse ends an arc, or ends it later than a person is taken to stay."""
    there = _arcs(context)[each.slug]
    if each.slug == UNCLEARED:
        yield _uncleared(context, each, there)
        return
    slowest = max((f"arc_flash.{place.slug}.clearing" for place in there), key=context.number)
    found = judged(
        "people.arc_uncleared",
        each.path,
        context.value(slowest),
        MAX_ARC_TIME,
        sense="at_most",
        outside="watch",
        text=said_of(each, LATE if each.slug == TOO_LATE else SOON),
        remedy=TREAT_AS_LIVE,
        sources=ARC_SOURCES,
        figures=tuple(f"arc_flash.{place.slug}.clearing" for place in there),
        watch=NO_BAND.si,
    )
    yield replace(found, also=_others(there))


def _uncleared(context: Context, each: Subject, there: tuple[Place, ...]) -> Finding:
    """Return the finding of places where nothing ends an arc: a time that counts, held to none."""
    why: dict[str, list[Place]] = {}
    for place in there:
        reason = context.book.reasons.get(f"arc_flash.{place.slug}.clearing", NOTHING_CLEARS)
        why.setdefault(reason, []).append(place)
    said = " ".join(
        said_of(replace(each, name=_listed(tuple(those))), f"{reason}.")
        for reason, those in why.items()
    )
    return Finding(
        rule="people.arc_uncleared",
        subject=each.path,
        verdict="watch",
        text=f"{said} {CAUTION} {COUNTED}",
        remedy=TREAT_AS_LIVE,
        value=context.value(f"arc_flash.{there[0].slug}.time"),
        sources=ARC_SOURCES,
        also=_others(there),
    )


def _colour(context: Context, each: Subject) -> Iterable[Finding]:
    """Judge the colour of a cable's covering; any other word is as unlike orange as black is."""
    is_orange = context.car.text(each.resolve(":colour")) == "orange"
    yield Finding(
        rule="people.cable_colour",
        subject=each.path,
        verdict="met" if is_orange else "fix",
        text=said_of(each, "The covering is orange." if is_orange else NOT_ORANGE),
        remedy="" if is_orange else MAKE_ORANGE,
        sources=ORANGE,
    )


ORANGE = ("un-r100-orange-cable",)
NOT_ORANGE = "The covering is not orange: outside the boxes nothing else tells a rescuer or a mechanic that it carries high voltage."
MAKE_ORANGE = "Use cable with an orange covering, or put it in orange conduit or sleeve over its whole length outside the boxes."

RULES = (
    of_class_b(
        Rule(
            id="people.gloves",
            subject="shop.gloves",
            worst="stop",
            judge=_gloves,
            sources=GLOVE_SOURCES,
            remedy=BETTER_GLOVES,
        )
    ),
    of_class_b(
        Rule(
            id="people.meter",
            subject="shop.meter",
            worst="stop",
            judge=_meter,
            sources=METER_SOURCES,
            remedy=BETTER_METER,
        )
    ),
    of_class_b(
        said_rule(
            "people.proving_unit",
            "shop.proving_unit",
            flag("shop.proving_unit"),
            outside="stop",
            inside_text="A proving unit is at hand: the meter is proved on it before and after.",
            outside_text="No proving unit is at hand: a dead meter reads the same as a dead circuit.",
            remedy="Get a proving unit that gives dc inside the range used, or name another known dc source that does.",
            sources=("osha-1910.333-prove-the-tester",),
        )
    ),
    Rule(
        id="people.arc_uncleared",
        subject="hv",
        worst="watch",
        sources=ARC_SOURCES,
        skip_reason="the circuit is not given",
        remedy=TREAT_AS_LIVE,
        over=_told_together,
        judge_one=_arc,
    ),
    of_class_b(
        Rule(
            id="people.cable_colour",
            subject="hv.cable",
            worst="fix",
            sources=ORANGE,
            skip_reason="no cable is given",
            remedy=MAKE_ORANGE,
            over=devices(model.CABLE),
            judge_one=_colour,
        )
    ),
)
