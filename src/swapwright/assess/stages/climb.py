"""Climbing: the goal's grade held on a hot day, the air conditioner on."""

from __future__ import annotations

import numpy as np

from swapwright.assess import estimate_performance, runs
from swapwright.assess.book import FigureBook
from swapwright.assess.days import HOT
from swapwright.assess.kernel_inputs import setup, setup_on
from swapwright.assess.runs import Run
from swapwright.assess.simulated import simulated_figure
from swapwright.assess.stages.performance import ACCELERATION_SOC
from swapwright.assess.stages.ranges import AIR_CONDITIONER, auxiliary
from swapwright.assess.steady_heat import least_heat_left
from swapwright.base.figure import LookedUp
from swapwright.physics.vehicle.performance import climb_power
from swapwright.physics.vehicle.road_load import grade_force, road_load
from swapwright.simulate.inputs import LIMITS, Setup
from swapwright.simulate.run import COLUMNS

PARTS = (
    ("motor", "winding temperature"),
    ("inverter", "inverter temperature"),
    ("cell", "cell temperature"),
)
HEAT = tuple(f"climb.{part}_temperature" for part, _ in PARTS)


def climb(book: FigureBook) -> None:
    """Write what holding the goal's grade does: speed kept, power, motor and inverter heat."""
    book.make(grade_force, "climb.grade_force", mass="mass.test", grade="goals.climb.grade")
    book.make(
        road_load,
        "climb.road_load",
        label="road load at the climb's speed, hot day",
        a="road.a_hot",
        b="road.b",
        c="road.c_hot",
        speed="goals.climb.at",
        headwind="conditions.headwind",
    )
    book.make(
        climb_power,
        "climb.wheel_power",
        label="wheel power to hold the climb",
        road_load="climb.road_load",
        grade_force="climb.grade_force",
        speed="goals.climb.at",
    )
    with book.attempt("climb.speed", "climb.battery_power", "climb.heat_left", *HEAT):
        run = climb_run(book, climbing(setup(book), book))
        estimate_performance.climb_estimate(book)
        settings = {
            "grade": f"{book.number('goals.climb.grade'):.1%}",
            "time": f"{book.number('goals.climb.for'):.0f} s",
            "day": "hot day",
            "seconds behind": f"{run.ledger.shortfall:.0f}",
            "limit at the end": LIMITS[int(run.after.limit)],
        }
        for figure_id, label, value, estimate in (
            (
                "climb.speed",
                "speed at the end of the climb",
                (speed_held(book, run), "m/s", "speed"),
                "estimate.climb.speed",
            ),
            (
                "climb.battery_power",
                "pack power at the end of the climb",
                (end_power(run), "W", "power"),
                "estimate.climb.battery_power",
            ),
        ):
            simulated_figure(book, figure_id, label, value, run, estimate, settings)
        heat(book, run)


def climbing(kit: Setup, book: FigureBook) -> Setup:
    """Return a car's kernel inputs on the hot day with its air conditioner on."""
    load = auxiliary(book, "climb", "climbing on the hot day", AIR_CONDITIONER)
    return setup_on(kit, book, day=HOT, auxiliary=book.number(load))


def climb_run(book: FigureBook, kit: Setup, step: float = runs.STEP) -> Run:
    """Return the goal's climb in steps s, recorded; raise Missing where no climb is asked for."""
    return runs.hold(
        kit,
        step=step,
        speed=book.number("goals.climb.at"),
        grade=book.number("goals.climb.grade"),
        time=book.number("goals.climb.for"),
        soc=ACCELERATION_SOC.si,
    )


def speed_held(book: FigureBook, run: Run) -> float:
    """Return the speed m/s at the end of a climb."""
    return run.after.speed if run.ledger.shortfall else book.number("goals.climb.at")


def end_power(run: Run) -> float:
    """Return the pack's power W at the end of a climb."""
    assert run.trace is not None
    return float(run.trace[-1, COLUMNS.index("power")])


def heat(book: FigureBook, run: Run) -> None:
    """Write the highest temperatures of a climb, and what they leave of the drive's peak."""
    assert run.trace is not None
    time = f"{run.ledger.time:.0f} s"
    inputs = {
        name: book.value(f"goals.climb.{path}")
        for name, path in (("grade", "grade"), ("speed", "at"))
    }
    for part, label in PARTS:
        book.look_up(
            f"climb.{part}_temperature",
            f"highest {label} on the climb",
            float(np.max(run.trace[:, COLUMNS.index(f"{part}_temperature")])),
            "K",
            LookedUp("simulated climb", time, label, "swapwright-climb-run"),
            "temperature",
            **inputs,
        )
    book.look_up(
        "climb.heat_left",
        "share of the peak over the continuous rating that heat leaves on the climb",
        least_heat_left(run),
        "1",
        LookedUp("simulated climb", time, "least of motors and inverters", "swapwright-climb-run"),
        "fraction",
        **inputs,
    )
