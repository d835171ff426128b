"""Measuring categories of meters and leads: the surge they stand, and what drives it.

Categories are made for the mains; a traction pack is in none of them. The trade asks for the same
strength anyway.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from swapwright.base.figure import Value

SOURCE = "iec-61010-2-033-categories"
_BASELINE = "meter-cat-iii-1000-practice"


@dataclass(frozen=True)
class MeterCategory:
    """A measuring category: impulse voltage by rated voltage, and the resistance behind it."""

    name: str
    impulse: Mapping[int, Value]
    source_resistance: Value
    source: str = SOURCE

    def peak_current(self, rating: int) -> float:
        """Return the peak current a surge of this category drives into a short, A.

        Raises KeyError for a rated voltage that has no column.
        """
        return self.impulse[rating].si / self.source_resistance.si


RATINGS = (150, 300, 600, 1000)
"""Rated voltages of the table, V."""


def _category(name: str, impulses: tuple[float, ...], ohms: float) -> MeterCategory:
    pairs = zip(RATINGS, impulses, strict=True)
    return MeterCategory(
        name,
        MappingProxyType({rated: Value(volts, "V", "standard", SOURCE) for rated, volts in pairs}),
        Value(ohms, "ohm", "standard", SOURCE),
    )


METER_CATEGORIES: Mapping[str, MeterCategory] = MappingProxyType(
    {
        each.name: each
        for each in (
            _category("CAT II", (1500.0, 2500.0, 4000.0, 6000.0), 12.0),
            _category("CAT III", (2500.0, 4000.0, 6000.0, 8000.0), 2.0),
            _category("CAT IV", (4000.0, 6000.0, 8000.0, 12000.0), 2.0),
        )
    }
)

MIN_METER_CATEGORY = "CAT III"
MIN_METER_VOLTAGE = Value(1000.0, "V", "standard", _BASELINE)
"""Of the meter, and of its leads: never below the meter's. Its dc range must cover the car too."""


def meets_baseline(category: str, rating: float) -> bool:
    """Tell whether a meter or a lead is at least what the trade asks for.

    An unknown category never is.
    """
    order = tuple(METER_CATEGORIES)
    if category not in order or order.index(category) < order.index(MIN_METER_CATEGORY):
        return False
    return rating >= MIN_METER_VOLTAGE.si


def surge_ranking() -> tuple[tuple[str, int], ...]:
    """Return (category, rated voltage) from the weakest surge current to the strongest.

    Of the same current the higher impulse voltage ranks higher.
    """
    rows = [(each, rated) for each in METER_CATEGORIES.values() for rated in RATINGS]
    rows.sort(key=lambda row: (row[0].peak_current(row[1]), row[0].impulse[row[1]].si))
    return tuple((each.name, rated) for each, rated in rows)
