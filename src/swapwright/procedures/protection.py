"""What people wear and bring, step by step. Gloves stop shock, not an arc: each is its own line."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.base.figure import Value
from swapwright.standards.gloves import (
    BASELINE_CLASS,
    BASELINE_SOURCE,
    GLOVE_CLASSES,
    SOURCE,
    least_glove_class,
)
from swapwright.standards.isolation import Approach, approach
from swapwright.standards.meters import MIN_METER_CATEGORY, MIN_METER_VOLTAGE

GLOVES, LEATHER = "gloves", "leather protectors"
METER, LEADS, PROVING = "meter", "leads", "proving unit"
TOOLS, HOOK, BARRIER = "insulated tools", "rescue hook", "barrier"
EXTINGUISHER, INSULATION_TESTER = "extinguisher", "insulation tester"
LOCK, FACE_SHIELD = "lock", "face shield"

NO_METAL = "no rings, watch, chain or loose metal; nothing in the top pocket"
ARC = "arc-rated layers and face shield as a hazard assessment of this task says"
LEATHER_OVER = "leather protectors over the gloves"
INSULATED = "insulated tools only"
DRY = "dry sleeves and dry footwear"

GLOVE_SOURCES = (SOURCE, BASELINE_SOURCE)


@dataclass(frozen=True)
class Protection:
    """What a car's voltage asks for: glove class by its ac figure, meter's volts, how near."""

    glove_class: str
    meter_voltage: float
    limit: Approach | None = None

    @property
    def gloves(self) -> str:
        """Return the gloves as a line of what is worn."""
        return f"insulating gloves of class {self.glove_class} or higher, tested and in date"

    @property
    def meter(self) -> str:
        """Return the meter as words."""
        return (
            f"a two-pole meter with a dc range no lower than {self.meter_voltage:.0f} V, "
            f"{MIN_METER_CATEGORY} {MIN_METER_VOLTAGE.si:.0f} V, and leads not below it"
        )

    @property
    def worn_at_parts(self) -> tuple[str, ...]:
        """Return what is worn wherever a conductor may be touched."""
        return (NO_METAL, self.gloves, LEATHER_OVER, ARC, INSULATED)


def protection(highest: float) -> Protection:
    """Return what a highest dc voltage V asks for: never less than the trade wears.

    Where no class covers it, the highest class there is: the words of the step say so.
    """
    names = [each.name for each in GLOVE_CLASSES]
    least = least_glove_class(highest)
    by_voltage = names[-1] if least is None else least.name
    worn = max(by_voltage, BASELINE_CLASS, key=names.index)
    baseline: Value = MIN_METER_VOLTAGE
    return Protection(worn, max(highest, baseline.si), approach(highest))


AT_PARTS = (GLOVES, LEATHER, TOOLS, FACE_SHIELD)
"""Kinds of equipment wherever a conductor may be touched."""

AT_METER = (GLOVES, LEATHER, METER, LEADS)
"""Kinds of equipment of a reading."""
