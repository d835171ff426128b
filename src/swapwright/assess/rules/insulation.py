"""Clearance and creepage against what the car's voltage, altitude and dirt ask for."""

from __future__ import annotations

from swapwright.assess.rules.compare import compare
from swapwright.assess.rules.word import of_class_b

WIDEN = "Move the parts apart, round the busbar's edges back, or put a solid barrier of rated insulation between them; keep boxes dry and clean."

RULES = tuple(
    of_class_b(rule)
    for rule in (
        compare(
            "circuit.clearance",
            subject="hv.clearance",
            value="hv.clearance",
            limit="insulation.clearance",
            sense="at_least",
            outside="fix",
            inside_text="The shortest way through air is long enough at the highest place the car is used.",
            outside_text="The shortest way through air is too short: a surge jumps it, the sooner the thinner the air.",
            remedy=WIDEN,
            sources=("iec-60664-1-f2-clearance", "swapwright-impulse-battery-circuit"),
        ),
        compare(
            "circuit.creepage",
            subject="hv.creepage",
            value="hv.creepage",
            limit="insulation.creepage",
            sense="at_least",
            outside="fix",
            inside_text="The shortest way along a surface is long enough for the dirt and damp of a car.",
            outside_text="The shortest way along a surface is too short for the dirt and damp of a car: it tracks and burns.",
            remedy=WIDEN,
            sources=("iec-60664-1-f4-creepage",),
        ),
    )
)
