"""What the trade builds a 12 V side by: converter, battery, wires, fuses, a crash."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from swapwright.base.figure import Value

_HOUR = 3600.0
_RESISTANCE = "lv-battery-resistance-typical"

# The converter

SIZE_FACTOR = Value(1.25, "1", "standard", "dcdc-size-practice")
"""Rating of a converter over its worst case."""

LEAST_SET_POINT = Value(13.5, "V", "standard", "lv-set-point-practice")
MOST_SET_POINT = Value(14.4, "V", "standard", "lv-set-point-practice")
"""Between these a 12 V battery is kept charged without being boiled."""

# The battery

RATED_TIME = Value(20.0 * _HOUR, "s", "standard", "lead-acid-20-hour-rating")
RESERVE_CURRENT = Value(25.0, "A", "standard", "bci-reserve-capacity")
WHOLE = Value(1.0, "1", "standard", "bci-reserve-capacity")
"""A reserve capacity is taken from a full battery down to the end."""

COLD_FACTOR = Value(2.0, "1", "standard", "lv-battery-cold-practice")
"""Internal resistance cold, used and partly discharged, over new and warm."""

LEAST_NIGHT_TIME = Value(600.0, "s", "standard", "lv-night-reserve-assumed")
LEAST_HAZARD_TIME = Value(_HOUR, "s", "standard", "lv-hazard-reserve-assumed")


@dataclass(frozen=True)
class BatteryKind:
    """A kind of 12 V battery: what of its charge may be used, and how it stands there.

    ``exponent`` is Peukert's, None for one the law is not of; ``rest_voltage`` is that of a
    battery with the usable share gone; ``resistance_capacity`` is of one new and warm.
    """

    exponent: Value | None
    share: Value
    rest_voltage: Value
    resistance_capacity: Value


def _lead_acid(exponent: float, resistance: float) -> BatteryKind:
    return BatteryKind(
        Value(exponent, "1", "standard", "peukert-exponent-typical"),
        Value(0.5, "1", "standard", "lv-usable-share-practice"),
        Value(12.2, "V", "standard", "lv-rest-voltage-typical"),
        Value(resistance * _HOUR, "V.s", "standard", _RESISTANCE),
    )


BATTERIES: Mapping[str, BatteryKind] = MappingProxyType(
    {
        "AGM": _lead_acid(1.15, 0.25),
        "gel": _lead_acid(1.20, 0.40),
        "flooded": _lead_acid(1.25, 0.40),
        "LFP": BatteryKind(
            None,
            Value(0.8, "1", "standard", "lv-usable-share-practice"),
            Value(12.8, "V", "standard", "lv-rest-voltage-typical"),
            Value(0.40 * _HOUR, "V.s", "standard", _RESISTANCE),
        ),
    }
)

COIL_VOLTAGE = Value(12.0, "V", "standard", "coil-voltage-practice")
"""Contactor sheets give the power of a coil at this voltage."""

# Wires and fuses

LOOM_FACTOR = Value(0.7, "1", "standard", "lv-loom-practice")
"""What the other loaded wires of a loom leave of a wire's current."""

ALONE = Value(1.0, "1", "standard", "lv-loom-practice")
"""A wire with no loaded wire beside it carries all of its table's current."""

FUSE_SHARE = Value(0.8, "1", "standard", "iso-8820-3-continuous")
DROP_SHARE = Value(0.05, "1", "standard", "lv-drop-practice")
"""Share of the system's voltage that may be lost out and back."""

# After a crash

ALIVE_AFTER_CRASH = ("hazard lamps", "brake lamps", "horn", "door locks")
VACUUM_PUMP = "brake vacuum pump"
CRASH_SOURCE = "crash-loads-practice"
