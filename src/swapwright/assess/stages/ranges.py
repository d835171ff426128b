"""Range and consumption: each cycle and the goal's steady speed, run until the pack is empty."""

from __future__ import annotations

import os
from collections.abc import Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from types import MappingProxyType

from swapwright.assess import estimate_range, runs
from swapwright.assess.book import FigureBook
from swapwright.assess.days import AMBIENT, COLD, GOAL, HOT, MILD, WORDS
from swapwright.assess.estimate_drive import keep_top_speed
from swapwright.assess.kernel_inputs import setup, setup_on
from swapwright.assess.runs import RecordedRun, Run
from swapwright.assess.simulated import simulated_figure
from swapwright.assess.stages.combined import combine
from swapwright.assess.stages.pack import NO_WINDOW
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp
from swapwright.physics.pack.charge import (
    charge_current,
    charge_efficiency,
    efficiency_with_loads,
)
from swapwright.simulate.inputs import Setup
from swapwright.standards.cabin import COOLED_ABOVE, HEATED_BELOW
from swapwright.standards.ratings import MOST_BEHIND

HEATER, AIR_CONDITIONER = "auxiliaries.heater", "auxiliaries.air_conditioner"


@dataclass(frozen=True)
class RangeCase:
    """One range to empty: its name, its cycle, the day, and the load beside the drive."""

    name: str
    label: str
    cycle: str
    day: str = MILD
    cabin: str = ""


CASES = (
    RangeCase("city", "city", "udds"),
    RangeCase("highway", "highway", "hwfet"),
    RangeCase("wltc", "WLTC class 3b", "wltc-3b"),
    RangeCase("us06", "hard driving (US06)", "us06"),
    RangeCase("city_cold", "city, cold day", "udds", COLD, HEATER),
    RangeCase("highway_cold", "highway, cold day", "hwfet", COLD, HEATER),
    RangeCase("city_hot", "city, hot day", "udds", HOT, AIR_CONDITIONER),
    RangeCase("highway_hot", "highway, hot day", "hwfet", HOT, AIR_CONDITIONER),
)


STEADY = "at_goal_speed"

CITY = "city"
RECORDED: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        CITY: ("city cycle (UDDS)", "udds"),
        "highway": ("highway cycle (HWFET)", "hwfet"),
        "wltc": ("WLTC class 3b", "wltc-3b"),
        "us06": ("hard driving (US06)", "us06"),
    }
)
"""The cycles driven once from full with every step kept: their labels and traces."""


@dataclass(frozen=True)
class UnderWay:
    """Runs that go on while the rest is worked out, by name: cases until empty, recorded cycles."""

    until_empty: Mapping[str, Future[Run]]
    recorded: Mapping[str, Future[RecordedRun]]


def ranges(book: FigureBook) -> None:
    """Write consumption, energy delivered and range of every case, and their combinations."""
    with side_by_side() as pool:
        arrive(book, set_off(book, pool))


def side_by_side() -> ThreadPoolExecutor:
    """Return as many threads as there are processors.

    A run holds the interpreter for its first and last moments only.
    """
    return ThreadPoolExecutor(os.cpu_count() or 1)


def set_off(book: FigureBook, pool: ThreadPoolExecutor) -> UnderWay:
    """Write the range at the goal's speed, and start driving every case until it is empty.

    Each may take all the steps that are left; `arrive` then counts them in turn.
    """
    charging(book)
    keep_top_speed(book)
    # What the owner asked for comes first: a very large pack may use up the steps there are.
    with book.attempt(*made_by(STEADY)):
        _steady(book)
    kits = _case_kits(book)
    left = book.steps_left
    until_empty = {
        case.name: pool.submit(
            runs.until_empty, kits[case.name], case.cycle, soc=_start(book), most_steps=left
        )
        for case in CASES
        if case.name in kits
    }
    recorded: dict[str, Future[RecordedRun]] = {}
    with book.attempt("circuit.traction.rms_city"):
        kit, start = setup(book), book.number("pack.window_top")
        for name, (_, cycle) in RECORDED.items():
            recorded[name] = pool.submit(runs.recorded_cycle, kit, cycle, soc=start)
    return UnderWay(until_empty, recorded)


def arrive(book: FigureBook, under_way: UnderWay) -> None:
    """Write the figures of the cases under way, as each arrives, and their combinations.

    Recorded cycles are put into the book.
    """
    for case in CASES:
        if case.name in under_way.until_empty:
            with book.attempt(*made_by(case.name)):
                _case(book, case, under_way.until_empty[case.name].result())
    combine(book)
    book.recorded.update({name: run.result() for name, run in under_way.recorded.items()})


def made_by(name: str) -> tuple[str, ...]:
    """Return the figures a range run makes."""
    return tuple(f"{figure}.{name}" for figure in ("range", "consumption", "energy", "behind"))


def charging(book: FigureBook) -> None:
    """Write charging power and current, and the efficiency from the wall into the cells."""
    _charging_power(book)
    if book.has("charging.charger.efficiency"):
        book.make(
            efficiency_with_loads,
            "charging.charger_efficiency",
            efficiency="charging.charger.efficiency",
            power="charging.total_power",
            loads="auxiliaries.charging",
        )
    else:
        book.total(
            "charging.charger_efficiency",
            "efficiency into the battery",
            "1",
            [("typical", "charging.efficiency", 1.0)],
            "fraction",
        )
    book.make(
        charge_current,
        "charging.current",
        power="charging.total_power",
        rest_voltage="pack.voltage_nominal",
        resistance="pack.resistance",
    )
    book.make(
        charge_efficiency,
        "charging.pack_efficiency",
        label="share of the charging energy stored",
        rest_voltage="pack.voltage_nominal",
        current="charging.current",
        resistance="pack.resistance",
    )


def _charging_power(book: FigureBook) -> None:
    """Write the output of all chargers together."""
    one = "charging.charger.power" if book.has("charging.charger.power") else "charging.power"
    count = int(book.get("charging.chargers") or 1)
    book.total(
        "charging.total_power",
        "charging power",
        "W",
        [(f"charger {n + 1}", one, 1.0) for n in range(count)],
        "power",
    )


def _start(book: FigureBook) -> float:
    """Return the charge a range starts from; raise Missing where the window is empty."""
    top = book.number("pack.window_top")
    if top <= book.number("pack.usable.from"):
        raise Missing(reason=NO_WINDOW)
    return top


def _middle(book: FigureBook) -> float:
    """Return the charge halfway down the window, where regeneration is held back least."""
    return 0.5 * (_start(book) + book.number("pack.usable.from"))


def auxiliary(book: FigureBook, name: str, label: str, cabin: str) -> str:
    """Return the name of the load beside the drive, the cabin's in it where there is one."""
    if not cabin:
        return "auxiliaries.driving"
    book.total(
        f"auxiliaries.{name}",
        f"auxiliary power, {label}",
        "W",
        [("driving", "auxiliaries.driving", 1.0), ("cabin", cabin, 1.0)],
        "power",
    )
    return f"auxiliaries.{name}"


def goal_day(book: FigureBook) -> tuple[str, str]:
    """Return the day of the goal's steady speed, and the cabin load at its temperature."""
    outside = book.get(AMBIENT[GOAL])
    if outside is None:
        return MILD, ""
    if outside < HEATED_BELOW.si:
        return GOAL, HEATER
    return GOAL, AIR_CONDITIONER if outside > COOLED_ABOVE.si else ""


def _case_kits(book: FigureBook) -> Mapping[str, Setup]:
    """Return the car as each case drives it; of a case that lacks an input, note what it lacks."""
    kits: dict[str, Setup] = {}
    with book.attempt(*(figure for case in CASES for figure in made_by(case.name))):
        _start(book)
        mild = setup(book)
        for case in CASES:
            with book.attempt(*made_by(case.name)):
                load = auxiliary(book, case.name, case.label, case.cabin)
                kit = setup_on(mild, book, day=case.day, auxiliary=book.number(load))
                if kit.body.headwind < 0.0:
                    _must_use(runs.on_cycle(kit, case.cycle, soc=_middle(book)))
                kits[case.name] = kit
    return kits


def _case(book: FigureBook, case: RangeCase, run: Run) -> None:
    book.steps_left -= run.steps
    load = f"auxiliaries.{case.name}" if case.cabin else "auxiliaries.driving"
    estimate_range.cycle_estimate(book, case.name, case.cycle, case.day, load)
    trace = f"{case.cycle}, repeated until the usable window is empty"
    _keep(book, case.name, case.label, run, trace, WORDS[case.day])


def _steady(book: FigureBook) -> None:
    """Write the range at the goal's speed, at the goal's temperature or on the mild day."""
    speed = book.number("goals.range.at")
    day, cabin = goal_day(book)
    load = auxiliary(book, STEADY, "at the goal's temperature", cabin)
    kit = setup(book, day=day, auxiliary=book.number(load))
    if kit.body.headwind < 0.0:
        _must_use(runs.steady(kit, speed, soc=_middle(book)))
    start, left = _start(book), book.steps_left
    run = runs.steady_until_empty(kit, speed, soc=start, most_steps=left)
    book.steps_left -= run.steps
    if share_behind(run) > MOST_BEHIND.si:
        raise Missing(reason="the car does not hold the goal's steady speed")
    estimate_range.steady_estimate(book, STEADY, day, load)
    trace = "the goal's steady speed until the usable window is empty"
    _keep(book, STEADY, "at the goal's steady speed", run, trace, WORDS[day])


def _must_use(run: Run) -> None:
    """Raise Missing where a run takes nothing out of the pack and so would never end."""
    if run.battery_energy <= 0.0:
        raise Missing(reason="the car takes nothing from its pack: the wind drives it")


def share_behind(run: Run) -> float:
    """Return the share of a run's time in which the car is behind its trace."""
    return run.ledger.shortfall / run.ledger.time if run.ledger.time > 0.0 else 0.0


def _keep(book: FigureBook, name: str, label: str, run: Run, trace: str, day: str) -> None:
    if book.steps_left <= 0:
        raise Missing(reason="run too long: the assessment's step budget is used up")
    distance, energy = run.ledger.distance, run.battery_energy
    if distance <= 0.0:
        raise Missing(reason="the car does not move")
    _must_use(run)
    behind = share_behind(run)
    is_followed = behind <= MOST_BEHIND.si
    book.look_up(
        f"behind.{name}",
        f"share of the time behind the speed asked for, {label}",
        behind,
        "1",
        LookedUp("simulated run", trace, "seconds behind over seconds", "swapwright-range-run"),
        "fraction",
    )
    settings = {
        "trace": trace,
        "day": day,
        "seconds behind the trace": f"{run.ledger.shortfall:.0f}",
        "trace followed": "yes" if is_followed else f"no: behind it {behind:.1%} of the time",
        "steps": str(run.steps),
    }
    words = label if is_followed else f"{label}, not followed"
    estimate_range.range_estimate(book, name)
    for figure_id, what, value, estimate in (
        (
            f"consumption.{name}",
            "battery consumption",
            (energy / distance, "J/m", "consumption"),
            f"estimate.{name}.consumption",
        ),
        (
            f"energy.{name}",
            "energy delivered",
            (energy, "J", "energy"),
            "pack.usable_energy",
        ),
        (
            f"range.{name}",
            "range",
            (distance, "m", "distance"),
            f"estimate.{name}.range",
        ),
    ):
        simulated_figure(book, figure_id, f"{what}, {words}", value, run, estimate, settings)
