"""What dc fuses are judged by, and typical data for one whose data sheet is not at hand."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.base.figure import Value

MELT_LIMIT_TEMPERATURE = Value(403.15, "K", "standard", "semiconductor-fuse-guide-ambient")
"""Air in which a fuse carries nothing, a: 130 degC, the stricter end of 130 to 150 degC."""

RATING_TEMPERATURE = Value(298.15, "K", "standard", "semiconductor-fuse-guide-ambient")
"""Air a fuse's rating is given in, T0: 25 degC, the stricter end of 25 to 30 degC."""

CYCLIC_FACTOR = Value(0.8, "1", "standard", "fuse-cyclic-typical")
"""Share left for a load that comes and goes all day, A2; some makes of fuse need 0.6."""

OCCASIONAL_SHARE = Value(0.8, "1", "standard", "semiconductor-fuse-guide-overload")
"""Share of the melting current a pulse may reach now and then."""

REPEATED_SHARE = Value(0.6, "1", "standard", "semiconductor-fuse-guide-overload")
"""Share of the melting current a pulse may reach again and again."""

DISCRIMINATION_SHARE = Value(0.75, "1", "standard", "fuse-discrimination-practice")
"""Share of the main fuse's pre-arcing I2t a branch fuse may let through."""

CURVE_TOLERANCE = Value(0.10, "1", "standard", "fuse-curve-tolerance-typical")
"""How far, in current, one fuse may lie from the curve of its make."""

ARCING_FACTOR = Value(3.0, "1", "standard", "fuse-arcing-typical")
"""Clearing over pre-arcing I2t near full voltage."""

COLD_DROP = Value(0.08, "V", "standard", "fuse-cold-drop-typical")
"""Drop across a cold fuse at its rating."""


@dataclass(frozen=True)
class VoltageByTimeConstant:
    """Share of its dc rating a fuse may open, against L/R in s."""

    times: tuple[float, ...]
    factors: tuple[float, ...]
    source: str


@dataclass(frozen=True)
class MeltingCurve:
    """A melting curve in multiples of the rating, against the times they take in s.

    ``pre_arcing`` is the pre-arcing I2t per square of the rating, in s.
    """

    multiples: tuple[float, ...]
    times: tuple[float, ...]
    pre_arcing: float
    source: str


VOLTAGE_BY_TIME_CONSTANT = VoltageByTimeConstant(
    times=(0.0, 0.002, 0.005, 0.010, 0.015),
    factors=(1.0, 1.0, 0.85, 0.65, 0.5),
    source="fuse-voltage-time-constant-typical",
)

GENERIC_MELTING = MeltingCurve(
    multiples=(1.45, 1.6, 1.78, 2.05, 2.4, 2.8, 3.4, 4.15, 5.2, 5.65, 6.2),
    times=(3600.0, 600.0, 180.0, 60.0, 25.0, 10.0, 3.0, 1.0, 0.1, 0.03, 0.01),
    pre_arcing=0.384,
    source="fuse-melting-typical",
)
