"""What the masses of the ledger do at other places: axle loads, centre of gravity, verdicts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType

from swapwright.assess.book import FigureBook
from swapwright.assess.context import Context
from swapwright.assess.rules.weight import RULES
from swapwright.assess.solve import judge
from swapwright.assess.stages.road import tyre
from swapwright.assess.stages.weight import AXLES, weight
from swapwright.base.figure import Figure, Value
from swapwright.base.finding import Finding
from swapwright.build.car import Car
from swapwright.physics.vehicle.weight import cg_x

CG_X_UNLADEN = "weight.cg_x_unladen"
CG_HEIGHT = "weight.cg_height"
PLACED_RULES = (
    "weight.front_axle",
    "weight.rear_axle",
    "weight.gross",
    "weight.front_tyres",
    "weight.rear_tyres",
)
"""The rules that judge what stands on the wheels."""

_RULES = tuple(rule for rule in RULES if rule.id in PLACED_RULES)


def weights_with(car: Car, positions: Mapping[int, float]) -> tuple[Figure, ...]:
    """Return the masses, axle loads and centres of gravity with some ledger rows moved.

    ``positions`` gives the place behind the front axle [m] of rows by their number; the others
    stay. Beside the figures of an assessment stands the centre of gravity of the unladen car. No
    figure has a band. Raises ValueError for a row that is
    not there.
    """
    return tuple(_book(_moved(car, positions)).figures.values())


def weight_findings_with(car: Car, positions: Mapping[int, float]) -> tuple[Finding, ...]:
    """Return what the plate and the tyres say to it, worst first; raises as `weights_with` does."""
    moved = _moved(car, positions)
    findings, _, _ = judge(Context(moved, _book(moved)), _RULES)
    return findings


def _moved(car: Car, positions: Mapping[int, float]) -> Car:
    """Return a car with the places of some rows replaced, given or not."""
    if not positions:
        return car
    rows = car.counts.get("mass", 0)
    wrong = [row for row in positions if not 0 <= row < rows]
    if wrong:
        raise ValueError(f"there is no mass row {wrong[0]}")
    places = {f"mass[{row}].x": float(x) for row, x in positions.items()}
    new = {path: Value(0.0, "m", "entered", path) for path in places if car.get(path) is None}
    return replace(car, values=MappingProxyType({**car.values, **new})).with_values(places)


@lru_cache(maxsize=8)
def _book(car: Car) -> FigureBook:
    """Return a car's tyres and weights, made once."""
    book = FigureBook(car)
    tyre(book)
    weight(book)
    if book.has(*(f"weight.{axle}" for axle in AXLES)):
        book.make(
            cg_x,
            CG_X_UNLADEN,
            label="centre of gravity behind the front axle, unladen",
            rear_axle_load="weight.rear",
            mass="mass.kerb",
            wheelbase="car.wheelbase",
        )
    return book
