"""The mean current of a charge whose cells warm as they are charged, in slices of equal charge."""

from __future__ import annotations

from dataclasses import dataclass
from math import expm1

from swapwright.assess.book import FigureBook
from swapwright.assess.stages.cell_point import RESISTANCES
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp

SLICES = 24
_TRIES = 2
"""A slice is gone through twice: as cold as it begins, then at its mean."""
SOURCE = "bernardi-1985-heat"


@dataclass(frozen=True)
class Warmed:
    """The mean current A on the way to the end voltage, and how warm K the cells are there."""

    current: float
    temperature: float


def write_warming(book: FigureBook, at: str, begun: str, air: str, path: str, around: str) -> None:
    """Write current and temperature of a charge on its way to the end voltage.

    ``air`` names the temperature the cells begin at, ``path`` the way of their heat, ``around``
    what lies at its end.
    """
    names = (f"{at}.warmed_current", f"{at}.cell_temperature")
    with book.attempt(*names):
        found = _warmed(book, begun, air, path, around)
        inputs = {
            "start": book.value("charging.from"),
            "turn": book.value(f"{begun}.turn"),
            "ambient": book.value(air),
            "conductance": book.value(path),
            "around": book.value(around),
            "first": book.value(f"{begun}.current_limit"),
        }
        cell = LookedUp("cells that warm", f"{SLICES} slices of equal charge", "mean", SOURCE)
        label = "current that charger and warming cells allow on the mean"
        book.look_up(names[0], label, found.current, "A", cell, "current", **inputs)
        cell = LookedUp("cells that warm", f"{SLICES} slices of equal charge", "last", SOURCE)
        label = "cell temperature where the end voltage is reached"
        book.look_up(names[1], label, found.temperature, "K", cell, "temperature", **inputs)


def _warmed(book: FigureBook, begun: str, air: str, path: str, around: str) -> Warmed:
    ambient, start = book.number(air), book.number("charging.from")
    step = (book.number(f"{begun}.turn") - start) / SLICES
    other = book.number(f"{begun}.other_current")
    rated = book.number("pack.charge_continuous")
    derate = book.car.line("pack.cell.charge_derate")
    series, parallel = book.number("pack.series_cells"), book.number("pack.parallel_cells")
    maps = [book.car.map(f"pack.cell.{part}") for part in RESISTANCES]
    joints = book.number("pack.joints_per_cell")
    entropic = series * book.number("pack.cell.entropic")
    conductance, outside = book.number(path), book.number(around)
    capacity = book.number("pack.cell_mass") * book.number("pack.cell.specific_heat")
    charge = step * book.number("pack.capacity")
    warm, current, time = ambient, min(other, rated * derate.at(ambient)), 0.0
    for number in range(SLICES if charge > 0.0 else 0):
        soc = start + (number + 0.5) * step
        begins, mean = warm, warm
        for _ in range(_TRIES):
            current = min(other, rated * derate.at(mean))
            if current <= 0.0:
                raise Missing(reason="the cells take no current at this temperature")
            ohms = (sum(each.at(mean, soc) for each in maps) + joints) * series / parallel
            heat = current**2 * ohms + current * mean * entropic
            warm = begins + _warming(
                heat - conductance * (begins - outside), conductance, capacity, charge / current
            )
            mean = 0.5 * (begins + warm)
        time += charge / current
    return Warmed(SLICES * charge / time if time > 0.0 else current, warm)


def _warming(net: float, conductance: float, capacity: float, time: float) -> float:
    """Return by how many K cells warm that begin with ``net`` W left to warm them."""
    decay = conductance * time / capacity
    return net * time / capacity * (-expm1(-decay) / decay if decay > 0.0 else 1.0)
