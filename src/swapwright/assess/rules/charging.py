"""Charging: the charger's window, what the supply gives it, how long and how full it charges."""

from __future__ import annotations

from swapwright.assess.rules.alternating import INLET, SUPPLY, charges_ac, may_be_coded
from swapwright.assess.rules.compare import asks_for, compare
from swapwright.standards.margins import NO_BAND
from swapwright.standards.supply import NIGHT, WINDOW_FILLED

SHEET = ("part-data-sheet",)
CIRCUIT = ("nec-2023-continuous-load", "iec-60364-7-722-circuit")
NO_CHARGER = "no charger is named"
NO_AC = "no charger, no supply and no inlet for alternating current is described"
FOLLOWS = "charging.follows_pilot"
BY_PILOT = "Met by declaration: the charger draws no more than pilot and cable allow. Prove in commissioning that it obeys them."
DRAW_LESS = "Set a lower input current in the charger, have it follow the pilot and say so with charging.follows_pilot, or"


WINDOW = (
    compare(
        "charging.window_high",
        subject="charging.charger",
        value="charging.charger.max_voltage",
        limit="charging.end_voltage",
        sense="at_least",
        outside="stop",
        inside_text="The charger reaches the voltage a charge ends at.",
        outside_text="The charge ends above the charger's highest output: it cannot fill the pack, and a full pack stands on an output that is not made for it.",
        remedy="Fit a charger whose output reaches the whole pack's charge end voltage, or fewer cells in series.",
        sources=SHEET,
        applies=asks_for("charging.charger"),
        skip_reason=NO_CHARGER,
        watch=NO_BAND,
    ),
    compare(
        "charging.window_low",
        subject="charging.charger",
        value="charging.charger.min_voltage",
        limit="pack.voltage_empty",
        sense="at_most",
        outside="fix",
        inside_text="The charger starts on an empty pack.",
        outside_text="An empty pack stands below the charger's lowest output: it will not start, and a car driven to empty cannot be charged.",
        remedy="Fit a charger with a lower window, more cells in series, or keep the low end of the usable window above it.",
        sources=SHEET,
        applies=asks_for("charging.charger"),
        skip_reason=NO_CHARGER,
        watch=NO_BAND,
    ),
)

SUPPLIED = (
    compare(
        "charging.supply_circuit",
        subject="charging.supply.breaker",
        value=SUPPLY,
        limit="charging.circuit_current",
        sense="at_most",
        outside="stop",
        inside_text="The supply offers no more than its own circuit carries for hours.",
        outside_text="The supply offers more than its circuit carries for hours: breaker and wiring run hot all night, and the breaker is all that stands before a fire.",
        remedy="Set the supply to the current its circuit carries for hours, or have a circuit laid that is made for it.",
        sources=CIRCUIT,
        applies=charges_ac,
        skip_reason=NO_AC,
        watch=NO_BAND,
    ),
    compare(
        "charging.supply_current",
        subject="charging.charger",
        value="charging.supply_draw",
        limit="charging.supply_limit",
        sense="at_most",
        outside="fix",
        inside_text="The charger draws no more than supply, pilot, cable and inlet allow.",
        outside_text="The charger draws more than the supply side allows: it trips, or what is weakest on the way runs hot.",
        declared=FOLLOWS,
        declared_text=BY_PILOT,
        remedy=f"{DRAW_LESS} use a stronger supply.",
        sources=("iec-61851-1-control-pilot",),
        needs=(SUPPLY, INLET),
        applies=charges_ac,
        skip_reason=NO_AC,
        watch=NO_BAND,
    ),
    compare(
        "charging.cable_current",
        subject="charging.proximity",
        value="charging.supply_draw",
        limit="charging.cable_current",
        sense="at_most",
        outside="stop",
        inside_text="The charger draws no more than the cable bears by its coding.",
        outside_text="The charger draws more than the cable bears by its coding: the cable runs hot for hours, coiled up it burns.",
        declared=FOLLOWS,
        declared_text=BY_PILOT,
        remedy=f"{DRAW_LESS} carry a cable that is coded for it.",
        sources=("iec-61851-1-proximity",),
        needs=(SUPPLY, INLET),
        applies=may_be_coded,
        skip_reason="nothing is charged with alternating current, or the inlet has no loose cable with a coding",
        watch=NO_BAND,
    ),
    compare(
        "charging.phases",
        subject="charging.charger",
        value="charging.phases_used",
        limit="charging.supply.phases",
        sense="at_least",
        outside="watch",
        inside_text="The charger draws from every phase the supply has.",
        outside_text="The supply has more phases than the charger draws from: what the others could give is left.",
        remedy="Nothing to mend if the time will do; else a charger of as many phases, or one for each.",
        sources=SHEET,
        needs=(SUPPLY, INLET),
        applies=asks_for("charging.charger"),
        skip_reason=NO_CHARGER,
        watch=NO_BAND,
    ),
    compare(
        "charging.phases_missing",
        subject="charging.supply.phases",
        value="charging.phases_used",
        limit="charging.charger.phases",
        sense="at_least",
        outside="watch",
        inside_text="The supply has every phase the charger draws from.",
        outside_text="The supply has fewer phases than the charger draws from: it gives no more than their share of its power, if it starts at all.",
        remedy="Nothing to mend if the time will do and the charger starts on fewer phases; else a supply with all of them.",
        sources=SHEET,
        needs=(SUPPLY, INLET),
        applies=asks_for("charging.charger"),
        skip_reason=NO_CHARGER,
        watch=NO_BAND,
    ),
)

CHARGES = (
    compare(
        "charging.time",
        subject="goals.charge_time",
        value="charging.time",
        limit="goals.charge_time",
        sense="at_most",
        outside="fix",
        inside_text="A charge on the supply described takes no longer than wanted.",
        outside_text="A charge on the supply described takes longer than wanted.",
        remedy="Use a stronger supply, a charger of more power, or begin with more in the pack; look which of them binds.",
        sources=("swapwright-charge-run",),
        needs=(SUPPLY, INLET),
        applies=asks_for("goals.charge_time"),
        skip_reason="no time for a charge is wanted",
    ),
    compare(
        "charging.fills_window",
        subject="charging.voltage",
        value="charging.window_filled",
        limit=WINDOW_FILLED,
        sense="at_least",
        outside="fix",
        inside_text="A charge fills the usable window the range is counted from.",
        outside_text="A charge dies away below the top of the usable window: the range counted from there is never in the pack.",
        remedy="Set the charge voltage higher, to the cells' limit at most, or lower the top of the usable window to where a charge ends.",
        sources=(WINDOW_FILLED.ref,),
        watch=NO_BAND,
    ),
    compare(
        "charging.cold_current",
        subject="charging.limited_by_pack",
        value="charging.cold_current",
        limit="charging.cold_current_allowed",
        sense="at_most",
        outside="stop",
        inside_text="The charger's current stays within what the cells take on a cold day.",
        outside_text="On a cold day the charger forces more current into the cells than they take, and nothing in the car stops it: lithium plates out inside them, for good and unseen. A heater alone holds no charger back until they are warm.",
        declared="charging.limited_by_pack",
        declared_text="Met by declaration: the pack monitor tells the charger what cold cells take, which may be nothing. Prove in commissioning that the charger obeys it, and what it does when the message stops.",
        remedy="Have the pack monitor tell the charger what the cells take, or open its contactors, and say so with charging.limited_by_pack; a pack that is heated needs it too.",
        sources=SHEET,
        applies=asks_for("charging.charger"),
        skip_reason=NO_CHARGER,
        watch=NO_BAND,
    ),
    compare(
        "charging.balance_time",
        subject="pack.balancer_current",
        value="charging.balance_time",
        limit=NIGHT,
        sense="at_most",
        outside="watch",
        inside_text="The balancer takes a usual imbalance away in a night on the plug.",
        outside_text="The balancer takes more than a night on the plug to take a usual imbalance away: left to itself the string drifts apart, and the fullest cell ends every charge sooner.",
        remedy="Fit cells of equal charge, leave the car on its plug for a day now and then, or fit a balancer of more current.",
        sources=("cell-imbalance-typical", "charging-night-typical"),
        watch=NO_BAND,
    ),
)

RULES = (*WINDOW, *SUPPLIED, *CHARGES)
