"""A fast charge on the hot day: cells, coolant, and what the warmth of the cells holds it to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from swapwright.assess.context import Context, Rule, Subject
from swapwright.assess.cooling_loop import PACK, Loop
from swapwright.assess.rules.alternating import at_station
from swapwright.assess.rules.compare import compare, compare_each
from swapwright.assess.rules.cooling import LIMITS, each_loop, with_any
from swapwright.assess.stages.cooling_fast import ALLOWED, FORCED, HELD, HOTTEST, UNHELD
from swapwright.base.errors import Missing
from swapwright.base.finding import Finding
from swapwright.standards.margins import NO_BAND, TEMPERATURE_BAND

RUN = ("swapwright-charge-run", "part-data-sheet")
NO_STATION = "no fast-charging station is described"
COOL_MORE = "Let pump and fan run while the car charges, a larger radiator or a plate that lies closer on the cells; or begin with a pack that has cooled, or ask the station for less."


def _plated(context: Context, loop: Loop) -> bool:
    return at_station(context.car) and with_any(PACK)(context, loop)


MONITOR = "charging.limited_by_pack"
IS_FORCED = "the station forces more into the cells than they take, and nothing here tells how hot they get of it"


def _if_held(rule: Rule) -> Rule:
    """Return a rule that is open where a station forces the cells: the charge run held itself back.

    What even that charge passed stays found.
    """

    def kept(context: Context, found: Iterable[Finding]) -> Iterator[Finding]:
        for each in found:
            is_kind = each.verdict in ("met", "watch") and context.has(FORCED, ALLOWED)
            if is_kind and context.number(FORCED) > context.number(ALLOWED):
                if MONITOR not in context.car.flags:
                    raise Missing(MONITOR)
                raise Missing(reason=IS_FORCED)
            yield each

    def judge(context: Context) -> Iterator[Finding]:
        return kept(context, rule.judge(context))

    one_by_one = rule.judge_one
    if one_by_one is None:
        return replace(rule, judge=judge)

    def judge_one(context: Context, each: Subject) -> Iterator[Finding]:
        return kept(context, one_by_one(context, each))

    return replace(rule, judge_one=judge_one)


JUDGED: tuple[Rule, ...] = (
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
        outside_text="On a hot day the coolant passes its limit before a fast charge ends. What the loop sheds for good is less than the station gives, and nothing here is known to hold the charge to it.",
        remedy=COOL_MORE,
        sources=LIMITS,
        skip_reason="no fast-charging station is described, or no coolant loop runs through the pack",
        watch=TEMPERATURE_BAND,
        rests_on=("cooling.{slug}.fast_power",),
    ),
)

RULES = tuple(map(_if_held, JUDGED))
