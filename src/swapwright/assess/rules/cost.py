"""Goals of money and time: the budget, the wait for parts, and whether driving gets cheaper."""

from __future__ import annotations

from swapwright.assess.context import Rule
from swapwright.assess.rules.compare import asks_for, compare
from swapwright.standards.margins import NO_BAND

OWNER = ("owner-goal",)

RULES: tuple[Rule, ...] = (
    compare(
        "goals.budget",
        subject="goals.budget",
        value="cost.total",
        limit="goals.budget",
        sense="at_most",
        outside="fix",
        inside_text="Parts, work and what is set aside stay within the budget.",
        outside_text="Parts, work and what is set aside cost more than the budget.",
        remedy="Show the owner the list, dearest first; a smaller pack saves most, then work done by the owner.",
        sources=OWNER,
        applies=asks_for("goals.budget"),
        skip_reason="no budget is among the goals",
    ),
    compare(
        "goals.ready_in",
        subject="goals.ready_in",
        value="cost.longest_wait",
        limit="goals.ready_in",
        sense="at_most",
        outside="fix",
        inside_text="The part that takes longest comes in time.",
        outside_text="The part that takes longest comes too late.",
        remedy="Order it first, ask another supplier, or design round it with a part that is there.",
        sources=OWNER,
        applies=asks_for("goals.ready_in"),
        skip_reason="no time is among the goals",
        watch=NO_BAND,
    ),
    compare(
        "cost.driving",
        subject="charging.tariff",
        value="cost.driving",
        limit="cost.driving_before",
        sense="at_most",
        outside="watch",
        inside_text="Driving costs less than it did on fuel.",
        outside_text="Driving costs more than it did on fuel, at these prices.",
        remedy="Charge where and when energy is cheap; tell the owner before they reckon with a saving.",
        sources=("arithmetic-of-prices",),
        applies=asks_for("cost.fuel_price"),
        skip_reason="no price of fuel is given",
        watch=NO_BAND,
    ),
)
