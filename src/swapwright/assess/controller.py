"""What the vehicle controller allows of the torque: its tables by pedal, charge, cell and gear."""

from __future__ import annotations

from swapwright.base.errors import Missing
from swapwright.base.table import Line
from swapwright.build.car import Car

BY_PEDAL = "drive.torque_by.pedal"
BY_CHARGE = "drive.torque_by.state_of_charge"
BY_CELL = "drive.torque_by.cell_temperature"
HOLDING_BACK = (BY_CHARGE, BY_CELL, "drive.torque_by_gear", "drive.second.torque_by_gear")
"""Limits that hold a run back whatever the pedal does; its own map does by its full end only."""


def limit_line(car: Car, path: str) -> Line | None:
    """Return one of the controller's tables, None where the file gives none."""
    table = car.tables.get(path)
    return table if isinstance(table, Line) else None


def full_pedal_share(car: Car) -> float:
    """Return the share of the allowed torque that comes with the pedal on the floor."""
    table = limit_line(car, BY_PEDAL)
    return 1.0 if table is None else table.y[-1]


def is_held_back(car: Car) -> bool:
    """Tell whether the controller allows less than what motor, inverter and gearbox leave."""
    return full_pedal_share(car) < 1.0 or any(car.has(path) for path in HOLDING_BACK)


def gear_share(car: Car, prefix: str, gear: int) -> float:
    """Return the share of a unit's torque allowed in a gear; Missing where the list is short."""
    path = f"{prefix}.torque_by_gear"
    shares = car.numbers.get(path)
    if shares is None:
        return 1.0
    if gear > len(shares):
        raise Missing(reason=f"{path} does not give a share for each gear in use")
    return shares[gear - 1].si


def pedal_for(table: Line, share: float) -> float:
    """Return the least pedal travel that asks for a share; Missing where full pedal gives less."""
    if share > table.y[-1]:
        raise Missing(reason="the pedal's map gives less than that at full pedal")
    if share <= table.y[0]:
        return table.x[0]
    end = next(place for place, reached in enumerate(table.y) if reached >= share)
    part = (share - table.y[end - 1]) / (table.y[end] - table.y[end - 1])
    return table.x[end - 1] + part * (table.x[end] - table.x[end - 1])
