"""Taking every source away, looking at the gaps, blocking motion, locking, and the wait."""

from __future__ import annotations

from collections.abc import Iterable

from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit, Device, Element, slug
from swapwright.procedures.facts import NO_LOAD_BREAK, Facts
from swapwright.procedures.points import Opened, elements_of, gaps
from swapwright.procedures.protection import (
    AT_PARTS,
    DRY,
    LOCK,
    NO_METAL,
    Protection,
)
from swapwright.procedures.step import Step
from swapwright.procedures.wording import listed, sentence, told
from swapwright.standards import procedures as table
from swapwright.standards.discharge import SHOP_WAIT

AWAY = "Take every source away"
LOOK = "Look at the gaps"
LET_GO = "Let stored charge go"
BLOCK = "Block what can move"
SECURE = "Lock and tag"
WAIT = "Wait"
CONTACTORS_ARE_NO_GAP = (
    "Contactors, interlocks, key, emergency button and software states are no gap: they may have "
    "welded or may close again."
)
_PLUGS = (model.CHARGER, model.INLET)


def sources_off(circuit: Circuit, facts: Facts, protection: Protection) -> tuple[Step, ...]:
    """Return the steps that take each source away, the gaps last."""
    return (
        _load(),
        _key(),
        *(_plug(each) for each in circuit.of_kind(*_PLUGS)),
        _others(),
        _twelve_volt(),
        *(_converter(each) for each in circuit.of_kind(model.DCDC)),
        *(_wheels(each, facts) for each in circuit.of_kind(model.INVERTER)),
        *(_open(each, facts, protection) for each in gaps(circuit)),
    )


def _load() -> Step:
    return Step(
        "off.load",
        AWAY,
        "confirm",
        "Load off",
        "Selector in neutral or park, charging ended, heater, compressor and every other large "
        "load switched off and left to run down.",
        "A disconnect opened under load draws an arc.",
        who="aware",
        sources=(table.VERIFY_ORDER, table.DISCONNECT_PRACTICE),
    )


def _key() -> Step:
    return Step(
        "off.key",
        AWAY,
        "confirm",
        "Key out and kept",
        "Switch off and take the key out; a key that works from a distance goes so far away that "
        "it cannot reach the car. The worker keeps it.",
        CONTACTORS_ARE_NO_GAP,
        who="aware",
        sources=(table.VERIFY_ORDER, table.TREAT_AS_LIVE),
    )


def _plug(element: Element) -> Step:
    return Step(
        f"open.plug.{slug(element.name)}",
        AWAY,
        "open",
        f"Plug out: {element.name}",
        f"Pull the charging plug of {element.name} and whatever draws mains from the car. Close "
        "the inlet so that nobody can plug in again.",
        "A charger or a station puts its own voltage on the circuit.",
        (element.name,),
        ppe=(NO_METAL, DRY),
        sources=(table.VERIFY_ORDER,),
    )


def _others() -> Step:
    return Step(
        "open.others",
        AWAY,
        "open",
        "Nothing else is joined",
        "Take off every bench supply, charger for the 12 V side, battery helper and test gear, and "
        "whatever solar, spare or range pack the car has got since it was drawn.",
        "A second source is what hurts people who opened the first.",
        sources=(table.VERIFY_ORDER,),
    )


def _twelve_volt() -> Step:
    return Step(
        "open.12v",
        AWAY,
        "open",
        "12 V off",
        "Take the negative lead off the 12 V battery, cap it and tie it away so that it cannot "
        "spring back. Do the same at a second 12 V battery.",
        "Without 12 V no contactor pulls in. That they dropped out is not measured by it.",
        ppe=(NO_METAL,),
        sources=(table.TWELVE_VOLT,),
    )


def _converter(element: Element) -> Step:
    return Step(
        f"open.converter.{slug(element.name)}",
        AWAY,
        "open",
        f"No supply behind {element.name}",
        f"Make sure nothing feeds the 12 V side of {element.name}: no battery, no charger, no "
        "jump lead. It can feed back into the high-voltage side, to fill it before starting too.",
        "Some converters work both ways.",
        (element.name,),
        sources=(table.TWELVE_VOLT,),
    )


def _wheels(element: Element, facts: Facts) -> Step:
    turning = facts.turning.get(element.name, "at which speed it is one is not known")
    return Step(
        f"open.wheels.{slug(element.name)}",
        AWAY,
        "open",
        f"Wheels still: motor at {element.name}",
        "Chock the driven wheels, or lift them off the ground and keep hands off them. Nobody "
        "turns a wheel, tows or pushes the car from here on.",
        sentence(f"A motor that turns is a source: {turning}"),
        (element.name,),
        sources=(table.WHEELS,),
    )


def _open(gap: Device, facts: Facts, protection: Protection) -> Step:
    return Step(
        f"open.gap.{gap.slug}",
        AWAY,
        "open",
        f"Open {gap.name}",
        f"With the load off, open {gap.name} in one movement and take out the part that comes "
        "out. Turn your face away. Do not touch its contacts.",
        f"The open gap sees up to {told(facts.highest, 'voltage')}. "
        + facts.gaps.get(gap.first.name, NO_LOAD_BREAK),
        elements_of(gap),
        needs=AT_PARTS,
        ppe=protection.worn_at_parts,
        cautions=("It acts on its own string only.",),
        sources=(table.VERIFY_ORDER, table.DISCONNECT_PRACTICE),
    )


def look_at_gaps(circuit: Circuit, protection: Protection) -> tuple[Step, ...]:
    """Return one step for each gap: look that it is open."""
    return tuple(
        Step(
            f"look.gap.{gap.slug}",
            LOOK,
            "confirm",
            f"See the gap of {gap.name}",
            f"Look at {gap.name}: both contacts are bare of each other and nothing bridges them. "
            "Where it cannot be seen, say so in the note; the readings decide.",
            about=elements_of(gap),
            needs=AT_PARTS,
            ppe=protection.worn_at_parts,
            sources=(table.VERIFY_ORDER,),
            photo=True,
        )
        for gap in gaps(circuit)
    )


def charge_begins_to_go() -> Step:
    """Return the step from which stored charge runs off."""
    return Step(
        "release.begin",
        LET_GO,
        "confirm",
        "Leave what empties it joined",
        "Unplug nothing that empties the capacitors. Note whether the car showed a fault of its "
        "active discharge: the wait does not count on it.",
        "Charge is emptied from now on by what is left joined; how far, only readings show.",
        sources=(table.VERIFY_ORDER, table.TREAT_AS_LIVE),
    )


def block_motion() -> Step:
    """Return the step that blocks what else can move."""
    return Step(
        "block.motion",
        BLOCK,
        "confirm",
        "Nothing can move",
        "Chocks tight, car secured on its lift or stands, fans and pumps still, nothing under "
        "spring or fluid pressure where hands will be.",
        sources=(table.VERIFY_ORDER, table.WHEELS),
    )


def locks(circuit: Circuit) -> tuple[Step, ...]:
    """Return one lock for each thing that was opened; the part that came out is kept."""
    return (
        *(
            _lock(
                f"plug.{slug(each.name)}",
                f"Inlet of {each.name}",
                f"Lock the inlet of {each.name} shut, or the plug into a box, and tag it.",
                (each.name,),
            )
            for each in circuit.of_kind(*_PLUGS)
        ),
        _lock(
            "12v", "12 V lead", "Lock the 12 V lead away in a cover or box of its own, and tag it."
        ),
        *(
            _lock(
                f"gap.{gap.slug}",
                gap.name.capitalize(),
                f"Hang your own lock and tag on {gap.name}, open. Keep the part that came out, and "
                "the only key, on you. Each person who works hangs a lock of their own.",
                elements_of(gap),
            )
            for gap in gaps(circuit)
        ),
    )


def _lock(name: str, title: str, words: str, about: tuple[str, ...] = ()) -> Step:
    return Step(
        f"lock.{name}",
        SECURE,
        "lock",
        f"{title}: lock and tag",
        words,
        "A lock is lifted by its owner and by nobody else.",
        about,
        needs=(LOCK,),
        sources=(table.VERIFY_ORDER,),
    )


def waits(found: Opened, facts: Facts, protection: Protection) -> tuple[Step, ...]:
    """Return the wait of all sections together, and what is done where no wait empties one."""
    holding = [state for state in found.absent if state.stores]
    timed = [state for state in holding if state.section.slug in facts.waits]
    untimed = [state for state in holding if state.section.slug not in facts.waits]
    steps = [
        _untimed(state.section.slug, device, facts, protection)
        for state in untimed
        for device in found.circuit.devices_of(model.LINK, model.Y_CAPACITOR)
        if {each.name for each in device.elements} & set(state.stores)
    ]
    if untimed and not timed:
        return tuple(steps)
    about = tuple(store for state in timed for store in state.stores)
    lines = {state.section.name: facts.waits[state.section.slug] for state in timed}
    cautions = [
        sentence(f"{state.section.name}: {facts.slow[state.section.slug]}")
        for state in timed
        if state.section.slug in facts.slow
    ]
    if untimed:
        names = listed(state.section.name for state in untimed)
        cautions.append(f"It says nothing of {names}: no waiting time exists there.")
    return (_wait(about, lines, cautions), *steps)


def _wait(about: tuple[str, ...], lines: dict[str, float], cautions: Iterable[str]) -> Step:
    longest = max(lines.values(), default=SHOP_WAIT.si)
    each = ", ".join(f"{name} {told(time, 'time')}" for name, time in lines.items())
    words = f"Start the clock now that every gap is open and locked. Wait {told(longest, 'time')}."
    return Step(
        "wait",
        WAIT,
        "wait",
        "Let the waiting time run",
        f"{words} By section: {each}." if each else words,
        "Everything at its worst, hot, and the most helpful path failed; never less than the "
        f"shop's {told(SHOP_WAIT.si, 'time')}. Waiting proves nothing: the readings do.",
        about,
        cautions=(
            "If the active discharge failed the time above still holds: it counts the most "
            "helpful path as failed. Where the bleed failed too the charge stays: it is live.",
            *cautions,
        ),
        sources=("shop-wait-practice", table.VERIFY_ORDER),
        wait=longest,
    )


def _untimed(section: str, device: Device, facts: Facts, protection: Protection) -> Step:
    why = facts.no_waits.get(section, "the file says too little")
    no_wait = (
        f"No waiting time exists for {device.name}: it may stay charged. Discharge it by its "
        "maker's method, as live work, then measure."
    )
    return Step(
        f"discharge.{device.slug}",
        WAIT,
        "wait",
        f"Discharge {device.name} as live work",
        no_wait,
        sentence(why),
        elements_of(device),
        who="live",
        people=2,
        needs=AT_PARTS,
        ppe=protection.worn_at_parts,
        cautions=("Charge up to the whole pack voltage may stand here for days.",),
        sources=(table.TREAT_AS_LIVE,),
        no_wait=no_wait,
    )
