"""Charging inlets: what each brings to the car, and in which language its station is spoken to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from swapwright.base.figure import Value

PILOT = "pulses on the pilot"
PLC = "power line signals on the pilot"
CHADEMO_CAN = "can, ieee 2030.1.1"
GBT_CAN = "can, gb/t 27930"
NOTHING = "nothing"
HOUSEHOLD = "household"
"""A household plug: for hours it bears what its region's sockets do, whatever is written on it."""
LANGUAGES = (NOTHING, PILOT, PLC, CHADEMO_CAN, GBT_CAN)

_AC_SOURCE = "iec-62196-2-inlets"
_DC_SOURCE = "iec-62196-3-inlets"


@dataclass(frozen=True)
class Language:
    """What a station and a car speak: where it stands, and what the pack controller has to say."""

    name: str
    standard: str
    says: tuple[str, ...]
    source: str


_LIMITS = (
    "the highest voltage and current the pack takes now",
    "the voltage and the current it wants, several times a second",
    "its state of charge",
    "that its contactors are closed, and when it asks the station to stop",
)
SPOKEN: Mapping[str, Language] = MappingProxyType(
    {
        each.name: each
        for each in (
            Language(
                PILOT,
                "IEC 61851-1 and SAE J1772",
                ("nothing but its resistors: joined, and ready to take current",),
                "iec-61851-1-control-pilot",
            ),
            Language(
                PLC,
                "DIN SPEC 70121, ISO 15118-2 or -20: power line signals on the pilot at 5 % duty",
                (
                    "who it is, and which protocols it speaks",
                    *_LIMITS,
                    "that its isolation monitor is off while the station tests the cable",
                    "the voltage of its side, before it closes its contactors",
                ),
                "iso-15118-2-messages",
            ),
            Language(
                CHADEMO_CAN,
                "IEEE 2030.1.1: CAN at 500 kbit/s on wires of its own, with start lines beside it",
                (
                    "its highest voltage, its capacity and the longest charge it allows",
                    *_LIMITS,
                    "its faults: voltage, current, temperature, a shift lever not in park",
                ),
                "ieee-2030-1-1-messages",
            ),
            Language(
                GBT_CAN,
                "GB/T 27930: CAN at 250 kbit/s on wires of its own",
                (
                    "who it is, its capacity, its highest cell and pack voltage and temperature",
                    *_LIMITS,
                    "its highest cell voltage and its temperatures, all the while",
                ),
                "gbt-27930-messages",
            ),
        )
    }
)
"""The open languages of charging, by name."""


@dataclass(frozen=True)
class Inlet:
    """An inlet: ac phases, volts across one and amperes; dc volts and amperes; its language.

    A value is None where the inlet has no such contacts, or where its kind does not fix it.
    """

    name: str
    phases: Value | None
    voltage: Value | None
    current: Value | None
    dc_voltage: Value | None = None
    dc_current: Value | None = None
    language: str = NOTHING


def _ac(si: float, unit: str) -> Value:
    return Value(si, unit, "standard", _AC_SOURCE)


def _dc(si: float, unit: str) -> Value:
    return Value(si, unit, "standard", _DC_SOURCE)


def _j3400(si: float, unit: str) -> Value:
    return Value(si, unit, "standard", "sae-j3400-inlets")


def _socket(si: float, unit: str) -> Value:
    return Value(si, unit, "standard", "household-plug-typical")


INLETS: Mapping[str, Inlet] = MappingProxyType(
    {
        each.name: each
        for each in (
            Inlet("type 1", _ac(1, "1"), _ac(250, "V"), _ac(80, "A"), language=PILOT),
            Inlet("type 2", _ac(3, "1"), _ac(277, "V"), _ac(63, "A"), language=PILOT),
            Inlet(
                "ccs 1", _ac(1, "1"), _ac(250, "V"), _ac(80, "A"),
                _dc(1000, "V"), _dc(200, "A"), PLC,
            ),
            Inlet(
                "ccs 2", _ac(3, "1"), _ac(277, "V"), _ac(63, "A"),
                _dc(1000, "V"), _dc(200, "A"), PLC,
            ),
            Inlet("chademo", None, None, None, _dc(500, "V"), _dc(125, "A"), CHADEMO_CAN),
            Inlet("gb/t dc", None, None, None, _dc(1000, "V"), _dc(250, "A"), GBT_CAN),
            Inlet(
                "j3400", _j3400(1, "1"), _j3400(277, "V"), _j3400(80, "A"),
                _j3400(500, "V"), None, PLC,
            ),
            Inlet("industrial", _ac(3, "1"), _ac(277, "V"), None),
            Inlet(HOUSEHOLD, _socket(1, "1"), _socket(250, "V"), None),
        )
    }
)  # fmt: skip
"""By what the file calls them. Direct current as without liquid cooling, the lowest of the kind."""

CODED_INLETS = ("type 2", "ccs 2")
"""Inlets whose loose cable says by a resistor what it bears."""

UNSAID_PHASES = Value(1.0, "1", "standard", "one-phase")
"""Phases an inlet that is not named is counted with: the fewest there are."""

FAST_INLETS = tuple(name for name, each in INLETS.items() if each.dc_voltage is not None)
"""Inlets that bring direct current to the pack."""
