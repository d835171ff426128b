"""A crashed, burnt or flooded car: keep away, tell, move it outdoors only if those who may say so.

Energy that cannot be drawn off is stranded in it. Nothing here sends anybody to touch it.
"""

from __future__ import annotations

from swapwright.build.circuit import model
from swapwright.procedures.points import gaps, opened
from swapwright.procedures.protection import BARRIER, DRY, EXTINGUISHER, NO_METAL
from swapwright.procedures.remaining import remaining
from swapwright.procedures.sources_of_energy import energy_sources
from swapwright.procedures.step import Level, Procedure, Step
from swapwright.procedures.subject import Subject
from swapwright.procedures.wording import listed, told
from swapwright.standards import procedures as table

AWAY, TELL, QUARANTINE, LATER = "Keep away", "Tell", "Quarantine", "Later"
SOURCES = (table.DAMAGED,)


def damaged_vehicle(subject: Subject) -> Procedure:
    """Return what is done about a car that was crashed, burnt or flooded."""
    return subject.procedure(
        "damaged vehicle",
        (*_away(), *_tell(subject), *_quarantine(), *_later(subject)),
        sources=energy_sources(subject.circuit, subject.facts),
        remaining=remaining(opened(subject.circuit), subject.facts),
        no_absence=("A damaged car counts as live wherever it can be touched.",),
        cautions=(
            "The fire service and the rescue services decide. This page outranks nobody.",
            "A pack that was hurt or wet may burn hours or days later, and again after it was out.",
            "Isolation may have failed: the body of the car can be one pole of the pack.",
            "Nothing is claimed here of how water and the pack behave together.",
        ),
    )


def _step(
    step_id: str,
    phase: str,
    title: str,
    words: str,
    why: str = "",
    *,
    who: Level = "aware",
    needs: tuple[str, ...] = (),
    about: tuple[str, ...] = (),
    photo: bool = False,
) -> Step:
    return Step(
        step_id,
        phase,
        "confirm",
        title,
        words,
        why,
        about,
        who=who,
        needs=needs,
        ppe=(NO_METAL, DRY),
        sources=SOURCES,
        photo=photo,
    )


def _away() -> tuple[Step, ...]:
    distance = told(table.QUARANTINE_DISTANCE.si, "length")
    return (
        _step(
            "away.stop",
            AWAY,
            "Do not touch the car",
            "Nobody touches the car, what runs or drips out of it, or anything orange. Nobody "
            "leans in. If somebody hangs on to it: the procedure for the rescue of a person.",
            "What looks like body may be joined to one pole.",
        ),
        _step(
            "away.distance",
            AWAY,
            "Clear the place",
            f"Everybody who need not be there goes {distance} away, upwind: gas from a cell is "
            "poisonous and can burn. Hiss, white vapour, sweet smell or heat: leave at once.",
            needs=(BARRIER,),
        ),
    )


def _tell(subject: Subject) -> tuple[Step, ...]:
    packs = listed(each.name for each in subject.circuit.of_kind(model.PACK))
    where = listed(each.name for each in gaps(subject.circuit))
    opens = f"its gap is {where}" if where else "it has no service disconnect"
    volts = told(subject.facts.highest, "voltage")
    return (
        _step(
            "tell.call",
            TELL,
            "Call the emergency services",
            f"Say: electric conversion, up to {volts} dc, pack in {packs}, {opens}; what happened, "
            "whether anybody is hurt, whether it smokes. Hand them the rescue sheet.",
        ),
        _step(
            "tell.switch",
            TELL,
            "Only what can be done from outside",
            "Where it can be done without touching the car or reaching across it: charging supply "
            "off at its wall switch. The key, the 12 V lead and the disconnect are for those who "
            "have the gear and the training, on their own judgement.",
            "Opening a disconnect takes nothing out of the pack.",
        ),
    )


def _quarantine() -> tuple[Step, ...]:
    distance = told(table.QUARANTINE_DISTANCE.si, "length")
    day = told(table.WATCH_AFTER_DAMAGE.si, "time")
    return (
        _step(
            "quarantine.place",
            QUARANTINE,
            "Outdoors, by itself",
            f"Once the services release it: outdoors, {distance} clear of buildings, cars and "
            "whatever burns, driven wheels off the ground while it is moved, never in a hall.",
            "Wheels that turn make the motor a source.",
            who="isolation",
            needs=(BARRIER, EXTINGUISHER),
            photo=True,
        ),
        _step(
            "quarantine.sign",
            QUARANTINE,
            "Sign and lock",
            "Barrier and sign: high voltage, damaged, do not touch; name and number of the "
            "responsible person. Tag it on the board as energised.",
            who="isolation",
        ),
        _step(
            "quarantine.watch",
            QUARANTINE,
            "Watch it",
            f"From the distance, by thermal camera, for {day} at the least and as long as the "
            "services say. Any rise: leave, call again. The camera is no proof of anything else.",
            who="isolation",
        ),
    )


def _later(subject: Subject) -> tuple[Step, ...]:
    packs = tuple(each.name for each in subject.circuit.of_kind(model.PACK))
    return (
        _step(
            "later.stranded",
            LATER,
            "Stranded energy",
            f"What is left in {listed(packs)} cannot be drawn off by opening anything. Who takes "
            "the pack apart or away does it by its maker's method, as live work, under a permit "
            "of its own. It travels as a damaged battery, by the carriers' rules.",
            who="live",
            about=packs,
        ),
        _step(
            "later.report",
            LATER,
            "Write it down",
            "Enter the incident: what happened, when, who was near, what was seen. The revision "
            "no longer stands for this car.",
            who="aware",
        ),
    )
