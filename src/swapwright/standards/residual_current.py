"""Residual-current protection of a charging supply: which kinds see smooth direct current."""

from __future__ import annotations

SEES_DC = ("type A with 6 mA dc detection", "type B")
BUILT_IN = "built into the supply, UL 2231"
BLINDED = ("type A", "type AC")
NONE = "none"
DEVICES = (*SEES_DC, BUILT_IN, *BLINDED, NONE)
SOURCES = ("iec-61851-1-residual-current", "ul-2231-personnel-protection")
"""A device of type A or AC is made blind by smooth direct current, which a charger can leak."""
