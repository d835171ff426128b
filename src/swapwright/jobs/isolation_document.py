"""What `isolation-test --json` prints."""

from __future__ import annotations

from math import isfinite
from typing import Any

from swapwright.assess.assessment import SCHEMA_VERSION
from swapwright.build.car import Car
from swapwright.jobs.account import CAUTIONS
from swapwright.jobs.isolation_test import (
    AFTER,
    CONTRADICTION,
    HAZARDS,
    MINUS,
    PACK,
    PLUS,
    TRAP,
    IsolationAnswer,
)

_KEYS = {PLUS: "plus_v", MINUS: "minus_v", AFTER: "with_resistor_v", PACK: "pack_v"}


def isolation_document(answer: IsolationAnswer, car: Car) -> dict[str, Any]:
    """Return the document: readings as read, then what they say; null where nothing can be said."""
    test = None if answer.contradictions else answer.test
    return {
        "schema_version": SCHEMA_VERSION,
        "name": car.texts.get("car.name", ""),
        "revision": car.revision,
        "readings": {key: answer.readings.get(name) for name, key in _KEYS.items()},
        "resistor_ohm": answer.resistor,
        "meter_ohm": answer.meter,
        "weak_pole": None if test is None else test.weak_pole,
        "isolation_ohm": _finite(None if test is None else test.isolation),
        "other_pole_ohm": _finite(None if test is None else test.other_leak),
        "combined_ohm": _finite(None if test is None else test.combined),
        "ohm_per_v": _finite(answer.per_volt),
        "required_ohm_per_v": answer.required,
        "floor_ohm_per_v": answer.floor,
        "place_from_minus": answer.place,
        "module": answer.module,
        "resistor_power_w": answer.resistor_power,
        "resistor_voltage_v": answer.resistor_voltage,
        "wait_s": _finite(answer.wait),
        "contradictions": list(answer.contradictions),
        "notes": list(answer.notes),
        "cautions": [
            *([CONTRADICTION] if answer.contradictions else ()),
            TRAP,
            *HAZARDS,
            *CAUTIONS,
        ],
        "exit_status": answer.status,
    }


def _finite(number: float | None) -> float | None:
    return number if number is not None and isfinite(number) else None
