"""A car driven in short: one cycle, a minute's steady speed, a sprint, a climb; numbers only.

What the ends of a band are made of. A run whose car is the nominal one's again is not run again.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

import numpy as np

from swapwright.assess import runs
from swapwright.assess.book import FigureBook
from swapwright.assess.estimate_drive import keep_top_speed
from swapwright.assess.kernel_inputs import setup, setup_on
from swapwright.assess.runs import RecordedRun, Run
from swapwright.assess.stages import climb
from swapwright.assess.stages.combined import combine
from swapwright.assess.stages.performance import MARKS, ROLLED, from_map, sprint
from swapwright.assess.stages.ranges import (
    CASES,
    STEADY,
    RangeCase,
    auxiliary,
    charging,
    goal_day,
    share_behind,
)
from swapwright.base.figure import Value
from swapwright.simulate.inputs import Setup
from swapwright.standards.marks import EIGHTH_MILE, QUARTER_MILE, ROLLOUT
from swapwright.standards.ratings import MOST_BEHIND

SOC = 0.60
"""Charge a short run starts from, near the middle of the window."""
SECONDS = 2
"""Every so many seconds a cycle is held to: half the steps; shorter gear changes go unnoticed."""
SPRINT_STEP = 0.1
MAP_POINTS = 24
"""Coarser than the nominal car's: only differences are taken from them."""


R = TypeVar("R", bound=Run)


class Again(Generic[R]):
    """Runs by name; those of a nominal car are used again where the kit is the same."""

    def __init__(self, nominal: Again[R] | None) -> None:
        """Start with no runs."""
        self._nominal = nominal
        self._made: dict[str, tuple[Setup, R]] = {}

    def of(self, name: str) -> R | None:
        """Return a run made under a name, or None."""
        made = self._made.get(name)
        return None if made is None else made[1]

    def run(self, name: str, kit: Setup, make: Callable[[], R]) -> R:
        """Return a run on a kit: the nominal one where its kit is the same, else a new one."""
        before = None if self._nominal is None else self._nominal._made.get(name)
        made = before[1] if before is not None and same(before[0], kit) else make()
        self._made[name] = kit, made
        return made


class Quick:
    """Short runs of one car; ``nominal`` are those of the car it was made from, used again."""

    def __init__(self, nominal: Quick | None = None) -> None:
        """Start with no runs."""
        self._nominal = nominal
        self._kit: Setup | None = None
        self._runs: Again[Run] = Again(nominal._runs if nominal else None)
        self._recorded: Again[RecordedRun] = Again(nominal._recorded if nominal else None)

    def drive(self, book: FigureBook) -> None:
        """Write the figures of every short run of a designed car."""
        charging(book)
        with book.attempt():
            keep_top_speed(book)
            kit = self._kit = self._shared(setup(book))
            for case in CASES:
                with book.attempt():
                    self._cycle(book, kit, case)
            with book.attempt():
                self._steady(book, kit)
            with book.attempt():
                from_map(book, kit, MAP_POINTS)
                self._sprint(book, kit)
            with book.attempt():
                self._climb(book, climb.climbing(kit, book))
        combine(book)

    def _shared(self, kit: Setup) -> Setup:
        """Return a kit with the nominal one's drive and cells where they are equal."""
        before = None if self._nominal is None else self._nominal._kit
        if before is None:
            return kit
        return kit._replace(
            drive=before.drive if equal(before.drive, kit.drive) else kit.drive,
            cells=before.cells if equal(before.cells, kit.cells) else kit.cells,
        )

    def _is_followed(self, name: str) -> bool:
        """Tell whether the nominal car follows a cycle; where not, its figures have no band."""
        before = None if self._nominal is None else self._nominal._runs.of(name)
        return before is None or share_behind(before) <= MOST_BEHIND.si

    def _cycle(self, book: FigureBook, kit: Setup, case: RangeCase) -> None:
        if not self._is_followed(case.name):
            return
        load = auxiliary(book, case.name, case.label, case.cabin)
        kit = setup_on(kit, book, day=case.day, auxiliary=book.number(load))
        run = self._runs.run(
            case.name, kit, lambda: runs.on_cycle(kit, case.cycle, soc=SOC, every=SECONDS)
        )
        _put_range(book, case.name, run)

    def _steady(self, book: FigureBook, kit: Setup) -> None:
        day, cabin = goal_day(book)
        load = auxiliary(book, STEADY, "at the goal's temperature", cabin)
        kit = setup_on(kit, book, day=day, auxiliary=book.number(load))
        speed = book.number("goals.range.at")
        run = self._runs.run(STEADY, kit, lambda: runs.steady(kit, speed, soc=SOC))
        _put_range(book, STEADY, run)

    def _sprint(self, book: FigureBook, kit: Setup) -> None:
        run = self._recorded.run("sprint", kit, lambda: sprint(book, kit, SPRINT_STEP))
        times = {name: runs.time_to_speed(run, mark.si) for name, _, mark in MARKS}
        start, rolled = runs.time_to_distance(run, ROLLOUT.si), times[ROLLED]
        if start is not None and rolled is not None:
            times[f"{ROLLED}_rollout"] = rolled - start
        for name, mark in (("eighth", EIGHTH_MILE), ("quarter", QUARTER_MILE)):
            times[f"accel.{name}_mile"] = runs.time_to_distance(run, mark.si)
            trap = runs.speed_at_distance(run, mark.si)
            if trap is not None:
                _put(book, f"accel.{name}_mile_speed", trap, "m/s")
        for name, time in times.items():
            if time is not None:
                _put(book, name, time, "s")

    def _climb(self, book: FigureBook, kit: Setup) -> None:
        run = self._recorded.run("climb", kit, lambda: climb.climb_run(book, kit, runs.STEADY_STEP))
        _put(book, "climb.speed", climb.speed_held(book, run), "m/s")
        _put(book, "climb.battery_power", climb.end_power(run), "W")
        climb.heat(book, run)


def same(one: Setup, other: Setup) -> bool:
    """Tell whether two kits are one car on one day; their drives and cells are shared if equal."""
    return (
        one.drive is other.drive
        and one.cells is other.cells
        and (one.body, one.regen, one.pack) == (other.body, other.regen, other.pack)
        and one.ambient == other.ambient
    )


def equal(one: object, other: object) -> bool:
    """Tell whether two parts of a kit hold the same numbers."""
    if one is other:
        return True
    if isinstance(one, tuple) and isinstance(other, tuple):
        return all(equal(a, b) for a, b in zip(one, other, strict=True))
    if isinstance(one, np.ndarray) and isinstance(other, np.ndarray):
        return np.array_equal(one, other)
    return one == other


def _put_range(book: FigureBook, name: str, run: Run) -> None:
    """Write consumption, energy and range from one cycle; none where the pack gives nothing."""
    distance, energy = run.ledger.distance, run.battery_energy
    if distance <= 0.0 or energy <= 0.0:
        return
    usable = book.number("pack.usable_energy")
    _put(book, f"consumption.{name}", energy / distance, "J/m")
    _put(book, f"energy.{name}", usable, "J")
    _put(book, f"range.{name}", usable * distance / energy, "m")


def _put(book: FigureBook, figure_id: str, si: float, unit: str) -> None:
    book.values[figure_id] = Value(si, unit, "computed", figure_id)
