"""Places of the car a cable runs between, as people write them."""

from __future__ import annotations

import re
from collections.abc import Iterable

PACK_PLACE = "pack"
DISTRIBUTION = "distribution"
FIXED = (PACK_PLACE, DISTRIBUTION, "inverter", "second inverter")

_DISTRIBUTION_WORDS = {
    "distribution",
    "distribution unit",
    "junction",
    "high voltage",
    "hv",
    "power distribution",
}
_FIRST_INVERTER = {"inverter", "controller", "motor controller", "first inverter"}


def place_word(text: str) -> str:
    """Return a place in the form places are compared in: ``Rear Box`` and ``rear`` are one."""
    words = re.sub(r"[^a-z0-9]+", " ", text.lower()).strip()
    bare = re.sub(r"\s*\b(?:box|pack)$", "", words).strip() or PACK_PLACE
    if bare in _DISTRIBUTION_WORDS:
        return DISTRIBUTION
    if bare in _FIRST_INVERTER:
        return "inverter"
    return bare


def known_places(boxes: Iterable[str], branches: Iterable[str]) -> tuple[str, ...]:
    """Return what a cable may run between: the pack and its boxes, the inverters, the branches."""
    return (*FIXED, *(f"{name} box" for name in boxes), *branches)
