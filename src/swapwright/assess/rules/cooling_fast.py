"""A fast charge on the hot day: cells, coolant, and what the warmth of the cells holds it to."""

from __future__ import annotations

from swapwright.assess.context import Context, Rule
from swapwright.assess.cooling_loop import PACK, Loop
from swapwright.assess.rules.alternating import at_station
from swapwright.assess.rules.compare import compare, compare_each
from swapwright.assess.rules.cooling import LIMITS, each_loop, with_any
from swapwright.assess.stages.cooling_fast import HELD, HOTTEST, UNHELD
from swapwright.standards.margins import NO_BAND, TEMPERATURE_BAND

RUN = ("swapwright-charge-run", "part-data-sheet")
NO_STATION = "no fast-charging station is described"
COOL_MORE = "Let pump and fan run while the car charges, a larger radiator or a plate that lies closer on the cells; or begin with a pack that has cooled, or ask the station for less."


def _plated(context: Context, loop: Loop) -> bool:
    return at_station(context.car) and with_any(PACK)(context, loop)


RULES: tuple[Rule, ...] = (
    compare(
        "cooling.fast_charge",
        subject="charging.station",
        value=HELD,
        limit=UNHELD,
        sense="at_least",
        outside="watch",
        inside_text="On a hot day nothing but station, inlet and the cells' own rating holds a fast charge back: the cells stay cool enough to take it all.",
        outside_text="On a hot day the cells' warmth holds a fast charge back to the current told here, below what station and rating would give: it takes longer.",
        remedy=COOL_MORE,
        sources=RUN,
        applies=at_station,
        skip_reason=NO_STATION,
        watch=NO_BAND,
    ),
    compare(
        "cooling.fast_charge_cells",
        subject="pack.cell",
        value=HOTTEST,
        limit="pack.cell.max_temperature",
        sense="at_most",
        outside="fix",
        inside_text="On a hot day the cells stay below their limit in a fast charge.",
        outside_text="On a hot day the cells pass their limit in a fast charge.",
        remedy=COOL_MORE,
        sources=RUN,
        applies=at_station,
        skip_reason=NO_STATION,
        watch=TEMPERATURE_BAND,
    ),
    compare_each(
        "cooling.coolant_hot_fast",
        each_loop(_plated),
        subject="cooling.loop",
        value="cooling.{slug}.fast_end",
        limit=":max_temperature",
        sense="at_most",
        outside="fix",
        inside_text="On a hot day the coolant stays within its limit to the end of a fast charge.",
        outside_text="On a hot day the coolant passes its limit before a fast charge ends. What the loop sheds for good, its fast-charging power, is what the charge is then held to.",
        remedy=COOL_MORE,
        sources=LIMITS,
        skip_reason="no fast-charging station is described, or no coolant loop runs through the pack",
        watch=TEMPERATURE_BAND,
        rests_on=("cooling.{slug}.fast_power",),
    ),
)
