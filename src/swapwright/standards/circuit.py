"""What a circuit's elements are taken to be where their data sheets are silent."""

from __future__ import annotations

from swapwright.base.figure import Value

MODULE_INDUCTANCE = Value(0.3e-6, "H", "standard", "module-inductance-typical")
"""Of one module with its share of the links."""

ELEMENT_INDUCTANCE = Value(0.02e-6, "H", "standard", "element-inductance-typical")
"""Of one fuse, contactor, disconnect or connector."""

NO_JOINTS = Value(0.0, "ohm", "standard", "swapwright-joints-counted-apart")
"""Joints of a string where contactors and cables count as elements of their own."""

LEAST_PATHS = Value(2.0, "1", "standard", "discharge-two-paths")
"""Paths that empty a section: one may fail."""

LINK_RESISTANCE = Value(0.002, "ohm", "standard", "link-capacitor-typical")
LINK_INDUCTANCE = Value(20e-9, "H", "standard", "link-capacitor-typical")
"""Of one link capacitor, its terminals with it."""

DEAD_SHORT = Value(1e-6, "ohm", "standard", "dead-short-assumed")
"""What a bolted short circuit, or a pole laid on the chassis, is taken to resist."""

LOAD_STARTS = Value(0.5, "1", "standard", "load-starts-assumed")
"""Share of the pack's voltage from which a load left on draws its power, if its data do not say."""

AS_MUCH = Value(1.0, "1", "standard", "swapwright-whole-step")
"""A contactor bears just what its fuse lets flow."""
