"""Climbing: the goal's grade held on a hot day, the air conditioner on."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from swapwright.assess import drive_parts, estimate_performance, runs
from swapwright.assess.book import FigureBook
from swapwright.assess.days import HOT
from swapwright.assess.kernel_inputs import setup, setup_on
from swapwright.assess.runs import RecordedRun
from swapwright.assess.simulated import simulated_figure
from swapwright.assess.stages.ranges import AIR_CONDITIONER, auxiliary
from swapwright.assess.steady_heat import least_heat_left
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.vehicle.performance import climb_power
from swapwright.physics.vehicle.road_load import grade_force, road_load
from swapwright.simulate.inputs import LIMITS, Setup
from swapwright.simulate.run import COLUMNS
from swapwright.standards.marks import ACCELERATION_SOC

PARTS = (
    ("motor", "winding temperature"),
    ("inverter", "inverter temperature"),
    ("cell", "cell temperature"),
)
CLIMBED = {
    "grade": "goals.climb.grade",
    "speed": "goals.climb.at",
    "time": "goals.climb.for",
    "ambient": "conditions.hot_day",
    "mass": "mass.test",
    "a": "road.a_hot",
    "b": "road.b",
    "c": "road.c_hot",
    "headwind": "conditions.headwind",
    "auxiliary_power": "auxiliaries.climb",
    "loss_factor": "drive.loss_factor",
}
"""What the climb is run on, by the name it has beside a figure."""

HEAT_PATHS: Mapping[str, Mapping[str, str]] = {
    "motor": {
        "motor_conductance": "unit.winding_conductance",
        "motor_heat_capacity": "unit.winding_heat_capacity",
    },
    "inverter": {"inverter_conductance": "unit.inverter_conductance"},
    "cell": {
        "pack_conductance": "pack.heat_path",
        "cell_mass": "pack.cell.mass",
        "specific_heat": "pack.cell.specific_heat",
        "cells_in_series": "pack.series_cells",
        "cells_in_parallel": "pack.parallel_cells",
    },
}
"""What each part's heat goes into and away by; of a second unit with its own name for ``unit``."""

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
        run = book.recorded["climb"] = climb_run(book, climbing(setup(book), book))
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


def climb_run(book: FigureBook, kit: Setup, step: float = runs.STEP) -> RecordedRun:
    """Return the goal's climb in steps s, recorded; raise Missing where no climb is asked for."""
    return runs.hold(
        kit,
        step=step,
        speed=book.number("goals.climb.at"),
        grade=book.number("goals.climb.grade"),
        time=book.number("goals.climb.for"),
        soc=ACCELERATION_SOC.si,
    )


def speed_held(book: FigureBook, run: RecordedRun) -> float:
    """Return the speed m/s at the end of a climb."""
    return run.after.speed if run.ledger.shortfall else book.number("goals.climb.at")


def end_power(run: RecordedRun) -> float:
    """Return the pack's power W at the end of a climb."""
    return float(run.trace[-1, COLUMNS.index("power")])


def heat(book: FigureBook, run: RecordedRun) -> None:
    """Write the highest temperatures of a climb, and what they leave of the drive's peak."""
    each = run.ledger.time / run.steps
    told = (
        f"{run.ledger.time:.0f} s on the hot day in steps of {each:.0f} s, "
        f"from {ACCELERATION_SOC.si:.0%} charge, {run.ledger.shortfall:.0f} s behind"
    )
    for part, label in PARTS:
        book.look_up(
            f"climb.{part}_temperature",
            f"highest {label} on the climb",
            float(np.max(run.trace[:, COLUMNS.index(f"{part}_temperature")])),
            "K",
            LookedUp("simulated climb", told, label, "swapwright-climb-run"),
            "temperature",
            **_run_on(book, HEAT_PATHS[part]),
        )
    paths = {
        f"{name}_{unit}": path.replace("unit", unit, 1)
        for prefix in drive_parts.units(book)
        for unit in (drive_parts.figure_prefix(prefix),)
        for part in ("motor", "inverter")
        for name, path in HEAT_PATHS[part].items()
    }
    book.look_up(
        "climb.heat_left",
        "share of the peak over the continuous rating that heat leaves on the climb",
        least_heat_left(run),
        "1",
        LookedUp("simulated climb", told, "least of motors and inverters", "swapwright-climb-run"),
        "fraction",
        **_run_on(book, paths),
    )


def _run_on(book: FigureBook, heat_path: Mapping[str, str]) -> dict[str, Value]:
    """Return what a climb is run on, and the heat path of what is read from it."""
    inputs = {name: book.value(path) for name, path in {**CLIMBED, **heat_path}.items()}
    return {**inputs, "soc": ACCELERATION_SOC}
