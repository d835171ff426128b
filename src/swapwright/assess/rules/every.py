"""Every rule there is, in the order of the stages of the job."""

from __future__ import annotations

from swapwright.assess.context import Rule
from swapwright.assess.rules import charging, current, cycle, drive, goal, regen, voltage, weight

RULES: tuple[Rule, ...] = (
    *goal.RULES,
    *cycle.RULES,
    *voltage.RULES,
    *current.RULES,
    *regen.RULES,
    *charging.RULES,
    *drive.RULES,
    *weight.RULES,
)
