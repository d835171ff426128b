"""Currents: what motor, inverter and charger ask of the cells, peak, for good and in the cold."""

from __future__ import annotations

from collections.abc import Iterable

from swapwright.assess.context import Context, Rule, judged
from swapwright.assess.rules.compare import asks_for, compare, has_unit
from swapwright.base.finding import Finding
from swapwright.standards.margins import NO_BAND

SHEET = ("part-data-sheet",)
NO_SECOND = "the car has no second motor"


COLD_CHARGE = "current.cold_charge"
MONITOR = "charging.limited_by_pack"
FROZEN = "Parked through a cold day the cells are too cold to be charged, and nothing warms them: charged all the same, lithium plates out inside them."
NOT_HELD = "Parked through a cold day the cells are too cold to be charged until their heater has warmed them, and nothing is said to hold the charger off that long: a heater that is slow, off or broken leaves lithium plating out inside them."
NO_CHARGE = "Parked through a cold day the cells are too cold to be charged, and nothing warms them: the pack monitor lets the charger give nothing, and the car does not charge that morning."
PLUG_IN_WARM = "Plug in while the cells are warm from driving, or fit pack heating; tell the owner."
HELD = "Met by declaration: the pack is warmed, and the pack monitor lets the charger give nothing before the cells may be charged. Prove both in commissioning, with the heater unplugged too."


def _cold_charge(context: Context) -> Iterable[Finding]:
    """Judge whether the pack can be charged on a cold day, and what holds the charger off it.

    A heater warms, it holds nothing off: only the pack monitor does.
    """
    is_heated = context.car.text("pack.heating") != "none"
    coldest = context.value("conditions.cold_day")
    limit = context.value("pack.cell.min_charge_temperature")
    if is_heated and coldest.si < limit.si and context.car.flags.get(MONITOR, False):
        yield Finding(
            rule=COLD_CHARGE,
            subject="pack.heating",
            verdict="met",
            text=HELD,
            value=coldest,
            sources=SHEET,
            figures=("conditions.cold_day",),
        )
        return
    is_held = context.car.flags.get(MONITOR, False)
    too_cold = NOT_HELD if is_heated else NO_CHARGE if is_held else FROZEN
    yield judged(
        COLD_CHARGE,
        "pack.heating",
        coldest,
        limit,
        sense="at_least",
        outside="watch",
        text="The cells may be charged on a cold day." if coldest.si >= limit.si else too_cold,
        remedy=PLUG_IN_WARM
        if is_held
        else "Have the pack monitor refuse the charger below the cell's lowest charging temperature and say so with charging.limited_by_pack; besides, charge straight after driving, or fit pack heating.",
        sources=SHEET,
        figures=("conditions.cold_day",),
        watch=NO_BAND.si,
    )


def _phase_rules(prefix: str, unit: str, suffix: str, which: str) -> tuple[Rule, ...]:
    """Return the rules of an inverter's phase current against what its motor asks for."""
    inverter, applies = f"{prefix}.inverter", has_unit(prefix)
    return (
        compare(
            f"current.inverter_phase{suffix}",
            subject=inverter,
            value=f"{unit}.motor_phase_current",
            limit=f"{inverter}.phase_current_limit",
            sense="at_most",
            outside="watch",
            inside_text=f"The {which}inverter's phase current reaches its motor's peak torque.",
            outside_text=f"The {which}inverter's phase current does not reach its motor's peak torque.",
            remedy="Nothing to mend if the launch is enough; else an inverter with more phase current.",
            sources=SHEET,
            applies=applies,
            skip_reason=NO_SECOND,
            watch=NO_BAND,
        ),
        compare(
            f"current.inverter_continuous{suffix}",
            subject=inverter,
            value=f"{unit}.continuous_phase_current",
            limit=f"{inverter}.phase_current_continuous",
            sense="at_most",
            outside="watch",
            inside_text=f"The {which}inverter carries its motor's continuous current for good.",
            outside_text=f"The {which}motor's continuous rating asks for more phase current than its inverter carries for good: on a long climb the inverter cuts back first.",
            remedy="Nothing to mend if the climb holds; else better inverter cooling, a shorter ratio, or a larger inverter.",
            sources=SHEET,
            applies=applies,
            skip_reason=NO_SECOND,
            watch=NO_BAND,
        ),
    )


RULES = (
    compare(
        "current.cell_peak",
        subject="pack.cell",
        value="current.peak_demand",
        limit="pack.discharge_peak",
        sense="at_most",
        outside="stop",
        inside_text="Full power stays within the cells' 10 s current, nearly empty too.",
        outside_text="Full power draws more than the cells' 10 s current, and nothing in the car stops it.",
        remedy="Set a battery current limit in the inverter at or below the cells' 10 s current, or fit more cells in parallel.",
        sources=SHEET,
    ),
    compare(
        "current.cell_peak_cold",
        subject="drive.limited_by_pack",
        value="cold.current",
        limit="cold.current_allowed",
        sense="at_most",
        outside="stop",
        inside_text="Full power stays within what the cells allow for 10 s nearly empty on a cold day.",
        outside_text="Nearly empty on a cold day full power draws more than the cold cells allow for 10 s, and nothing in the car stops it.",
        declared="drive.limited_by_pack",
        declared_text="Met by declaration: the pack monitor sends the inverter its discharge limit, and that message alone protects cold cells. Prove in commissioning that the inverter obeys it, and what it does when the message stops.",
        remedy="Have the pack monitor send its discharge limit to the inverter and say so with drive.limited_by_pack; else set the battery current limit to what cold cells allow, heat the pack before driving, or fit more cells in parallel.",
        sources=SHEET,
        watch=NO_BAND,
    ),
    compare(
        "current.cell_continuous",
        subject="pack.cell",
        value="current.continuous_demand",
        limit="pack.discharge_continuous",
        sense="at_most",
        outside="fix",
        inside_text="The motor's continuous power stays within the cells' continuous current.",
        outside_text="The motor's continuous power draws more than the cells' continuous current.",
        remedy="Fit more cells in parallel or cells of higher continuous rating, or lower the continuous power.",
        sources=SHEET,
    ),
    compare(
        "current.inverter_dc",
        subject="drive.inverter",
        value="current.peak_unlimited",
        limit="current.dc_limit",
        sense="at_most",
        outside="watch",
        inside_text="The inverter's dc current limit lets the motor reach its peak power.",
        outside_text="The inverter's dc current limit keeps the motor below its peak power.",
        remedy="Nothing to mend if the performance is enough; else an inverter with more dc current or a higher pack voltage.",
        sources=SHEET,
        watch=NO_BAND,
    ),
    *_phase_rules("drive", "unit", "", ""),
    *_phase_rules("drive.second", "unit2", "_second", "second "),
    compare(
        "current.charge_continuous",
        subject="charging.charger",
        value="charging.current",
        limit="pack.charge_continuous",
        sense="at_most",
        outside="stop",
        inside_text="The charger's current stays within the cells' continuous charging current.",
        outside_text="The charger forces more current into the cells than they take for good.",
        remedy="Set a lower current in the charger, fit a smaller one, or more cells in parallel.",
        sources=SHEET,
        applies=asks_for("charging.charger"),
        skip_reason="no charger is named",
        confirmed=("charging.charger.power",),
    ),
    compare(
        "current.cold_discharge",
        subject="pack.cell",
        value="conditions.cold_day",
        limit="pack.cell.min_discharge_temperature",
        sense="at_least",
        outside="fix",
        inside_text="The cells may be driven on a cold day without warming.",
        outside_text="Parked through a cold day the cells are too cold to be driven.",
        remedy="Fit pack heating that runs before the contactors close, or keep the car under a roof.",
        sources=SHEET,
        watch=NO_BAND,
    ),
    Rule(
        id=COLD_CHARGE,
        subject="pack.heating",
        worst="watch",
        judge=_cold_charge,
        sources=SHEET,
    ),
    compare(
        "current.cold_power",
        subject="pack",
        value="cold.lasting_wheel_power",
        limit="cold.road_power",
        sense="at_least",
        outside="fix",
        inside_text="Nearly empty on a cold day, with the heater on, the cells give the power to hold 50 mph for good.",
        outside_text="Nearly empty on a cold day, with the heater on, the power to hold 50 mph does not last: the car slows with traffic behind it.",
        remedy="Heat the pack before driving, fit cells with less cold resistance or more of them in parallel, or turn back with more charge left.",
        sources=("trade-rule-50-mph",),
    ),
)
