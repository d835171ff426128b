"""Bands: what each uncertain input does to every figure, from 2k + 1 runs.

Each uncertain input is put at its low and at its high end with the others nominal; deviations of
one sign are combined by the root of the sum of squares. For simulated figures the deviation is that
of a short run (one cycle, one sprint) in proportion, applied to the full run's figure.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from swapwright.assess import runs
from swapwright.assess.book import FigureBook
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.stages.ranges import charging, combine
from swapwright.base.errors import Missing
from swapwright.base.figure import Value
from swapwright.build.car import Car

QUICK_SOC = 0.60
QUICK_CYCLES = (("city", "udds"), ("highway", "hwfet"))
_SIXTY_MPH = 60 * 0.44704
_HUNDRED_KMH = 100 / 3.6
# Short runs that stand for a whole family of figures: a figure's own run, or its nearest relative.
RELATIVES: Mapping[str, str] = {
    "range.wltc": "range.highway",
    "range.us06": "range.highway",
    "range.at_goal_speed": "range.highway",
    "range.at_goal_speed_aged": "range.highway",
    "range.city_cold": "range.city",
    "range.city_hot": "range.city",
    "range.highway_cold": "range.highway",
    "range.highway_hot": "range.highway",
    "range.combined_cold": "range.combined",
    "range.combined_hot": "range.combined",
    "consumption.wltc": "consumption.highway",
    "consumption.us06": "consumption.highway",
    "consumption.at_goal_speed": "consumption.highway",
    "consumption.city_cold": "consumption.city",
    "consumption.city_hot": "consumption.city",
    "consumption.highway_cold": "consumption.highway",
    "consumption.highway_hot": "consumption.highway",
    "consumption.combined_cold": "consumption.combined",
    "consumption.combined_hot": "consumption.combined",
    "consumption.wltc_stored": "consumption.highway_stored",
    "consumption.wltc_wall": "consumption.highway_wall",
    "accel.0_30mph": "accel.0_60mph",
    "accel.0_60mph_rollout": "accel.0_60mph",
    "accel.eighth_mile": "accel.0_60mph",
    "accel.quarter_mile": "accel.0_60mph",
}


@dataclass(frozen=True)
class Band:
    """The ends of a figure's band, SI, and the share of each uncertain input in it.

    ``swings`` gives for each input the (low end, high end) deviation of the figure, SI.
    """

    low: float
    high: float
    swings: Mapping[str, tuple[float, float]]


def quick(book: FigureBook) -> None:
    """Run one city and one highway cycle and one sprint on a designed car, numbers only."""
    try:
        kit = setup(book)
    except Missing:
        return
    charging(book)
    for name, cycle in QUICK_CYCLES:
        run = runs.on_cycle(kit, cycle, soc=QUICK_SOC)
        if run.ledger.distance <= 0.0:
            continue
        consumption = run.battery_energy / run.ledger.distance
        energy = book.number("pack.usable_energy")
        _put(book, f"consumption.{name}", consumption, "J/m")
        _put(book, f"energy.{name}", energy, "J")
        _put(book, f"range.{name}", energy / consumption, "m")
    combine(book)
    reach = min(_HUNDRED_KMH, 0.98 * book.number("unit.top_speed"))
    sprint = runs.throttle(kit, soc=QUICK_SOC, until_speed=reach, until_distance=0.0)
    for name, speed in (("accel.0_60mph", _SIXTY_MPH), ("accel.0_100kmh", _HUNDRED_KMH)):
        time = runs.time_to_speed(sprint, speed)
        if time is not None:
            _put(book, name, time, "s")


def _put(book: FigureBook, figure_id: str, si: float, unit: str) -> None:
    book.values[figure_id] = Value(si, unit, "computed", figure_id)


def bands(
    car: Car, full: Mapping[str, Value], design: Callable[[FigureBook], None]
) -> dict[str, Band]:
    """Return the band of every figure that an uncertain input moves.

    ``full`` gives the nominal figures; ``design`` writes the figures that need no run.
    """

    def numbers(changed: Car) -> Mapping[str, Value]:
        book = FigureBook(changed, keep=False)
        design(book)
        quick(book)
        return book.values

    uncertain = car.uncertain()
    if not uncertain:
        return {}
    nominal = numbers(car)
    swings: dict[str, dict[str, tuple[float, float]]] = {}
    for path in uncertain:
        value = car.value(path)
        ends = [
            numbers(car.with_values({path: end}))
            for end in (value.low, value.high)
            if end is not None
        ]
        for figure_id, figure in full.items():
            key = RELATIVES.get(figure_id, figure_id)
            if key not in nominal or not all(key in end for end in ends):
                continue
            base = nominal[key].si
            if base == 0.0:
                continue
            scale = figure.si / base
            low, high = ((end[key].si - base) * scale for end in ends)
            if abs(low) > 1e-9 * abs(figure.si) or abs(high) > 1e-9 * abs(figure.si):
                swings.setdefault(figure_id, {})[path] = (low, high)
    return {
        figure_id: _combined(full[figure_id].si, by_input) for figure_id, by_input in swings.items()
    }


def _combined(nominal: float, by_input: Mapping[str, tuple[float, float]]) -> Band:
    down = math.sqrt(sum(min(*pair, 0.0) ** 2 for pair in by_input.values()))
    up = math.sqrt(sum(max(*pair, 0.0) ** 2 for pair in by_input.values()))
    return Band(nominal - down, nominal + up, dict(by_input))
