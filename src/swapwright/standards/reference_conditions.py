"""The air a coast-down is corrected to, by test procedure."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.base.figure import Value


@dataclass(frozen=True)
class ReferenceAir:
    """Reference air of a procedure: temperature in K, pressure in Pa, density in kg/m^3."""

    temperature: Value
    pressure: Value
    density: Value


def _air(temperature: float, pressure: float, density: float, source: str) -> ReferenceAir:
    return ReferenceAir(
        Value(temperature, "K", "standard", source),
        Value(pressure, "Pa", "standard", source),
        Value(density, "kg/m^3", "standard", source),
    )


SAE_J2263 = _air(293.15, 98210.0, 1.167, "sae-j2263-reference-air")
"""20 degC, 98.21 kPa, no wind; the density is that of dry air there."""

UN_GTR15 = _air(293.15, 100000.0, 1.189, "un-gtr15-annex4-reference-air")
"""20 degC, 100 kPa; the density is the one the regulation names."""
