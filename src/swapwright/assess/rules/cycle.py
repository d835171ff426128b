"""Driving: whether the car follows the cycles its range is told by, and what heat takes on a climb."""

from __future__ import annotations

from swapwright.assess.context import Rule
from swapwright.assess.rules.compare import asks_for, compare
from swapwright.standards.margins import NO_BAND
from swapwright.standards.ratings import MOST_BEHIND, NO_DERATING

RULES: tuple[Rule, ...] = (
    compare(
        "goals.follows_cycle",
        subject="goals.top_speed",
        value="behind.worst",
        limit=MOST_BEHIND,
        sense="at_most",
        outside="fix",
        inside_text="The car follows the city and the highway cycle.",
        outside_text="The car cannot follow the city or the highway cycle: it falls behind, so no combined, everyday or label range can be given for it.",
        remedy="Use a taller ratio if the motor's speed ends it, more power or current if it is slow; or accept it as a car for slower roads and quote the range at a steady speed.",
        sources=("swapwright-cycle-followed",),
        watch=NO_BAND,
    ),
    compare(
        "thermal.derating",
        subject="goals.climb",
        value="climb.heat_left",
        limit=NO_DERATING,
        sense="at_least",
        outside="watch",
        inside_text="Heat takes nothing from motor and inverter on the climb.",
        outside_text="Motor or inverter gets hot enough on the climb, on a hot day, that its controller takes some of the peak away.",
        remedy="Use a shorter ratio so the motor turns faster at less torque, better cooling, or a motor with more continuous power; tell the owner the car will feel weaker up there.",
        sources=("swapwright-no-derating",),
        applies=asks_for("goals.climb"),
        skip_reason="no climb is asked for",
        watch=NO_BAND,
    ),
)
