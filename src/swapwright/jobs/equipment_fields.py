"""What is written down of each kind of equipment, and what is looked at before it is used."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from swapwright.standards.equipment import EQUIPMENT, GLOVE_CHECKS
from swapwright.standards.gloves import GLOVE_CLASSES
from swapwright.standards.meters import METER_CATEGORIES

Entry = Literal["choice", "line", "day", "voltage", "resistance", "yes"]


@dataclass(frozen=True)
class ItemField:
    """One field: the key of the item's data, its label, what is typed, an example.

    ``unit`` is what a bare number is taken in.
    """

    key: str
    label: str
    entry: Entry
    choices: tuple[str, ...] = ()
    example: str = ""
    unit: str = ""
    is_needed: bool = False


_CATEGORY = ItemField(
    "category", "measuring category", "choice", tuple(METER_CATEGORIES), is_needed=True
)
_RATED = ItemField(
    "voltage", "voltage of the category", "voltage", example="1000 V", unit="V", is_needed=True
)
_MADE = ItemField("made", "day it was made", "day")
_SIZE = ItemField("size", "size", "line", example="10")

FIELDS: Mapping[str, tuple[ItemField, ...]] = MappingProxyType(
    {
        "gloves": (
            ItemField(
                "class",
                "class",
                "choice",
                tuple(each.name for each in GLOVE_CLASSES),
                is_needed=True,
            ),
            ItemField("type", "type (II stands ozone)", "choice", ("I", "II")),
            _SIZE,
            _MADE,
        ),
        "leather protectors": (_SIZE, _MADE),
        "meter": (
            _CATEGORY,
            _RATED,
            ItemField(
                "dc_voltage", "top of its dc range", "voltage", (), "1500 V", "V", is_needed=True
            ),
            ItemField("auto_range", "picks its range by itself", "yes"),
            ItemField("low_impedance", "has a low-impedance mode", "yes"),
            ItemField("input_resistance", "input resistance", "resistance", (), "10 Mohm", "ohm"),
        ),
        "leads": (
            _CATEGORY,
            _RATED,
            ItemField("tips", "bare tip", "line", example="4 mm"),
        ),
        "proving unit": (
            ItemField(
                "dc_voltage", "dc voltage it gives", "voltage", (), "500 V", "V", is_needed=True
            ),
        ),
        "insulated tools": (
            ItemField("voltage", "voltage marked on them", "voltage", (), "1000 V", "V"),
            ItemField("set", "what is in the set", "line"),
        ),
        "rescue hook": (
            ItemField("voltage", "voltage marked on it", "voltage", (), "1000 V", "V"),
        ),
        "barrier": (),
        "extinguisher": (ItemField("agent", "what is in it", "line"),),
        "insulation tester": (
            ItemField("dc_voltage", "highest test voltage", "voltage", (), "1000 V", "V"),
            ItemField("others", "other test voltages", "line", example="250 V, 500 V"),
        ),
        "lock": (ItemField("opens_by", "number of its key", "line"),),
        "face shield": (ItemField("arc_rating", "arc rating as marked", "line"), _MADE),
    }
)
"""Kind of equipment -> what is written down of it."""

_WHOLE = "whole and clean, nothing cracked, bent, burnt or loose"
_READ = "its marking and its label can be read"
_METER_CHECKS = (
    _WHOLE,
    "insulation of leads and probes without a nick, shrouds and finger guards in place",
    "battery well, and it answers on the proving unit",
    _READ,
)
CHECKS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        **dict.fromkeys(EQUIPMENT, (_WHOLE, _READ)),
        "gloves": GLOVE_CHECKS,
        "meter": _METER_CHECKS,
        "leads": _METER_CHECKS[:2],
        "extinguisher": (_WHOLE, "pin and seal in place, pressure as it should be", _READ),
        "lock": (_WHOLE, "one key to it, and its owner has it"),
    }
)
"""Kind of equipment -> what is looked at on the day of use: common practice, but for gloves."""
