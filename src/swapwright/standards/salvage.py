"""What modules out of another vehicle are accepted by; the trade's own limits."""

from __future__ import annotations

from swapwright.base.figure import Value

LEAST_CAPACITY = Value(0.80, "1", "standard", "used-module-acceptance")
"""Capacity left in any one module."""

RESISTANCE_SPREAD = Value(1.20, "1", "standard", "used-module-acceptance")
"""Highest resistance over the middle one."""

DROP_SPREAD = Value(0.005, "V", "standard", "used-module-acceptance")
"""Difference of what two modules lose of their open voltage in a week of rest."""

VOLTAGE_SPREAD = Value(0.030, "V", "standard", "used-module-acceptance")
"""Difference of two cells' open voltages when their modules are joined."""
