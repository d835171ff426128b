"""Equipment of people at high voltage: its kinds, and when each is tested, by rule set."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

GLOVE_LAW = "osha-1910.137-test-intervals"
FROM_TEST = "gloves-from-test-practice"
YEARLY = "equipment-yearly-practice"


@dataclass(frozen=True)
class Interval:
    """When a kind of equipment is tested, in calendar months.

    ``every`` counts in service; ``on_shelf`` is how old a test may be when the item is first
    issued, None where that is not asked. ``from_issue`` tells whether the first period runs from
    the day of issue; else each runs from the test.
    """

    test: str
    every: int
    source: str
    on_shelf: int | None = None
    from_issue: bool = False


GLOVES_BY_LAW = Interval("electrical", 6, GLOVE_LAW, on_shelf=12, from_issue=True)
"""Before first issue and every 6 months after; unissued stock by a test of the last 12 months."""

GLOVES_FROM_TEST = Interval("electrical", 6, FROM_TEST, on_shelf=12)
"""The same, counted from the test itself: what the trade asks, and never later than the law."""

TEST_RULES: Mapping[str, Interval] = MappingProxyType(
    {
        "gloves": GLOVES_FROM_TEST,
        "meter": Interval("calibration", 12, YEARLY),
        "leads": Interval("inspection", 12, YEARLY),
        "proving unit": Interval("calibration", 12, YEARLY),
        "insulation tester": Interval("calibration", 12, YEARLY),
        "insulated tools": Interval("inspection", 12, YEARLY),
        "rescue hook": Interval("inspection", 12, YEARLY),
        "extinguisher": Interval("inspection", 12, YEARLY),
    }
)
"""Kind of equipment -> its rule, the stricter one; a kind that is not here has no test."""

EQUIPMENT = (
    *TEST_RULES,
    "leather protectors",
    "barrier",
    "lock",
    "face shield",
)
"""Every kind there is."""

GLOVE_CHECKS = (
    "rings, watch and chains are off",
    "rolled up, each holds air, and none was blown in by mouth",
    "no oil, dirt or damp, inside or out",
    "no cut, crack, swelling, sticky or stiff place",
    "leather protectors fit over them, whole and clean",
    "they lay flat, away from light, heat and ozone",
)
"""What is looked at on the day of use; one 'no' takes a pair out of use."""

SOON = 30
"""Days before it falls due from which a test is told as near."""
