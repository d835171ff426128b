"""How little margin is *watch*, where a rule has its own band instead of the usual tenth.

A band in ``1`` is a share of the limit; any other unit is a distance from the limit.
"""

from __future__ import annotations

from swapwright.base.figure import Value

NO_BAND = Value(0.0, "1", "standard", "swapwright-band-none")
"""For limits that are set on purpose, or judged at their worst case already: inside is *met*."""

VOLTAGE_BAND = Value(0.02, "1", "standard", "swapwright-band-voltage")
"""What measuring, cell spread and temperature move a pack's highest voltage by."""

SAG_BAND = Value(0.05, "1", "standard", "swapwright-band-sag")
"""What an ageing pack soon loses of its voltage under load."""

CONTINUOUS_POWER_BAND = Value(0.05, "1", "standard", "swapwright-band-continuous-power")
"""How far a continuous rating differs between two motors of one kind."""

TEMPERATURE_BAND = Value(5.0, "K", "standard", "swapwright-band-temperature")
"""What a hot day or a dirty radiator adds."""

WEIGHT_BAND = Value(0.02, "1", "standard", "swapwright-band-weight")
"""What a mass ledger misses before the car stands on scales."""

PACKING_BAND = Value(0.30, "1", "standard", "swapwright-band-packing")
"""Share of the space that boxes, cooling, busbars and fixings take beside the cells."""
