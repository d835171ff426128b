"""Cells on a coolant plate: how easily their heat reaches the air, and how warm the coolant is."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def path_through_plate(*, plate: float, effectiveness: float, capacity_rate: float) -> float:
    """Return the heat cells give to the air for each degree, through plate, coolant and radiator.

    plate: from the cells to the coolant that leaves their plate [W/K]
    effectiveness: of the radiator [1]
    capacity_rate: of the coolant [W/K]
    result: [W/K]
    source: incropera-2007-ch3, thermal resistances one behind the other
    """
    return 1.0 / (1.0 / plate + 1.0 / (effectiveness * capacity_rate))


def coolant_on_plate(
    *, cells: float, plate: float, around: float, effectiveness: float, capacity_rate: float
) -> float:
    """Return the hottest coolant of a loop between warm cells and a radiator.

    cells: [K]
    plate: from the cells to the coolant that leaves their plate [W/K]
    around: coolant with no heat of the cells: the air, and what other parts of the loop add [K]
    effectiveness: of the radiator [1]
    capacity_rate: of the coolant [W/K]
    result: [K]
    source: incropera-2007-ch3, thermal resistances one behind the other
    """
    radiator = effectiveness * capacity_rate
    return (plate * cells + radiator * around) / (plate + radiator)


_PLATE = Symbol("plate", "W/K", 5.0, 3000.0, "heat per degree between cells and coolant")
_RATE = Symbol("capacity_rate", "W/K", 50.0, 3000.0, "heat the coolant carries for each degree")
_EFFECTIVENESS = Symbol("effectiveness", "1", 0.05, 0.99, "share the radiator gives", "fraction")
_SOURCES = ("incropera-2007-ch3",)
_AT_ONCE = "the coolant is at once as warm as it gets at these cells: what it stores is left out"
_BOX = "heat the box gives to the air beside it"

PATH_THROUGH_PLATE = Working(
    path_through_plate,
    "1/(1/G + 1/(e*C))",
    {"G": _PLATE, "e": _EFFECTIVENESS, "C": _RATE},
    Symbol("K", "W/K", 0.0, 1e4, "heat per degree from cells to air", "thermal_conductance"),
    _SOURCES,
    _AT_ONCE,
    _BOX,
)

COOLANT_ON_PLATE = Working(
    coolant_on_plate,
    "(G*T_c + e*C*T_a)/(G + e*C)",
    {
        "T_c": Symbol("cells", "K", 253.15, 353.15, "cells", "temperature"),
        "G": _PLATE,
        "T_a": Symbol("around", "K", 253.15, 343.15, "coolant without the cells", "temperature"),
        "e": _EFFECTIVENESS,
        "C": _RATE,
    },
    Symbol("T_h", "K", 0.0, 1e4, "hottest coolant", "temperature"),
    _SOURCES,
    _AT_ONCE,
    _BOX,
)

WORKINGS: tuple[Working, ...] = (PATH_THROUGH_PLATE, COOLANT_ON_PLATE)
