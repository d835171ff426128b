"""What a build file may say that no figure rests on yet, and what it is kept for."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

RECORD = "the owner's record"
"""For entries that are kept to be read by people, with no figure to come of them."""

_KEPT: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        RECORD: (
            "car.body",
            "pack.tested[].origin",
            "hv.cable[].screened",
            "hv.cable[].routing",
            "hv.element[].screened",
            "hv.element[].routing",
            "hv.precharge.relay.carry",
            "hv.precharge.relay.overload",
            "hv.precharge.relay.break_forward",
            "hv.precharge.relay.break_reverse",
            "hv.precharge.relay.weld_i2t",
            "hv.precharge.relay.resistance",
            ".cell.chemistry",
            ".cell.energy",
            ".resembles",
            ".source",
            ".note",
        ),
        "drawings": (
            "pack.boxes[].at",
            "pack.module.length",
            "pack.module.width",
            "pack.module.height",
            ".main_fuse.length",
            ".main_fuse.diameter",
            ".string_fuse.length",
            ".string_fuse.diameter",
            ".fuse.length",
            ".fuse.diameter",
        ),
        "the weight of the parts": (
            ".gearbox.mass",
            ".gearbox.kept",
            ".dcdc.mass",
            ".main_fuse.mass",
            ".string_fuse.mass",
            ".fuse.mass",
            ".contactors.mass",
            ".string_contactors.mass",
            ".contactor.mass",
            ".relay.mass",
        ),
        "the inverter's output frequency": (".motor.pole_pairs",),
        "closing onto a branch's own capacitor": (
            "hv.string_contactors.making",
            "hv.branch[].contactor.making",
            "charging.contactors.making",
        ),
        "the shop's procedures": (
            "hv.disconnect.load_break",
            "hv.element[].load_break",
            "shop.gloves_tested",
            "shop.gloves_in_use_since",
        ),
    }
)

NOT_USED_YET: Mapping[str, str] = MappingProxyType(
    {place: use for use, places in _KEPT.items() for place in places}
)
"""What each entry is kept for that no figure, rule or page reads yet.

A key is a path, and stands for all below it; one that starts with a dot is the end of a path.
"""

_ROW_NUMBER = re.compile(r"\[\d+\]")


def kept_for(path: str) -> str | None:
    """Return what a build path (``hv.cable[0].length``) is kept for; None where it is used."""
    path = _ROW_NUMBER.sub("[]", path)
    return next((use for place, use in NOT_USED_YET.items() if _covers(place, path)), None)


def in_words(use: str) -> str:
    """Return what an entry is kept for as it stands behind the entry's description."""
    return f"(kept for {use})" if use == RECORD else f"(kept, not used yet: {use})"


def _covers(place: str, path: str) -> bool:
    if place.startswith("."):
        return path.endswith(place)
    return path == place or path.startswith((f"{place}.", f"{place}[]"))
