"""The control pilot and the proximity contact of an ac charging inlet: what a reading means.

IEC 61851-1, annex A, and SAE J1772. The current formula has a step at 85 %, as published.
"""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.base.figure import Value

SOURCE = "iec-61851-1-control-pilot"
CABLE_SOURCE = "iec-61851-1-proximity"
LATCH_SOURCE = "sae-j1772-proximity"
STATE_TOLERANCE = Value(1.0, "V", "standard", SOURCE)
"""By how much the pilot's peak may lie off its state's voltage."""


@dataclass(frozen=True)
class PilotState:
    """A state of the pilot: its letter, its peak in V, and in words what it says."""

    letter: str
    voltage: float
    words: str
    next: str


PILOT_STATES = (
    PilotState(
        "A",
        12.0,
        "no car is joined",
        "With the plug in: the pilot does not reach the car's 2.74 kohm. Look at its contact, its "
        "wire, and whether the plug is home.",
    ),
    PilotState(
        "B",
        9.0,
        "a car is joined and does not ask for current",
        "The car has not closed its second resistor, 1.3 kohm: its charger is not ready, or the "
        "pack controller does not release it.",
    ),
    PilotState(
        "C",
        6.0,
        "the car asks for current: mains stands at the inlet once the supply has closed",
        "If nothing flows, the supply has not closed, or the charger does not draw.",
    ),
    PilotState(
        "D",
        3.0,
        "the car asks for current and for ventilation",
        "Many supplies refuse this. A conversion rarely means it: look for a second resistor in "
        "parallel, or a wet contact.",
    ),
    PilotState(
        "E",
        0.0,
        "no pilot: the supply is off, or the pilot is short to earth",
        "Unplug and read again: 12 V at the plug says that the short is in the car.",
    ),
    PilotState(
        "F",
        -12.0,
        "the supply says that it is not available",
        "The fault is on the supply's side: its display or its papers say which.",
    ),
)


@dataclass(frozen=True)
class DutyBand:
    """A band of the pilot's duty in percent and the current it allows: slope x (duty - offset).

    ``slope`` is 0 where the band allows a fixed current or none: then ``fixed`` A, None for none.
    """

    low: float
    high: float
    slope: float
    offset: float
    fixed: float | None
    words: str


DUTY_BANDS = (
    DutyBand(0.0, 3.0, 0.0, 0.0, None, "no charging is allowed"),
    DutyBand(3.0, 7.0, 0.0, 0.0, None, "the supply wants to talk first: digital communication"),
    DutyBand(7.0, 8.0, 0.0, 0.0, None, "no charging is allowed"),
    DutyBand(8.0, 10.0, 0.0, 0.0, 6.0, "6 A, the least there is"),
    DutyBand(10.0, 85.0, 0.6, 0.0, None, "0.6 A for each percent"),
    DutyBand(85.0, 96.0, 2.5, 64.0, None, "2.5 A for each percent above 64"),
    DutyBand(96.0, 97.0, 0.0, 0.0, 80.0, "80 A, the most there is"),
    DutyBand(97.0, 100.0, 0.0, 0.0, None, "no charging is allowed"),
)
"""Bands from their low end, the last with its high end too; 10 % itself and 85 % belong to the
formula that begins or ends there as published: 10 % 6 A, 85 % 51 A."""
NOT_READY = 100.0
"""A steady pilot, percent: the supply is not ready."""


@dataclass(frozen=True)
class Proximity:
    """A resistance of the proximity contact, what it says, and the current the cable bears, A."""

    inlet: str
    ohms: float
    words: str
    current: float | None
    source: str


PROXIMITIES = (
    Proximity("type 1", 150.0, "the plug is in and latched", None, LATCH_SOURCE),
    Proximity(
        "type 1", 480.0, "the plug is in, its latch pressed: draw no more", None, LATCH_SOURCE
    ),
    Proximity("type 2", 1500.0, "a cable for 13 A", 13.0, CABLE_SOURCE),
    Proximity("type 2", 680.0, "a cable for 20 A", 20.0, CABLE_SOURCE),
    Proximity("type 2", 220.0, "a cable for 32 A", 32.0, CABLE_SOURCE),
    Proximity("type 2", 100.0, "a cable for 63 A, 70 A on one phase", 63.0, CABLE_SOURCE),
)
PROXIMITY_TOLERANCE = Value(0.1, "1", "standard", CABLE_SOURCE)
"""Share by which a proximity resistance may lie off its coding and still be read as it."""


def band_of(duty: float) -> DutyBand:
    """Return the band of a duty in percent, 0 to 100; raise ValueError outside."""
    if not 0.0 <= duty <= 100.0:
        raise ValueError(f"a duty lies between 0 and 100 %, not at {duty}")
    if duty == 85.0:
        return next(each for each in DUTY_BANDS if each.high == duty)
    return next(each for each in reversed(DUTY_BANDS) if duty >= each.low)


def pilot_current(duty: float) -> float | None:
    """Return the current in A a duty in percent allows, None where it allows none.

    IEC 61851-1, table A.8; SAE J1772. Raises ValueError for a duty outside 0 to 100 %.
    """
    band = band_of(duty)
    return band.slope * (duty - band.offset) if band.slope else band.fixed


def pilot_state(peak: float) -> PilotState | None:
    """Return the state of a pilot's positive peak in V, None where it is none's."""
    near = min(PILOT_STATES, key=lambda each: abs(each.voltage - peak))
    return near if abs(near.voltage - peak) <= STATE_TOLERANCE.si else None


def proximity_of(ohms: float, inlet: str) -> Proximity | None:
    """Return what a proximity resistance in ohm says at an inlet, None where it says nothing."""
    mine = [each for each in PROXIMITIES if each.inlet == inlet]
    if not mine:
        return None
    near = min(mine, key=lambda each: abs(each.ohms - ohms) / each.ohms)
    return near if abs(near.ohms - ohms) <= PROXIMITY_TOLERANCE.si * near.ohms else None
