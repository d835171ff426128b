"""Every rule there is, in the order of the stages of the job."""

from __future__ import annotations

from swapwright.assess.context import Rule
from swapwright.assess.rules import current, drive, goal, voltage, weight

RULES: tuple[Rule, ...] = (
    *goal.RULES,
    *voltage.RULES,
    *current.RULES,
    *drive.RULES,
    *weight.RULES,
)
