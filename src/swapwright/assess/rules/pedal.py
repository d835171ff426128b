"""The pedal's map: what the released pedal leaves, what the floored one gives, and the climb."""

from __future__ import annotations

from collections.abc import Iterator

from swapwright.assess import controller
from swapwright.assess.context import Context, Rule
from swapwright.assess.rules.compare import asks_for, compare
from swapwright.assess.rules.word import is_said
from swapwright.base.finding import Finding
from swapwright.build.car import Car
from swapwright.standards.margins import NO_BAND
from swapwright.standards.pedal import FULL_SHARE

MAP = controller.BY_PEDAL
OVERRIDE = "network.pedal.brake_override"
SHARES = ("swapwright-controller-shares",)
PRACTICE = ("pedal-brake-override-practice",)
NO_MAP = "no map of the pedal is given"
LET_GO = "Start the pedal's map at no torque, with a few percent of dead travel after it; or have the controller take the torque away as soon as the brake is pressed, and say so with network.pedal.brake_override."


def _pulls_released(car: Car) -> bool:
    table = controller.limit_line(car, MAP)
    return table is not None and table.y[0] > 0.0


def _climbs_by_map(car: Car) -> bool:
    return car.has(MAP) and car.has("goals.climb")


def _override(context: Context) -> Iterator[Finding]:
    """Judge that something takes away the torque a released pedal leaves."""
    has = is_said(context.car, OVERRIDE)
    text = "The released pedal leaves torque; on the file's word the brake takes it away, which commissioning is to prove."
    if not has:
        text = "The released pedal leaves torque, and nothing takes it away: the car pulls against its brakes at every stop, and two sound pedal tracks agree with it. (the first point of the pedal's map, and no brake override)"
    yield Finding(
        rule="drive.pedal_override",
        subject=MAP,
        verdict="met" if has else "fix",
        text=text,
        remedy="" if has else LET_GO,
        sources=PRACTICE,
    )


RULES = (
    Rule(
        id="drive.pedal_override",
        subject=MAP,
        worst="fix",
        judge=_override,
        sources=PRACTICE,
        applies=_pulls_released,
        skip_reason="the released pedal leaves no torque, or no map of the pedal is given",
        remedy=LET_GO,
    ),
    compare(
        "drive.pedal_released",
        subject=MAP,
        value="drive.pedal.released_force",
        limit="road.a",
        sense="at_most",
        outside="watch",
        inside_text="With the pedal released the car does not pull away by itself on the level.",
        outside_text="With the pedal released the car pulls away by itself on the level: whoever gets out in gear, or works on it with the drive on, meets a moving car.",
        remedy="Start the pedal's map at no torque; where the creep is wanted, tell the driver of it on the handover sheet, and have the drive switch off with the door or the belt.",
        sources=SHARES,
        applies=asks_for(MAP),
        skip_reason=NO_MAP,
        watch=NO_BAND,
    ),
    compare(
        "drive.pedal_full",
        subject=MAP,
        value="drive.pedal.full_share",
        limit=FULL_SHARE,
        sense="at_least",
        outside="watch",
        inside_text="The floored pedal asks for all the torque the controller allows.",
        outside_text="The floored pedal asks for part of the torque only: the car never gives what its motor can, and the times and speeds here are those of that part.",
        remedy="End the pedal's map at all of the torque, or leave it where a gentler car is wanted and tell its driver so.",
        sources=SHARES,
        applies=asks_for(MAP),
        skip_reason=NO_MAP,
        watch=NO_BAND,
    ),
    compare(
        "drive.pedal_climb",
        subject=MAP,
        value="drive.pedal.climb_share",
        limit="drive.pedal.full_share",
        sense="at_most",
        outside="fix",
        inside_text="The goal's climb is held within the pedal's travel.",
        outside_text="The goal's climb takes more torque than the floored pedal asks for.",
        remedy="Raise the end of the pedal's map where it lies below all of the torque, and the controller's other tables where they hold it back; else a lower gear, or a stronger drive.",
        sources=SHARES,
        applies=_climbs_by_map,
        skip_reason="no map of the pedal is given, or no climb is asked for",
    ),
)
