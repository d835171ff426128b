"""The inputs that stand on a default, with their values, and which of them to name first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swapwright.assess.assessment import Assessment
from swapwright.build.car import Car
from swapwright.build.unused import kept_for
from swapwright.jobs.entry_row import field_of
from swapwright.jobs.telling import value_text

# What moves a car's numbers most where nobody has said it, and what to call it in a few words.
_TOLD_FIRST: tuple[tuple[str, str], ...] = (
    ("auxiliaries.heater", "cabin heater"),
    ("auxiliaries.driving", "driving load"),
    ("conditions.cold_day", "cold day"),
    ("pack.joint_resistance", "pack joints"),
    ("charging.power", "charger"),
    ("drive.final_drive", "final drive"),
    ("pack.usable.to", "top of the window"),
    ("conditions.temperature", "mild day"),
)


@dataclass(frozen=True)
class Assumed:
    """One default: its build path, what it is, and its value as a text."""

    path: str
    label: str
    text: str


def assumed_of(assessment: Assessment) -> tuple[str, ...]:
    """Return the paths of the defaults that figures rest on, without those not used yet."""
    return tuple(path for path in assessment.assumed if kept_for(path) is None)


def assumed_inputs(paths: Sequence[str], car: Car, profile: str) -> tuple[Assumed, ...]:
    """Return the defaults at these paths, by path."""
    return tuple(_assumed(path, car, profile) for path in sorted(paths))


def told_first(paths: Sequence[str], car: Car, profile: str, most: int = 3) -> tuple[str, ...]:
    """Return the weightiest of these defaults in a few words each: ``cabin heater 2.00 kW``."""
    short = [
        f"{words} {_assumed(path, car, profile).text}"
        for path, words in _TOLD_FIRST
        if path in paths
    ]
    return tuple(short[:most])


def _assumed(path: str, car: Car, profile: str) -> Assumed:
    row = field_of(path)
    label = "" if row is None else row.label
    value = car.get(path)
    if value is not None:
        return Assumed(path, label, value_text(value, "" if row is None else row.kind, profile))
    if path in car.flags:
        return Assumed(path, label, "yes" if car.flags[path] else "no")
    return Assumed(path, label, car.texts.get(path, ""))
