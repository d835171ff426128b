"""Every rule there is, in the order of the stages of the job."""

from __future__ import annotations

from swapwright.assess.context import Rule
from swapwright.assess.rules import (
    charging,
    circuit_arrangement,
    circuit_cable,
    circuit_contactor,
    circuit_discharge,
    circuit_fuse,
    circuit_precharge,
    circuit_string,
    current,
    cycle,
    drive,
    goal,
    insulation,
    isolation,
    people,
    regen,
    voltage,
    weight,
)

RULES: tuple[Rule, ...] = (
    *goal.RULES,
    *cycle.RULES,
    *voltage.RULES,
    *current.RULES,
    *regen.RULES,
    *charging.RULES,
    *drive.RULES,
    *circuit_arrangement.RULES,
    *circuit_fuse.RULES,
    *circuit_cable.RULES,
    *circuit_contactor.RULES,
    *circuit_string.RULES,
    *circuit_precharge.RULES,
    *circuit_discharge.RULES,
    *isolation.RULES,
    *insulation.RULES,
    *people.RULES,
    *weight.RULES,
)
