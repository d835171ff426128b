"""What comes before any procedure: people, protection, meter, area. Nothing is touched yet."""

from __future__ import annotations

from swapwright.procedures.protection import (
    BARRIER,
    EXTINGUISHER,
    GLOVE_SOURCES,
    GLOVES,
    HOOK,
    LEADS,
    LEATHER,
    METER,
    NO_METAL,
    PROVING,
    Protection,
)
from swapwright.procedures.step import Level, Step
from swapwright.procedures.wording import told
from swapwright.standards import procedures as table

PHASE = "Before"
METER_SOURCES = ("meter-cat-iii-1000-practice", "iec-61010-2-033-categories")
WHY_SECOND = "Nobody frees themselves from a grip on a dc conductor."


def before(protection: Protection, who: Level, work: str) -> tuple[Step, ...]:
    """Return the steps that come first; ``work`` says in a few words what is about to be done."""
    return (
        _people(who, work),
        _briefing(who),
        _metal(),
        _gloves(protection),
        _meter(protection),
        _area(protection),
    )


def _people(who: Level, work: str) -> Step:
    level = {
        "aware": "has been made aware of the hazards",
        "isolation": "may open, lock and measure",
        "live": "may work on live parts",
    }[who]
    return Step(
        "before.people",
        PHASE,
        "confirm",
        "Who does it, and who stands by",
        f"For {work}: one person who {level} does the steps. A second, briefed person stays "
        "within sight, rescue hook at hand, and never comes inside the barrier.",
        WHY_SECOND,
        who=who,
        needs=(HOOK,),
        sources=(table.SECOND_PERSON,),
    )


def _briefing(who: Level) -> Step:
    return Step(
        "before.briefing",
        PHASE,
        "confirm",
        "Say it aloud",
        "Go through the steps together: where the disconnect is, what stays live, who calls, where "
        "the defibrillator is, the way out. Anybody may stop the job at any step.",
        who=who,
        sources=(table.SECOND_PERSON,),
    )


def _metal() -> Step:
    return Step(
        "before.metal",
        PHASE,
        "confirm",
        "Metal and jewellery off",
        "Rings, watch, chain, earrings, metal frames, keys and phone come off, both people. "
        "Whoever wears a heart pacemaker or another implant stays away.",
        "A ring across a terminal burns a finger at any voltage.",
        who="aware",
        ppe=(NO_METAL,),
        sources=(table.SECOND_PERSON,),
    )


def _gloves(protection: Protection) -> Step:
    return Step(
        "before.gloves",
        PHASE,
        "confirm",
        "Look the gloves over",
        f"Take {protection.gloves}. Look for cuts, cracks, swelling and dirt, turn each inside "
        "out, roll the cuff up and listen for air; never by mouth. Leather over them.",
        "Gloves stop shock, not an arc. The class is judged by its ac figure.",
        who="aware",
        needs=(GLOVES, LEATHER),
        ppe=(NO_METAL,),
        sources=GLOVE_SOURCES,
    )


def _meter(protection: Protection) -> Step:
    return Step(
        "before.meter",
        PHASE,
        "confirm",
        "Look the meter and its leads over",
        f"Take {protection.meter}. Look at insulation, tips and fuse; set dc volts on a fixed "
        "range, and write down whether it ranges by itself, has a low-impedance mode, and what "
        "its input is. From here on: the same meter, the same leads, the same range.",
        "A detector that touches nothing, a test lamp, the car's own display, the pack "
        "controller, an interlock lamp and a thermal camera prove nothing.",
        who="aware",
        needs=(METER, LEADS, PROVING),
        sources=METER_SOURCES,
    )


def _area(protection: Protection) -> Step:
    limit = protection.limit
    away = "" if limit is None else f", {told(limit.limited.si, 'length')} or more from live parts"
    law = () if limit is None else (limit.source,)
    return Step(
        "before.area",
        PHASE,
        "confirm",
        "Close off the place",
        f"Barrier and sign round the car{away}: dry floor, light, nothing metal lying about, "
        "extinguisher at hand, way out free. Whoever is not named here stays outside.",
        who="aware",
        needs=(BARRIER, EXTINGUISHER),
        sources=(table.SECOND_PERSON, *law),
    )
