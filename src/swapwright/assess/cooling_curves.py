"""Charts of cooling: pump and loop over flow, coolant on the goal's climb, and a fast charge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
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

FLOW_ID, CLIMB_ID, FAST_ID = "cooling.working_point", "cooling.coolant", "cooling.fast"
FLOW_SOURCES = ("churchill-1977-friction", "coolant-loop-practice")
FAST_SOURCES = ("swapwright-charge-run", "incropera-2007-ch3")
CLIMB_SOURCES = ("incropera-2007-ch5", "incropera-2007-ch11")
POINTS = 41
STEPS = 61
MOST_POINTS = 120


def flow_chart(book: FigureBook, bodies: Mapping[Loop, LoopBody]) -> Curve | None:
    """Return each pump's pressure and each loop's drop over flow; None where no flow is known."""
    if not bodies:
        return None
    flows = np.linspace(0.0, max(body.free_flow for body in bodies.values()), POINTS)
    series: list[Series] = []
    marks: list[Mark] = []
    for loop, body in bodies.items():
        pump = [body.pump_at(flow) if flow <= body.free_flow else nan for flow in flows]
        taken = [body.hoses_at(flow) + body.parts_at(flow) if flow > 0.0 else 0.0 for flow in flows]
        most = body.shut_off_pressure
        for label, line in (
            (f"pump, {loop.name} loop", pump),
            (f"hoses and parts, {loop.name} loop", [p if p <= most else nan for p in taken]),
        ):
            series.append(Series(label, "pressure", "Pa", _points(line)))
        marks.append(Mark(f"{loop.name} loop", x=book.number(loop.figure("flow_computed"))))
        measured = book.get(loop.entry("flow"))
        if measured is not None:
            marks.append(Mark(f"{loop.name} loop, measured", x=measured))
    return Curve(
        FLOW_ID,
        "where each pump meets its loop",
        Axis("coolant flow", "flow", "m^3/s", tuple(flows.tolist())),
        tuple(series),
        tuple(marks),
        FLOW_SOURCES,
    )


def climb_chart(book: FigureBook, loops: Sequence[Loop]) -> Curve | None:
    """Return the hottest coolant over the goal's climb; None where no climb is worked out."""
    known = [loop for loop in loops if book.has(loop.figure("climb_end"))]
    if not known:
        return None
    times = np.linspace(0.0, book.number("goals.climb.for"), STEPS)
    series, marks = [], []
    for loop in known:
        way = {
            "start": book.number(loop.figure(f"hottest_{HIGHWAY}")),
            "settled": book.number(loop.figure(f"hottest_{CLIMB}")),
            "effectiveness": book.number(loop.figure("effectiveness")),
            "capacity_rate": book.number(loop.figure("capacity_rate")),
            "heat_capacity": book.number(loop.figure("heat_capacity")),
        }
        line = [coolant_after(time=float(time), **way) for time in times]
        series.append(
            Series(f"hottest coolant, {loop.name} loop", "temperature", "K", _points(line))
        )
        limit = book.get(loop.entry("max_temperature"))
        if limit is not None:
            marks.append(Mark(f"limit, {loop.name} loop", y=limit))
    return Curve(
        CLIMB_ID,
        "coolant over the goal's climb, hot day",
        Axis("time", "time", "s", tuple(times.tolist())),
        tuple(series),
        tuple(marks),
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
