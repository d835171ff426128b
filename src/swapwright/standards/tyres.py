"""Load index and speed symbol of a tyre's sidewall."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from swapwright.base.figure import Value
from swapwright.base.kinds import KMH

LOAD_INDEX_SOURCE = "etrto-load-index"
SPEED_SYMBOL_SOURCE = "etrto-speed-symbol"

# Copies in circulation print 857 for index 103 and 924 for 105; the table goes on in steps of
# 25 kg there, so 875 and 925 stand here.
_LOADS_KG = (
    *(335, 345, 355, 365, 375, 387, 400, 412, 425, 437),  # 70 to 79
    *(450, 462, 475, 487, 500, 515, 530, 545, 560, 580),  # 80 to 89
    *(600, 615, 630, 650, 670, 690, 710, 730, 750, 775),  # 90 to 99
    *(800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030),  # 100 to 109
    *(1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360),  # 110 to 119
    1400,  # 120
)

LOAD_INDEX: Mapping[int, Value] = MappingProxyType(
    {
        index: Value(float(load), "kg", "standard", LOAD_INDEX_SOURCE)
        for index, load in enumerate(_LOADS_KG, start=70)
    }
)
"""Load index -> the load one tyre may carry, kg; an axle carries two."""

_SPEEDS_KMH = dict(
    zip(
        "JKLMNPQRSTUHVWY",
        (100, 110, 120, 130, 140, 150, 160, 170, 180, 190, 200, 210, 240, 270, 300),
        strict=True,
    )
)

SPEED_SYMBOL: Mapping[str, Value] = MappingProxyType(
    {
        symbol: Value(speed * KMH, "m/s", "standard", SPEED_SYMBOL_SOURCE)
        for symbol, speed in _SPEEDS_KMH.items()
    }
)
"""Speed symbol -> the highest speed of the tyre, m/s."""
