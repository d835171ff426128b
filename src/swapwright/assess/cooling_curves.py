"""Charts of each cooling loop: pump and loop over flow, the goal's climb; and a fast charge."""

from __future__ import annotations

from collections.abc import Sequence
from math import isnan, nan

import numpy as np

from swapwright.assess.book import FigureBook
from swapwright.assess.charge_runs import ChargeRun
from swapwright.assess.cooling_loop import CLIMB, HIGHWAY, Loop
from swapwright.base.curve import Axis, Curve, Mark, Series
from swapwright.physics.cooling.flow import LoopBody
from swapwright.physics.cooling.heat import coolant_after
from swapwright.physics.cooling.plate import coolant_on_plate
from swapwright.simulate.charge import CHARGE_COLUMNS

FLOW, CLIMB_LINE = "working_point", "coolant"
"""What the charts of a loop are called in their ids, behind the loop's own name."""
FAST_ID = "cooling.fast"
FLOW_SOURCES = ("churchill-1977-friction", "coolant-loop-practice")
FAST_SOURCES = ("swapwright-charge-run", "incropera-2007-ch3")
CLIMB_SOURCES = ("incropera-2007-ch5", "incropera-2007-ch11")
POINTS = 41
STEPS = 61
MOST_POINTS = 120


def flow_chart(book: FigureBook, loop: Loop, body: LoopBody) -> Curve:
    """Return a loop's pump pressure and its drop over flow: where they meet is its flow."""
    flows = np.linspace(0.0, body.free_flow, POINTS)
    taken = [body.hoses_at(flow) + body.parts_at(flow) if flow > 0.0 else 0.0 for flow in flows]
    most = body.shut_off_pressure
    lines = (
        ("pump", [body.pump_at(flow) for flow in flows]),
        ("hoses and parts", [pressure if pressure <= most else nan for pressure in taken]),
    )
    marks = [Mark("worked out", x=book.number(loop.figure("flow_computed")))]
    measured = book.get(loop.entry("flow"))
    if measured is not None:
        marks.append(Mark("measured", x=measured))
    return Curve(
        loop.figure(FLOW),
        f"where the pump meets its loop, {loop.name} loop",
        Axis("coolant flow", "flow", "m^3/s", tuple(flows.tolist())),
        tuple(Series(label, "pressure", "Pa", _points(line)) for label, line in lines),
        tuple(marks),
        FLOW_SOURCES,
    )


def climb_chart(book: FigureBook, loop: Loop) -> Curve | None:
    """Return a loop's hottest coolant over the goal's climb; None where no climb is worked out."""
    if not book.has(loop.figure("climb_end")):
        return None
    times = np.linspace(0.0, book.number("goals.climb.for"), STEPS)
    line = [
        coolant_after(
            time=float(time),
            start=book.number(loop.figure(f"hottest_{HIGHWAY}")),
            settled=book.number(loop.figure(f"hottest_{CLIMB}")),
            effectiveness=book.number(loop.figure("effectiveness")),
            capacity_rate=book.number(loop.figure("capacity_rate")),
            heat_capacity=book.number(loop.figure("heat_capacity")),
        )
        for time in times
    ]
    limit = book.get(loop.entry("max_temperature"))
    return Curve(
        loop.figure(CLIMB_LINE),
        f"coolant over the goal's climb, hot day, {loop.name} loop",
        Axis("time", "time", "s", tuple(times.tolist())),
        (Series("hottest coolant", "temperature", "K", _points(line)),),
        () if limit is None else (Mark("hottest allowed", y=limit),),
        CLIMB_SOURCES,
    )


def fast_chart(book: FigureBook, plated: Sequence[Loop], run: ChargeRun) -> Curve:
    """Return cells and coolant over a fast charge on the hot day."""
    every = max(len(run.trace) // MOST_POINTS, 1)
    rows = [*run.trace[:-1:every], run.trace[-1]]
    times, cells = (
        [float(row[CHARGE_COLUMNS.index(name)]) for row in rows] for name in ("time", "temperature")
    )
    series = [Series("cells", "temperature", "K", tuple(cells))]
    marks = []
    for loop in plated:
        way = {
            "plate": book.number("pack.plate_path"),
            "around": book.number(loop.figure("around_fast")),
            "effectiveness": book.number(loop.figure("effectiveness")),
            "capacity_rate": book.number(loop.figure("capacity_rate")),
        }
        line = [coolant_on_plate(cells=cell, **way) for cell in cells]
        series.append(
            Series(f"hottest coolant, {loop.name} loop", "temperature", "K", _points(line))
        )
        limit = book.get(loop.entry("max_temperature"))
        if limit is not None:
            marks.append(Mark(f"limit, {loop.name} loop", y=limit))
    hottest = book.get("pack.cell.max_temperature")
    if hottest is not None:
        marks.append(Mark("limit, cells", y=hottest))
    return Curve(
        FAST_ID,
        "cells and coolant over a fast charge, hot day",
        Axis("time", "time", "s", tuple(times)),
        tuple(series),
        tuple(marks),
        FAST_SOURCES,
    )


def _points(line: Sequence[float]) -> tuple[float | None, ...]:
    return tuple(None if isnan(value) else float(value) for value in line)
