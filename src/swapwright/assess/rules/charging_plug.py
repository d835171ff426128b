"""The plug: inlet, protective earth, residual current, and what fast charging asks for besides."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from swapwright.assess.context import Context, Rule
from swapwright.assess.rules.alternating import (
    INLET,
    SUPPLY,
    at_station,
    has_plug,
    is_fast,
    takes_ac,
)
from swapwright.assess.rules.compare import asks_for, compare
from swapwright.assess.rules.word import flag, said_rule
from swapwright.base.finding import Finding
from swapwright.build.car import Car
from swapwright.standards import residual_current
from swapwright.standards.inlets import INLETS, SPOKEN
from swapwright.standards.margins import NO_BAND, VOLTAGE_BAND
from swapwright.standards.supply import MAX_EARTH_BOND

AC = ("iec-62196-2-inlets",)
DC = ("iec-62196-3-inlets",)
NO_PLUG = "neither an inlet, a charger, a supply nor a station is described"
NOT_FAST = "the inlet brings no direct current"
NO_STATION = "no fast-charging station is described"
NO_INLET_AC = "the inlet has no contacts for alternating current, or nothing is charged at all"


INLETS_AC = (
    compare(
        "charging.inlet_voltage",
        subject=INLET,
        value="charging.supply.voltage",
        limit="charging.inlet_ac_voltage",
        sense="at_most",
        outside="stop",
        inside_text="The supply's voltage is one the inlet is made for.",
        outside_text="The supply's voltage is above what the inlet is made for.",
        remedy="Fit an inlet that is made for this supply, or write the voltage across one phase.",
        sources=AC,
        needs=(SUPPLY, INLET),
        applies=takes_ac,
        skip_reason=NO_INLET_AC,
        watch=NO_BAND,
    ),
    compare(
        "charging.inlet_phases",
        subject=INLET,
        value="charging.supply.phases",
        limit="charging.inlet_phases",
        sense="at_most",
        outside="fix",
        inside_text="The inlet has contacts for every phase of the supply.",
        outside_text="The supply has more phases than the inlet has contacts: its plug does not fit, or the other phases end in the plug.",
        remedy="Describe the supply as it stands at the plug, or fit an inlet with contacts for all phases.",
        sources=AC,
        needs=(SUPPLY, INLET),
        applies=takes_ac,
        skip_reason=NO_INLET_AC,
        watch=NO_BAND,
    ),
    compare(
        "charging.inlet_current",
        subject=INLET,
        value="charging.supply_draw",
        limit="charging.inlet_rating",
        sense="at_most",
        outside="stop",
        inside_text="The charger draws no more than the inlet's contacts bear.",
        outside_text="The charger draws more than the inlet's contacts bear for hours: they burn.",
        declared="charging.follows_pilot",
        declared_text="Met by declaration: the charger draws no more than pilot and cable allow. Prove in commissioning that it obeys them.",
        remedy="Set a lower input current in the charger, or fit an inlet and cable of more current.",
        sources=AC,
        needs=(SUPPLY, INLET),
        applies=takes_ac,
        skip_reason=NO_INLET_AC,
        watch=NO_BAND,
    ),
)

EARTHED = (
    compare(
        "charging.earth_bond",
        subject="charging.earth_bond",
        value="charging.earth_bond",
        limit=MAX_EARTH_BOND,
        sense="at_most",
        outside="stop",
        inside_text="The inlet's earth contact is joined to the body as measured. Measure it again whenever the inlet was off.",
        outside_text="The inlet's earth contact is not joined to the body well enough: with a fault in the charger the whole car stands at mains voltage, and nothing trips.",
        remedy="Bond the earth contact to bare metal of the body with a wire of at least the phases' size, tooth washers and a cover against rust; measure with a fifth of an ampere or more at two points of the body.",
        sources=(MAX_EARTH_BOND.ref,),
        applies=has_plug,
        skip_reason=NO_PLUG,
    ),
)


def _residual(context: Context) -> Iterable[Finding]:
    """Judge the residual-current protection ahead of the car by what smooth dc does to it."""
    said = context.car.text("charging.residual_current")
    is_met = said in (*residual_current.SEES_DC, residual_current.BUILT_IN)
    if is_met:
        text = "The residual-current protection ahead of the car is of a kind that smooth direct current does not blind. Press its test button before the first charge."
    elif said == residual_current.NONE:
        text = "Nothing ahead of the car opens on a residual current: a fault to the body holds until somebody touches it."
    else:
        text = f"A residual-current device of {said} can be blinded by smooth direct current, which a charger may leak: it then opens on no fault at all, for anybody on that circuit."
    yield Finding(
        rule="charging.residual_current",
        subject="charging.residual_current",
        verdict="met" if is_met else "stop",
        text=text,
        remedy="" if is_met else SEE_DC,
        sources=residual_current.SOURCES,
    )


SEE_DC = "Charge from a supply with a device of type B, or with type A and means that open on direct current; have a person who may work on the building's wiring fit it."

RESIDUAL = Rule(
    id="charging.residual_current",
    subject="charging.residual_current",
    worst="stop",
    judge=_residual,
    sources=residual_current.SOURCES,
    applies=has_plug,
    skip_reason=NO_PLUG,
    remedy=SEE_DC,
)


def _language(context: Context) -> Iterable[Finding]:
    """Judge whether the pack controller speaks the language of the inlet's stations."""
    wanted = SPOKEN[INLETS[context.car.text(INLET)].language]
    speaks = context.car.text("charging.speaks") == wanted.name
    told = "; ".join(wanted.says)
    yield Finding(
        rule="charging.language",
        subject="charging.speaks",
        verdict="met" if speaks else "fix",
        text=(
            f"The pack controller is said to speak what this inlet's stations speak ({wanted.standard}). It has to say: {told}. Prove it at a station in commissioning."
            if speaks
            else f"The pack controller does not speak what this inlet's stations speak ({wanted.standard}): no station will close its contactors. It would have to say: {told}."
        ),
        remedy="" if speaks else SPEAK,
        sources=(wanted.source,),
    )


SPEAK = "Fit a charge controller that speaks the inlet's language and hears the pack monitor, or an inlet for alternating current only."

FAST = (
    Rule(
        id="charging.language",
        subject="charging.speaks",
        worst="fix",
        judge=_language,
        sources=tuple(each.source for each in SPOKEN.values()),
        applies=is_fast,
        skip_reason=NOT_FAST,
        remedy=SPEAK,
    ),
    said_rule(
        "charging.monitor_off",
        "charging.monitor_off_while_charging",
        flag("charging.monitor_off_while_charging"),
        outside="fix",
        inside_text="The car's isolation monitor is off while the station measures.",
        outside_text="The car's isolation monitor and the station's measure on one circuit: each reads the other, the station stops the charge, or a fault goes unseen.",
        remedy="Have the pack controller switch the car's monitor off before the station tests, and on again once the inlet's contactors are open.",
        sources=("iec-61851-23-monitor",),
        applies=is_fast,
        skip_reason=NOT_FAST,
    ),
    said_rule(
        "charging.inlet_temperature",
        "charging.inlet_temperature_watched",
        flag("charging.inlet_temperature_watched"),
        outside="stop",
        inside_text="The inlet's contacts are watched for temperature, and the current is cut back.",
        outside_text="Nothing watches the temperature of the inlet's contacts: a worn or dirty one burns at full current.",
        remedy="Fit a sensor at each direct-current contact and have the controller ask for less current as they warm; or use an inlet that has them.",
        sources=("iec-61851-23-inlet-temperature",),
        applies=is_fast,
        skip_reason=NOT_FAST,
    ),
    compare(
        "charging.inlet_dc_voltage",
        subject=INLET,
        value="pack.max_working_voltage",
        limit="charging.inlet_dc_voltage",
        sense="at_most",
        outside="stop",
        inside_text="The inlet's direct-current contacts are made for the pack's highest voltage.",
        outside_text="The pack's highest voltage is above what the inlet's direct-current contacts are made for.",
        remedy="Fit an inlet of a kind that is made for this voltage, or fewer cells in series.",
        sources=DC,
        applies=is_fast,
        skip_reason=NOT_FAST,
        watch=VOLTAGE_BAND,
    ),
    compare(
        "charging.station_voltage",
        subject="charging.station.voltage",
        value="charging.station.voltage",
        limit="charging.end_voltage",
        sense="at_least",
        outside="stop",
        inside_text="The station reaches the voltage a charge ends at.",
        outside_text="The charge ends above the station's highest voltage: a pack that is fuller than that stands on an output that is not made for it, and most stations refuse it from the start.",
        remedy="Use stations that reach the pack's charge end voltage, or fewer cells in series.",
        sources=("part-data-sheet",),
        applies=at_station,
        skip_reason=NO_STATION,
        watch=NO_BAND,
    ),
    compare(
        "charging.station_low",
        subject="charging.station.min_voltage",
        value="charging.station.min_voltage",
        limit="pack.voltage_empty",
        sense="at_most",
        outside="fix",
        inside_text="The station starts on an empty pack.",
        outside_text="An empty pack stands below the station's lowest voltage: it will not start when it is needed most.",
        remedy="Use stations that go lower, or more cells in series.",
        sources=("part-data-sheet",),
        applies=at_station,
        skip_reason=NO_STATION,
        watch=NO_BAND,
    ),
)

ISOLATED = said_rule(
    "charging.isolated",
    "charging.charger.isolated",
    flag("charging.charger.isolated"),
    outside="stop",
    inside_text="The charger parts the pack from the mains.",
    outside_text="The charger does not part the pack from the mains: while it charges, the pack's poles stand at mains voltage to earth, and whoever touches one of them is touching the mains, on a pack of few volts too.",
    remedy="Fit a charger with a transformer between mains and pack; its data sheet says isolated, with a test voltage.",
    sources=("charger-isolation-practice",),
    applies=asks_for("charging.charger"),
    skip_reason="no charger is named",
)

HELD = "Met by declaration: the pack monitor tells the station what the cells take. Prove in commissioning that the station obeys it, and what it does when the message stops."


def _into_cells(
    suffix: str,
    limit: str,
    words: str,
    applies: Callable[[Car], bool] = is_fast,
    skip_reason: str = NOT_FAST,
) -> Rule:
    """Return the rule of what a station forces into the cells on a day, on a hot one in the end."""
    return compare(
        f"charging.fast_current{suffix}",
        subject="charging.limited_by_pack",
        value=f"charging.fast_current{suffix}",
        limit=limit,
        sense="at_most",
        outside="stop",
        inside_text=f"Station, inlet and contactors pass no more current than the cells take for good on a {words} day.",
        outside_text=f"On a {words} day station, inlet and contactors pass more current than the cells take for good, and nothing in the car is said to hold it back: they overheat, or lithium plates out inside them.",
        declared="charging.limited_by_pack",
        declared_text=HELD,
        remedy="Have the pack monitor tell the station what the cells take, warm and cold, or open the charge contactors, and say so with charging.limited_by_pack.",
        sources=("part-data-sheet",),
        applies=applies,
        skip_reason=skip_reason,
        watch=NO_BAND,
    )


def _may_be_hot(car: Car) -> bool:
    """Tell whether a station charges hot cells; one nobody described may where nothing holds it."""
    return at_station(car) or (
        is_fast(car) and not car.flags.get("charging.limited_by_pack", False)
    )


INTO_CELLS = (
    _into_cells("", "charging.fast_current_allowed", "mild"),
    _into_cells("_cold", "charging.cold_current_allowed", "cold"),
    _into_cells("_hot", "charging.fast_current_allowed_hot", "hot", _may_be_hot, NO_STATION),
)

RULES = (*INLETS_AC, *EARTHED, RESIDUAL, ISOLATED, *FAST, *INTO_CELLS)
