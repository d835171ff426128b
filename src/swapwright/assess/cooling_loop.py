"""The coolant loops of a car: their names in figures, what runs in each, and who makes its heat."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook
from swapwright.base.errors import Missing
from swapwright.build.car import Car
from swapwright.build.circuit.model import slug

ROWS = "cooling.loop"

DRIVE_PARTS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "motor": ("drive", "motor"),
        "inverter": ("drive", "inverter"),
        "second motor": ("drive.second", "motor"),
        "second inverter": ("drive.second", "inverter"),
    }
)
"""Of the parts a loop may cool, those of the drive: their unit, and which of its two they are."""

PACK, CHARGER, CONVERTER, RADIATOR = "pack plate", "charger", "dc-dc", "radiator"

SHEDDING: Mapping[str, str] = MappingProxyType(
    {
        **{part: f"{unit}.{kind}" for part, (unit, kind) in DRIVE_PARTS.items()},
        CHARGER: "charging.charger",
        CONVERTER: "lv.dcdc",
    }
)
"""Parts that must shed their heat into a loop or into the air, and where each stands in a file."""

CONTINUOUS, CLIMB, HIGHWAY, CHARGING = "continuous", "climb", "highway", "charging"
FAST = "fast"
"""A fast charge with direct current, which heats the cells and not the car's own charger."""

RUNS: Mapping[str, str] = MappingProxyType(
    {
        CLIMB: "the goal's climb",
        "city": "the city cycle (UDDS)",
        HIGHWAY: "the highway cycle (HWFET)",
        "us06": "hard driving (US06)",
    }
)
"""Simulated runs whose heat a loop must carry, by the name they are recorded under."""

STATES: Mapping[str, str] = MappingProxyType(
    {CONTINUOUS: "continuous power", **RUNS, CHARGING: "charging"}
)
"""What every loop is worked out in; a fast charge comes to it where the car has one."""


@dataclass(frozen=True)
class Loop:
    """One loop: its name, its name in figure ids, its build path."""

    name: str
    slug: str
    path: str

    def entry(self, name: str) -> str:
        """Return the build path of one of its data."""
        return f"{self.path}.{name}"

    def figure(self, name: str) -> str:
        """Return the id of one of its figures."""
        return f"cooling.{self.slug}.{name}"

    def parts(self, car: Car) -> tuple[str, ...]:
        """Return what its coolant runs through; raise Missing where the file does not say."""
        return car.words(self.entry("parts"))


def loops(car: Car) -> tuple[Loop, ...]:
    """Return the loops of a car in the order of its file, each with an id of its own."""
    found: list[Loop] = []
    for row in range(car.counts.get(ROWS, 0)):
        path = f"{ROWS}[{row}]"
        name = car.texts.get(f"{path}.name", "")
        own = slug(name)
        if any(other.slug == own for other in found):
            own = f"{own}_{row + 1}"
        found.append(Loop(name, own, path))
    return tuple(found)


def makes_heat(part: str, state: str) -> bool:
    """Tell whether a part puts heat into its loop in a state of the car."""
    if part in DRIVE_PARTS:
        return state not in (CHARGING, FAST)
    if part == CHARGER:
        return state == CHARGING
    return part in (PACK, CONVERTER)


def heat_of(book: FigureBook, part: str, state: str) -> str:
    """Return the figure of a part's heat in a state; raise Missing where the car lacks the part."""
    if part == CHARGER:
        return "cooling.charger_loss"
    if part == CONVERTER:
        return "cooling.dcdc_loss"
    if part == PACK:
        return f"cooling.pack_{state}"
    unit, kind = DRIVE_PARTS[part]
    if unit not in drive_parts.units(book):
        raise Missing(f"{unit}.{kind}")
    name = drive_parts.figure_prefix(unit)
    if state == CONTINUOUS:
        if not book.has(f"{name}.continuous_{kind}_loss"):
            book.value(f"{name}.continuous_power")  # says what keeps the rating from being read
        return f"{name}.continuous_{kind}_loss"
    return f"cooling.{name}_{kind}_{state}"


def cooled(car: Car) -> frozenset[str]:
    """Return every part that some loop of the car runs through."""
    return frozenset(
        part for loop in loops(car) if loop.entry("parts") in car.counts for part in loop.parts(car)
    )
