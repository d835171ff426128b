"""Cooling: what is typical of parts, pumps and cabins where no data sheet speaks."""

from __future__ import annotations

from collections.abc import Mapping

from swapwright.base.figure import Value

COOLANT_LIMIT = Value(333.15, "K", "standard", "inverter-coolant-typical")
"""Hottest coolant of a loop whose file does not say; an inverter's, which cells do not bear."""

_DROP = "cooling-part-drop-typical"


def _pascal(kilopascal: float) -> Value:
    return Value(1000.0 * kilopascal, "Pa", "standard", _DROP)


PART_DROPS: Mapping[str, Value] = {
    "pump": _pascal(0.0),
    "hose": _pascal(0.0),
    "header tank": _pascal(1.0),
    "radiator": _pascal(4.0),
    "inverter": _pascal(10.0),
    "second inverter": _pascal(10.0),
    "motor": _pascal(8.0),
    "second motor": _pascal(8.0),
    "charger": _pascal(8.0),
    "dc-dc": _pascal(6.0),
    "pack plate": _pascal(15.0),
    "heater": _pascal(4.0),
    "heater core": _pascal(4.0),
    "chiller": _pascal(8.0),
}
"""Pressure a part of each kind takes at the reference flow; a pump's own is in its curve."""

PART_DROP_FLOW = Value(10.0 / 60000.0, "m^3/s", "standard", _DROP)
"""10 L/min."""

PART_ENDS_LOSS = Value(1.5, "1", "standard", "incropera-2007-ch8")
"""Loss coefficient of a part's two ends: into it 0.5, out of it 1."""

BEND_LOSS = Value(0.9, "1", "standard", "elbow-loss-typical")
"""Loss coefficient of a right-angled elbow."""

PROBE_SHARE = Value(0.5, "1", "standard", "swapwright-loop-flow")
"""Of the pump's free flow: where the short estimate of a loop's flow reads its hoses."""

LEAST_MEASURED_SHARE = Value(0.70, "1", "standard", "coolant-flow-deviation")
"""Measured over computed flow below which air, a kink or a wrongly wired pump is likelier than
an unlike part."""

METAL_SPECIFIC_HEAT = Value(450.0, "J/kg/K", "standard", "part-metal-specific-heat")
"""Steel, copper and aluminium of motor and inverter together."""
