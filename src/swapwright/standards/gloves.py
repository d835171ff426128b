"""Rubber insulating gloves by class: what they may be used at and what they are tested with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from swapwright.base.figure import Value

SOURCE = "osha-1910.137-gloves"
_DC_USE = "astm-d120-dc-use"


@dataclass(frozen=True)
class GloveClass:
    """A class of gloves: the highest ac (rms) and dc voltage of use, proof voltages, label colour.

    The dc voltage is 1.5 times the ac one in the makers' standards; the law of the workplace lists
    ac only.
    """

    name: str
    ac: Value
    dc: Value
    proof_ac: Value
    proof_dc: Value
    colour: str
    source: str = SOURCE


def _class(
    name: str, ac: float, proof_ac: float, proof_dc: float, colour: str, proof_source: str = SOURCE
) -> GloveClass:
    return GloveClass(
        name,
        Value(ac, "V", "standard", SOURCE),
        Value(1.5 * ac, "V", "standard", _DC_USE),
        Value(proof_ac, "V", "standard", SOURCE),
        Value(proof_dc, "V", "standard", proof_source),
        colour,
    )


GLOVE_CLASSES = (
    _class("00", 500.0, 2_500.0, 10_000.0, "beige", "astm-d120-class-00-dc-proof"),
    _class("0", 1_000.0, 5_000.0, 20_000.0, "red"),
    _class("1", 7_500.0, 10_000.0, 40_000.0, "white"),
    _class("2", 17_000.0, 20_000.0, 50_000.0, "yellow"),
    _class("3", 26_500.0, 30_000.0, 60_000.0, "green"),
    _class("4", 36_000.0, 40_000.0, 70_000.0, "orange"),
)
"""From the thinnest to the thickest."""

GLOVES: Mapping[str, GloveClass] = MappingProxyType({each.name: each for each in GLOVE_CLASSES})
"""Name of a class -> the class."""

BASELINE_CLASS = "0"
BASELINE_SOURCE = "gloves-class-0-practice"
"""What the trade wears at any car of voltage class B."""


def least_glove_class(voltage: float) -> GloveClass | None:
    """Return the least class whose ac figure covers a dc voltage: the stricter reading.

    None where no class does.
    """
    return next((each for each in GLOVE_CLASSES if voltage <= each.ac.si), None)


def least_glove_class_by_dc(voltage: float) -> GloveClass | None:
    """Return the least class whose dc figure covers a dc voltage; None where no class does."""
    return next((each for each in GLOVE_CLASSES if voltage <= each.dc.si), None)
