"""Weight, space and the usable window: axles, plate, tyres, and what the pack may be."""

from __future__ import annotations

from swapwright.assess.context import Rule
from swapwright.assess.rules.compare import asks_for, compare
from swapwright.assess.rules.riding import RIDING
from swapwright.build.car import Car
from swapwright.standards.margins import NO_BAND, PACKING_BAND, WEIGHT_BAND

PLATE = ("vehicle-plate",)
NO_ROWS = "the file has no mass rows"


def has_mass_rows(car: Car) -> bool:
    """Tell whether a file keeps a ledger of what comes out and goes in."""
    return car.counts.get("mass", 0) > 0


_SIGNS = (
    ("", "mass", "mass.net_removed", "car.kerb_mass", "the car"),
    ("_front", "mass", "weight.front_net_removed", "car.axle_mass.front", "the front axle"),
    ("_rear", "mass", "weight.rear_net_removed", "car.axle_mass.rear", "the rear axle"),
)


def _ledger_sign(suffix: str, subject: str, value: str, limit: str, what: str) -> Rule:
    """Return the rule that the ledger cannot take off more than is there."""
    return compare(
        f"weight.ledger_sign{suffix}",
        subject=subject,
        value=value,
        limit=limit,
        sense="at_most",
        outside="fix",
        inside_text=f"The mass rows leave {what} a weight.",
        outside_text=f"The mass rows take more off {what} than it weighs: nothing that rests on its weight is worked out.",
        remedy="Go through the [[mass]] rows: a mass or a place is mistyped, or something is removed that was never in the donor.",
        sources=("vehicle-plate",),
        applies=has_mass_rows,
        skip_reason=NO_ROWS,
        watch=NO_BAND,
    )


RULES = (
    compare(
        "weight.gross",
        subject="car.limits.gross",
        value="mass.loaded",
        limit="car.limits.gross",
        sense="at_most",
        outside="stop",
        inside_text="Loaded, the car stays within the gross mass on its plate.",
        outside_text="Loaded, the car is heavier than the gross mass on its plate.",
        remedy="Fewer cells, lighter parts, fewer seats or less luggage; a new plate only by the authority.",
        sources=PLATE,
        watch=WEIGHT_BAND,
    ),
    compare(
        "weight.front_axle",
        subject="car.limits.front_axle",
        value="weight.front_loaded",
        limit="car.limits.front_axle",
        sense="at_most",
        outside="stop",
        inside_text="Loaded, the front axle stays within its limit.",
        outside_text="Loaded, the front axle is over its limit.",
        remedy="Move mass to the rear or take cells out of the front.",
        sources=PLATE,
        watch=WEIGHT_BAND,
    ),
    compare(
        "weight.rear_axle",
        subject="car.limits.rear_axle",
        value="weight.rear_loaded",
        limit="car.limits.rear_axle",
        sense="at_most",
        outside="stop",
        inside_text="Loaded, the rear axle stays within its limit.",
        outside_text="Loaded, the rear axle is over its limit.",
        remedy="Move cells forward or take some out of the rear.",
        sources=PLATE,
        watch=WEIGHT_BAND,
    ),
    compare(
        "weight.front_tyres",
        subject="car.tyres",
        value="weight.front_tyre_load",
        limit="tyre.load_allowed",
        sense="at_most",
        outside="fix",
        inside_text="The front tyres carry their load.",
        outside_text="The front tyres are loaded beyond their load index.",
        remedy="Fit tyres of a higher load index, or move mass.",
        sources=("etrto-load-index",),
        watch=WEIGHT_BAND,
    ),
    compare(
        "weight.rear_tyres",
        subject="car.tyres",
        value="weight.rear_tyre_load",
        limit="tyre.load_allowed",
        sense="at_most",
        outside="fix",
        inside_text="The rear tyres carry their load.",
        outside_text="The rear tyres are loaded beyond their load index.",
        remedy="Fit tyres of a higher load index, or move mass.",
        sources=("etrto-load-index",),
        watch=WEIGHT_BAND,
    ),
    compare(
        "weight.ledger",
        subject="mass",
        value="mass.added",
        limit="mass.parts",
        sense="at_least",
        outside="fix",
        inside_text="The ledger puts in at least what the parts weigh by their sheets.",
        outside_text="The ledger puts in less than the parts weigh by their sheets: a row is missing or mistyped.",
        remedy="Go through the [[mass]] rows: pack boxes, motor, inverter, charger, brackets and cables all weigh something.",
        sources=("part-data-sheet",),
        watch=NO_BAND,
    ),
    compare(
        "weight.load_case",
        subject="goals.occupants",
        value="mass.test",
        limit="mass.loaded",
        sense="at_least",
        outside="watch",
        inside_text="Range and acceleration are worked out with the load of the load rows aboard.",
        outside_text="Range and acceleration are worked out with less aboard than the load rows say.",
        remedy="Let goals.occupants and goals.luggage say what the load rows carry, or take the figures as those of a lighter car.",
        sources=("owner-goal",),
        applies=has_mass_rows,
        skip_reason=NO_ROWS,
        watch=NO_BAND,
    ),
    *(_ledger_sign(*row) for row in _SIGNS),
    *RIDING,
    compare(
        "pack.window",
        subject="pack.usable.to",
        value="pack.usable.to",
        limit="pack.reachable_soc",
        sense="at_most",
        outside="fix",
        inside_text="The whole usable window lies within the inverter's voltage.",
        outside_text="The top of the usable window lies above the inverter's highest voltage: the range stated on it cannot be reached.",
        remedy="Lower pack.usable.to to what the inverter allows, or change the series count.",
        sources=("part-data-sheet",),
        watch=NO_BAND,
    ),
    compare(
        "pack.mass",
        subject="pack.mass_allowed",
        value="pack.mass",
        limit="pack.mass_allowed",
        sense="at_most",
        outside="fix",
        inside_text="The pack's cells weigh no more than there is mass for.",
        outside_text="The pack's cells weigh more than there is mass for.",
        remedy="Fewer cells, or cells with more energy per kilogram.",
        sources=("owner-goal",),
        applies=asks_for("pack.mass_allowed"),
        skip_reason="no mass for the pack is given",
    ),
    compare(
        "pack.volume",
        subject="pack.volume_allowed",
        value="pack.volume",
        limit="pack.volume_allowed",
        sense="at_most",
        outside="fix",
        inside_text="The cells fit the space given, before boxes and cooling.",
        outside_text="The cells alone need more space than is given.",
        remedy="Fewer cells, flatter cells, or another place in the car.",
        sources=("owner-goal",),
        applies=asks_for("pack.volume_allowed"),
        skip_reason="no space for the pack is given",
        watch=PACKING_BAND,
    ),
)
