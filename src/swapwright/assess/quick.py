"""A car driven in short: one cycle, a minute's steady speed, a sprint, a climb; numbers only.

What the ends of a band are made of. A run whose car is the nominal one's again is not run again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Generic, TypeVar

import numpy as np

from swapwright.assess import runs
from swapwright.assess.book import FigureBook
from swapwright.assess.days import HOT
from swapwright.assess.estimate_drive import keep_top_speed
from swapwright.assess.kernel_inputs import setup, setup_on
from swapwright.assess.runs import RecordedRun, Run
from swapwright.assess.stages import climb
from swapwright.assess.stages.combined import combine
from swapwright.assess.stages.performance import (
    MARKS,
    ROLLED,
    Read,
    keep_read,
    map_reads,
    sprint,
)
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
from swapwright.simulate.inputs import Regen, Setup
from swapwright.standards.marks import EIGHTH_MILE, QUARTER_MILE, ROLLOUT
from swapwright.standards.ratings import MOST_BEHIND

SOC = 0.60
"""Charge a short run starts from, near the middle of the window."""
SECONDS = 3
"""Every so many seconds a cycle is held to: a third of the steps; shorter gear changes go
unnoticed. The ends of a band move by at most a fortieth of its width."""
SPRINT_STEP = 0.1
MAP_POINTS = 24
"""Coarser than the nominal car's: only differences are taken from them."""
NO_BRAKING = Regen(
    share=0.0, force_limit=0.0, per_fade_speed=1.0, max_soc=1.0, min_cell_temperature=0.0
)
"""Stands for any regeneration where none enters."""

OF_A_CYCLE = ("consumption", "energy", "range")
"""The figures of one cycle that a short run writes."""

CLIMB_GOALS = ("goals.climb.at", "goals.climb.grade", "goals.climb.for")
SPRINT_GOALS = ("goals.zero_to_60", "goals.zero_to_100")

Goals = tuple[float | None, ...]
R = TypeVar("R", bound=Run)


class Again(Generic[R]):
    """Runs by name; those of a nominal car are used again where kit and goals are the same."""

    def __init__(self, nominal: Again[R] | None) -> None:
        """Start with no runs."""
        self._nominal = nominal
        self._made: dict[str, tuple[Setup, Goals, R]] = {}

    def of(self, name: str) -> R | None:
        """Return a run made under a name, or None."""
        made = self._made.get(name)
        return None if made is None else made[2]

    def run(self, name: str, kit: Setup, make: Callable[[], R], goals: Goals = ()) -> R:
        """Return a run on a kit: the nominal one where its kit is the same, else a new one.

        ``goals`` are what else the run depends on: a speed held, a grade, a time.
        """
        before = None if self._nominal is None else self._nominal._made.get(name)
        is_same = before is not None and before[1] == goals and same(before[0], kit)
        made = before[2] if before is not None and is_same else make()
        self._made[name] = kit, goals, made
        return made


class Quick:
    """Short runs of one car; ``nominal`` are those of the car it was made from, used again."""

    def __init__(self, nominal: Quick | None = None) -> None:
        """Start with no runs."""
        self._nominal = nominal
        self._kit: Setup | None = None
        self._runs: Again[Run] = Again(nominal._runs if nominal else None)
        self._recorded: Again[RecordedRun] = Again(nominal._recorded if nominal else None)
        self._mapped: tuple[tuple[Setup, ...], tuple[Read, ...]] | None = None

    @property
    def stages(self) -> tuple[Callable[[FigureBook], None], ...]:
        """Return the stages that write what comes of short runs of a designed car."""
        return charging, self._drive, combine

    def drive(self, book: FigureBook) -> None:
        """Write all that comes of short runs of a designed car."""
        for stage in self.stages:
            stage(book)

    def _drive(self, book: FigureBook) -> None:
        with book.attempt():
            keep_top_speed(book)
            kit = self._kit = self._shared(setup(book))
            for case in CASES:
                with book.attempt():
                    self._cycle(book, kit, case)
            with book.attempt():
                self._steady(book, kit)
            with book.attempt():
                self._map(book, kit)
                self._sprint(book, kit)
            with book.attempt():
                self._climb(book, climb.climbing(kit, book))

    def _shared(self, kit: Setup) -> Setup:
        """Return a kit with the nominal one's units and cells where they are equal."""
        before = None if self._nominal is None else self._nominal._kit
        if before is None:
            return kit
        drive, old = kit.drive, before.drive
        first = old.first if equal(old.first, drive.first) else drive.first
        second = first
        if drive.units > 1:
            second = old.second if equal(old.second, drive.second) else drive.second
        return kit._replace(
            drive=drive._replace(first=first, second=second),
            cells=before.cells if equal(before.cells, kit.cells) else kit.cells,
        )

    def _is_followed(self, name: str) -> bool:
        """Tell whether the nominal car follows a cycle; where not, its figures have no band."""
        before = None if self._nominal is None else self._nominal._runs.of(name)
        return before is None or share_behind(before) <= MOST_BEHIND.si

    @property
    def unfollowed(self) -> frozenset[str]:
        """Return the figures of cycles this car was found not to follow."""
        return frozenset(
            f"{figure}.{case.name}"
            for case in CASES
            if (run := self._runs.of(case.name)) is not None and share_behind(run) > MOST_BEHIND.si
            for figure in ("auxiliaries", *OF_A_CYCLE)
        )

    def _cycle(self, book: FigureBook, kit: Setup, case: RangeCase) -> None:
        if not self._is_followed(case.name):
            return
        load = auxiliary(book, case.name, case.label, case.cabin)
        kit = setup_on(kit, book, day=case.day, auxiliary=book.number(load))
        run = self._runs.run(
            case.name,
            in_steps(kit, runs.STEP * SECONDS),
            lambda: runs.on_cycle(kit, case.cycle, soc=SOC, every=SECONDS),
        )
        _put_range(book, case.name, run)

    def _steady(self, book: FigureBook, kit: Setup) -> None:
        day, cabin = goal_day(book)
        load = auxiliary(book, STEADY, "at the goal's temperature", cabin)
        kit = setup_on(kit, book, day=day, auxiliary=book.number(load))
        speed = book.number("goals.range.at")
        run = self._runs.run(
            STEADY,
            in_steps(kit, runs.STEADY_STEP),
            lambda: runs.steady(kit, speed, soc=SOC),
            (speed,),
        )
        _put_range(book, STEADY, run)

    def _map(self, book: FigureBook, kit: Setup) -> None:
        """Write the figures of the drive map; the nominal ones where it is the same map.

        It knows no braking and no time. All gears of a unit hang on one final drive, so a kit of
        the tallest alone tells the others too.
        """
        pulling = kit._replace(regen=NO_BRAKING, drive=kit.drive._replace(shift_time=0.0))
        before = None if self._nominal is None else self._nominal._mapped
        if before is not None and all(map(same, before[0], _days(book, pulling))):
            reads: Iterable[Read] = before[1]
        else:
            reads = map_reads(book, kit, MAP_POINTS)
        kept = tuple(keep_read(book, read) for read in reads)
        self._mapped = tuple(_days(book, pulling)), kept

    def _sprint(self, book: FigureBook, kit: Setup) -> None:
        wanted = tuple(book.get(goal) for goal in SPRINT_GOALS)
        run = self._recorded.run("sprint", kit, lambda: sprint(book, kit, SPRINT_STEP), wanted)
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
        step = runs.STEADY_STEP
        run = self._recorded.run(
            "climb",
            in_steps(kit, step),
            lambda: climb.climb_run(book, kit, step),
            tuple(book.get(goal) for goal in CLIMB_GOALS),
        )
        _put(book, "climb.speed", climb.speed_held(book, run), "m/s")
        _put(book, "climb.battery_power", climb.end_power(run), "W")
        climb.heat(book, run)


def _days(book: FigureBook, kit: Setup) -> Iterator[Setup]:
    """Give a kit on the days the drive map is made for."""
    yield kit
    yield setup_on(kit, book, day=HOT)


def in_steps(kit: Setup, step: float) -> Setup:
    """Return a kit as a run in steps s sees it: a gear change no longer than a step is none."""
    if kit.drive.shift_time > step:
        return kit
    return kit._replace(drive=kit.drive._replace(shift_time=0.0))


def same(one: Setup, other: Setup) -> bool:
    """Tell whether two kits are one car on one day; their units and cells are shared if equal."""
    return (
        one.drive.first is other.drive.first
        and one.drive.second is other.drive.second
        and one.cells is other.cells
        and (one.body, one.regen, one.pack) == (other.body, other.regen, other.pack)
        and one.drive.units == other.drive.units
        and one.drive.shift_time == other.drive.shift_time
        and one.drive.ratio_scale == other.drive.ratio_scale
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
