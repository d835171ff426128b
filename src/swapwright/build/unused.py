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
            "car.engine_before.power_at",
            "car.engine_before.torque",
            "car.engine_before.torque_at",
            "car.engine_before.tank",
            ".cell.chemistry",
            ".cell.energy",
            ".resembles",
            ".source",
            ".note",
        ),
        "drawings": (
            "car.track",
            "pack.boxes",
            "pack.module.length",
            "pack.module.width",
            "pack.module.height",
        ),
        "the height of the centre of gravity": ("mass[].z",),
        "the weight of the parts": (".gearbox.mass", ".gearbox.kept"),
        "the inverter's output frequency": (".motor.pole_pairs",),
        "the high-voltage circuit": (
            ".inverter.link_capacitance",
            "hv.working_temperature",
            "hv.disconnect",
            "hv.main_fuse",
            "hv.contactors",
            "hv.precharge",
            "hv.bleed",
            "hv.bleed_rating",
            "hv.active_discharge",
            "hv.y_capacitance",
            "hv.isolation_monitor",
            "hv.isolation",
            "hv.bonding",
            "hv.interlock",
            "hv.inertia_switch",
            "hv.creepage",
            "hv.clearance",
            "hv.pollution_degree",
            "hv.material_group",
            "hv.cable",
            "hv.branch[].name",
            "hv.branch[].current",
            "hv.branch[].power",
            "hv.branch[].capacitance",
            "hv.branch[].fuse",
            "hv.branch[].contactor",
            "hv.branch[].cable",
            "hv.element",
        ),
        "the 12 V system": ("lv",),
        "charging": (
            "charging.charger.max_current",
            "charging.inlet",
            "charging.supply",
            "charging.from",
            "charging.to",
            "charging.contactors",
            "charging.drive_lockout",
            "charging.proximity",
        ),
        "cooling": ("cooling",),
        "the network": ("network",),
        "brakes": ("brakes",),
        "the shop": ("shop",),
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
