"""How the car stands and what holds the pack: wheels, corners, ride height, rollover, boxes."""

from __future__ import annotations

from swapwright.assess.context import Context, Rule, Subject
from swapwright.assess.rules.compare import asks_for, compare, compare_each
from swapwright.assess.stages.restraint import BOXES, box_name
from swapwright.build.circuit.model import slug
from swapwright.standards.brakes import (
    CORNERS_AGREE,
    LEAST_BOLTS,
    RIDE_HEIGHT_CHANGE,
    SIDE_SHARE,
)
from swapwright.standards.margins import NO_BAND

PADS = "car.corner_mass"
NO_PADS = "the four corners were not weighed before the conversion"


def _wheels(axle: str) -> Rule:
    return compare(
        f"weight.{axle}_wheels",
        subject="car.limits.wheel",
        value=f"weight.{axle}_tyre_load",
        limit="car.limits.wheel",
        sense="at_most",
        outside="stop",
        inside_text=f"The {axle} wheels carry their load.",
        outside_text=f"The {axle} wheels are loaded beyond what the rim is made for.",
        remedy="Fit wheels of a higher load rating, or move mass; the rating is cast or stamped on the wheel.",
        sources=("wheel-load-marking",),
        applies=asks_for("car.limits.wheel"),
        skip_reason="no wheel load is given",
    )


def _ride_height(axle: str) -> Rule:
    return compare(
        f"weight.{axle}_ride_height",
        subject=f"car.springs.{axle}",
        value=f"weight.{axle}_ride_change",
        limit=RIDE_HEIGHT_CHANGE,
        sense="at_most",
        outside="watch",
        inside_text=f"The {axle} sits near its old height on the springs it has.",
        outside_text=f"The {axle} sits well off its old height on the springs it has: travel, steering, lamps and a load-sensing valve are off with it.",
        remedy="Fit springs of the rate worked out beside this, with dampers to match, or spacers where it sits lower by little; then set lamps and tracking again.",
        sources=("ride-height-change-typical",),
        applies=asks_for("car.springs"),
        skip_reason="no spring rates are given",
    )


def _boxes(context: Context) -> tuple[Subject, ...]:
    """List the pack's boxes."""
    return tuple(_subject(context, row) for row in range(context.car.counts.get(BOXES, 0)))


def _subject(context: Context, row: int) -> Subject:
    name = box_name(context.book, row)
    path = f"{BOXES}[{row}]"
    return Subject(f"{name} box", slug(name), path, lambda entry: f"{path}.{entry}")


RIDING: tuple[Rule, ...] = (
    _wheels("front"),
    _wheels("rear"),
    compare(
        "weight.pads",
        subject=PADS,
        value="weight.pads_difference",
        limit=CORNERS_AGREE,
        sense="at_most",
        outside="fix",
        inside_text="The four pads and the donor's kerb mass agree.",
        outside_text="The four pads and the donor's kerb mass do not agree: one of them is of another state of the car, or mistyped.",
        remedy="Weigh again with the same fuel, nobody aboard, on level ground, and enter both from that weighing.",
        sources=("corner-weights-agree",),
        applies=asks_for(PADS),
        skip_reason=NO_PADS,
        watch=NO_BAND,
    ),
    compare(
        "weight.sides",
        subject=PADS,
        value="weight.heavier_side",
        limit=SIDE_SHARE,
        sense="at_most",
        outside="watch",
        inside_text="The car stands about even on its two sides.",
        outside_text="One side of the car carries clearly more than the other: it leans, and brakes and steers to one side.",
        remedy="Put a box or the charger on the other side, or set the springs by the corner weights.",
        sources=("side-share-typical",),
        applies=asks_for(PADS),
        skip_reason=NO_PADS,
        watch=NO_BAND,
    ),
    _ride_height("front"),
    _ride_height("rear"),
    compare(
        "weight.rollover",
        subject="car.track",
        value="weight.rollover",
        limit="car.grip",
        sense="at_least",
        outside="fix",
        inside_text="Pulled sideways on a level road the car slides before it rolls over.",
        outside_text="Pulled sideways on a level road the car rolls over before it slides: its weight is too high for its track.",
        remedy="Put cells lower, take load off the roof, or a wider track; and tell the driver.",
        sources=("gillespie-1992-ch9-rollover",),
    ),
    compare_each(
        "weight.box_restraint",
        _boxes,
        subject=BOXES,
        value="weight.box.{slug}.load",
        limit="weight.box.{slug}.strength",
        sense="at_most",
        outside="stop",
        inside_text="Its bolts hold it in the crash the restraint is made for; sheet metal, welds and spreader plates were not judged.",
        outside_text="Its bolts shear in the crash the restraint is made for: the box comes loose.",
        remedy="More or thicker bolts of class 8.8 or better, through spreader plates, into the body's own members; have the restraint looked at by who signs the car.",
        sources=("battery-restraint-20-g", "en-1993-1-8-table-3-4"),
        skip_reason="the file names no pack boxes",
    ),
    compare_each(
        "weight.box_bolts",
        _boxes,
        subject=BOXES,
        value=":bolts",
        limit=LEAST_BOLTS,
        sense="at_least",
        outside="fix",
        inside_text="It has enough bolts not to turn about one of them.",
        outside_text="It hangs on so few bolts that it can turn and tip about them.",
        remedy="Hold it at its corners, at least, through spreader plates.",
        sources=("battery-bolts-practice",),
        skip_reason="the file names no pack boxes",
        watch=NO_BAND,
    ),
)
